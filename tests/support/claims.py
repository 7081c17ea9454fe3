"""Findings of a buyer beside what a seller told of the same set, from a seed."""

import random
from typing import Any

from tests.support.random_findings import random_findings

Json = dict[str, Any]

FIGURES = (
    "nameplate", "serial", "order", "coverage_khz", "crystal_khz", "book_serial", "heater_strings",
)  # fmt: skip


def random_told(pack: Json, rng: random.Random) -> Json:
    """What a seller told of a set: random findings, with an order number now and then."""
    told = random_findings(pack, rng)
    return told | ({"order": rng.choice(["NOs-4411-43", "1887 PH 51"])} if rng.random() < 0.4 else {})


def random_found(pack: Json, told: Json, rng: random.Random) -> tuple[Json, Json]:
    """What a buyer found of it, partly the same, with the links of the holes."""
    other = random_findings(pack, rng)
    answers, hole_check = {}, _hole_check(pack)
    for check in pack["checks"]:
        chosen = rng.choice([told, told, other, {"answers": {}}])["answers"].get(check["id"])
        if chosen is not None:
            answers[check["id"]] = chosen
    figures = {key: rng.choice([told, told, other, {}]).get(key) for key in FIGURES}
    holes, links = random_holes(pack, told["holes"], rng)
    if answers.get(hole_check) == "none":
        holes, links["answers"] = [], []
    kept = {key: value for key, value in figures.items() if value is not None}
    left = {key: value for key, value in other.items() if key not in FIGURES}
    return {**left, "answers": answers, "unseen": [], "holes": holes, **kept}, links


def random_holes(
    pack: Json, told: list[Json], rng: random.Random, all_seen: bool = False
) -> tuple[list[Json], Json]:
    """Holes that a buyer found where these were told of, and his links; `all_seen`: he looked for each."""
    found: list[Json] = []
    answers: list[int | None] = []
    gone = []
    for at, hole in enumerate(told):
        how = rng.choice(["same", "listed", "other", "gone", *([] if all_seen else ["open"])])
        if how == "gone":
            gone.append(at)
        elif how != "open":
            answers.append(None if how == "listed" else at)
            found.append(_other(pack, hole, rng) if how == "other" else hole)
    for _ in range(rng.choice([0, 0, 1, 2])):
        answers.append(None)
        found.append(_other(pack, {}, rng))
    return found, {"answers": answers, "gone": gone}


def _other(pack: Json, hole: Json, rng: random.Random) -> Json:
    place = {"place": rng.choice(pack["holes"]["places"])["id"], **hole}["place"]
    return {
        "place": place,
        "diameter_mm": rng.choice([4.0, 12.0, rng.uniform(1, 80)]),
        "as_found": rng.choice(["open", "plugged", "enlarged"]),
    }


def _hole_check(pack: Json) -> str:
    return str(next(check["id"] for check in pack["checks"] if check["asks_holes"]))
