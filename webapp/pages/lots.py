"""The best ways for a lot, solved while the phone waits and told how far it is. Nothing is kept."""

import json
import queue
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from importlib.util import find_spec
from threading import BoundedSemaphore, Event
from typing import Any

from flask import Blueprint, Response, request
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import ServiceUnavailable

from webapp.appraisal.lot.problem import Problem
from webapp.appraisal.lot.solving import solved
from webapp.errors import BadFindings, Sentence, SolverMissing
from webapp.pages.lot_problem import read_problem
from webapp.pages.texts import in_language

# A lot of two thousand sets has some five million bytes.
LARGEST_BYTES = 20_000_000
# At a time, so that pages are still answered; seconds after which to come again; seconds between two lines.
SOLVING, COME_AGAIN, BEAT = 2, 5, 0.25

pages = Blueprint("lots", __name__, url_prefix="/lots")
desks = ThreadPoolExecutor(SOLVING, "lot")
places = BoundedSemaphore(SOLVING)

Line = dict[str, Any]

_PLAN_STAYS = Sentence("The plan that the phone made stays; it is good, but not proven.")


@pages.post("/solve")
def solve() -> ResponseReturnValue:
    """Lines of JSON: `best` and `bound` while it is being solved, at last the `choice` with its proof.

    `alone` is what the user's own sets and shelf would bring without the lot. Whoever closes the
    connection ends the search.
    """
    if find_spec("highspy") is None:
        raise SolverMissing(Sentence("This server has no solver."), _PLAN_STAYS)
    problem, hours_limit = read_problem(_sent())
    if not places.acquire(blocking=False):
        raise ServiceUnavailable(retry_after=COME_AGAIN)
    answer = Response(_lines(problem, hours_limit, _broken()), mimetype="application/x-ndjson")
    # Whatever passes it on should pass on each line as it comes.
    answer.headers.update({"Cache-Control": "no-store", "X-Accel-Buffering": "no"})
    return answer


def _sent() -> Any:
    request.max_content_length = LARGEST_BYTES
    try:
        return json.loads(request.get_data(cache=False))
    except (ValueError, RecursionError):
        raise BadFindings(
            Sentence("The lot that came in is not JSON."), Sentence("Send it once more.")
        ) from None


def _lines(problem: Problem, hours_limit: float | None, broken: Line) -> Iterator[bytes]:
    """The lines of the answer, `broken` being the last where a bug ends it; closed early, the search ends."""
    gone = Event()
    lines: queue.Queue[Line] = queue.Queue()

    def report(best: float, bound: float) -> bool:
        lines.put({"best": best, "bound": bound})
        return not gone.is_set()

    def work() -> None:
        try:
            found = solved(problem, hours_limit, report)
            lines.put(
                {"choice": found.choice, "gap": found.gap, "proven": found.proven, "alone": found.alone}
            )
        except Exception:
            lines.put({"error": broken})
            raise
        finally:
            places.release()

    made = desks.submit(work)
    try:
        yield from _until_done(lines)
    finally:
        gone.set()
    made.result()


def _broken() -> Line:
    return {
        "code": "internal-server-error",
        "message": in_language(Sentence("The server could not solve this lot.")),
        "hint": in_language(_PLAN_STAYS),
    }


def _until_done(lines: "queue.Queue[Line]") -> Iterator[bytes]:
    while True:
        try:
            line = lines.get(timeout=BEAT)
        except queue.Empty:
            # An empty line finds out whether anybody still listens.
            yield b"\n"
            continue
        yield json.dumps(_finite(line)).encode() + b"\n"
        if "best" not in line:
            return


def _finite(line: Line) -> Line:
    """Before the first plan, and before the first bound, there is no number."""
    if "best" not in line:
        return line
    return {key: value if abs(value) < 1e300 else None for key, value in line.items()}
