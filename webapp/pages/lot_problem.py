"""A lot as a phone sends it to be solved: figures alone, nothing that says which sets they are."""

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from webapp.appraisal.lot.problem import Complete, Give, LotSet, Need, Problem, Shelved, Stock
from webapp.appraisal.lot.reading import MOST_PIECES, MOST_SETS
from webapp.errors import BadFindings, Sentence

MOST_STOCKS, MOST_PARTS, MOST_WAYS, MOST_ROWS = 20_000, 300, 64, 500

Money = Annotated[float, Field(ge=-1e15, le=1e15, allow_inf_nan=False)]
Price = Annotated[float, Field(ge=0, le=1e15, allow_inf_nan=False)]
Hours = Annotated[float, Field(ge=0, le=1e9, allow_inf_nan=False)]
State = Annotated[float, Field(ge=0, le=1)]
Number = Annotated[int, Field(ge=0, le=1000)]
At = Annotated[int, Field(ge=0)]


class _Row(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class _Way(_Row):
    value: Money
    hours: Hours
    takes: Annotated[list[tuple[At, State]], Field(max_length=MOST_PARTS)]


class _Set(_Row):
    owned: bool
    as_is: Money
    broken: Money
    break_hours: Hours
    gives: Annotated[list[tuple[At, State, Price]], Field(max_length=MOST_PARTS)]
    completes: Annotated[list[_Way], Field(max_length=MOST_WAYS)]


class _Problem(_Row):
    hour_rate: Price
    stocks: Annotated[list[Price | None], Field(max_length=MOST_STOCKS)]
    sets: Annotated[list[_Set], Field(max_length=MOST_SETS)]
    spares: Annotated[list[tuple[At, State, Number, Price]], Field(max_length=MOST_ROWS)]
    wants: Annotated[list[tuple[At, Number, Price]], Field(max_length=MOST_ROWS)]


class _Asked(_Row):
    problem: _Problem
    hours_limit: Hours | None = None


def read_problem(raw: Any) -> tuple[Problem, float | None]:
    """The lot to be solved and its limit of hours; raises BadFindings."""
    try:
        asked = _Asked.model_validate(raw)
    except ValidationError as error:
        where = ".".join(str(step) for step in error.errors()[0]["loc"])
        raise BadFindings(
            Sentence('The server cannot read this lot: its "{where}" is not as expected.', where=where[:80]),
            Sentence("Load the newest version of the app. The lot stays on this phone."),
        ) from error
    problem = _problem(asked.problem)
    named = [need.stock for one in problem.sets for way in one.completes for need in way.takes]
    named += [give.stock for one in problem.sets for give in one.gives]
    named += [row.stock for row in (*problem.spares, *problem.wants)]
    if any(stock >= len(problem.stocks) for stock in named):
        raise BadFindings(Sentence("The server cannot read this lot: it names a part that it does not list."))
    if sum(row.count for row in (*problem.spares, *problem.wants)) > MOST_PIECES:
        raise BadFindings(
            Sentence("The shelf counts more than {most} spares and wants for this lot.", most=MOST_PIECES),
            Sentence("Lower how many there are on your shelf. The plan that the phone made stays."),
        )
    return problem, asked.hours_limit


def _problem(given: _Problem) -> Problem:
    return Problem(
        sets=tuple(_set(one) for one in given.sets),
        stocks=tuple(Stock("", "", buy, 0.0) for buy in given.stocks),
        spares=tuple(
            Shelved(row, stock, state, count, worth)
            for row, (stock, state, count, worth) in enumerate(given.spares)
        ),
        wants=tuple(
            Shelved(row, stock, 0.0, count, worth) for row, (stock, count, worth) in enumerate(given.wants)
        ),
        hour_rate=given.hour_rate,
    )


def _set(one: _Set) -> LotSet:
    return LotSet(
        group="",
        owned=one.owned,
        as_is=one.as_is,
        broken=one.broken,
        break_hours=one.break_hours,
        gives=tuple(Give(stock, state, worth, False) for stock, state, worth in one.gives),
        completes=tuple(
            Complete(way.value, way.hours, tuple(Need(stock, state) for stock, state in way.takes))
            for way in one.completes
        ),
    )
