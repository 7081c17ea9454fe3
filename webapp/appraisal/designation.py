"""What the pieces of a type designation say: letters, numbers and suffixes, each with its grounds."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

Json = Mapping[str, Any]

PLACES = ("installation", "equipment", "purpose")


@dataclass(frozen=True, slots=True)
class Line:
    """One piece of a designation: what it is about, what it says, in which period, and on what grounds.

    `basis` is None where the piece cannot be read or the table does not know it.
    """

    piece: str
    about: str
    says: str
    period: str = ""
    note: str = ""
    basis: str | None = None
    source: str | None = None


def fill(sentence: str, **blanks: str) -> str:
    """A sentence of the tables with its {blanks} filled."""
    return re.sub("{([^{}]*)}", lambda blank: blanks[blank[1]], sentence)


class Table:
    """The compiled table of type designations, by what is looked up in it."""

    def __init__(self, nomenclature: Json) -> None:
        self.words: dict[str, str] = nomenclature["words"]
        self.indicators: dict[str, Json] = nomenclature["indicators"]
        self.families: dict[str, Json] = nomenclature["families"]
        self.grammar: dict[str, Json] = {row["id"]: row for row in nomenclature["grammar"]}
        self.letters: dict[str, list[Json]] = {}
        for row in nomenclature["letters"]:
            self.letters.setdefault(row["place"] + row["letter"], []).append(row)
        self.changes: str = self.grammar["modification"]["letters"]
        self.powers: str = self.grammar["power-input"]["letters"]

    def knows(self, letters: str) -> bool:
        """Whether each letter, in its place, has a meaning here."""
        return all(place + letter in self.letters for place, letter in zip(PLACES, letters, strict=False))

    def meaning(self, place: str, letter: str) -> str:
        """What a letter says, with the periods where it changed its meaning."""
        rows = self.letters.get(place + letter, [])
        if not rows:
            return self.unknown(letter)
        if len(rows) == 1:
            return str(rows[0]["meaning"])
        dated = self.words["in-period"]
        return self.either([fill(dated, meaning=row["meaning"], period=row["period"]) for row in rows])

    def item(self, code: str) -> str:
        """What the letters before a unit's number say."""
        row = self.indicators.get(code)
        return str(row["meaning"]) if row is not None else self.unknown(code)

    def unknown(self, letters: str) -> str:
        """Words for letters that have no row."""
        return fill(self.words["unknown-letter"], letter=letters)

    def either(self, items: Sequence[str]) -> str:
        """One or the other."""
        said = items[0]
        for item in items[1:]:
            said = fill(self.words["or"], one=said, other=item)
        return said

    # ---- lines

    def open_line(self, piece: str, about: str, says: str) -> Line:
        """A line for what cannot be read or is not known."""
        return Line(piece, self.words[about], self.words[says])

    def quoted(self, piece: str, about: str, says: str, grammar: str, **blanks: str) -> Line:
        """A line whose grounds are a row of the grammar."""
        row = self.grammar[grammar]
        said = fill(self.words[says], **blanks)
        return Line(piece, self.words[about], said, "", row["meaning"], row["basis"], row.get("source"))

    def system(self) -> Line:
        """The line for AN itself."""
        return self.quoted("AN/", "about-system", "system", "set")

    def number(self, about: str, number: str) -> Line:
        """The line for the number of a set or a unit."""
        if "?" in number:
            return self.open_line(number, about, "unreadable")
        return self.quoted(number, about, "number", "serial", number=number)

    def letter_lines(self, letters: str) -> list[Line]:
        """A line for each meaning of each letter, in their places."""
        lines = []
        for place, letter in zip(PLACES, letters, strict=False):
            rows = self.letters.get(place + letter, [])
            lines += [self._row(letter, f"about-{place}", row) for row in rows]
            if not rows:
                lines.append(self._unread(letter, f"about-{place}"))
        return lines

    def indicator(self, code: str) -> Line:
        """The line for the letters before a unit's number."""
        row = self.indicators.get(code)
        return self._row(code, "about-indicator", row) if row else self._unread(code, "about-indicator")

    def suffixes(
        self, changed: str, change: str | None, power: str | None, bracket: str | None
    ) -> tuple[str, list[Line]]:
        """What stands behind a number, in its usual form, and a line for each piece."""
        lines = []
        if change:
            n = str(self.changes.index(change) + 1)
            lines.append(self.quoted(change, "about-modification", "modification", changed, n=n))
        if power:
            n = str(self.powers.index(power) + 1)
            lines.append(self.quoted(power, "about-power", "power", "power-input", n=n))
        if bracket:
            lines.append(self._bracket(bracket))
        return "".join(line.piece for line in lines), lines

    def training(self, n: str, grammar: str) -> Line:
        """The line for a trainer's number."""
        return self.quoted(f"T{n}", "about-training", "training", grammar, n=n)

    def home(self, letters: str, serial: str) -> tuple[str, list[Line]]:
        """What a unit is used with: in words, and as lines."""
        if serial:
            piece, says, grammar = f"/{letters}-{serial}", "part-of", "unit-one-set"
        elif len(letters) == 1:
            piece, says, grammar = f"/{letters}", "general-use", "unit-general"
        else:
            piece, says, grammar = f"/{letters or '?'}", "several-sets", "unit-several-sets"
        if "?" in piece:
            line = self.open_line(piece, "about-home", "unreadable")
        else:
            place = self.meaning(PLACES[0], letters[0])
            blanks = {"set": f"AN/{letters}-{serial}", "letters": letters, "place": place}
            line = self.quoted(piece, "about-home", says, grammar, **blanks)
        return line.says, [line, *self.letter_lines(letters)]

    def _bracket(self, raw: str) -> Line:
        if raw == "()":
            return self.quoted("( )", "about-undetermined", "undetermined", "undetermined")
        if raw == "(V)":
            return self.quoted(raw, "about-variable", "variable", "variable")
        code, n = re.sub("[^A-Z]", "", raw), re.sub("[^0-9]", "", raw)
        if code == "V":
            return self.quoted(f"(V){n}", "about-variable", "configuration", "configuration", n=n)
        piece, says = (f"({code}-{n})", "development-n") if n else (f"({code})", "development")
        return self.quoted(piece, "about-development", says, "development", n=n)

    def _row(self, piece: str, about: str, row: Json) -> Line:
        grounds = (row.get("why", ""), row["basis"], row.get("source"))
        return Line(piece, self.words[about], row["meaning"], row.get("period", ""), *grounds)

    def _unread(self, piece: str, about: str) -> Line:
        return self.open_line(piece, about, "unreadable" if "?" in piece else "unknown")

    # ---- families

    def families_of(self, letters: str, code: str = "") -> tuple[str, ...]:
        """The families that go by the letters of a set, or by those of a unit and of what it is used with."""
        return tuple(key for key in sorted(self.families) if _goes_by(self.families[key], letters, code))

    def pointing(self, families: Sequence[str]) -> str:
        """The sentence that names them."""
        if not families:
            return self.words["points-nowhere"]
        return fill(
            self.words["points-to"], families=self.either([self.families[key]["name"] for key in families])
        )


def _goes_by(family: Json, letters: str, code: str) -> bool:
    fits = any(
        all(wanted in ("?", letter) for wanted, letter in zip(pattern, letters, strict=False))
        for pattern in family["sets"]
    )
    # A unit of general use may belong to any set; a family without sets is made of units alone.
    return code in family["units"] and (fits or letters == "U" or not family["sets"]) if code else fits
