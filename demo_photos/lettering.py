"""Text and simple drawing for faces, with the font that Pillow brings along."""

from functools import lru_cache

from PIL import Image, ImageDraw, ImageFont

from demo_photos.shapes import Point


@lru_cache(maxsize=64)
def font(size: int) -> ImageFont.FreeTypeFont:
    """Pillow's own font at a size in texels."""
    found = ImageFont.load_default(max(4, size))
    assert isinstance(found, ImageFont.FreeTypeFont)
    return found


class Drawing:
    """A grey drawing in millimetres, twice as fine as the face it is for."""

    def __init__(self, width_mm: float, height_mm: float, per_mm: float) -> None:
        self.scale = per_mm * 2
        self.image = Image.new("L", (round(width_mm * self.scale), round(height_mm * self.scale)), 0)
        self.pen = ImageDraw.Draw(self.image)

    def at(self, *points: Point) -> list[Point]:
        """Millimetres as texels of the drawing."""
        return [(x * self.scale, y * self.scale) for x, y in points]

    def text(self, where: Point, words: str, height_mm: float, ink: int = 255, spacing: float = 0.12) -> None:
        """Words in capitals of a height about a middle point, widely set as engravers do."""
        letters = font(round(height_mm * self.scale * 1.38))
        gap = spacing * height_mm * self.scale
        wide = sum(letters.getlength(c) for c in words) + gap * (len(words) - 1)
        x, y = where[0] * self.scale - wide / 2, where[1] * self.scale
        for c in words:
            self.pen.text(
                (x, y), c, font=letters, fill=ink, anchor="lm", stroke_width=height_mm * self.scale * 0.018
            )
            x += letters.getlength(c) + gap

    def line(self, *points: Point, width: float = 0.4, ink: int = 255) -> None:
        """A line through points."""
        self.pen.line(self.at(*points), fill=ink, width=max(1, round(width * self.scale)))

    def ring(self, centre: Point, radius: float, width: float = 0.4, ink: int = 255) -> None:
        """A circle, drawn as a line."""
        x, y, r = (value * self.scale for value in (*centre, radius))
        self.pen.ellipse((x - r, y - r, x + r, y + r), outline=ink, width=max(1, round(width * self.scale)))

    def disc(self, centre: Point, radius: float, ink: int = 255) -> None:
        """A filled circle."""
        x, y, r = (value * self.scale for value in (*centre, radius))
        self.pen.ellipse((x - r, y - r, x + r, y + r), fill=ink)

    def plate(self, low: Point, high: Point, corner: float = 0.0, ink: int = 255) -> None:
        """A filled rectangle with round corners."""
        self.pen.rounded_rectangle((*self.at(low)[0], *self.at(high)[0]), corner * self.scale, fill=ink)
