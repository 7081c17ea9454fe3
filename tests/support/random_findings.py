"""Random findings documents for a pack, from a seed: for parity, properties and simulations."""

import random
from typing import Any


def random_findings(pack: dict[str, Any], rng: random.Random) -> dict[str, Any]:
    """A findings document that may be empty, full, contradictory in sense, but never in form."""
    share = rng.choice([0.0, 0.1, 0.5, 0.9, 1.0])
    answers, unseen = {}, []
    for check in pack["checks"]:
        if rng.random() < share:
            answers[check["id"]] = rng.choice(check["options"])["id"]
        elif rng.random() < 0.1:
            unseen.append(check["id"])
    hole_check = next(check["id"] for check in pack["checks"] if check["asks_holes"])
    holes = []
    if answers.get(hole_check) != "none" and rng.random() < 0.5:
        holes = [_hole(pack, rng) for _ in range(rng.randint(0, 6))]
    if holes and hole_check in unseen:
        unseen.remove(hole_check)
    document: dict[str, Any] = {
        "family": pack["family"],
        "model_sheet": pack.get("sheet", {}).get("id"),
        "answers": answers,
        "unseen": unseen,
        "holes": holes,
        "aim": rng.choice(pack["aims"])["id"],
        "region": rng.choice([None, 1, 2, 3]),
        "asking": rng.choice([None, 0, 1, round(rng.uniform(5, 400), 2)]),
        "hour_rate": rng.choice([0, 0, 12.5, 40]),
    }
    if rng.random() < 0.5:
        low = rng.uniform(200, 9000)
        document["coverage_khz"] = [low, low * rng.uniform(1.05, 3)]
    if rng.random() < 0.5:
        document["crystal_khz"] = rng.uniform(300, 12000)
    if rng.random() < 0.2:
        document |= {"currency": "EUR", "rate": rng.uniform(0.5, 2)}
    return document


def _hole(pack: dict[str, Any], rng: random.Random) -> dict[str, Any]:
    return {
        "place": rng.choice(pack["holes"]["places"])["id"],
        "diameter_mm": rng.choice([3.0, 6.5, 9.5, 16.0, 28.6, rng.uniform(0.5, 90)]),
        "as_found": rng.choice(["open", "plugged", "enlarged"]),
    }
