"""Where the findings stand: which checks are shown, what was answered, what the holes amount to."""

import math
from dataclasses import dataclass

from webapp.appraisal.findings import Findings, Hole
from webapp.appraisal.matching import Matches, matches
from webapp.appraisal.prepared import Pack, Prepared


@dataclass(frozen=True, slots=True)
class Drilled:
    """The listed holes: severity as found and when mended, and the tasks they call (index → items)."""

    severity: float
    restored_severity: float
    tasks: dict[int, int]
    mended_tasks: dict[int, int]


@dataclass(frozen=True, slots=True)
class Standing:
    """Per check: the answered option (−1: open or hidden) and whether it is shown.

    `drilled` is None without holes; `said` holds the answers to what can be compared, by what was asked.
    """

    chosen: list[int]
    shown: list[bool]
    drilled: Drilled | None
    coverage_khz: tuple[float, float] | None
    overlap_khz: float | None
    said: dict[str, str]
    matches: Matches


def stand(prepared: Prepared, findings: Findings) -> Standing:
    """What the findings say of the pack's checks. Holes listed answer their open check with `some`."""
    chosen = [-1] * len(prepared.checks)
    for check_id, option_id in findings.answers.items():
        index = prepared.check_index[check_id]
        chosen[index] = prepared.checks[index].index_of[option_id]
    drilled = None
    if findings.holes:
        chosen[prepared.hole_check] = prepared.checks[prepared.hole_check].index_of["some"]
        drilled = _drilled(prepared, findings)
    coverage = findings.coverage_khz or _sheet_coverage(prepared.pack)
    shown = _shown(prepared, chosen)
    chosen = [option if seen else -1 for option, seen in zip(chosen, shown, strict=True)]
    said = {
        asked: prepared.checks[index].options[chosen[index]].id
        for asked, index in prepared.comparable
        if chosen[index] >= 0
    }
    return Standing(
        chosen=chosen,
        shown=shown,
        drilled=drilled,
        coverage_khz=coverage,
        overlap_khz=overlap_khz(prepared.pack, coverage, findings.region),
        said=said,
        matches=matches(prepared.pack, findings, coverage, said),
    )


def _shown(prepared: Prepared, chosen: list[int]) -> list[bool]:
    shown = [False] * len(chosen)
    for index in reversed(prepared.parents_last):
        check = prepared.checks[index]
        if check.parent < 0:
            shown[index] = True
        elif shown[check.parent] and chosen[check.parent] >= 0:
            opener = prepared.checks[check.parent].options[chosen[check.parent]]
            shown[index] = index in opener.opens
    return shown


def hole_size(pack: Pack, hole: Hole) -> dict[str, object]:
    """The size row that a hole falls under: the first of its place with diameter ≤ up_to_mm."""
    place = next(place for place in pack["holes"]["places"] if place["id"] == hole.place)
    sizes: list[dict[str, object]] = place["sizes"]
    for size in sizes:
        limit = size["up_to_mm"]
        if limit is None or hole.diameter_mm <= limit:  # type: ignore[operator]
            return size
    raise AssertionError("the last size of a place has no limit; the loader checks it")


def hole_severity(pack: Pack, hole: Hole) -> float:
    """Severity of one hole: open, plugged, or (enlarged) a share of that of an open one."""
    size = hole_size(pack, hole)
    if hole.as_found == "plugged":
        return float(size["severity_plugged"])  # type: ignore[arg-type]
    share = pack["model"]["enlarged_share"] if hole.as_found == "enlarged" else 1.0
    return float(size["severity"]) * share  # type: ignore[arg-type]


def _drilled(prepared: Prepared, findings: Findings) -> Drilled:
    in_aim = prepared.aims[findings.aim].in_aim
    severity = restored = 0.0
    tasks: dict[int, int] = {}
    mended_tasks: dict[int, int] = {}
    for hole in findings.holes:
        size = hole_size(prepared.pack, hole)
        found = hole_severity(prepared.pack, hole)
        severity += found
        task = prepared.task_index[str(size["task"])] if size["task"] is not None else -1
        fixable = float(size["fixable"])  # type: ignore[arg-type]
        if task >= 0 and in_aim[task]:
            tasks[task] = tasks.get(task, 0) + 1
            if fixable > 0:
                found *= 1 - fixable
                mended_tasks[task] = mended_tasks.get(task, 0) + 1
        restored += found
    return Drilled(severity, restored, tasks, mended_tasks)


def hole_effect(pack: Pack, severity: float) -> tuple[float, float]:
    """Log effect of a total severity S and its variance: −a·ln(1 + S/b), (c·m)²."""
    law = pack["holes"]
    mean = -law["a"] * math.log(1 + severity / law["b"])
    return mean, (law["c"] * mean) ** 2


def _sheet_coverage(pack: Pack) -> tuple[float, float] | None:
    coverage = pack.get("sheet", {}).get("coverage_khz")
    return (coverage[0], coverage[1]) if coverage else None


def overlap_khz(pack: Pack, coverage: tuple[float, float] | None, region: int | None) -> float | None:
    """The widest piece of one amateur band inside the coverage, in kHz; None when either is not known."""
    if coverage is None or region is None:
        return None
    bands = pack["bands"].get(str(region), [])
    return max((min(coverage[1], high) - max(coverage[0], low) for low, high in bands), default=0.0)
