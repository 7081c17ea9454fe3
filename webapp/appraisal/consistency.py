"""What can be computed from two findings that ought to agree (contract §6): coverage and check crystal."""

from dataclasses import dataclass
from typing import Any

from webapp.appraisal.findings import Findings
from webapp.appraisal.prepared import Prepared
from webapp.appraisal.price import coverage_effect, crystal_effect
from webapp.appraisal.standing import Standing, harmonics_inside

FINE, MISFIT, UNKNOWN = "fine", "does not fit", "cannot tell yet"


@dataclass(frozen=True, slots=True)
class Consistency:
    """One result: fine, does not fit, or cannot tell yet; the words to say it with, and its effect."""

    check: str
    result: str
    words: str
    blanks: dict[str, Any]
    log_effect: float


def consistency(prepared: Prepared, standing: Standing, findings: Findings) -> list[Consistency]:
    """Coverage against the amateur bands of the user's region, and crystal against coverage."""
    return [_coverage(prepared, standing, findings), _crystal(prepared, standing, findings)]


def _coverage(prepared: Prepared, standing: Standing, findings: Findings) -> Consistency:
    if standing.coverage_khz is None:
        return Consistency("coverage", UNKNOWN, "coverage-unknown", {}, 0.0)
    blanks: dict[str, Any] = {"from": standing.coverage_khz[0], "to": standing.coverage_khz[1]}
    if standing.overlap_khz is None:
        return Consistency("coverage", UNKNOWN, "coverage-no-region", blanks, 0.0)
    blanks |= {"region": findings.region, "overlap": max(0.0, standing.overlap_khz)}
    fits = standing.overlap_khz >= prepared.pack["model"]["overlap_khz"]
    words = "coverage-fine" if fits else "coverage-misfit"
    if not fits:
        blanks.pop("overlap")
    return Consistency(
        "coverage", FINE if fits else MISFIT, words, blanks, coverage_effect(prepared, standing).mean
    )


def _crystal(prepared: Prepared, standing: Standing, findings: Findings) -> Consistency:
    coverage, crystal = standing.coverage_khz, findings.crystal_khz
    if coverage is None or crystal is None:
        return Consistency("crystal", UNKNOWN, "crystal-unknown", {}, 0.0)
    inside = harmonics_inside(prepared.pack, coverage, crystal)
    effect = crystal_effect(prepared, standing).mean
    if not inside:
        blanks: dict[str, Any] = {"crystal": crystal, "from": coverage[0], "to": coverage[1]}
        return Consistency("crystal", MISFIT, "crystal-misfit", blanks, effect)
    blanks = {"crystal": crystal, "harmonic": inside[0], "points": inside[0] * crystal}
    return Consistency("crystal", FINE, "crystal-fine", blanks, effect)
