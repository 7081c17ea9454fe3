"""The notebook that phones keep on the server: opened by a key, exchanged operation by operation.

Asked by the app's scripts only. The key travels in a header and no cookie is read, so there is nothing that a
forged form could misuse.
"""

import contextlib
import json
import re
from dataclasses import asdict
from io import BytesIO
from typing import Annotated, Any

import segno
from flask import Blueprint, Response, request
from flask.typing import ResponseReturnValue
from pydantic import Field
from werkzeug.exceptions import RequestEntityTooLarge

from webapp.errors import BadInput, DatabaseUnusable, NotKnown, PictureTooLarge, Sentence, StoreRefused
from webapp.notebook import keys, pictures
from webapp.notebook.clearing import clear_removed, is_due
from webapp.notebook.contents import contents
from webapp.notebook.exchange import Exchanged, exchange
from webapp.notebook.limits import LARGEST_PART, MOST_AT_ONCE
from webapp.pages.phone_requests import (
    Address,
    Form,
    as_form,
    body,
    database,
    database_unusable,
    given_key,
    limits,
    now,
    sent_json,
)
from webapp.pages.refusals import refused

# Bytes of one exchange; a phone with long texts sends fewer operations at a time.
LARGEST_EXCHANGE = 8_000_000

pages = Blueprint("notebook", __name__, url_prefix="/notebook")

Sha256 = Annotated[str, Field(pattern="^[0-9a-f]{64}$")]


class _Exchange(Form):
    generation: Annotated[str, Field(max_length=100)] | None
    since: Annotated[int, Field(ge=0, lt=2**62)]
    operations: Annotated[list[Any], Field(max_length=MOST_AT_ONCE)]


class _Held(Form):
    hashes: Annotated[list[Sha256], Field(max_length=MOST_AT_ONCE)]


class _NewKey(Form):
    key: Annotated[str, Field(pattern="^[0-9a-f]{32}$")]


@pages.put("")
def open_notebook() -> ResponseReturnValue:
    """The notebook of this key, made when there is none."""
    created, generation = keys.open_notebook(database(), given_key(), now())
    return {"created": created, "generation": generation}, 201 if created else 200


@pages.delete("")
def delete_notebook() -> ResponseReturnValue:
    """All of this notebook, gone from the server."""
    keys.delete_notebook(database(), given_key())
    return "", 204


@pages.post("/exchange")
def exchange_operations() -> ResponseReturnValue:
    """What is new on the phone is stored, what is new here is given."""
    key, asked = given_key(), as_form(_Exchange, sent_json(LARGEST_EXCHANGE))
    done = exchange(
        database(), key, asked.generation, asked.since, asked.operations, limits(), now()
    )  # fmt: skip
    if is_due(done.cleared, now()):
        # What was stored stays stored, whatever becomes of the clearing; it is tried again with the next one.
        with contextlib.suppress(StoreRefused):
            clear_removed(database(), key, now())
    return Response(_written(done), mimetype="application/json")


@pages.get("/contents")
def list_contents() -> ResponseReturnValue:
    """What the server holds of the notebook, set by set."""
    return contents(database(), given_key(), limits())


@pages.post("/pictures/held")
def list_held() -> ResponseReturnValue:
    """Which of these photos the server holds, and how much of those not whole."""
    held, whole = pictures.held_of(database(), given_key(), as_form(_Held, sent_json(100_000)).hashes)
    return {"held": held, "whole": whole}


@pages.put("/pictures/<sha256>")
def store_part(sha256: str) -> ResponseReturnValue:
    """One part of a photo."""
    key, sha256 = given_key(), _hash(sha256)
    part = pictures.read_part(request.headers.get("Content-Range", ""), body(LARGEST_PART))
    held, whole = pictures.store_part(database(), key, sha256, part, limits())
    return {"held": held, "whole": whole}


@pages.get("/pictures/<sha256>")
def give_picture(sha256: str) -> ResponseReturnValue:
    """A whole photo."""
    return Response(pictures.picture(database(), given_key(), _hash(sha256)), mimetype="image/jpeg")


@pages.post("/key")
def replace_key() -> ResponseReturnValue:
    """Another key for this notebook; the old one opens nothing from then on."""
    keys.replace_key(database(), given_key(), as_form(_NewKey, sent_json(1000)).key, now())
    return {"replaced": True}


@pages.post("/key/code")
def draw_code() -> ResponseReturnValue:
    """The key and this server's address as a QR symbol, for another phone to look at."""
    key, asked = given_key(), as_form(Address, sent_json(1000))
    keys.check(database(), key)
    drawn = BytesIO()
    segno.make(f"{asked.address}/#/join/{key}", error="m", micro=False).save(drawn, kind="svg", scale=4)
    return Response(drawn.getvalue(), mimetype="image/svg+xml")


@pages.errorhandler(RequestEntityTooLarge)
def _too_large(error: RequestEntityTooLarge) -> Response:
    limit = request.max_content_length or 0
    too_large = PictureTooLarge if "/pictures/" in request.path else BadInput
    said = Sentence("What was sent is larger than {most} bytes.", most=format(limit, ","))
    return refused(too_large(said, Sentence("Send less at a time.")), error.code)


pages.register_error_handler(DatabaseUnusable, database_unusable)


def _hash(sha256: str) -> str:
    if not re.fullmatch("[0-9a-f]{64}", sha256):
        raise NotKnown("This is no photo's hash.", "Expected 64 hex digits in lower case.")
    return sha256


def _written(done: Exchanged) -> str:
    """The answer as text; the operations are texts already, and are put in as they are."""
    rest = {
        "generation": done.generation,
        "refused": [asdict(refusal) for refusal in done.refused],
        "cursor": done.cursor,
        "more": done.more,
    }
    return f'{{"operations":[{",".join(done.documents)}],{json.dumps(rest)[1:]}'
