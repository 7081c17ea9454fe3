"""The table of type designations, families to suggest, and the ways in which people type a designation."""

import random
import string
from functools import cache
from pathlib import Path
from typing import Any

from webapp.paths import rules_folder
from webapp.rulebook.layers import Layers
from webapp.rulebook.nomenclature import Nomenclature, compiled, read_nomenclature
from webapp.rulebook.reading import TableFile

Json = dict[str, Any]

NAME = "nomenclature.toml"
FAMILIES: dict[str, Json] = {
    "aircraft-hf-transmitter": {"name": "Aircraft transmitter", "sets": ["ART", "ARC"], "units": ["T"]},
    "aircraft-receiver": {"name": "Aircraft receiver", "sets": ["ARR", "ARN", "ARC"], "units": ["R"]},
    "vehicle-set": {"name": "Vehicle set", "sets": ["V??"], "units": ["RT"]},
    "supply": {"name": "Supply unit", "sets": [], "units": ["DY", "PP"]},
    "home-made": {"name": "Home-made", "sets": [], "units": []},
}
CHANGES = "ABCDEFGHJKLMNPRUVW"
# Dashes, slashes and blanks of other keyboards, letters on which languages differ, and halves of pairs.
ODD = (
    "\u2010\u2013\u2212\u00ad\u2044\uff0f\\\u00a0\u202f\u200b\ufeff\u2028\u0085\x1c\x0b"
    "’`*_?ßıİſK٣６é😀\ud83d\n\t"
)


def read_from(folder: Path) -> tuple[Nomenclature, list[str]]:
    """The table in a rules folder, and what is said of faults in it."""
    problems: list[str] = []
    return read_nomenclature(Layers([TableFile(folder / NAME, folder, problems)])), problems


@cache
def nomenclature() -> Json:
    """The compiled table with the families above; not to be changed."""
    return compiled(read_from(rules_folder())[0], FAMILIES)


def letters_of(place: str) -> str:
    """The letters that have a meaning in a place, each once."""
    return "".join(dict.fromkeys(row["letter"] for row in nomenclature()["letters"] if row["place"] == place))


def spelled(written: str, rng: random.Random) -> str:
    """A designation as somebody might type it: blanks, other dashes, small letters, O for 0 and I for 1."""
    letters, bracket, behind = written.partition("(")
    head, dash, tail = letters.rpartition("-")
    figures = str.maketrans(rng.choice(["01", "O1", "0I", "OI"]), "01")
    # From the usual form to the odd one: what stands behind the last dash is a number and its letter.
    figures = {value: key for key, value in figures.items()}
    tail = tail.translate(figures) if tail[:1].isdigit() and tail[1:2] not in ("", "T") else tail
    dashes = rng.choice(["-", "-", " - ", "\u2013", "\u2010", " \u2212", "- "])
    text = head.replace("-", dashes) + (dash and dashes) + tail
    text = text.replace("/", rng.choice(["/", " / ", "\\", "\uff0f", "/ "]))
    text += (bracket and rng.choice(["(", " (", "( "])) + behind
    if rng.random() < 0.3:
        text = text.lower()
    return rng.choice(["", " ", "\t"]) + text + rng.choice(["", " ", "\n"])


def random_designation(rng: random.Random) -> str:
    """A designation of a set or a unit in its usual form, of letters that the table knows."""
    letters = "".join(rng.choice(letters_of(place)) for place in ("installation", "equipment", "purpose"))
    number, change = str(rng.randint(991, 9999)), rng.choice(["", "", *CHANGES])
    power = rng.choice(["", "", "", "X", "Y", "Z"])
    bracket = rng.choice(["", "", "", "(V)", "(V)2", "( )", "(XE-1)"])
    if rng.random() < 0.6:
        trainer = rng.choice(["", "", "", "-T1"])
        return rng.choice([f"AN/{letters}-{number}{change}{power}{bracket}{trainer}", f"AN/{letters}-T2"])
    code = rng.choice(list(nomenclature()["indicators"]))
    home = rng.choice([f"/{letters}-{rng.randint(991, 9999)}", f"/{letters}", "/U", "/A", f"/{letters[:2]}"])
    return f"{code}-{number}{change}{power}{home}"


def random_text(rng: random.Random) -> str:
    """A designation, one with something wrong in it, one among other words of a plate, or any text."""
    text = random_designation(rng)
    if rng.random() < 0.7:
        text = spelled(text, rng)
    if rng.random() < 0.4:
        place = rng.randint(0, len(text))
        text = text[:place] + rng.choice(["", *"?-/ AZX09OI()'.&", *ODD]) + text[place + rng.randint(0, 2) :]
    if rng.random() < 0.3:
        before = rng.choice(
            ["RADIO SET\n", "a nice ", "MFD. FOR U S NAVY ", "SER. NO. 12-", "R-9901/", "AN "]
        )
        behind = rng.choice(
            ["\nORDER NO. 4123-MT-45", " 24 VOLTS DC", " U S ARMY", " B", "/U", " PART OF AN/"]
        )
        text = before + text + behind
    if rng.random() < 0.15:
        text = "".join(rng.choices("AN/GRT-919?OI0 (VX)" + ODD, k=rng.randint(0, 24)))
    if rng.random() < 0.05:
        text = "".join(rng.choices(string.printable + ODD, k=rng.randint(0, 900)))
    return text
