"""Measuring holes in photos rendered from seeds that nobody tuned on: how near, how often, how honest."""

import io
import random
import statistics
from collections.abc import Iterable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from itertools import product
from pathlib import Path

from PIL import Image

from demo_photos.at_random import random_photo
from tests.benchmarks.table import Row, at_least, at_most, note
from tests.support.measuring import SETTINGS
from webapp.photos.grey import Grey, Point
from webapp.photos.measure import Measured, measure_near, measure_rim
from webapp.photos.reference import Reference, four_cornered, round_coin

KINDS = ("card", "label", "coin")
FIRST_SEED = 770_000
PHOTOS = {"easy": 12, "medium": 12, "hard": 6}
"""Photos of each kind, by level."""
# What a hand on a phone, or the reader of a label, is off, in pixels.
HAND_PX = {"card": 3.0, "label": 1.0, "coin": 2.0}
CARD_MM = (85.60, 53.98)


@dataclass(frozen=True)
class Taken:
    """One hole in one photo: true diameter, what true points gave, what one tap gave (None when nothing)."""

    level: str
    true_mm: float
    exact_mm: float
    tapped_mm: float | None
    doubt_mm: float


def rows(folder: Path) -> list[Row]:
    """The measures; `folder` is not used, since nothing is written."""
    jobs = [
        (FIRST_SEED + seed, level, kind)
        for level, count in PHOTOS.items()
        for seed, kind in product(range(count), KINDS)
    ]
    with ProcessPoolExecutor(2) as pool:
        taken = [one for found in pool.map(_measured, jobs) for one in found]
    usual = [one for one in taken if one.level != "hard"]
    hard = [one for one in taken if one.level == "hard"]
    exact = statistics.median(abs(one.exact_mm - one.true_mm) / one.true_mm for one in usual)
    return [
        at_most(
            "true corners and rim points: diameter off, median", 1, 100 * exact, "%", f"{len(usual)} holes"
        ),
        *_tapped(usual, "easy and medium"),
        note("one tap, hard: rim found", 100 * _share_found(hard), "%", f"{len(hard)} holes"),
        note("one tap, hard: diameter off, median", statistics.median(_off(hard)), "mm"),
        note("one tap, hard: stated doubt held", 100 * _held(hard), "%"),
    ]


def _tapped(taken: list[Taken], which: str) -> list[Row]:
    off = sorted(_off(taken))
    parts = [abs(one.tapped_mm - one.true_mm) / one.true_mm for one in taken if one.tapped_mm is not None]
    return [
        at_least(f"one tap, {which}: rim found", 92, 100 * _share_found(taken), "%", f"{len(taken)} holes"),
        at_most(f"one tap, {which}: diameter off, median", 0.2, statistics.median(off), "mm"),
        at_most(f"one tap, {which}: diameter off, median", 3, 100 * statistics.median(parts), "%"),
        at_most(f"one tap, {which}: diameter off, nine in ten", 0.6, off[int(0.9 * len(off))], "mm"),
        at_least(f"one tap, {which}: stated doubt held", 90, 100 * _held(taken), "%"),
    ]


def _share_found(taken: list[Taken]) -> float:
    """Part of the holes whose own rim was found: within 0.6 mm or 5 %, not just any circle."""
    good = [
        one
        for one in taken
        if one.tapped_mm is not None and abs(one.tapped_mm - one.true_mm) <= max(0.6, 0.05 * one.true_mm)
    ]
    return len(good) / len(taken)


def _off(taken: Iterable[Taken]) -> list[float]:
    return [abs(one.tapped_mm - one.true_mm) for one in taken if one.tapped_mm is not None]


def _held(taken: Iterable[Taken]) -> float:
    held = [abs(one.tapped_mm - one.true_mm) <= one.doubt_mm for one in taken if one.tapped_mm is not None]
    return sum(held) / len(held)


def _measured(job: tuple[int, str, str]) -> list[Taken]:
    seed, level, kind = job
    content, truth = random_photo(seed, level, kind)
    grey = Image.open(io.BytesIO(content)).convert("L")
    photo = Grey(grey.width, grey.height, grey.tobytes())
    outline = [(x, y) for x, y in truth["reference"].get("corners") or truth["reference"]["rim"]]
    rng = random.Random(seed)
    by_hand = [(x + rng.gauss(0, HAND_PX[kind]), y + rng.gauss(0, HAND_PX[kind])) for x, y in outline]
    true = _reference(photo, truth, outline, as_given=True)
    refined = _reference(photo, truth, by_hand, as_given=False)
    taken = []
    for hole in truth["holes"]:
        exact = measure_rim(photo, true, [(x, y) for x, y in hole["rim"][::2]], SETTINGS)
        tapped = measure_near(photo, refined, (hole["tap"][0], hole["tap"][1]), SETTINGS)
        assert isinstance(exact, Measured)
        found = tapped if isinstance(tapped, Measured) else None
        diameter, doubt = (found.diameter_mm, found.uncertainty_mm) if found else (None, 0.0)
        taken.append(Taken(level, hole["diameter_mm"], exact.diameter_mm, diameter, doubt))
    return taken


def _reference(photo: Grey, truth: dict, outline: list[Point], as_given: bool) -> Reference:  # type: ignore[type-arg]
    found = truth["reference"]
    if found["kind"] == "coin":
        thick = SETTINGS["coin_thick_mm"]
        coin = round_coin(photo, outline, found["coin_mm"], thick, as_given, SETTINGS)
        assert coin is not None
        return coin
    size, thick = (CARD_MM, 0.76) if found["kind"] == "card" else ((found["side_mm"],) * 2, 0.1)
    return four_cornered(photo, found["kind"], outline, size, thick, as_given, SETTINGS)
