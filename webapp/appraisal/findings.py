"""What was found: the findings document, read strictly, with one sentence for what is wrong."""

import math
import re
import reprlib
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from webapp.appraisal.prepared import Pack, Prepared
from webapp.errors import BadFindings, Sentence, did_you_mean

AS_FOUND = ("open", "plugged", "enlarged")
_KEYS = (
    "family", "model_sheet", "answers", "unseen", "holes", "coverage_khz", "crystal_khz", "asking",
    "currency", "rate", "hour_rate", "aim", "region", "comparables", "nameplate", "serial", "book_serial",
    "order", "heater_strings", "finish", "service", "today",
)  # fmt: skip
_NOTES = ("nameplate", "serial", "book_serial", "order", "finish", "service")
_MOST_MONEY = 1e12
_MOST_HEATERS = 100
_MOST_COMPARABLES = 5000
_LIMITS = {
    "diameter_mm": (0.1, 500.0, "mm"),
    "coverage_khz": (1.0, 1e7, "kHz"),
    "crystal_khz": (1.0, 1e7, "kHz"),
    "asking": (0.0, _MOST_MONEY, ""),
    "hour_rate": (0.0, _MOST_MONEY, ""),
    "price": (0.01, _MOST_MONEY, ""),
    "rate": (1e-9, 1e9, ""),
    "log_offset": (-10.0, 10.0, ""),
    "volts": (0.1, 1000.0, "V"),
    "amps": (0.001, 1000.0, "A"),
}
# Short even for a value nested thousands deep or as long as a book.
_BRIEF = reprlib.Repr()
_BRIEF.maxstring = _BRIEF.maxlong = _BRIEF.maxother = 40


@dataclass(frozen=True, slots=True)
class Hole:
    """An added hole: place id, diameter in mm, and open, plugged or enlarged."""

    place: str
    diameter_mm: float
    as_found: str = "open"


@dataclass(frozen=True, slots=True)
class Heater:
    """One heater: rated volts and amperes."""

    volts: float
    amps: float


@dataclass(frozen=True, slots=True)
class Comparable:
    """A sale, or an offer, that somebody saw: price in its own currency, `kind` sold or asked.

    `state`: id of a state of the family, or None; `log_offset`, where it is known what its findings did to
    the logarithm of its price, stands in its place. `rate`: units of its currency for one of the pack's.
    """

    price: float
    currency: str
    date: date
    state: str | None
    kind: str
    rate: float | None
    log_offset: float | None = None


@dataclass(frozen=True, slots=True)
class Findings:
    """What was found on one set; whatever is missing was not looked at. Units as in the contract."""

    answers: Mapping[str, str] = field(default_factory=dict)
    unseen: frozenset[str] = frozenset()
    holes: tuple[Hole, ...] = ()
    coverage_khz: tuple[float, float] | None = None
    crystal_khz: float | None = None
    asking: float | None = None
    currency: str = "USD"
    rate: float = 1.0
    hour_rate: float = 0.0
    aim: str = ""
    region: int | None = None
    nameplate: str | None = None
    serial: str | None = None
    book_serial: str | None = None
    order: str | None = None
    heater_strings: tuple[tuple[tuple[Heater, ...], ...], ...] = ()
    finish: str | None = None
    service: str | None = None
    comparables: tuple[Comparable, ...] = ()
    today: date | None = None


def read_findings(raw: Any, prepared: Prepared) -> Findings:
    """The findings of a decoded JSON document, for the family (and sheet) of the pack.

    Raises BadFindings with one sentence that names the key, what it holds and what is expected.
    """
    document = _mapping(raw, "The findings")
    for key in document:
        if key not in _KEYS:
            raise BadFindings(f"Unknown key {_quoted(key)} in the findings.", did_you_mean(str(key), _KEYS))
    notes = {key: _text_or_nothing(document, key) for key in _NOTES}
    pack = prepared.pack
    answers = _answers(document, prepared)
    holes = _holes(document, prepared, answers)
    unseen = _unseen(document, prepared, answers)
    currency, rate = _currency(document, pack)
    today = _date(document.get("today"), "today")
    return Findings(
        answers=answers,
        unseen=unseen,
        holes=holes,
        coverage_khz=_coverage(document),
        crystal_khz=_optional(document, "crystal_khz"),
        asking=_optional(document, "asking"),
        currency=currency,
        rate=rate,
        hour_rate=_optional(document, "hour_rate") or 0.0,
        aim=_one_of(document, "aim", [aim["id"] for aim in pack["aims"]]) or pack["default_aim"],
        region=_region(document),
        today=today,
        heater_strings=_heater_strings(document),
        comparables=_comparables(document, pack, today),
        **notes,
    )


