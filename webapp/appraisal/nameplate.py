"""Reads nameplates: the type designation in what somebody typed off one, and the year of an order number."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from webapp.appraisal.designation import PLACES, Json, Line, Table, fill

LOOKS_AT = 400
"""How many characters of a text are looked at; a nameplate holds fewer."""
LONGEST = 4
"""How many digits the number of a set has at most."""

SET, UNIT, HALF, OTHER, EMPTY = "set", "unit", "half-readable", "not of this system", "empty"

_TIDY = (
    ("[\u200b-\u200d\u2060\ufeff]", ""),
    ("[\u00ad\u2010-\u2015\u2212\ufe58\ufe63\uff0d]", "-"),
    (r"[\\\u2044\u2215\uff0f]", "/"),
    ("[\x60\u00b4\u2018\u2019\u201b\u2032]", "'"),
    ("[*_]", "?"),
    ("[\t \u00a0\u2000-\u200a\u202f\u3000]+", " "),
    (" ?[\n\r\v\f\u0085\u2028\u2029][\n\r\v\f\u0085\u2028\u2029 ]*", "\n"),
    (" ?/ ?", "/"),
    (r" ?\( ?", "("),
    (r" ?\)", ")"),
    (r"\(V\) (?=[0-9]{1,2}(?:\n|$))", "(V)"),
)
_BRACKET = r"(\(V\)[0-9IO]{0,3}|\(\)|\(X[A-Z]{0,2}-?[0-9]{0,3}\))?"
_TRAINING = "(?:[ -]{0,3}T-?([0-9]{1,3}))?"
_START, _END = "(?:^|[^A-Z0-9])", "(?![A-Z0-9?])"
# A figure that goes with one of these is what a supply gives, not the number of a set.
_NO_MEASURE = "(?![0-9.]+ ?(?:V|VOLTS?|VAC|VDC|AMPS?|WATTS?|CPS|CYCLES?|HZ|KC|MC)(?![A-Z0-9]))"


@dataclass(frozen=True, slots=True)
class Reading:
    """What a text says of the type.

    `kind`: set, unit, half-readable, not of this system, empty. `written`: the designation in its usual
    form, or "". `families`: ids of the families that go by it, none where nothing tells.
    """

    kind: str
    written: str
    lines: tuple[Line, ...]
    families: tuple[str, ...]
    sentence: str


@dataclass(frozen=True, slots=True)
class OrderYear:
    """The year of order, or None where the number does not tell it, with the sentence to say."""

    year: int | None
    sentence: str
    basis: str | None


@dataclass(frozen=True, slots=True)
class _Found:
    """A reading of one place in a text; the lowest rank is the surest."""

    rank: int
    at: int
    reading: Reading


def read_nameplate(nomenclature: Json, text: str) -> Reading:
    """What a text, such as all that is on a nameplate, says in the joint designation system.

    Of several designations the surest is read, and of those the first. Never raises, whatever the text.
    """
    table = Table(nomenclature)
    tidy = _tidied(text)
    if not tidy.strip("\n "):
        return Reading(EMPTY, "", (), (), table.words["empty"])
    found = min(_Finder(table).found(tidy), key=lambda one: (one.rank, one.at), default=None)
    if found is None:
        return Reading(OTHER, "", (), (), table.words["not-of-this-system"])
    return found.reading


def suggests(nomenclature: Json, reading: Reading, family_id: str) -> bool | None:
    """Whether a designation is one of this family's; None when that cannot be told.

    It cannot where no designation was read whole, where no family is known to go by it, or where it is not
    known how this family is designated.
    """
    family = nomenclature["families"].get(family_id)
    if family is None or not reading.families or not (family["sets"] or family["units"]):
        return None
    return family_id in reading.families


def order_year(nomenclature: Json, text: str) -> OrderYear:
    """The year in a contract or order number, where its last two digits stand apart.

    In a text of several lines only those count on which, or above which, stands a word for such a number.
    Never raises, whatever the text.
    """
    order, words = nomenclature["order"], nomenclature["words"]
    lines = [line for line in _tidied(text).split("\n") if line.strip(" ")]
    if not lines:
        return OrderYear(None, words["order-empty"], None)
    for line in _order_lines(lines, order["marks"]):
        digits = re.search("[0-9].*[-/' ]([0-9]{2})[^A-Z0-9]*$", line)
        year = order["from_year"] // 100 * 100 + int(digits[1]) if digits else 0
        if digits and order["from_year"] <= year <= order["to_year"]:
            sentence = fill(words["order-year"], digits=digits[1], year=str(year))
            return OrderYear(year, sentence, order["basis"])
    return OrderYear(None, words["order-unknown"], None)


def _order_lines(lines: Sequence[str], marks: Sequence[str]) -> list[str]:
    marked = f"(?:^|[^A-Z])(?:{'|'.join(marks)})(?![A-Z])"
    found: list[str] = []
    for index, line in enumerate(lines):
        if re.search(marked, line):
            # The word may stand above the number, on a line of its own.
            found += [line] if re.search("[0-9]", line) else lines[index + 1 : index + 2]
    return found or list(lines if len(lines) == 1 else ())


def _tidied(text: str) -> str:
    """A text in capitals, each line with single blanks, one kind of dash, slash and apostrophe."""
    tidy = re.sub("[a-z]+", lambda run: run[0].upper(), text[:LOOKS_AT])
    for pattern, instead in _TIDY:
        tidy = re.sub(pattern, instead, tidy)
    return tidy


def _alone(letters: str) -> str:
    """A pattern for one of these letters, joined on or by itself after a blank; not for the U of U S ARMY."""
    return f"(?:([{letters}])| ([{letters}])(?![A-W0-9./&'])(?! [A-W0-9](?![A-Z0-9])))?"


def _letters(raw: str | None) -> str:
    return (raw or "").replace(" ", "").replace("0", "O")


def _digits(raw: str | None) -> str:
    return (raw or "").replace("O", "0").replace("I", "1")


class _Finder:
    """Finds designations in a tidy text, in each way in which they are written."""

    def __init__(self, table: Table) -> None:
        self.table = table
        change, power = _alone(table.changes), _alone(table.powers)
        self.ways = (
            (
                self._set,
                f"{_START}A ?N([ /-]{{0,3}})([A-Z0?] ?[A-Z0?] ?[A-Z0?])([ /-]{{0,3}})"
                f"(?:T-?([0-9]{{1,3}})|([0-9IO?]{{1,4}}){change}{power}{_BRACKET}{_TRAINING}){_END}",
            ),
            (
                self._unit,
                "(?:^|[^A-Z0-9/])([A-Z0?]{1,2})([ -]{0,3})([0-9IO?]{1,5})"
                f"(?: ?([{table.changes}]))?(?: ?([{table.powers}]))?{_BRACKET}"
                f"(?:(?:/([A-Z0?]{{3}})|[ -]{{0,2}}([A-Z]{{3}}))[ -]{{0,3}}{_NO_MEASURE}([0-9IO?]{{1,4}})"
                f"{change}|/([A-Z0?]{{0,3}}))(?!/){_END}",
            ),
            (
                self._torn,
                f"{_START}A ?N/([A-Z0?]{{0,6}})(?:[ -]{{0,3}}([0-9?][0-9IO?]{{0,5}}))?([A-Z0-9?]{{0,6}})",
            ),
            (
                self._bare,
                f"(?:^|[^A-Z0-9/-]|{_START}/)([A-Z0]{{3}})-([0-9IO]{{1,4}}){change}(?![A-Z0-9/?-])",
            ),
        )

    def found(self, tidy: str) -> Iterator[_Found]:
        """Every designation in a tidy text, whole or in part."""
        for read, way in self.ways:
            for match in re.finditer(way, tidy):
                ranked = read(match)
                if ranked is not None:
                    yield _Found(ranked[0], match.start(), ranked[1])

    def _set(self, match: re.Match[str]) -> tuple[int, Reading] | None:
        """AN, three letters and a number; without slash or dash only where the table knows all letters."""
        before, spread, dash, of_class, raw, near, apart, power, power_apart, bracket, own = match.groups()
        letters, number, table = _letters(spread), _digits(raw), self.table
        sure = "/" in before
        if not sure and (" " in spread or not ("-" in before + dash or table.knows(letters))):
            return None
        if raw and not ("-" in dash or _has_figure(raw)):
            return None
        suffix, more = table.suffixes("modification", near or apart, power or power_apart, bracket)
        if of_class:
            more = [table.training(of_class, "training-class")]
        else:
            more = [table.number("about-number", number), *more]
        if own:
            more.append(table.training(own, "training-set"))
            suffix += f"-T{own}"
        written = f"AN/{letters}-{f'T{of_class}' if of_class else number}{suffix}"
        lines = [table.system(), *table.letter_lines(letters), *more]
        if "?" in written:
            return 2, self._half(written, lines)
        says = {place: table.meaning(place, letter) for place, letter in zip(PLACES, letters, strict=True)}
        if of_class or own:
            said = fill(table.words["trainer"], written=written, **says)
            return 1 - sure, Reading(SET, written, tuple(lines), (), said)
        said = fill(table.words["set"], written=written, **says)
        return 1 - sure, self._whole(SET, written, lines, table.families_of(letters), said)

    def _unit(self, match: re.Match[str]) -> tuple[int, Reading] | None:
        """A unit's letters and number, a slash, what it is used with; loosely only with all letters known."""
        raw, dash, raw_number, change, power, bracket, slashed, joined, raw_serial, *rest = match.groups()
        code, number, table = _letters(raw), _digits(raw_number), self.table
        letters = _letters(slashed or joined or rest[2])
        sure = "-" in dash and joined is None
        known = code in table.indicators and table.knows(letters)
        if not (known or (sure and letters)) or not (sure or letters):
            return None
        if code == "AN" or not ("-" in dash or (raw.strip("0") and _has_figure(raw_number))):
            return None
        suffix, more = table.suffixes("unit-modification", change, power, bracket)
        serial = _digits(raw_serial) + (rest[0] or rest[1] or "")
        home, tail = table.home(letters, serial)
        written = f"{code}-{number}{suffix}{tail[0].piece}"
        lines = [table.indicator(code), table.number("about-unit-number", number), *more, *tail]
        if "?" in written:
            return 2, self._half(written, lines)
        said = fill(table.words["unit"], written=written, item=table.item(code), home=home)
        return 1 - sure, self._whole(UNIT, written, lines, table.families_of(letters, code), said)

    def _torn(self, match: re.Match[str]) -> tuple[int, Reading]:
        """AN/ and whatever can be read behind it."""
        letters, number, rest, table = _letters(match[1]), _digits(match[2]) or "?", match[3], self.table
        lines = [table.system()]
        if len(letters) == len(PLACES):
            lines += table.letter_lines(letters)
        else:
            lines.append(table.open_line(letters or "?", "about-letters", "three-letters"))
        if len(number) > LONGEST:
            lines.append(table.open_line(number, "about-number", "unreadable"))
        else:
            lines.append(table.number("about-number", number))
        if rest:
            lines.append(table.open_line(rest, "about-rest", "unknown"))
        return 3, self._half(f"AN/{letters or '?'}-{number}{rest}", lines)

    def _bare(self, match: re.Match[str]) -> tuple[int, Reading] | None:
        """Three letters and a number with no AN/ before them; older systems wrote so too."""
        letters, number, table = _letters(match[1]), _digits(match[2]), self.table
        if not (table.knows(letters) and _has_figure(match[2])):
            return None
        suffix, more = table.suffixes("modification", match[3] or match[4], None, None)
        lines = [table.open_line("AN/", "about-system", "no-an"), *table.letter_lines(letters)]
        lines += [table.number("about-number", number), *more]
        written = f"{letters}-{number}{suffix}"
        said = fill(table.words["half-without-an"], written=written)
        return 4, Reading(HALF, written, tuple(lines), (), said)

    def _half(self, written: str, lines: Sequence[Line]) -> Reading:
        missing = ", ".join(dict.fromkeys(line.about for line in lines if line.basis is None))
        said = fill(self.table.words["half-readable"], written=written, missing=missing)
        return Reading(HALF, written, tuple(lines), (), said)

    def _whole(
        self, kind: str, written: str, lines: Sequence[Line], families: tuple[str, ...], said: str
    ) -> Reading:
        return Reading(kind, written, tuple(lines), families, f"{said} {self.table.pointing(families)}")


def _has_figure(raw: str) -> bool:
    return re.search("[0-9?]", raw) is not None
