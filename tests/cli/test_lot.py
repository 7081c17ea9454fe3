"""`underchassis lot` as people run it: the plan that comes out, and what is refused in one sentence."""

import json
import os
import pty
import signal
from pathlib import Path
from typing import Any

import pytest

from tests.support.command import refusal_of, run
from webapp.cli import main
from webapp.lot_command import Progress

Json = dict[str, Any]

TERN: Json = {"family": "aircraft-hf-transmitter", "model_sheet": "tern-b"}
KEYS = {"total", "gap", "bid", "hours", "sets", "moves", "buys", "salvage"}


def planned(folder: Path, lot: Any) -> Json:
    """The plan that the command gives for a lot document."""
    result = run("lot", written(folder, lot))
    assert (result.returncode, result.stderr) == (0, b"")
    plan: Json = json.loads(result.stdout)
    return plan


def written(folder: Path, lot: Any) -> str:
    path = folder / "lot.json"
    path.write_text(lot if isinstance(lot, str) else json.dumps(lot), encoding="utf-8")
    return str(path)


def test_a_lot_file_gives_its_proven_plan_as_json_and_nothing_else(tmp_path: Path) -> None:
    lot = {
        "sets": [TERN, TERN | {"answers": {"loading-coil": "gone"}}],
        "asking": 200,
        "margin": 0.25,
        "hour_rate": 6,
    }
    plan = planned(tmp_path, lot)
    assert plan.keys() >= KEYS
    assert (plan["gap"], plan["exact"], plan["currency"]) == (0.0, True, "USD")
    assert [row["way"] for row in plan["sets"]] == ["as_is", "as_is"]
    assert plan["bid"] == pytest.approx(0.75 * plan["total"])
    assert plan["total"] == pytest.approx(sum(row["value"] for row in plan["sets"]))
    assert plan["per_set"]["asking"] == 100


def test_a_lot_without_sets_is_worth_nothing(tmp_path: Path) -> None:
    plan = planned(tmp_path, {"sets": []})
    assert (plan["total"], plan["bid"], plan["sets"], plan["exact"]) == (0.0, 0.0, [], True)


def test_five_hundred_sets_are_planned(tmp_path: Path) -> None:
    plan = planned(tmp_path, {"sets": [TERN | {"answers": {"case": "gone"}}] * 500, "hour_rate": 6})
    assert len(plan["sets"]) == 500
    assert plan["exact"] is True


def test_without_hours_everything_is_kept_as_it_stands(tmp_path: Path) -> None:
    wreck = TERN | {"answers": {"front-panel": "home-made", "wiring": "rewired", "dial": "gone"}}
    free, none = (planned(tmp_path, {"sets": [wreck] * 3, "hours_limit": limit}) for limit in (None, 0))
    assert {row["way"] for row in free["sets"]} == {"break"}
    assert ({row["way"] for row in none["sets"]}, none["hours"]) == ({"as_is"}, 0)


def test_a_spare_of_ones_own_goes_where_it_is_wanted_and_a_want_is_met_from_a_broken_set(
    tmp_path: Path,
) -> None:
    parts = json.loads(run("pack", TERN["family"], "--sheet", "tern-b").stdout)["checks"]
    whole = {c["id"]: max(c["options"], key=lambda o: o["state"])["id"] for c in parts if c["part"]}
    lacking = TERN | {"answers": whole | {"loading-coil": "gone"}}
    spare = {"kind": "spare", **TERN, "part": "loading-coil"}
    plan = planned(tmp_path, {"sets": [lacking], "shelf": [spare]})
    assert plan["moves"] == [{"part": "loading-coil", "from": "shelf 0", "to": 0, "unchecked": False}]
    assert plan["from_shelf"] > 0
    wreck = TERN | {"answers": whole | {"front-panel": "home-made", "wiring": "rewired", "dial": "gone"}}
    want = {"kind": "want", **TERN, "part": "relays", "worth": 400}
    plan = planned(tmp_path, {"sets": [wreck], "shelf": [want]})
    assert plan["moves"] == [{"part": "relays", "from": 0, "to": "shelf 0", "unchecked": False}]


def test_a_set_of_ones_own_may_be_broken_but_its_worth_is_not_the_lots(tmp_path: Path) -> None:
    alone = planned(tmp_path, {"sets": [TERN]})
    beside = planned(tmp_path, {"sets": [TERN], "shelf": [{"kind": "donor", "findings": TERN}]})
    assert beside["total"] == pytest.approx(alone["total"])
    assert [row["owned"] for row in beside["sets"]] == [False, True]