def _mapping(raw: Any, what: str) -> Mapping[str, Any]:
    if not isinstance(raw, dict):
        raise BadFindings(f"{what} should be a JSON object with named values, not {_shown(raw)}.")
    return raw


def _given(document: Mapping[str, Any], key: str, default: Any) -> Any:
    """What stands under a key; null says the same as leaving it out, and nothing else does."""
    value = document.get(key)
    return default if value is None else value


def _shown(value: Any) -> str:
    text = _BRIEF.repr(value)
    return text if len(text) <= 40 else text[:37] + "..."


def _quoted(name: Any) -> str:
    return f'"{_shown(str(name))[1:-1]}"'


def _number(value: Any, key: str, limits: str) -> float:
    low, high, unit = _LIMITS[limits]
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise _no_number(value, key)
    if isinstance(value, float) and not math.isfinite(value):
        raise _no_number(value, key)
    if not low <= value <= high:
        ceiling = f"{high:g} {unit}".rstrip()
        raise BadFindings(
            Sentence(
                '"{key}" is {value}; it must lie between {low} and {high}.',
                key=key, value=_shown(value), low=format(low, "g"), high=ceiling,
            )
        )  # fmt: skip
    return float(value)


def _no_number(value: Any, key: str) -> BadFindings:
    return BadFindings(
        Sentence('"{key}" is {value}; a plain number is expected.', key=key, value=_shown(value))
    )


def _optional(document: Mapping[str, Any], key: str) -> float | None:
    value = document.get(key)
    return None if value is None else _number(value, key, key)


def _text_or_nothing(document: Mapping[str, Any], key: str) -> str | None:
    value = document.get(key)
    if value is not None and not isinstance(value, str):
        raise BadFindings(f'"{key}" is {_shown(value)}; a text is expected.')
    return value


def _list(document: Mapping[str, Any], key: str) -> list[Any]:
    listed = _given(document, key, [])
    if not isinstance(listed, list):
        raise BadFindings(f'"{key}" is {_shown(listed)}; a list is expected.')
    return listed


def _heater_strings(document: Mapping[str, Any]) -> tuple[tuple[tuple[Heater, ...], ...], ...]:
    """The series strings; each place holds one heater, or a list of heaters that are shunted."""
    strings = []
    for number, raw in enumerate(_list(document, "heater_strings"), start=1):
        if not isinstance(raw, list) or not raw or len(raw) > _MOST_HEATERS:
            raise BadFindings(
                f"Heater string {number} is {_shown(raw)}; a list of heaters is expected.",
                'For example [{"volts": 12.6, "amps": 0.45}, {"volts": 12.6, "amps": 0.45}].',
            )
        strings.append(tuple(_place(place, number) for place in raw))
    if len(strings) > _MOST_HEATERS:
        raise BadFindings(f'"heater_strings" lists {len(strings)}; at most {_MOST_HEATERS} are read.')
    return tuple(strings)


def _place(raw: Any, string: int) -> tuple[Heater, ...]:
    shunted = raw if isinstance(raw, list) else [raw]
    if not 0 < len(shunted) <= _MOST_HEATERS:
        raise BadFindings(f"Heater string {string} has a place without a heater, or with too many.")
    return tuple(_heater(item, string) for item in shunted)


def _heater(raw: Any, string: int) -> Heater:
    heater = _mapping(raw, f"Each heater of string {string}")
    for key in heater:
        if key not in ("volts", "amps", "tube"):
            raise BadFindings(
                f"A heater of string {string} has the unknown key {_quoted(key)}.",
                did_you_mean(str(key), ["volts", "amps", "tube"]),
            )
    volts, amps = (
        _number(
            heater.get(key), Sentence("{key} of a heater of string {string}", key=key, string=string), key
        )
        for key in ("volts", "amps")
    )
    return Heater(volts, amps)


