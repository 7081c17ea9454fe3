"""A lot sent to be solved: the proven ways, told line by line, and how the server refuses."""

import json
import random
import threading
from typing import Any

import pytest
from flask.testing import FlaskClient

from tests.support.lots import problem_of, random_lot
from webapp.appraisal.lot.problem import Problem
from webapp.appraisal.lot.solving import solved
from webapp.pages import lots

Json = dict[str, Any]


def document_of(problem: Problem) -> Json:
    """What the phone sends (kernel/lot/problem.js, problemDocument)."""
    return {
        "hour_rate": problem.hour_rate,
        "stocks": [stock.buy for stock in problem.stocks],
        "sets": [
            {
                "owned": one.owned, "as_is": one.as_is, "broken": one.broken, "break_hours": one.break_hours,
                "gives": [[give.stock, give.counted, give.worth] for give in one.gives],
                "completes": [
                    {
                        "value": way.value,
                        "hours": way.hours,
                        "takes": [[need.stock, need.counted] for need in way.takes],
                    }
                    for way in one.completes
                ],
            }
            for one in problem.sets
        ],
        "spares": [[row.stock, row.counted, row.count, row.worth] for row in problem.spares],
        "wants": [[row.stock, row.count, row.worth] for row in problem.wants],
    }  # fmt: skip


def lines_of(answer: Any) -> list[Json]:
    """The lines of an answer that say something."""
    return [json.loads(line) for line in answer.data.splitlines() if line]


@pytest.mark.parametrize("seed", [3, 7, 12])
def test_a_lot_sent_as_figures_gets_the_ways_that_the_whole_lot_gets(client: FlaskClient, seed: int) -> None:
    lot = random_lot(random.Random(seed), 12)
    problem = problem_of(lot)
    answer = client.post(
        "/lots/solve", json={"problem": document_of(problem), "hours_limit": lot["hours_limit"]}
    )
    expected = solved(problem, lot["hours_limit"], lambda *_: True)
    assert (answer.status_code, answer.mimetype) == (200, "application/x-ndjson")
    assert "Set-Cookie" not in answer.headers
    last = lines_of(answer)[-1]
    assert last["proven"] is True
    assert last["gap"] == 0
    assert last["choice"] == expected.choice
    assert last["alone"] == pytest.approx(expected.alone)


def test_a_lot_without_sets_is_solved_at_once(client: FlaskClient) -> None:
    empty = {"hour_rate": 0, "stocks": [], "sets": [], "spares": [], "wants": []}
    answer = client.post("/lots/solve", json={"problem": empty})
    assert lines_of(answer)[-1] == {"choice": [], "gap": 0.0, "proven": True, "alone": 0.0}


ONE_SET: Json = {
    "owned": False, "as_is": 10, "broken": 5, "break_hours": 1, "gives": [[0, 1, 3]],
    "completes": [{"value": 20, "hours": 1, "takes": [[1, 0]]}],
}  # fmt: skip
ONE: Json = {"hour_rate": 1, "stocks": [4, None], "sets": [ONE_SET], "spares": [], "wants": []}


@pytest.mark.parametrize(
    ("problem", "named"),
    [
        (None, "problem"),
        ({**ONE, "hour_rate": -1}, "problem.hour_rate"),
        ({**ONE, "hour_rate": "much"}, "problem.hour_rate"),
        ({**ONE, "more": 1}, "problem.more"),
        ({**ONE, "sets": [{**ONE_SET, "as_is": 1e99}]}, "problem.sets.0.as_is"),
        ({**ONE, "sets": [{**ONE_SET, "gives": [[0, 2, 3]]}]}, "problem.sets.0.gives.0.1"),
        ({**ONE, "sets": [{**ONE_SET, "gives": [[7, 1, 3]]}]}, "a part that it does not list"),
        ({**ONE, "wants": [[9, 1, 1]]}, "a part that it does not list"),
        ({**ONE, "sets": [ONE_SET] * 2001}, "problem.sets"),
        ({**ONE, "spares": [[0, 1, 1000, 1]] * 3, "wants": [[0, 1000, 2]] * 3}, "more than 5000 spares"),
    ],
)
def test_what_is_no_lot_is_refused_with_a_sentence_that_says_where(
    client: FlaskClient, problem: Any, named: str
) -> None:
    answer = client.post("/lots/solve", json={"problem": problem})
    assert answer.status_code == 400
    assert named in answer.json["error"]["message"]


@pytest.mark.parametrize("body", [b"", b"{", b"\xff", b"[" * 100_000, b'{"problem": NaN}'])
def test_what_is_no_json_is_refused(client: FlaskClient, body: bytes) -> None:
    answer = client.post("/lots/solve", data=body)
    assert answer.status_code == 400
    assert answer.json["error"]["code"] == "bad-findings"


def test_a_server_with_all_desks_taken_says_when_to_come_again_and_takes_the_next_one_after(
    client: FlaskClient,
) -> None:
    for _ in range(lots.SOLVING):
        assert lots.places.acquire(blocking=False)
    try:
        busy = client.post("/lots/solve", json={"problem": ONE})
        assert (busy.status_code, busy.headers["Retry-After"]) == (503, str(lots.COME_AGAIN))
    finally:
        for _ in range(lots.SOLVING):
            lots.places.release()
    assert client.post("/lots/solve", json={"problem": ONE}).status_code == 200


def test_closing_the_connection_ends_the_search(monkeypatch: pytest.MonkeyPatch) -> None:
    # A search that goes on until it is told to stop, in the place of one that takes long by itself.
    ended = threading.Event()

    def endless(_: Problem, __: float | None, report: Any) -> None:
        while report(1.0, 2.0):
            threading.Event().wait(0.01)
        ended.set()

    monkeypatch.setattr(lots, "solved", endless)
    assert lots.places.acquire(blocking=False)
    lines = lots._lines(problem_of({"sets": []}), None, {})
    assert json.loads(next(lines)) == {"best": 1.0, "bound": 2.0}
    lines.close()  # type: ignore[attr-defined]
    assert ended.wait(10)
