"""Hole candidates and tube numbers: engine and twin say the same of random holes and texts."""

import json
import random
import string
from collections.abc import Callable, Sequence
from dataclasses import asdict
from typing import Any

import pytest

from tests.support.reference_tables import holes, tubes
from tests.support.table import Table
from webapp.appraisal.hole_candidates import hole_candidates, sentence, tolerance_of
from webapp.appraisal.tube_numbers import heater_of

HOLES = """
const { toleranceOf, holeCandidates, sentence } =
  await import(`${document.documentElement.dataset.base}js/kernel/hole_candidates.js`);
const { table, given } = JSON.parse(args[0]);
return JSON.stringify(given.map(([diameter, way]) => {
  const tolerance = typeof way === 'number' ? way : toleranceOf(table, way);
  const candidates = holeCandidates(table, diameter, tolerance);
  return { tolerance, candidates, sentence: sentence(table, diameter, candidates) };
}));
"""
TUBES = """
const { heaterOf } = await import(`${document.documentElement.dataset.base}js/kernel/tube_numbers.js`);
const { table, given } = JSON.parse(args[0]);
return JSON.stringify(given.map((number) => heaterOf(table, number)));
"""
# Blanks and letters on which the two languages differ, and digits that are none here.
ODD = "\u00a0\ufeff\u2028\u0085\x1c\u2013\u2212ßıİſK٣６é😀\n\t"


@pytest.fixture
def twin(table: Table) -> Callable[[str, Any], list[Any]]:
    """Give a function that runs a script in the app's page and gives its answers in order."""

    def run(script: str, given: Any) -> list[Any]:
        answers: list[Any] = json.loads(table.phone.js(script, json.dumps(given)))
        return answers

    return run


def random_hole(rng: random.Random) -> tuple[float, str | float | None]:
    """A diameter near a part's own, on half a hundredth, or anywhere; a way of measuring or a tolerance."""
    row = rng.choice(holes()["components"])
    edge = rng.choice([row["from_mm"], row["to_mm"]])
    diameter = rng.choice(
        [
            edge, edge + rng.choice([-1, 1]) * rng.choice([0.2, 0.8, 1, 3]), edge + rng.gauss(0, 1),
            rng.randint(10, 9000) / 100, rng.randint(10, 9000) / 100 + 0.005, rng.uniform(0, 600),
            rng.choice([0, -1, 0.1, 500, 500.01, 1e300]),
        ]
    )  # fmt: skip
    ways = [tolerance["id"] for tolerance in holes()["tolerances"]]
    return diameter, rng.choice([*ways, None, "by ear", rng.uniform(0, 4), -1])


def random_number(rng: random.Random) -> str:
    """A tube number of one of the forms, often with something wrong in it; or any text."""
    lead = rng.choice([*(row["lead"] for row in tubes()["leads"]), "13", "06", "", "9"])
    letters = "".join(rng.choices(string.ascii_uppercase, k=rng.choice([1, 1, 2, 2, 3, 4])))
    last = rng.choice(["9", "20", "21", "99", "991", "0", ""])
    suffixes = [row["suffix"] for row in tubes()["suffixes"]]
    suffix = "".join(rng.choices([*suffixes, "-", "Q", "/"], k=rng.choice([0, 0, 1, 2, 3])))
    text = rng.choice(
        [
            lead + letters + last + suffix, f"{rng.randint(0, 99999)}{suffix}", f"{lead}{letters}",
            rng.choice(["5499", "5500", "99", "0999"]) + rng.choice([*suffixes, ""]),
            "".join(rng.choices(string.printable + ODD, k=rng.randint(0, 8))),
        ]
    )  # fmt: skip
    if rng.random() < 0.3:
        text = text.lower()
    if rng.random() < 0.3:
        place = rng.randint(0, len(text))
        text = text[:place] + rng.choice([" ", "-", "/", *ODD]) + text[place:]
    return text


def test_holes_have_the_same_candidates_in_the_same_order_and_words(
    twin: Callable[[str, Any], list[Any]], sweep: Callable[[int], Sequence[int]]
) -> None:
    given = [random_hole(random.Random(seed)) for seed in sweep(5000)]
    counts = set()
    for (diameter, way), found in zip(given, twin(HOLES, {"table": holes(), "given": given}), strict=True):
        tolerance = way if isinstance(way, int | float) else tolerance_of(holes(), way)
        candidates = hole_candidates(holes(), diameter, tolerance)
        expected = {
            "tolerance": tolerance,
            "candidates": [asdict(candidate) for candidate in candidates],
            "sentence": sentence(holes(), diameter, candidates),
        }
        assert found == expected, (diameter, way)
        counts.add(len(candidates))
    assert len(counts) > 5


def test_tube_numbers_have_the_same_reading(
    twin: Callable[[str, Any], list[Any]], sweep: Callable[[int], Sequence[int]]
) -> None:
    given = [random_number(random.Random(seed)) for seed in sweep(10_000)]
    systems = set()
    for number, found in zip(given, twin(TUBES, {"table": tubes(), "given": given}), strict=True):
        reading = heater_of(tubes(), number)
        assert found == {**asdict(reading), "volts": list(reading.volts)}, repr(number)
        systems.add(reading.system)
    assert len(systems) == 6