def _one_of(document: Mapping[str, Any], key: str, known: list[str]) -> str | None:
    value = document.get(key)
    if value is None:
        return None
    if value not in known:
        raise BadFindings(f'"{key}" is {_shown(value)}, which is not known.', did_you_mean(str(value), known))
    return str(value)


def _answers(document: Mapping[str, Any], prepared: Prepared) -> dict[str, str]:
    answers = _mapping(_given(document, "answers", {}), '"answers"')
    for check_id, option_id in answers.items():
        if check_id not in prepared.check_index:
            raise BadFindings(
                f'"answers" names the check {_quoted(check_id)}, which this family does not have.',
                did_you_mean(str(check_id), list(prepared.check_index)),
            )
        known = list(prepared.checks[prepared.check_index[check_id]].index_of)
        if not isinstance(option_id, str) or option_id not in known:
            raise BadFindings(
                f'The check "{check_id}" has no option {_shown(option_id)}.',
                "It has: " + ", ".join(f'"{name}"' for name in known) + ".",
            )
    return dict(answers)


def _unseen(document: Mapping[str, Any], prepared: Prepared, answers: Mapping[str, str]) -> frozenset[str]:
    unseen = _given(document, "unseen", [])
    if not isinstance(unseen, list):
        raise BadFindings(f'"unseen" is {_shown(unseen)}; a list of check ids is expected.')
    for check_id in unseen:
        if not isinstance(check_id, str) or check_id not in prepared.check_index:
            raise BadFindings(
                f'"unseen" names the check {_shown(check_id)}, which this family does not have.',
                did_you_mean(str(check_id), list(prepared.check_index)),
            )
        if check_id in answers:
            raise BadFindings(
                f'The check "{check_id}" is both answered and in "unseen".', "Keep one of the two."
            )
    return frozenset(unseen)


def _holes(document: Mapping[str, Any], prepared: Prepared, answers: Mapping[str, str]) -> tuple[Hole, ...]:
    holes = _given(document, "holes", [])
    if not isinstance(holes, list) or len(holes) > 500:
        raise BadFindings('"holes" should be a list of at most 500 holes.')
    places = [place["id"] for place in prepared.pack["holes"]["places"]]
    read = []
    for number, raw in enumerate(holes, start=1):
        hole = _mapping(raw, f"Hole {number}")
        for key in hole:
            if key not in ("place", "diameter_mm", "as_found"):
                raise BadFindings(
                    f"Hole {number} has the unknown key {_quoted(key)}.",
                    did_you_mean(str(key), ["place", "diameter_mm", "as_found"]),
                )
        place, as_found = hole.get("place"), hole.get("as_found", "open")
        if place not in places:
            raise BadFindings(
                f"Hole {number} is in the place {_shown(place)}, which is not known.",
                did_you_mean(str(place), places),
            )
        if as_found not in AS_FOUND:
            raise BadFindings(
                f"Hole {number} was found {_shown(as_found)}.", 'Expected "open", "plugged" or "enlarged".'
            )
        where = Sentence("{key} of hole {number}", key="diameter_mm", number=number)
        diameter = _number(hole.get("diameter_mm"), where, "diameter_mm")
        read.append(Hole(str(place), diameter, str(as_found)))
    hole_check = prepared.checks[prepared.hole_check].id
    if read and answers.get(hole_check) == "none":
        raise BadFindings(
            Sentence(
                '"holes" lists {count}, but the check "{check}" is answered "none".',
                count=len(read),
                check=hole_check,
            ),
            Sentence('Answer it "some", or leave the list empty.'),
        )
    return tuple(read)


def _coverage(document: Mapping[str, Any]) -> tuple[float, float] | None:
    value = document.get("coverage_khz")
    if value is None:
        return None
    if not isinstance(value, list) or len(value) != 2:
        raise BadFindings(
            f'"coverage_khz" is {_shown(value)}; two numbers are expected, such as [3300, 5000].'
        )
    low, high = (_number(item, "coverage_khz", "coverage_khz") for item in value)
    if low >= high:
        raise BadFindings(
            Sentence('"coverage_khz" is {value}; the lower frequency comes first.', value=_shown(value))
        )
    return low, high


