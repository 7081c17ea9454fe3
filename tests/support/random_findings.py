"""Random findings documents for a pack, from a seed: for parity, properties and simulations."""

import random
from datetime import date, timedelta
from typing import Any

from tests.support.nameplates import ODD, random_text, spelled

Json = dict[str, Any]

# What people write before a serial number.
BEFORE = (
    "", "", "No. ", "no", "SER. NO. ", "Serial number: ", "nr ", "Num. ", "S/N ", "sn", "# ", "\u2116 ", "00",
)  # fmt: skip


def random_findings(pack: Json, rng: random.Random) -> Json:
    """A findings document that may be empty, full, contradictory in sense, but never in form."""
    share = rng.choice([0.0, 0.1, 0.5, 0.9, 1.0])
    answers, unseen = {}, []
    for check in pack["checks"]:
        if rng.random() < share:
            answers[check["id"]] = rng.choice(check["options"])["id"]
        elif rng.random() < 0.1:
            unseen.append(check["id"])
    for part in filter(None, (pack["effects"]["crystal_part"], pack["effects"]["book_part"])):
        # Only a part that is there can turn out to be another set's.
        if rng.random() < 0.4:
            check = next(check for check in pack["checks"] if check["part"] == part)
            there = [option["id"] for option in check["options"] if option["state"] == 1]
            answers[check["id"]] = rng.choice(there)
    unseen = [check for check in unseen if check not in answers]
    hole_check = next(check["id"] for check in pack["checks"] if check["asks_holes"])
    holes = []
    if answers.get(hole_check) != "none" and rng.random() < 0.5:
        holes = [_hole(pack, rng) for _ in range(rng.randint(0, 6))]
    if holes and hole_check in unseen:
        unseen.remove(hole_check)
    document: Json = {
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
    if rng.random() < 0.4:
        document |= {"today": "2026-11-25", "comparables": random_sales(pack, rng)}
    return document | _compared(pack, rng)


def random_sales(pack: Json, rng: random.Random) -> list[Json]:
    """Sales and offers of some years: near the reference or far out, in one currency or several."""
    median = pack["reference"]["median"]
    sales = []
    for _ in range(rng.randint(0, 8)):
        day = date(2026, 11, 25) - timedelta(days=rng.choice([0, 1, 400, rng.randint(0, 20000)]))
        sale: Json = {"price": round(median * rng.uniform(0.2, 4) + 0.01, 2), "date": day.isoformat()}
        if rng.random() < 0.5:
            sale["state"] = rng.choice([None, *(state["id"] for state in pack["states"])])
        if rng.random() < 0.2:
            sale["log_offset"] = rng.uniform(-2, 1)
        if rng.random() < 0.5:
            sale["kind"] = rng.choice(["sold", "asked", "asked", None])
        if rng.random() < 0.3:
            sale["currency"] = rng.choice(["USD", "EUR", "GBP", None])
        if rng.random() < 0.2:
            sale |= {"currency": "GBP", "rate": rng.uniform(0.5, 2)}
        sales.append(sale)
    return sales


def _hole(pack: Json, rng: random.Random) -> Json:
    return {
        "place": rng.choice(pack["holes"]["places"])["id"],
        "diameter_mm": rng.choice([3.0, 6.5, 9.5, 16.0, 28.6, rng.uniform(0.5, 90)]),
        "as_found": rng.choice(["open", "plugged", "enlarged"]),
    }


def _compared(pack: Json, rng: random.Random) -> Json:
    """What is compared with something else: plate, serials, heaters, finish and service; each or none."""
    found: Json = {}
    serial = rng.choice(["1184", "20", f"{rng.randint(1, 99)}-{rng.randint(1, 999)}", "A100"])
    if rng.random() < 0.4:
        found["nameplate"] = random_plate(pack, rng)
    if rng.random() < 0.5:
        found["serial"] = as_written(serial, rng)
    if rng.random() < 0.5:
        found["book_serial"] = as_written(rng.choice([serial, serial, "377"]), rng)
    if rng.random() < 0.4:
        found["heater_strings"] = [random_string(pack, rng) for _ in range(rng.randint(0, 3))]
    for key, rows in (("finish", pack["finishes"]), ("service", pack["services"])):
        if rows and rng.random() < 0.4:
            found[key] = random_words(rows, rng)
    return found


def random_plate(pack: Json, rng: random.Random) -> str:
    """What somebody typed off a plate: often the designation of one of the families."""
    named = pack["nomenclature"].get("families", {})
    if pack["family"] in named and rng.random() < 0.4:
        named = {pack["family"]: named[pack["family"]]}
    sets = [letters for family in named.values() for letters in family["sets"]]
    units = [letters for family in named.values() for letters in family["units"]]
    if not sets or not units or rng.random() < 0.3:
        return random_text(rng)
    letters = rng.choice(sets).replace("?", rng.choice("AGVS"))
    number = f"{rng.randint(991, 9999)}{rng.choice(['', 'A', 'B'])}"
    return spelled(rng.choice([f"AN/{letters}-{number}", f"{rng.choice(units)}-{number}/{letters}-992"]), rng)


def as_written(serial: str, rng: random.Random) -> str:
    """A serial number in one of the ways in which people write it, and sometimes spoilt."""
    text = serial.replace("0", rng.choice("00Oo")).replace("-", rng.choice(["-", " ", "/", "", "\u2013"]))
    text = rng.choice(BEFORE) + rng.choice([text, text.lower()]) + rng.choice(["", "", " ", ".", "]"])
    return text + rng.choice(ODD) if rng.random() < 0.1 else text


def random_string(pack: Json, rng: random.Random) -> list[Any]:
    """A heater string at, near or far from the limits of supply and current; some places shunted."""
    low, high = pack["supply_volts"] or [24, 28]
    places = rng.randint(1, 4)
    volts = rng.choice([low * 0.9, high * 1.1, rng.uniform(low, high)])
    volts *= rng.choice([1, 1, 1 - 1e-6, 1 + 1e-6, rng.uniform(0.8, 1.2)]) / places
    amps = rng.choice([0.15, 0.45, 1.2])
    over = rng.choice([1, 1, 1.05, 1.05 - 1e-6, 1.05 + 1e-6, rng.uniform(1, 1.1)])
    return [_place(volts, amps * rng.choice([1, over]), rng) for _ in range(places)]


def _place(volts: float, amps: float, rng: random.Random) -> Any:
    share = rng.choice([0, 0, 0.5, rng.uniform(0.2, 0.8)])
    if share:
        return [{"volts": volts, "amps": amps * share}, {"volts": volts, "amps": amps * (1 - share)}]
    return rng.choice([{"volts": volts, "amps": amps}, [{"volts": volts, "amps": amps}]])


def random_words(rows: list[Json], rng: random.Random) -> str:
    """What somebody wrote of a finish or a service: a word for one of the rows, of two, or of none."""
    row = rng.choice(rows)
    text = rng.choice([row["id"], row["label"], *row["words"]])
    text = rng.choice([text, text.upper(), text.title(), f"mostly {text}, worn", f"({text})", f"{text}ish"])
    if rng.random() < 0.2:
        text += f" over {rng.choice(rows)['label']}"
    return "".join(rng.choices(text + ODD, k=9)) if rng.random() < 0.1 else text
