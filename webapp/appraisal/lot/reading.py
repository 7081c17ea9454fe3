"""The lot file, read strictly: its sets as findings documents, what is asked, what the work costs."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from webapp.appraisal.findings import read_findings
from webapp.appraisal.lot.plan import Bidding
from webapp.appraisal.lot.problem import ShelfRow
from webapp.appraisal.lot.sets import Entry
from webapp.appraisal.prepared import Prepared
from webapp.errors import BadFindings, UnderchassisError, did_you_mean

MOST_SETS = 2000
_MOST_ROWS = 500
# Of all spares and wants: settling who takes which goes through every pair.
MOST_PIECES = 5000
_MOST_MONEY, _MOST_HOURS, _MOST_PIECES = 1e12, 1e6, 1000.0
_KEYS = ("sets", "asking", "margin", "hour_rate", "hours_limit", "currency", "rate", "today", "shelf")
_ROW_KEYS = ("kind", "family", "model_sheet", "part", "state", "count", "worth", "findings")
_SHARED = ("currency", "rate", "today")

PreparedFor = Callable[[Any], Prepared]


@dataclass(frozen=True, slots=True)
class Lot:
    """A lot as it was handed in; the user's own sets come after those of the lot."""

    entries: tuple[Entry, ...]
    shelf: tuple[ShelfRow, ...]
    bidding: Bidding
    hour_rate: float
    hours_limit: float | None
    currency: str


def read_lot(raw: Any, prepared_for: PreparedFor) -> Lot:
    """The lot of a decoded JSON document; `prepared_for` gives the prepared pack of a findings document.

    Raises BadFindings with one sentence that says which set and key, and what is expected.
    """
    document = _mapping(raw, "The lot")
    _known(document, _KEYS, "the lot")
    sets = _list(document, "sets", MOST_SETS)
    rows = [_mapping(row, f"Shelf row {at}") for at, row in enumerate(_list(document, "shelf", _MOST_ROWS))]
    hour_rate = _number(document, "hour_rate", 0.0, _MOST_MONEY) or 0.0
    own = [row.get("findings") for row in rows if row.get("kind") == "donor"]
    listed = [*((f"Set {at}", one, False) for at, one in enumerate(sets)),
              *((f"Own set {at}", one, True) for at, one in enumerate(own))]  # fmt: skip
    entries = tuple(_entry(document, *one, hour_rate, prepared_for) for one in listed)
    currency = _one_currency(document, listed, entries)
    shelf = tuple(_row(row, at, prepared_for) for at, row in enumerate(rows))
    if sum(row.count for row in shelf) > MOST_PIECES:
        raise BadFindings(f"The shelf counts more than {MOST_PIECES} spares and wants.", 'Lower the "count".')
    return Lot(
        entries=entries,
        shelf=shelf,
        bidding=Bidding(_number(document, "asking", 0.0, _MOST_MONEY), _margin(document)),
        hour_rate=hour_rate,
        hours_limit=_number(document, "hours_limit", 0.0, _MOST_HOURS),
        currency=currency,
    )


def _mapping(raw: Any, what: str) -> Mapping[str, Any]:
    if not isinstance(raw, dict):
        raise BadFindings(f"{what} should be a JSON object with named values.")
    return raw


def _known(document: Mapping[str, Any], keys: tuple[str, ...], where: str) -> None:
    for key in document:
        if key not in keys:
            raise BadFindings(f'Unknown key "{str(key)[:40]}" in {where}.', did_you_mean(str(key), keys))


def _list(document: Mapping[str, Any], key: str, most: int) -> list[Any]:
    listed = document.get(key)
    listed = [] if listed is None and key != "sets" else listed
    if not isinstance(listed, list):
        raise BadFindings(f'"{key}" should be a list.', 'A lot is {"sets": [findings, …]}.')
    if len(listed) > most:
        raise BadFindings(f'"{key}" lists {len(listed)}; at most {most} are read.', "Split the lot.")
    return listed


