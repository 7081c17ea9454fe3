"""The notebook that phones keep on the server: opened by a key, exchanged operation by operation.

Asked by the app's scripts only. The key travels in a header and no cookie is read, so there is nothing that a
forged form could misuse.
"""

import contextlib
import json
import re
import time
from dataclasses import asdict
from io import BytesIO
from typing import Annotated, Any, TypeVar

import segno
from flask import Blueprint, Response, current_app, request
from flask.typing import ResponseReturnValue
from pydantic import BaseModel, ConfigDict, Field, ValidationError
from werkzeug.exceptions import RequestEntityTooLarge

from webapp.errors import BadInput, DatabaseUnusable, KeyUnknown, NotKnown, PictureTooLarge, StoreRefused
from webapp.notebook import keys, pictures
from webapp.notebook.clearing import clear_removed, is_due
from webapp.notebook.contents import contents
from webapp.notebook.database import Database
from webapp.notebook.exchange import Exchanged, exchange
from webapp.notebook.limits import LARGEST_PART, MOST_AT_ONCE, Limits
from webapp.pages.refusals import refused

# Bytes of one exchange; a phone with long texts sends fewer operations at a time.
LARGEST_EXCHANGE = 8_000_000

pages = Blueprint("notebook", __name__, url_prefix="/notebook")

Sha256 = Annotated[str, Field(pattern="^[0-9a-f]{64}$")]


class _Form(BaseModel):
    model_config = ConfigDict(strict=True, extra="forbid")


class _Exchange(_Form):
    generation: Annotated[str, Field(max_length=100)] | None
    since: Annotated[int, Field(ge=0, lt=2**62)]
    operations: Annotated[list[Any], Field(max_length=MOST_AT_ONCE)]


class _Held(_Form):
    hashes: Annotated[list[Sha256], Field(max_length=MOST_AT_ONCE)]


class _NewKey(_Form):
    key: Annotated[str, Field(pattern="^[0-9a-f]{32}$")]


class _Code(_Form):
    address: Annotated[str, Field(pattern=r"^https?://[A-Za-z0-9.\-\[\]:]{1,255}$")]


Read = TypeVar("Read", bound=_Form)


@pages.put("")
def open_notebook() -> ResponseReturnValue:
    """The notebook of this key, made when there is none."""
    created, generation = keys.open_notebook(_database(), _key(), _now())
    return {"created": created, "generation": generation}, 201 if created else 200


@pages.delete("")
def delete_notebook() -> ResponseReturnValue:
    """All of this notebook, gone from the server."""
    keys.delete_notebook(_database(), _key())
    return "", 204


@pages.post("/exchange")
def exchange_operations() -> ResponseReturnValue:
    """What is new on the phone is stored, what is new here is given."""
    key, asked = _key(), _read(_Exchange, LARGEST_EXCHANGE)
    done = exchange(
        _database(), key, asked.generation, asked.since, asked.operations, _limits(), _now()
    )  # fmt: skip
    if is_due(done.cleared, _now()):
        # What was stored stays stored, whatever becomes of the clearing; it is tried again with the next one.
        with contextlib.suppress(StoreRefused):
            clear_removed(_database(), key, _now())
    return Response(_written(done), mimetype="application/json")


@pages.get("/contents")
def list_contents() -> ResponseReturnValue:
    """What the server holds of the notebook, set by set."""
    return contents(_database(), _key(), _limits())


@pages.post("/pictures/held")
def list_held() -> ResponseReturnValue:
    """Which of these photos the server holds, and how much of those not whole."""
    held, whole = pictures.held_of(_database(), _key(), _read(_Held, 100_000).hashes)
    return {"held": held, "whole": whole}


@pages.put("/pictures/<sha256>")
def store_part(sha256: str) -> ResponseReturnValue:
    """One part of a photo."""
    key, sha256 = _key(), _hash(sha256)
    part = pictures.read_part(request.headers.get("Content-Range", ""), _body(LARGEST_PART))
    held, whole = pictures.store_part(_database(), key, sha256, part, _limits())
    return {"held": held, "whole": whole}


@pages.get("/pictures/<sha256>")
def give_picture(sha256: str) -> ResponseReturnValue:
    """A whole photo."""
    return Response(pictures.picture(_database(), _key(), _hash(sha256)), mimetype="image/jpeg")


@pages.post("/key")
def replace_key() -> ResponseReturnValue:
    """Another key for this notebook; the old one opens nothing from then on."""
    keys.replace_key(_database(), _key(), _read(_NewKey, 1000).key, _now())
    return {"replaced": True}


@pages.post("/key/code")
def draw_code() -> ResponseReturnValue:
    """The key and this server's address as a QR symbol, for another phone to look at."""
    key, asked = _key(), _read(_Code, 1000)
    keys.check(_database(), key)
    drawn = BytesIO()
    segno.make(f"{asked.address}/#/join/{key}", error="m", micro=False).save(drawn, kind="svg", scale=4)
    return Response(drawn.getvalue(), mimetype="image/svg+xml")


@pages.errorhandler(RequestEntityTooLarge)
def _too_large(error: RequestEntityTooLarge) -> Response:
    limit = request.max_content_length or 0
    return refused(
        PictureTooLarge(f"What was sent is larger than {limit:,} bytes.", "Send less at a time.")
        if "/pictures/" in request.path
        else BadInput(f"What was sent is larger than {limit:,} bytes.", "Send less at a time."),
        error.code,
    )


@pages.errorhandler(DatabaseUnusable)
def _unusable(error: DatabaseUnusable) -> Response:
    # Where the database lies is for whoever runs the server, and stands in the log.
    current_app.logger.error("%s", error)
    return refused(
        DatabaseUnusable(
            "The server cannot get at the notebooks that it keeps.",
            "Everything stays on the phone; it is tried again later.",
        )
    )


def _database() -> Database:
    database: Database = current_app.config["NOTEBOOKS"]
    return database


def _limits() -> Limits:
    limits: Limits = current_app.config["NOTEBOOK_LIMITS"]
    return limits


def _now() -> int:
    return int(time.time())


def _key() -> str:
    said = request.authorization
    if said is None or said.type != "bearer" or not said.token:
        raise KeyUnknown
    return said.token


def _hash(sha256: str) -> str:
    if not re.fullmatch("[0-9a-f]{64}", sha256):
        raise NotKnown("This is no photo's hash.", "Expected 64 hex digits in lower case.")
    return sha256


def _body(most: int) -> bytes:
    request.max_content_length = most
    return request.get_data(cache=False)


def _read(form: type[Read], most: int) -> Read:
    """The body as this form. Raises BadInput."""
    try:
        return form.model_validate(json.loads(_body(most), parse_constant=_no_number))
    except ValidationError as error:
        where = ".".join(str(step) for step in error.errors()[0]["loc"]) or "body"
        raise BadInput(
            f'The "{where[:60]}" of this request is not as expected.', "Load the newest version of the app."
        ) from error
    except (ValueError, RecursionError) as error:
        raise BadInput(
            "The body of this request is not JSON.", "Load the newest version of the app."
        ) from error


def _no_number(name: str) -> None:
    raise ValueError(name)


def _written(done: Exchanged) -> str:
    """The answer as text; the operations are texts already, and are put in as they are."""
    rest = {
        "generation": done.generation,
        "refused": [asdict(refusal) for refusal in done.refused],
        "cursor": done.cursor,
        "more": done.more,
    }
    return f'{{"operations":[{",".join(done.documents)}],{json.dumps(rest)[1:]}'