def _currency(document: Mapping[str, Any], pack: Pack) -> tuple[str, float]:
    own = pack["reference"]["currency"]
    currency = _given(document, "currency", own)
    if not isinstance(currency, str) or not re.fullmatch(r"[A-Z]{3}", currency):
        raise BadFindings(
            Sentence(
                '"currency" is {value}; a code of three capitals is expected, such as "{own}".',
                value=_shown(currency),
                own=own,
            )
        )
    rate = _optional(document, "rate")
    if currency == own:
        if rate not in (None, 1.0):
            raise BadFindings(
                Sentence(
                    '"rate" is {rate}, but the prices of this family are in {own} already.',
                    rate=format(rate, "g"), own=own,
                )
            )  # fmt: skip
        return currency, 1.0
    if rate is None:
        raise BadFindings(
            Sentence(
                "The prices of this family are in {own}, and the appraisal is wanted in {currency}.",
                own=own,
                currency=currency,
            ),
            Sentence('Give "rate": how many {currency} one {own} buys.', currency=currency, own=own),
        )
    return currency, rate


def _region(document: Mapping[str, Any]) -> int | None:
    region = document.get("region")
    if region is None:
        return None
    if isinstance(region, bool) or region not in (1, 2, 3):
        raise BadFindings(f'"region" is {_shown(region)}; the ITU regions are 1, 2 and 3.')
    return int(region)


def _date(value: Any, key: str) -> date | None:
    if value is None:
        return None
    try:
        if not isinstance(value, str) or not re.fullmatch(r"\d{4}-\d{2}-\d{2}", value, re.ASCII):
            raise ValueError
        return date.fromisoformat(value)
    except ValueError:
        raise BadFindings(f'"{key}" is {_shown(value)}; a date such as "2026-11-25" is expected.') from None


def _comparables(document: Mapping[str, Any], pack: Pack, today: date | None) -> tuple[Comparable, ...]:
    listed = _list(document, "comparables")
    if len(listed) > _MOST_COMPARABLES:
        raise BadFindings(f'"comparables" lists {len(listed)}; at most {_MOST_COMPARABLES} are read.')
    if listed and today is None:
        raise BadFindings('"comparables" need to know how old they are.', 'Give "today".')
    return tuple(_comparable(raw, number, pack, today) for number, raw in enumerate(listed, start=1))


def _comparable(raw: Any, number: int, pack: Pack, today: date | None) -> Comparable:
    where = f"comparable {number}"
    given = _mapping(raw, where.capitalize())
    known = ("price", "currency", "date", "state", "kind", "rate", "log_offset")
    for key in given:
        if key not in known:
            sentence = f"{where.capitalize()} has the unknown key {_quoted(key)}."
            raise BadFindings(sentence, did_you_mean(str(key), known))
    currency = _given(given, "currency", pack["reference"]["currency"])
    if not isinstance(currency, str) or not re.fullmatch(r"[A-Z]{3}", currency):
        raise BadFindings(f"The currency of {where} is {_shown(currency)}; three capitals are expected.")
    kind = _given(given, "kind", "sold")
    if kind not in ("sold", "asked"):
        raise BadFindings(f"The kind of {where} is {_shown(kind)}.", 'Expected "sold" or "asked".')
    seen = _date(given.get("date"), f"date of {where}")
    if seen is None:
        raise BadFindings(f"{where.capitalize()} has no date.", 'Give one such as "2025-06-01".')
    if today is not None and seen > today:
        raise BadFindings(f"{where.capitalize()} is of {seen}, which is after today ({today}).")
    price = _number(given.get("price"), f"price of {where}", "price")
    rate, offset = (
        None if given.get(key) is None else _number(given[key], f"{key} of {where}", key)
        for key in ("rate", "log_offset")
    )
    states = [state["id"] for state in pack["states"]]
    return Comparable(price, currency, seen, _one_of(given, "state", states), str(kind), rate, offset)
