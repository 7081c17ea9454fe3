"""What the routes that phones ask read of a request, and how these refuse it."""

import json
import time
from typing import Annotated, Any, TypeVar

from flask import Response, current_app, request
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from webapp.errors import BadInput, DatabaseUnusable, KeyUnknown, Sentence
from webapp.notebook.database import Database
from webapp.notebook.limits import Limits
from webapp.pages.refusals import refused

_NEWEST = Sentence("Load the newest version of the app.")


class Form(BaseModel):
    """The form of a body, or of what an address asks for."""

    model_config = ConfigDict(strict=True, extra="forbid")


class Address(Form):
    """The origin that people reach this server at, as the phone sees it."""

    address: Annotated[str, Field(pattern=r"^https?://[A-Za-z0-9.\-\[\]:]{1,255}$")]


Read = TypeVar("Read", bound=Form)


def database() -> Database:
    """The notebooks."""
    kept: Database = current_app.config["NOTEBOOKS"]
    return kept


def limits() -> Limits:
    """How much a notebook may hold here."""
    most: Limits = current_app.config["NOTEBOOK_LIMITS"]
    return most


def now() -> int:
    """The server's clock, in seconds."""
    return int(time.time())


def given_key() -> str:
    """The notebook's key, not yet looked at; raises KeyUnknown where none is given."""
    said = request.authorization
    if said is None or said.type != "bearer" or not said.token:
        raise KeyUnknown
    return said.token


def body(most: int) -> bytes:
    """The body, of so many bytes at most."""
    request.max_content_length = most
    return request.get_data(cache=False)


def sent_json(most: int) -> Any:
    """The decoded body, of so many bytes at most. Raises BadInput."""
    try:
        return json.loads(body(most), parse_constant=_no_number)
    except (ValueError, RecursionError) as error:
        raise BadInput(Sentence("The body of this request is not JSON."), _NEWEST) from error


def as_form(form: type[Read], raw: Any) -> Read:
    """What was asked, in this form. Raises BadInput."""
    try:
        return form.model_validate(raw)
    except ValidationError as error:
        where = ".".join(str(step) for step in error.errors()[0]["loc"]) or "body"
        raise BadInput(
            Sentence('The "{where}" of this request is not as expected.', where=where[:60]), _NEWEST
        ) from error


def database_unusable(error: DatabaseUnusable) -> Response:
    """The refusal to a phone while the database cannot be used."""
    # Where the database lies is for whoever runs the server, and stands in the log.
    current_app.logger.error("%s", error)
    return refused(
        DatabaseUnusable(
            Sentence("The server cannot get at the notebooks that it keeps."),
            Sentence("Everything stays on the phone; it is tried again later."),
        )
    )


def _no_number(name: str) -> None:
    raise ValueError(name)
