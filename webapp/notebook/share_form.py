"""The form of a shared description, as a phone publishes it and a stranger's browser is given it."""

import json
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError
from pydantic_core import ErrorDetails

from webapp.errors import BadInput, Sentence
from webapp.notebook.limits import (
    LARGEST_SHARE,
    LONGEST_SHARED_TITLE,
    LONGEST_SHARED_WORDS,
    MOST_SHARED_PHOTOS,
)
from webapp.notebook.operations import DEEPEST, depth

# What a seller keeps to himself; the bid he would make, and what his hour costs.
_PRIVATE = ("asking", "hour_rate")
# As many as findings may list.
MOST_HOLES = 500
_NEWEST = Sentence("Load the newest version of the app, then share it once more.")

Json = dict[str, Any]
Day = Annotated[str, Field(pattern=r"^[0-9]{4}-[0-9]{2}-[0-9]{2}$")]
Amount = Annotated[float, Field(ge=0, le=1e12, allow_inf_nan=False)]
Millimetres = Annotated[float, Field(ge=-1e5, le=1e5, allow_inf_nan=False)]
Title = Annotated[str, Field(max_length=LONGEST_SHARED_TITLE, pattern=r"^[^\x00-\x1f\x7f]*$")]
Words = Annotated[str, Field(max_length=LONGEST_SHARED_WORDS, pattern=r"^[^\x00-\x08\x0b-\x1f\x7f]*$")]


class _Form(BaseModel):
    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)


class _Asked(_Form):
    amount: Amount
    currency: Annotated[str, Field(pattern="^[A-Z]{3}$")]


class _Photo(_Form):
    sha256: Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
    about: Annotated[str, Field(max_length=100, pattern=r"^(|[a-z0-9]+(-[a-z0-9]+)*|hole/[0-9]{1,3})$")]


class _Spot(_Form):
    x_mm: Millimetres
    y_mm: Millimetres


class _Document(_Form):
    form: Literal[1]
    findings: Json
    own_sheet: Json | None
    title: Title
    words: Words
    price: Literal["none", "asked", "range"]
    asked: _Asked | None
    looked: Annotated[list[Day], Field(min_length=2, max_length=2)] | None
    written: Day
    photos: Annotated[list[_Photo], Field(max_length=MOST_SHARED_PHOTOS)]
    # Where each hole of the findings sits on its face, in their order.
    spots: Annotated[list[_Spot | None], Field(max_length=MOST_HOLES)] = []
    language: Annotated[str, Field(pattern="^[a-z]{2}$")]


class _Share(_Form):
    document: _Document
    expires: Day | None = None
    found: bool = False


@dataclass(frozen=True)
class Share:
    """A description to be shared: the document and the text that it is stored as, the last day that it may be
    read (YYYY-MM-DD, None for no end), and whether search engines may list it."""

    document: Json
    text: str
    expires: str | None
    found: bool


def read_share(raw: Any, today: date) -> Share:
    """The description of a decoded JSON body, `today` being the server's day in UTC. Raises BadInput."""
    try:
        read = _Share.model_validate(raw)
    except ValidationError as error:
        raise _malformed(error.errors()[0]) from error
    document: Json = {"spots": [], **raw["document"]}
    for fault in _faults(read, today):
        raise fault
    try:
        text = json.dumps(document, ensure_ascii=False, separators=(",", ":"), allow_nan=False)
        size = len(text.encode())
    except (ValueError, RecursionError) as error:
        # A number that is none, or half of a character in two halves: no page could show it.
        raise BadInput(
            Sentence("This description holds a number or a letter that cannot be shown."), _NEWEST
        ) from error
    if size > LARGEST_SHARE:
        raise too_large()
    if depth(text) > DEEPEST:
        raise BadInput(Sentence("The parts of this description lie too deep in one another."), _NEWEST)
    return Share(document, text, read.expires, read.found)


