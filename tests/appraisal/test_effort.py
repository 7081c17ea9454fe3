"""What the work takes (contract §7)."""

from typing import Any

import pytest
from hypothesis import given

from tests.support.examples import examples
from tests.support.packs import FAMILY, appraised, pack_for
from tests.support.strategies import findings

Json = dict[str, Any]

TASKS = {task["id"]: task for task in pack_for()["tasks"]}
FRONT = [{"place": "front-panel", "diameter_mm": 16}]


def line(document: Json, task: str) -> Json:
    rows: list[Json] = appraised(document)["effort"]["tasks"]
    return next(row for row in rows if row["task"] == task)


@examples(100)
@given(findings())
def test_the_plan_holds_tasks_of_the_aim_once_each_in_working_order(document: Json) -> None:
    planned = [row["task"] for row in appraised(document)["effort"]["tasks"]]
    assert all(document["aim"] in TASKS[task]["aims"] for task in planned)
    assert planned == [task for task in TASKS if task in planned]


@examples(100)
@given(findings())
def test_totals_are_the_probable_shares_of_the_tasks_and_rise_to_their_90_percent_point(
    document: Json,
) -> None:
    effort = appraised(document)["effort"]
    for kind in ("hours", "materials"):
        expected = sum(row["probability"] * row[kind]["p50"] for row in effort["tasks"])
        assert effort[kind]["p50"] == pytest.approx(expected, rel=1e-9, abs=1e-9)
        assert 0 <= effort[kind]["p50"] <= effort[kind]["p90"]
    assert all(0 < row["probability"] <= 1 for row in effort["tasks"])


@examples(60)
@given(findings(full=True))
def test_with_everything_answered_a_task_is_called_or_not(document: Json) -> None:
    assert {row["probability"] for row in appraised(document)["effort"]["tasks"]} <= {1.0}


@examples(60)
@given(findings())
def test_what_an_hour_is_worth_changes_no_hours(document: Json) -> None:
    effort = appraised(document)["effort"]
    assert appraised({**document, "hour_rate": 99})["effort"] == effort


def test_holes_multiply_the_per_item_part_only() -> None:
    task = TASKS["close-front-holes"]
    document = {"family": FAMILY, "aim": "as-built"}
    one, three = (line({**document, "holes": FRONT * n}, task["id"]) for n in (1, 3))
    low, likely, high = task["each"]["hours"]
    assert (one["items"], three["items"]) == (1, 3)
    assert three["hours"]["p50"] - one["hours"]["p50"] == pytest.approx(2 * (low + 4 * likely + high) / 6)


def test_a_hole_mended_by_no_task_calls_none() -> None:
    """Chassis holes carry no task; listed alone, they call less work than the unlisted answer `some`."""
    chassis = {"family": FAMILY, "aim": "as-built", "holes": [{"place": "chassis", "diameter_mm": 5}]}
    unlisted = {"family": FAMILY, "aim": "as-built", "answers": {"added-holes": "some"}}
    assert "close-front-holes" not in [row["task"] for row in appraised(chassis)["effort"]["tasks"]]
    assert line(unlisted, "close-front-holes")["probability"] == 1


def test_two_open_checks_call_a_task_with_the_probability_that_either_does() -> None:
    """q = 1 − Π(1 − q_i), recomputed here from the pack's priors."""
    missed: dict[str, float] = dict.fromkeys(TASKS, 1.0)
    for check in pack_for()["checks"]:
        if check["shown_if"]:
            continue
        for task in TASKS:
            missed[task] *= 1 - sum(row["prior"] for row in check["options"] if task in row["tasks"])
    for aim in ("as-built", "on-air", "display", "bench"):
        found = {
            row["task"]: row["probability"]
            for row in appraised({"family": FAMILY, "aim": aim})["effort"]["tasks"]
        }
        expected = {t: 1 - q for t, q in missed.items() if 1 - q > 0 and aim in TASKS[t]["aims"]}
        assert found == pytest.approx(expected, abs=1e-12)
