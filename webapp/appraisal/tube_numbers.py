"""The heater voltage that an American tube number tells, if it tells one.

The receiving types' numbers begin with a nominal voltage, which is looked up and never computed. Other
numbers of much the same look say something else or nothing, and then no voltage is given.
"""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

Table = dict[str, Any]

EMPTY, UNKNOWN, OLDER = "empty", "not known to this table", "older numerical"
RECEIVING, POWER, INDUSTRIAL = "receiving type", "power class", "industrial, not descriptive"

# Spaces, slashes and dashes of any kind, spelled out: the languages differ on what a blank is.
_SEPARATORS = "[ \\t\\r\\n\u00a0/\u2010-\u2015\u2212-]"
_BARE = "([0-9]+)([A-Za-z]{0,3})"
_DESCRIPTIVE = "([0-9]{1,3})([A-Za-z]{1,3})([1-9][0-9]{0,3})([A-Za-z]{0,6})"


@dataclass(frozen=True, slots=True)
class HeaterReading:
    """What a number says of the heater: its volts, the usual ones first, or none where it says nothing."""

    system: str
    volts: tuple[float, ...]
    sentence: str
    basis: str | None
    source: str | None


def heater_of(table: Table, number: str) -> HeaterReading:
    """The heater by a tube number as it is read off the tube; any text gives a reading.

    Volts. Where the last number is at or above the first serial of the numbers of 1942 to 1944, the first
    figure is a power class. Sources: the rows of the table.
    """
    text = re.sub(_SEPARATORS, "", number)
    if not text:
        return _said(table, EMPTY, "empty")
    suffixes = [row["suffix"] for row in table["suffixes"]]
    bare = re.fullmatch(_BARE, text)
    if bare:
        figures, suffix = bare[1], bare[2].upper()
        return _bare(table, figures, suffix) if suffix in ("", *suffixes) else _not_known(table)
    parts = re.fullmatch(_DESCRIPTIVE, text)
    if not parts or not _made_of(parts[4].upper(), suffixes):
        return _not_known(table)
    return _descriptive(table, parts[1], parts[2].upper(), parts[3], parts[4].upper())


def _bare(table: Table, figures: str, suffix: str) -> HeaterReading:
    """A number without letters inside: by its length and size."""
    older, industrial = table["older"], table["industrial"]
    if older["fewest_figures"] <= len(figures) <= older["most_figures"]:
        return _said(table, OLDER, "older", older, number=figures + suffix)
    first = str(industrial["first"])
    # Of one length the texts sort as the numbers do; longer ones are no tube numbers.
    if len(figures) == len(first) and figures >= first:
        return _said(table, INDUSTRIAL, "industrial", industrial, number=figures + suffix, first=first)
    return _not_known(table)


def _descriptive(table: Table, lead: str, letters: str, last: str, suffix: str) -> HeaterReading:
    """A number of the form number, letters, number."""
    number = lead + letters + last + suffix
    not_used, cathode_ray = table["not_used"], table["cathode_ray"]
    if any(letter in not_used["letters"] for letter in letters):
        apart = table["words"]["or"].join(not_used["letters"])
        return _said(table, UNKNOWN, "letters-not-used", not_used, number=number, letters=apart)
    if letters[1:2] == cathode_ray["letter"]:
        return _said(table, UNKNOWN, "cathode-ray", cathode_ray, number=number, letter=cathode_ray["letter"])
    if int(last) >= table["serials"]["first"]:
        return _power_class(table, lead, letters, number)
    row = _row(table["leads"], "lead", lead)
    if row is None:
        return _said(table, UNKNOWN, "lead-not-known", number=number, lead=lead)
    return _receiving(table, row, number)


def _power_class(table: Table, lead: str, letters: str, number: str) -> HeaterReading:
    power = _row(table["power_classes"], "digit", lead)
    letter = _row(table["letters"], "letter", letters)
    if power is None or letter is None:
        return _not_known(table)
    blanks = {"number": number, "power": power["label"], "letter": letter["label"]}
    return _said(table, POWER, "power-class", power, **blanks)


def _receiving(table: Table, row: Table, number: str) -> HeaterReading:
    volts = tuple(float(value) for value in row["volts"])
    word = ("cold", "one", "several")[min(len(volts), 2)]
    listed = table["words"]["or"].join(f"{value:g}" for value in volts)
    said = _said(table, RECEIVING, word, row, number=number, volts=listed)
    note = f" {row['note']}" if "note" in row else ""
    return HeaterReading(RECEIVING, volts, said.sentence + note, said.basis, said.source)


def _not_known(table: Table) -> HeaterReading:
    return _said(table, UNKNOWN, "not-known")


def _said(table: Table, system: str, word: str, row: Table | None = None, **blanks: str) -> HeaterReading:
    """A reading without volts, in the sentence `word`, resting on a row."""
    grounds = row or {}
    text: str = table["words"][word].format(**blanks)
    return HeaterReading(system, (), text, grounds.get("basis"), grounds.get("source"))


def _row(rows: Sequence[Table], key: str, value: str) -> Table | None:
    return next((row for row in rows if row[key] == value), None)


def _made_of(text: str, pieces: Sequence[str]) -> bool:
    """Whether a text is one or more of the pieces put together, or nothing."""
    return not text or any(
        text.startswith(piece) and _made_of(text[len(piece) :], pieces) for piece in pieces
    )