def too_large() -> BadInput:
    """The refusal of a description of too many bytes."""
    return BadInput(
        Sentence("This description is larger than {most} bytes.", most=format(LARGEST_SHARE, ",")),
        Sentence("Shorten its words or its list of holes, and share it once more."),
    )


def _faults(share: _Share, today: date) -> Iterator[BadInput]:
    """What is wrong between the parts of a description that are right by themselves."""
    document = share.document
    yield from _findings_faults(document)
    if document.asked is not None and document.price == "none":
        yield BadInput(Sentence("This description names an asking price, and is to tell none."), _NEWEST)
    for name, day in (("expires", share.expires), ("written", document.written), *_looked(document)):
        if day is not None and not _is_day(day):
            yield BadInput(
                Sentence('"{name}" is {day}, which is no day of the calendar.', name=name, day=day),
                Sentence("Choose another day."),
            )
    if document.looked and document.looked[0] > document.looked[1]:
        yield BadInput(
            Sentence("The first day of looking comes after the last."), Sentence("Put the earlier day first.")
        )
    if share.expires is not None and share.expires < today.isoformat():
        yield BadInput(
            Sentence(
                "The link would end on {end}, and by the server's clock (UTC) it is {today} already.",
                end=share.expires,
                today=today.isoformat(),
            ),
            Sentence("Choose a later day, or none."),
        )


def _findings_faults(document: _Document) -> Iterator[BadInput]:
    findings, sheet = document.findings, document.findings.get("model_sheet")
    if not isinstance(findings.get("family"), str):
        yield BadInput(Sentence('The findings of this description name no "family".'), _NEWEST)
    for key in _PRIVATE:
        if findings.get(key) is not None:
            yield BadInput(
                Sentence('The findings of this description hold "{key}", which is yours alone.', key=key),
                _NEWEST,
            )
    if findings.get("comparables") and document.price != "range":
        yield BadInput(Sentence("Comparable sales are shared with a price range only."), _NEWEST)
    own = isinstance(sheet, str) and sheet.startswith("own-")
    if own != (document.own_sheet is not None):
        yield BadInput(
            Sentence("The model sheet made on the phone is missing from this description.")
            if own
            else Sentence("This description holds a model sheet that its findings do not name."),
            _NEWEST,
        )


def _looked(document: _Document) -> Iterator[tuple[str, str]]:
    for day in document.looked or ():
        yield "looked", day


def _is_day(day: str) -> bool:
    try:
        date.fromisoformat(day)
    except ValueError:
        return False
    return True


def _malformed(error: ErrorDetails) -> BadInput:
    where = ".".join(str(step) for step in error["loc"])
    if error["type"] in ("string_too_long", "too_long") and where in _TOO_LONG:
        return BadInput(*_TOO_LONG[where])
    if error["type"] == "string_pattern_mismatch" and where in _UNFIT:
        return BadInput(*_UNFIT[where])
    if not where:
        return BadInput(Sentence("What was sent is no description."), _NEWEST)
    return BadInput(
        Sentence('The server cannot read this description: "{where}" is not as expected.', where=where[:80]),
        _NEWEST,
    )


_UNFIT = {
    "document.title": (
        Sentence("The title holds signs that no line can show."),
        Sentence("Write it anew in one line."),
    ),
    "document.words": (
        Sentence("Your own words hold signs that no page can show."),
        Sentence("Write them without these."),
    ),
}
_TOO_LONG = {
    "document.title": (
        Sentence("The title is longer than {most} letters.", most=LONGEST_SHARED_TITLE),
        Sentence("Shorten it."),
    ),
    "document.words": (
        Sentence("Your own words are longer than {most} letters.", most=format(LONGEST_SHARED_WORDS, ",")),
        Sentence("Shorten them."),
    ),
    "document.photos": (
        Sentence("A description shows at most {most} photos.", most=MOST_SHARED_PHOTOS),
        Sentence("Leave some out."),
    ),
}
