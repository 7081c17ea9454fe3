"""Findings that ought to agree, compared (contract §6): crystal, serials, heaters, designation, finish.

True: they fit. False: they do not. None: one of them is not known, so it cannot be told.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from webapp.appraisal.findings import Findings, Heater
from webapp.appraisal.nameplate import Reading, read_nameplate, suggests
from webapp.appraisal.prepared import Pack

# Sums of decimal voltages must not miss a limit by the last bit.
_ROOM = 1e-9
_BEFORE_A_NUMBER = re.compile("^[^a-z0-9]*((serial|ser|number|num|no|nr|s[/.]?n)(?![a-z])[^a-z0-9]*)*")


@dataclass(frozen=True, slots=True)
class Heating:
    """A heater string: its number (from 1), the sum of its voltages, least and greatest current."""

    string: int
    volts: float
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class Finish:
    """The finish found, the service, and what was expected of the two (rows of the pack, None: not known)."""

    found: Pack | None
    service: Pack | None
    expected: Sequence[str]
    by_sheet: bool


@dataclass(frozen=True, slots=True)
class Matches:
    """What agrees with what; see the module."""

    crystal: bool | None = None
    serial: bool | None = None
    heaters: bool | None = None
    designation: bool | None = None
    finish: bool | None = None


def matches(
    pack: Pack, findings: Findings, coverage: tuple[float, float] | None, said: Mapping[str, str]
) -> Matches:
    """All comparisons; `said` holds the answers that stand, by what was asked (service, finish)."""
    return Matches(
        crystal=crystal_fits(pack, coverage, findings.crystal_khz),
        serial=serials_match(pack, findings.serial, findings.book_serial),
        heaters=heaters_fit(pack, findings.heater_strings),
        designation=designation_fits(pack, findings.nameplate),
        finish=finish_fits(finish_of(pack, findings, said)),
    )


def harmonics_inside(pack: Pack, coverage: tuple[float, float], crystal_khz: float) -> list[int]:
    """The n with n·f inside the coverage, n from 1 to the table's highest harmonic."""
    highest = int(pack["model"]["harmonics"])
    return [n for n in range(1, highest + 1) if coverage[0] <= n * crystal_khz <= coverage[1]]


def crystal_fits(pack: Pack, coverage: tuple[float, float] | None, crystal_khz: float | None) -> bool | None:
    """Whether a crystal read off the set gives a check point in the coverage (kHz)."""
    if coverage is None or crystal_khz is None:
        return None
    return bool(harmonics_inside(pack, coverage, crystal_khz))


def plain_serial(text: str | None) -> str:
    """A serial number without what stands around it: case, spaces, dashes, "No.", leading zeros; O is 0."""
    bare = _BEFORE_A_NUMBER.sub("", (text or "").lower())
    return re.sub(r"[^a-z0-9]", "", bare).replace("o", "0").lstrip("0")


def serials_match(pack: Pack, serial: str | None, book_serial: str | None) -> bool | None:
    """Whether set and calibration book carry one number; None too where one book served all of a model."""
    own, book = plain_serial(serial), plain_serial(book_serial)
    if not own or not book or pack.get("sheet", {}).get("book") == "by model":
        return None
    return own == book


def heating(string: int, heaters: Sequence[Sequence[Heater]]) -> Heating:
    """The figures of one string; each of its places holds one heater, or several shunted ones."""
    amps = [sum(heater.amps for heater in place) for place in heaters]
    volts = sum(max(heater.volts for heater in place) for place in heaters)
    return Heating(string, volts, min(amps), max(amps))


def volts_suit(pack: Pack, found: Heating) -> bool:
    """Whether a string's voltage lies within the table's share (10 %) of the supply."""
    low, high = pack["supply_volts"]
    share = pack["model"]["heater_volts_share"] + _ROOM
    return bool(low * (1 - share) <= found.volts <= high * (1 + share))


def amps_agree(pack: Pack, found: Heating) -> bool:
    """Whether the heaters of a string draw the same current within the table's share (5 %) of the least."""
    return bool(found.most <= found.least * (1 + pack["model"]["heater_amps_share"] + _ROOM))


def heaters_fit(pack: Pack, strings: Sequence[Sequence[Sequence[Heater]]]) -> bool | None:
    """Whether every series string suits the supply and draws one current."""
    if not strings or pack.get("supply_volts") is None:
        return None
    found = [heating(number, string) for number, string in enumerate(strings, start=1)]
    return all(volts_suit(pack, one) and amps_agree(pack, one) for one in found)


def designation_of(pack: Pack, nameplate: str | None) -> Reading | None:
    """What the nameplate says; None without text or without the table of letters."""
    if not nameplate or not pack.get("nomenclature", {}).get("letters"):
        return None
    return read_nameplate(pack["nomenclature"], nameplate)


def designation_fits(pack: Pack, nameplate: str | None) -> bool | None:
    """Whether the type designation on the plate names the pack's family."""
    reading = designation_of(pack, nameplate)
    return None if reading is None else suggests(pack["nomenclature"], reading, pack["family"])


def kind_of(text: str | None, rows: Sequence[Pack]) -> Pack | None:
    """The row that a text names by its id, its label or one of its words; the longest phrase decides."""
    plain = _plain(text or "")
    best, longest = None, 0
    for row in rows:
        for phrase in (row["id"], row["label"], *row["words"]):
            words = _plain(phrase)
            if words in plain and len(words) > longest:
                best, longest = row, len(words)
    return best


def _plain(text: str) -> str:
    # With a space at both ends, a phrase is found as whole words only.
    return f" {re.sub(r'[^a-z0-9]+', ' ', text.lower()).strip()} "


def finish_of(pack: Pack, findings: Findings, said: Mapping[str, str]) -> Finish:
    """The finish and the service that count: what was typed, else the answer, else (service) the sheet."""
    sheet = pack.get("sheet", {})
    kinds, services = pack.get("finishes", []), pack.get("services", [])
    found = kind_of(findings.finish or said.get("finish"), kinds)
    service = kind_of(findings.service, services)
    if not findings.service:
        # The answer that no mark is to be found leaves the sheet's word standing.
        service = kind_of(said.get("service"), services) or kind_of(sheet.get("service"), services)
    built = kind_of(sheet.get("finish"), kinds)
    if built is not None:
        return Finish(found, service, [built["id"]], True)
    return Finish(found, service, service["finishes"] if service else [], False)


def finish_fits(finish: Finish) -> bool | None:
    """Whether the finish is one that this type, or else its service, had."""
    if finish.found is None or not finish.expected:
        return None
    return finish.found["id"] in finish.expected
