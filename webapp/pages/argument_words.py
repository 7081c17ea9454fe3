"""The arguments around a price in the words of the plain page: haggling, mends, doubts, the plan."""

from collections.abc import Callable
from typing import Any

from webapp.pages.reading_habits import reader
from webapp.pages.texts import _, _n

Json = dict[str, Any]
Money = Callable[[float], str]

# Sources of doubt named singly; the rest is told as one sum.
MOST_DOUBTS = 8
# Below this a task is too unlikely to be worth a line.
LEAST_LIKELY = 0.05


def haggling_words(found: Json, money: Money) -> Json:
    """The points with what each takes off, and the lines by which they add up."""
    points = [{"say": point["say"], "money": money(point["amount"])} for point in found["points"]]
    others, better = found["others"], found["in_favour"]
    against = _n("{count} smaller finding against it", "{count} smaller findings against it", others["count"])
    favour = _n("{count} finding in its favour", "{count} findings in its favour", better["count"])
    sums = [(against, others), (favour, better)]
    lines = [{"label": label, "money": signed(row["amount"], money)} for label, row in sums if row["count"]]
    if found["not_checked"]:
        lines.append({"label": _("Everything not checked"), "money": signed(found["not_checked"], money)})
    return {"points": points, "sums": lines}


def signed(amount: float, money: Money) -> str:
    """An amount with its sign."""
    return ("+" if amount > 0 else "") + money(amount)


def mend_words(mends: list[Json], label: Callable[[Json], str], money: Money) -> list[Json]:
    """Each mend with what it brings and takes."""
    return [
        {
            "label": label(mend),
            "gain": money(mend["gain"]),
            "hours": _(
                "{low} to {high}", low=_tenths(mend["hours"]["p50"]), high=_tenths(mend["hours"]["p90"])
            ),
            "materials": money(mend["materials"]["p50"]),
            "per_hour": "" if mend["per_hour"] is None else signed(mend["per_hour"], money),
            "then": _("{low} to {high}", low=money(mend["then"]["p10"]), high=money(mend["then"]["p90"])),
            "pays": mend["net"] > 0,
        }
        for mend in mends
    ]


def _tenths(value: float) -> str:
    return reader().pointed(f"{value:.1f}")


def doubt_words(pack: Json, checks: dict[str, Json], parts: list[Json]) -> list[Json]:
    """What makes the range wide, the largest first, as shares of the variance."""
    rows = [
        {
            "label": checks[part["what"]]["label"]
            if part["what"] in checks
            else pack["words"][f"reason-{part['what']}"],
            "share": f"{100 * part['share']:.0f}",
            "open": not part["found"],
        }
        for part in parts[:MOST_DOUBTS]
    ]
    rest = sum(part["share"] for part in parts[MOST_DOUBTS:])
    smaller = _n("{count} smaller one", "{count} smaller ones", len(parts) - MOST_DOUBTS)
    return [*rows, {"label": smaller, "share": f"{100 * rest:.0f}", "open": False}]


def plan_words(pack: Json, tasks: list[Json], told: list[Json], money: Money) -> list[Json]:
    """The tasks by stage, in working order, each with its cautions and whether it can be undone.

    A caution stands where it is first called for; those in `told` stand above already.
    """
    raw = {task["id"]: task for task in pack["tasks"]}
    known = {row["id"] for row in told}
    lines = [
        {
            "stage": task["stage"],
            "label": task["label"],
            "hours": _tenths(task["hours"]["p50"]),
            "materials": money(task["materials"]["p50"]),
            "certain": task["probability"] >= 1,
            "chance": f"{100 * task['probability']:.0f}",
            "undo": _undo_words(raw[task["task"]]["undo"]),
            "cautions": _fresh(pack, raw[task["task"]], known),
        }
        for task in tasks
        if task["probability"] >= LEAST_LIKELY
    ]
    stages = [
        {
            "title": stage["label"].capitalize(),
            "tasks": [line for line in lines if line["stage"] == stage["id"]],
        }
        for stage in pack["plan_stages"]
    ]
    return [stage for stage in stages if stage["tasks"]]


def _undo_words(undo: str) -> str:
    return {
        "can be undone": _("can be undone"),
        "partly": _("partly"),
        "cannot be undone": _("cannot be undone"),
    }[undo]


def _fresh(pack: Json, task: Json, known: set[str]) -> list[Json]:
    fresh = [
        row for row in pack["cautions"] if row["id"] in task.get("cautions", ()) and row["id"] not in known
    ]
    known |= {row["id"] for row in fresh}
    return fresh
