"""What may have sat in a round hole, by its diameter. A bare hole gives candidates, never proof."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

Table = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Candidate:
    """A part whose hole this may be; `distance_mm` is 0 inside the part's own range."""

    id: str
    label: str
    distance_mm: float
    extra: str | None
    hint: str | None


def tolerance_of(table: Table, way: str | None) -> float:
    """How far off a diameter measured in that way may be, in mm; the widest when the way is not known."""
    known = {row["id"]: float(row["mm"]) for row in table["tolerances"]}
    return known.get(way or "", max(known.values()))


def hole_candidates(table: Table, diameter_mm: float, tolerance_mm: float) -> list[Candidate]:
    """The parts whose range, widened by the tolerance, holds the diameter; the nearest first.

    In mm. Order: distance outside the range, then from its middle, then the table's. None for a diameter
    outside the limits of the table.
    """
    if not _is_hole(table, diameter_mm):
        return []
    found: list[tuple[float, float, int, Candidate]] = []
    for place, row in enumerate(table["components"]):
        low, high = row["from_mm"], row["to_mm"]
        if low - tolerance_mm <= diameter_mm <= high + tolerance_mm:
            distance = max(low - diameter_mm, diameter_mm - high, 0.0)
            candidate = Candidate(row["id"], row["label"], distance, row.get("extra"), row.get("hint"))
            found.append((distance, abs(diameter_mm - (low + high) / 2), place, candidate))
    found.sort(key=lambda entry: entry[:3])
    return [candidate for *_, candidate in found]


def sentence(table: Table, diameter_mm: float, candidates: Sequence[Candidate]) -> str:
    """The candidates in words; those equally near stand together as most likely."""
    words: dict[str, str] = table["words"]
    limits = table["limits"]
    if not _is_hole(table, diameter_mm):
        smallest, largest = _figure(limits["smallest_mm"]), _figure(limits["largest_mm"])
        return words["no-hole"].format(smallest=smallest, largest=largest)
    diameter = _figure(diameter_mm)
    if not candidates:
        return words["none"].format(diameter=diameter)
    if len(candidates) > limits["named"]:
        return words["many"].format(diameter=diameter, count=len(candidates))
    nearest = candidates[0].distance_mm
    first = words["or"].join(one.label for one in candidates if one.distance_mm == nearest)
    others = words["or"].join(one.label for one in candidates if one.distance_mm != nearest)
    return words["some" if others else "first-only"].format(diameter=diameter, first=first, others=others)


def _is_hole(table: Table, diameter_mm: float) -> bool:
    return bool(table["limits"]["smallest_mm"] <= diameter_mm <= table["limits"]["largest_mm"])


def _figure(mm: float) -> str:
    """Millimetres as people read them: two decimals at most, halves upward."""
    return f"{math.floor(mm * 100 + 0.5) / 100:g}"