def _number(document: Mapping[str, Any], key: str, low: float, high: float) -> float | None:
    value = document.get(key)
    if value is None:
        return None
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise BadFindings(f'"{key}" should be a plain number.')
    if not low <= value <= high:
        raise BadFindings(f'"{key}" is {value:g}; it must lie between {low:g} and {high:g}.')
    return float(value)


def _margin(document: Mapping[str, Any]) -> float:
    value = document.get("margin")
    if isinstance(value, int | float) and not isinstance(value, bool) and 1 < value <= 100:
        raise BadFindings(
            f'"margin" is {value:g}; it must lie between 0 and 1.', f"Did you mean {value / 100:g}?"
        )
    return _number(document, "margin", 0.0, 1.0) or 0.0


def _entry(
    lot: Mapping[str, Any], what: str, raw: Any, owned: bool, hour_rate: float, prepared_for: PreparedFor
) -> Entry:
    try:
        document = _mapping(raw, "The findings")
        given = {key: lot[key] for key in _SHARED if lot.get(key) is not None and document.get(key) is None}
        prepared = prepared_for(document)
        findings = read_findings({**document, **given, "hour_rate": hour_rate}, prepared)
    except UnderchassisError as refusal:
        raise BadFindings(f"{what}: {refusal.message}", refusal.hint) from refusal
    sheet = document.get("model_sheet")
    return Entry(prepared, findings, str(sheet) if sheet is not None else None, owned)


def _one_currency(
    lot: Mapping[str, Any], listed: list[tuple[str, Any, bool]], entries: tuple[Entry, ...]
) -> str:
    """The currency of all sets; rates too must agree, or one set's money would not be another's."""
    first: tuple[str, str, float] | None = None
    for (what, _, _), entry in zip(listed, entries, strict=True):
        own = (what, entry.findings.currency, entry.findings.rate)
        first = first or own
        if own[1] != first[1]:
            raise BadFindings(
                f"{first[0]} is in {first[1]} and {what.lower()} in {own[1]}.",
                'A lot has one currency: give "currency" and "rate" once for the lot, and none in its sets.',
            )
        if own[2] != first[2]:
            raise BadFindings(
                f'{first[0]} has the "rate" {first[2]:g} and {what.lower()} {own[2]:g}.',
                'A lot has one rate: give "rate" once for the lot, and none in its sets.',
            )
    said = lot.get("currency")
    if first is not None and said is not None and first[1] != said:
        raise BadFindings(
            f"{first[0]} is in {first[1]}, and the lot in {said}.", "Give one currency for all."
        )
    return first[1] if first is not None else str(said or "")


def _row(row: Mapping[str, Any], at: int, prepared_for: PreparedFor) -> ShelfRow:
    """One row of the shelf; a donor joins as a set, and keeps its place on the list."""
    where = f"shelf row {at}"
    _known(row, _ROW_KEYS, where)
    kind = row.get("kind")
    if kind not in ("spare", "want", "donor"):
        raise BadFindings(f"The kind of {where} should be spare, want or donor.")
    if kind == "donor":
        return ShelfRow("donor", "", None, "", count=0)
    try:
        pack = prepared_for({key: row.get(key) for key in ("family", "model_sheet")}).pack
        state, count, worth = (
            _number(row, key, 0.0, most)
            for key, most in (("state", 1.0), ("count", _MOST_PIECES), ("worth", _MOST_MONEY))
        )
    except UnderchassisError as refusal:
        raise BadFindings(f"{where.capitalize()}: {refusal.message}", refusal.hint) from refusal
    parts = [part["id"] for part in pack["parts"]]
    part = row.get("part")
    if part not in parts:
        raise BadFindings(
            f'{where.capitalize()} names the part "{str(part)[:40]}", which this family does not have.',
            did_you_mean(str(part), parts),
        )
    if count is not None and count != int(count):
        raise BadFindings(f'"count" of {where} should be a whole number.')
    return ShelfRow(
        kind=str(kind),
        family=pack["family"],
        model_sheet=row.get("model_sheet"),
        part=str(part),
        state=1.0 if state is None else state,
        count=1 if count is None else int(count),
        worth=worth,
    )