@pytest.mark.parametrize(
    ("lot", "words"),
    [
        ([], ["The lot should be a JSON object"]),
        ({}, ['"sets" should be a list']),
        ({"sets": [{}]}, ["Set 0", '"family"', "Known: "]),
        ({"sets": [TERN, TERN | {"answers": {"dial": "lost"}}]}, ["Set 1", '"dial"', '"gone"']),
        ({"sets": [TERN], "margin": 25}, ['"margin" is 25', "Did you mean 0.25?"]),
        ({"sets": [TERN], "margin": -1}, ['"margin" is -1', "between 0 and 1"]),
        ({"sets": [TERN], "hours_limit": -3}, ['"hours_limit" is -3', "between 0"]),
        ({"sets": [TERN], "asking": "200"}, ['"asking" should be a plain number']),
        ({"sets": [TERN], "hour_rate": float("nan")}, ['"hour_rate" should be a plain number']),
        ({"sets": [TERN], "price": 2}, ['Unknown key "price" in the lot']),
        (
            {"sets": [TERN, TERN | {"currency": "EUR", "rate": 0.9}]},
            ["Set 0 is in USD and set 1 in EUR", "one currency", '"rate" once'],
        ),
        (
            {"sets": [TERN, TERN | {"rate": 0.8}], "currency": "EUR", "rate": 0.9},
            ['Set 0 has the "rate" 0.9 and set 1 0.8', "one rate"],
        ),
        ({"sets": [TERN], "currency": "EUR"}, ["Set 0", 'Give "rate"']),
        ({"sets": [TERN], "currency": "XXQ", "rate": 2}, ["not a currency code"]),
        ({"sets": [TERN] * 2001}, ["2001", "at most 2000", "Split the lot"]),
        ({"sets": [], "shelf": [{"kind": "loan"}]}, ["shelf row 0", "spare, want or donor"]),
        (
            {"sets": [], "shelf": [{"kind": "want", **TERN, "part": "relay"}]},
            ["Shelf row 0", '"relay"', 'Did you mean "relays"?'],
        ),
        (
            {"sets": [], "shelf": [{"kind": "spare", **TERN, "part": "dial", "state": 7}]},
            ["Shelf row 0", '"state" is 7'],
        ),
        ({"sets": [], "shelf": [{"kind": "spare", **TERN, "part": "dial", "count": 1.5}]}, ["whole number"]),
        ({"sets": [], "shelf": [{"kind": "donor", "findings": 3}]}, ["Own set 0"]),
        (
            {"sets": [], "shelf": [{"kind": "spare", **TERN, "part": "dial", "count": 1000}] * 6},
            ["more than 5000 spares and wants"],
        ),
    ],
)  # fmt: skip
def test_a_lot_that_cannot_be_used_is_refused_with_what_and_where(
    tmp_path: Path, lot: Any, words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["lot", written(tmp_path, lot)]) == 2
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.count("\n") == 1
    assert all(word in said.err for word in words), said.err


def test_a_file_that_is_none_is_refused(tmp_path: Path) -> None:
    assert "not JSON" in refusal_of(run("lot", written(tmp_path, "{")))


def test_on_a_terminal_a_long_search_shows_a_bar_and_ctrl_c_ends_it(monkeypatch: pytest.MonkeyPatch) -> None:
    screen, terminal = pty.openpty()
    with os.fdopen(terminal, "w", encoding="utf-8") as stderr:
        monkeypatch.setattr("sys.stderr", stderr)
        with Progress(patience=0.0) as progress:
            assert progress.report(75.0, 100.0) is True
            signal.raise_signal(signal.SIGINT)
            assert progress.report(80.0, 100.0) is False
        shown = os.read(screen, 1000).decode()
    os.close(screen)
    first, second = shown.split("\r")[1:3]
    assert first.startswith("[##################......] 75.00% of what is possible; Ctrl-C")
    assert "80.00%" in second


def test_a_search_that_takes_no_time_draws_nothing(capsys: pytest.CaptureFixture[str]) -> None:
    with Progress() as progress:
        assert progress.report(75.0, 100.0) is True
    assert capsys.readouterr() == ("", "")
