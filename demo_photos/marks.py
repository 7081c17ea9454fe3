"""What is written on a panel, and where hands, washers and feet left their traces."""

from dataclasses import dataclass, field

from demo_photos.shapes import Point


@dataclass
class Marks:
    """What is written on a panel and what left its trace; words are (middle, text, height)."""

    words: list[tuple[Point, str, float]] = field(default_factory=list)
    lines: list[tuple[Point, Point]] = field(default_factory=list)
    scales: list[tuple[Point, float, list[str]]] = field(default_factory=list)
    rings: list[tuple[Point, float]] = field(default_factory=list)
    worn: list[tuple[Point, float]] = field(default_factory=list)
    soft: float = 0.0

    def moved(self, corner: Point) -> "Marks":
        """The same, seen from another corner."""
        return Marks(
            [(less(at, corner), words, tall) for at, words, tall in self.words],
            [(less(a, corner), less(b, corner)) for a, b in self.lines],
            [(less(at, corner), radius, figures) for at, radius, figures in self.scales],
            [(less(at, corner), radius) for at, radius in self.rings],
            [(less(at, corner), reach) for at, reach in self.worn],
            self.soft,
        )


def less(point: Point, corner: Point) -> Point:
    """A point seen from another corner."""
    return point[0] - corner[0], point[1] - corner[1]
