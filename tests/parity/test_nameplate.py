"""Nameplates and order numbers: engine and twin read the same in random texts."""

import json
import random
from collections.abc import Callable, Sequence
from dataclasses import asdict
from typing import Any

from tests.support.nameplates import FAMILIES, ODD, nomenclature, random_text
from tests.support.phone import Phone
from webapp.appraisal.nameplate import order_year, read_nameplate, suggests

READ = """
const { readNameplate, orderYear, suggests } =
  await import(`${document.documentElement.dataset.base}js/kernel/nameplate.js`);
const { table, families, plates, orders } = JSON.parse(args[0]);
return JSON.stringify({
  plates: plates.map((text) => {
    const reading = readNameplate(table, text);
    return { ...reading, suggests: families.map((family) => suggests(table, reading, family)) };
  }),
  orders: orders.map((text) => orderYear(table, text)),
});
"""
# A family that the table does not hold goes with those that it does.
ASKED = [*FAMILIES, "unheard-of"]


def plate(text: str) -> dict[str, Any]:
    """What the engine says of a plate, as the twin's document."""
    reading = read_nameplate(nomenclature(), text)
    told = [suggests(nomenclature(), reading, family) for family in ASKED]
    lines = [asdict(line) for line in reading.lines]
    return {**asdict(reading), "lines": lines, "families": list(reading.families), "suggests": told}


def random_order(rng: random.Random) -> str:
    """A contract or order number, alone or on a plate, in one of many forms."""
    apart = rng.choice(["-", "/", " ", "'", "’", " \u2013 ", "", " '", "--", "."])
    number = f"{rng.choice(['4123', 'W-991', 'DA 36', 'MT', ''])}{apart}{rng.randint(0, 99):02}"
    word = rng.choice(["", "", "Order No. ", "CONTRACT\n", "on order ", "ORDERED ", "RADIO SET\n", "ord."])
    text = word + number + rng.choice(["", ".", ")", "\nSERIAL 12-41", " A", "\u2028", rng.choice(ODD)])
    return "".join(rng.choices(text + ODD, k=12)) if rng.random() < 0.1 else text


def test_plates_and_order_numbers_are_read_alike(
    opened_phone: Phone, sweep: Callable[[int], Sequence[int]]
) -> None:
    seeds = sweep(20_000)
    # Near the end of what is looked at, characters that take two places in the twin's texts.
    far = [f"{before * '😀'} AN/GRR-991A" for before in range(380, 402)]
    plates = ["", *far, *(random_text(random.Random(seed)) for seed in seeds)]
    orders = ["", *(random_order(random.Random(seed)) for seed in seeds[::4])]
    given = {"table": nomenclature(), "families": ASKED, "plates": plates, "orders": orders}
    found = json.loads(opened_phone.js(READ, json.dumps(given)))
    kinds = set()
    for text, twin in zip(plates, found["plates"], strict=True):
        assert twin == plate(text), repr(text)
        kinds.add(twin["kind"])
    assert kinds == {"set", "unit", "half-readable", "not of this system", "empty"}
    years = set()
    for text, twin in zip(orders, found["orders"], strict=True):
        assert twin == asdict(order_year(nomenclature(), text)), repr(text)
        years.add(twin["year"])
    assert len(years) > 20
