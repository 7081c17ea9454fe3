"""The command `underchassis lot`: a lot file in, its plan out, with a bar where that takes a while."""

import signal
import sys
import time
from datetime import date
from typing import Any

from webapp.appraisal.lot.problem import lot_problem
from webapp.appraisal.lot.reading import read_lot
from webapp.appraisal.lot.solving import plan_of, solved
from webapp.appraisal.prepared import Prepared, prepare
from webapp.pages.appraising import family_and_sheet, pack_of
from webapp.pages.money import minor_digits
from webapp.rulebook.book import Rulebook

Json = dict[str, Any]
# Of the bar, in signs.
_LENGTH = 24


def lot_document(book: Rulebook, raw: Any, today: date, progress: "Progress") -> Json:
    """The plan of a decoded lot document; `today` counts where the document gives no date.

    Raises BadFindings and NotKnown.
    """
    packs: dict[tuple[str, str | None], Prepared] = {}

    def prepared_for(document: Any) -> Prepared:
        wanted = family_and_sheet(book, document)
        if wanted not in packs:
            packs[wanted] = prepare(pack_of(book, *wanted))
        return packs[wanted]

    if isinstance(raw, dict) and raw.get("today") is None:
        raw = {**raw, "today": today.isoformat()}
    lot = read_lot(raw, prepared_for)
    if lot.currency:
        minor_digits(lot.currency)
    problem = lot_problem(lot.entries, lot.shelf, lot.hour_rate)
    with progress:
        found = solved(problem, lot.hours_limit, progress.report)
    plan = plan_of(problem, lot.bidding, found)
    return {"currency": lot.currency or None, **plan}


class Progress:
    """A bar on stderr for whoever watches a terminal; Ctrl-C ends the search with the best plan so far."""

    def __init__(self, patience: float = 1.0) -> None:
        """`patience`: the seconds before the bar shows."""
        self._shows_from = time.monotonic() + patience
        self._drawn = self._cancelled = False
        self._before: Any = None

    def __enter__(self) -> "Progress":
        self._before = signal.signal(signal.SIGINT, self.cancel)
        return self

    def report(self, best: float, bound: float) -> bool:
        """Draws how near the best plan is to the bound; False once the search is to end."""
        if sys.stderr.isatty() and time.monotonic() >= self._shows_from:
            share = max(0.0, min(1.0, best / bound)) if bound > 0 else 0.0
            full = int(share * _LENGTH)
            bar = "#" * full + "." * (_LENGTH - full)
            sys.stderr.write(f"\r[{bar}] {share:.2%} of what is possible; Ctrl-C takes the plan so far ")
            sys.stderr.flush()
            self._drawn = True
        return not self._cancelled

    def cancel(self, *_: object) -> None:
        """What Ctrl-C does."""
        self._cancelled = True

    def __exit__(self, *_: object) -> None:
        signal.signal(signal.SIGINT, self._before)
        if self._drawn:
            sys.stderr.write("\n")
