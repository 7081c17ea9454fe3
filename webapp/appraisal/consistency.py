"""What can be computed from findings that ought to agree (contract §6), each with the words to say it."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from webapp.appraisal.findings import Findings
from webapp.appraisal.matching import (
    amps_agree,
    designation_of,
    finish_of,
    harmonics_inside,
    heating,
    volts_suit,
)
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.price import coverage_effect, misfits
from webapp.appraisal.standing import Standing

FINE, MISFIT, UNKNOWN = "fine", "does not fit", "cannot tell yet"
Said = tuple[str, str, dict[str, Any]]


@dataclass(frozen=True, slots=True)
class Consistency:
    """One result: fine, does not fit, or cannot tell yet; the words to say it with, and its effect."""

    check: str
    result: str
    words: str
    blanks: dict[str, Any]
    log_effect: float


def consistency(prepared: Prepared, standing: Standing, findings: Findings) -> list[Consistency]:
    """All comparisons that mean something for this family, and those the findings give figures for."""
    effects, pack = prepared.pack["effects"], prepared.pack
    comparisons: list[tuple[str, bool, Callable[[Prepared, Standing, Findings], Said]]] = [
        ("designation", "designation_misfit" in effects, _designation),
        ("coverage", _means_something(effects) or standing.coverage_khz is not None, _coverage),
        ("crystal", prepared.crystal_check >= 0 or findings.crystal_khz is not None, _crystal),
        ("serial", prepared.book_check >= 0 or findings.book_serial is not None, _serial),
        ("heaters", pack.get("supply_volts") is not None or bool(findings.heater_strings), _heaters),
        ("finish", "finish_misfit" in effects, _finish),
    ]
    found = {comparison: effect.mean for _, comparison, effect in misfits(prepared, standing)}
    results = []
    for check, wanted, compare in comparisons:
        if wanted:
            result, words, blanks = compare(prepared, standing, findings)
            effect = found.get(check, 0.0)
            if check == "coverage" and result != UNKNOWN:
                effect = coverage_effect(prepared, standing).mean
            results.append(Consistency(check, result, words, blanks, effect))
    return results


def _means_something(effects: dict[str, Any]) -> bool:
    return any(effects["coverage_in_band"]) or any(effects["coverage_out_of_band"])


def _coverage(prepared: Prepared, standing: Standing, findings: Findings) -> Said:
    if standing.coverage_khz is None:
        return UNKNOWN, "coverage-unknown", {}
    blanks: dict[str, Any] = {"from": standing.coverage_khz[0], "to": standing.coverage_khz[1]}
    if standing.overlap_khz is None:
        return UNKNOWN, "coverage-no-region", blanks
    blanks |= {"region": findings.region}
    if standing.overlap_khz < prepared.pack["model"]["overlap_khz"]:
        return MISFIT, "coverage-misfit", blanks
    return FINE, "coverage-fine", {**blanks, "overlap": standing.overlap_khz}


def _crystal(prepared: Prepared, standing: Standing, findings: Findings) -> Said:
    coverage, crystal = standing.coverage_khz, findings.crystal_khz
    if coverage is None or crystal is None:
        return UNKNOWN, "crystal-unknown", {}
    inside = harmonics_inside(prepared.pack, coverage, crystal)
    if not inside:
        return MISFIT, "crystal-misfit", {"crystal": crystal, "from": coverage[0], "to": coverage[1]}
    return FINE, "crystal-fine", {"crystal": crystal, "harmonic": inside[0], "points": inside[0] * crystal}


def _serial(prepared: Prepared, standing: Standing, findings: Findings) -> Said:
    if prepared.pack.get("sheet", {}).get("book") == "by model":
        return FINE, "serial-by-model", {}
    if standing.matches.serial is None:
        return UNKNOWN, "serial-unknown", {}
    blanks = {"serial": findings.serial, "book": findings.book_serial}
    if standing.matches.serial:
        return FINE, "serial-fine", {"serial": findings.serial}
    return MISFIT, "serial-misfit", blanks


def _heaters(prepared: Prepared, standing: Standing, findings: Findings) -> Said:
    if not findings.heater_strings:
        return UNKNOWN, "heaters-unknown", {}
    if standing.matches.heaters is None:
        return UNKNOWN, "heaters-no-supply", {}
    low, high = prepared.pack["supply_volts"]
    for number, string in enumerate(findings.heater_strings, start=1):
        found = heating(number, string)
        if not volts_suit(prepared.pack, found):
            blanks = {"string": number, "volts": found.volts, "low": low, "high": high}
            return MISFIT, "heaters-volts", blanks
        if not amps_agree(prepared.pack, found):
            return MISFIT, "heaters-amps", {"string": number, "least": found.least, "most": found.most}
    return FINE, "heaters-fine", {"low": low, "high": high}


def _designation(prepared: Prepared, standing: Standing, findings: Findings) -> Said:
    reading = designation_of(prepared.pack, findings.nameplate)
    if reading is None:
        return UNKNOWN, "designation-unknown", {}
    if standing.matches.designation is None:
        return UNKNOWN, "designation-unread", {}
    if standing.matches.designation:
        return FINE, "designation-fine", {"designation": reading.written}
    families = prepared.pack["nomenclature"]["families"]
    named = "; ".join(families[family]["name"] for family in reading.families)
    return MISFIT, "designation-misfit", {"designation": reading.written, "families": named}


def _finish(prepared: Prepared, standing: Standing, findings: Findings) -> Said:
    finish = finish_of(prepared.pack, findings, standing.said)
    if standing.matches.finish is None or finish.found is None:
        return UNKNOWN, "finish-unknown", {}
    labels = {row["id"]: row["label"] for row in prepared.pack["finishes"]}
    expected = prepared.pack["words"]["or"].join(labels[kind] for kind in finish.expected)
    blanks = {"finish": finish.found["label"], "expected": expected}
    if finish.by_sheet:
        if standing.matches.finish:
            return FINE, "finish-sheet-fine", {"finish": blanks["finish"]}
        return MISFIT, "finish-sheet-misfit", blanks
    blanks["service"] = finish.service["label"] if finish.service else ""
    if standing.matches.finish:
        return FINE, "finish-fine", {"finish": blanks["finish"], "service": blanks["service"]}
    return MISFIT, "finish-misfit", blanks
