"""Faces with their holes to scale, as figures for the template. Twin of static/js/ui/face_drawing.js."""

import math
from typing import Any

from webapp.pages.habits import Habits

Json = dict[str, Any]

# How wide a drawing is on the smallest screen, and how high its letters are there, in pixels.
SMALLEST, LETTERS = 320, 11
# A letter's usual width as a share of its height.
LETTER = 0.56


def faces_drawn(pack: Json, holes: list[Json], habits: Habits) -> list[Json]:
    """Each face that a hole was placed on, ready to be drawn; lengths in mm from its top left corner.

    `holes` have place, diameter_mm and as_found, and x_mm and y_mm where they were placed.
    """
    numbered = [{**hole, "number": number} for number, hole in enumerate(holes, start=1)]
    drawn = []
    for face in pack["faces"]["drawn"]:
        on = [hole for hole in numbered if hole["place"] == face["id"] and hole.get("x_mm") is not None]
        if on:
            drawn.append(_face(pack, face, on, habits))
    return drawn


def _face(pack: Json, face: Json, on: list[Json], habits: Habits) -> Json:
    width, height = face["width_mm"] * (2 if "twice" in face else 1), face["height_mm"]
    pixel = max(width / SMALLEST, 0.3)
    margin, above, below = 8 * pixel, (20 if "twice" in face else 8) * pixel, 26 * pixel
    label = next(place["label"] for place in pack["holes"]["places"] if place["id"] == face["id"])
    scale = _round_length(width / 3)
    return {
        "label": label[:1].upper() + label[1:],
        "size": pack["words"]["face-drawn"].format(
            size=f"{habits.length(face['width_mm'])} × {habits.length(height)}"
        ),
        "view": f"{-margin:g} {-above:g} {width + 2 * margin:g} {height + above + below:g}",
        "width": width,
        "height": height,
        "pixel": pixel,
        "fold": face["width_mm"] if "twice" in face else None,
        "twice": [
            {"words": words, "x": face["width_mm"] * (at + 0.5)}
            for at, words in enumerate(face.get("twice", ()))
        ],
        "features": [_feature(feature, pixel) for feature in _both(face, width)],
        "holes": [_hole(pack, face, hole, pixel, habits) for hole in on],
        "scale": {"length": scale, "words": habits.length(scale), "y": height + below - 8 * pixel},
    }


def _both(face: Json, width: float) -> list[Json]:
    """The features, mirrored where the face is drawn twice."""
    mirrored = [
        {**feature, "at_mm": [width - feature["at_mm"][0], feature["at_mm"][1]]}
        for feature in (face["features"] if "twice" in face else ())
    ]
    return [*face["features"], *mirrored]


def _feature(feature: Json, pixel: float) -> Json:
    x, y = feature["at_mm"]
    round_mm = feature.get("round_mm")
    width, height = (round_mm, round_mm) if round_mm else feature["box_mm"]
    size = LETTERS * pixel
    share = (0.86, 0.7) if round_mm else (0.96, 1.0)
    lines = _fitted(feature["label"], width * share[0], height * share[1], size)
    return {
        "label": feature["label"],
        "x": x,
        "y": y,
        "round": round_mm,
        "width": width,
        "height": height,
        "lines": [
            {"words": words, "y": y + (at - (len(lines) - 1) / 2) * size * 1.1 + size * 0.35}
            for at, words in enumerate(lines)
        ],
    }


def _fitted(label: str, width: float, height: float, size: float) -> list[str]:
    """A label in lines that fit, or none when it would not be read."""

    def fits(line: str) -> bool:
        return len(line) * LETTER * size <= width

    lines: list[str] = []
    for word in label.split(" "):
        longer = f"{lines[-1] if lines else ''} {word}".strip()
        if lines and fits(longer):
            lines[-1] = longer
        else:
            lines.append(word)
    return lines if all(map(fits, lines)) and len(lines) * size * 1.1 <= height else []


def _hole(pack: Json, face: Json, hole: Json, pixel: float, habits: Habits) -> Json:
    x, y, radius = hole["x_mm"], hole["y_mm"], hole["diameter_mm"] / 2
    ring, arm = max(radius, 5 * pixel), max(radius, 3 * pixel) * 0.7
    second = "twice" in face and x > face["width_mm"]
    words = pack["words"]
    spot = {
        "size": habits.length(hole["diameter_mm"]),
        "left_as": words[f"hole-{hole['as_found']}"],
        "left": habits.length(x - face["width_mm"] if second else x),
        "top": habits.length(y),
    }
    return {
        **hole,
        "mark": max(radius, pixel),
        "ring": ring if radius < 5 * pixel else None,
        "wider": ring + 3 * pixel if hole["as_found"] == "enlarged" else None,
        "arm": arm if hole["as_found"] == "plugged" else None,
        "number_x": x + ring * 0.75 + 3 * pixel,
        "number_y": y - ring * 0.75 - pixel,
        "side": face["twice"][1 if second else 0] if "twice" in face else "",
        "words": words["hole-spot"].format(**spot),
    }


def _round_length(most: float) -> float:
    """The longest of 1, 2 or 5 with zeros that fits."""
    power = 10.0 ** math.floor(math.log10(most))
    return next(step * power for step in (5, 2, 1) if step * power <= most)
