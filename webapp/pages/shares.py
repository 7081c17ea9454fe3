"""The descriptions that a notebook shares by a link: shared, replaced, taken back, listed by its phones.

Asked by the app's scripts only, with the notebook's key in a header; who reads a description asks
`webapp/pages/description.py`.
"""

from flask import Blueprint, Response, request
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import RequestEntityTooLarge

from webapp.errors import DatabaseUnusable
from webapp.notebook import keys, shares
from webapp.notebook.limits import LARGEST_SHARE
from webapp.notebook.share_form import read_share, too_large
from webapp.pages.description import check_can_be_shown
from webapp.pages.phone_requests import (
    Address,
    as_form,
    database,
    database_unusable,
    given_key,
    limits,
    now,
    sent_json,
)
from webapp.pages.refusals import refused
from webapp.photos.share_tag import share_tag

# Bytes of a body: the document, its last day, and what escaping the letters of another script adds.
LARGEST_BODY = 2 * LARGEST_SHARE

pages = Blueprint("shares", __name__, url_prefix="/notebook/shares")
pages.register_error_handler(DatabaseUnusable, database_unusable)


@pages.get("")
def list_shares() -> ResponseReturnValue:
    """The notebook's links."""
    return shares.list_shares(database(), given_key())


@pages.put("/<token>")
def put_share(token: str) -> ResponseReturnValue:
    """A description under this token, in the place of what was there."""
    key = given_key()
    # First of all, so that nobody without a notebook has pages put together.
    keys.check(database(), key)
    share = read_share(sent_json(LARGEST_BODY), shares.day_of(now()))
    check_can_be_shown(share.document, token)
    created, row = shares.put_share(database(), key, token, share, limits(), now())
    return row, 201 if created else 200


@pages.delete("/<token>")
def withdraw(token: str) -> ResponseReturnValue:
    """Nothing more is shared by this token, for good."""
    shares.withdraw(database(), given_key(), token, now())
    return "", 204


@pages.get("/<token>/tag")
def draw_tag(token: str) -> ResponseReturnValue:
    """The tag to tape on the set; `?address=` is the origin that people reach this server at."""
    key, asked = given_key(), as_form(Address, request.args.to_dict())
    shares.check_share(database(), key, token, now())
    return Response(share_tag(f"{asked.address}/d/{token}"), mimetype="image/svg+xml")


@pages.errorhandler(RequestEntityTooLarge)
def _too_large(error: RequestEntityTooLarge) -> Response:
    return refused(too_large(), error.code)
