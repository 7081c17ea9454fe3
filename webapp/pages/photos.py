"""What a phone may be unable to do with a photo: find its labels, make a JPEG of it. Nothing is kept."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import BoundedSemaphore
from typing import TypeVar

from flask import Blueprint, Response, copy_current_request_context, request
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import RequestEntityTooLarge, ServiceUnavailable

from webapp.errors import ReaderMissing
from webapp.pages.refusals import refused
from webapp.photos.intake import LARGEST_BYTES, Photo, keepable, read_photo, too_large
from webapp.photos.label_readers import readers
from webapp.photos.labels import read_labels

# Of the server's eight threads at most five deal with photos, so that pages are still answered while somebody
# files sixty at once. They are read at two desks, threads of their own: what memory a thread once used stays
# with it.
READING, WAITING = 2, 3
# Seconds.
LONGEST_WAIT, COME_AGAIN = 20, 5

Made = TypeVar("Made")

pages = Blueprint("photos", __name__, url_prefix="/photos")
desks = ThreadPoolExecutor(READING, "photo")
places = BoundedSemaphore(READING + WAITING)


@pages.post("/labels")
def labels() -> ResponseReturnValue:
    """The labels in the photo sent as the body, their corners in pixels of the upright photo.

    `readers` names those that looked; where there is none, `off` says so in words.
    """
    return _made_of_the_photo(_labels)


@pages.post("/upright")
def upright() -> ResponseReturnValue:
    """The photo sent as the body as a JPEG that may be kept: upright, shrunk, without metadata."""
    return Response(_made_of_the_photo(keepable), mimetype="image/jpeg")


@pages.errorhandler(RequestEntityTooLarge)
def _too_large(error: RequestEntityTooLarge) -> Response:
    return refused(too_large(request.content_length or LARGEST_BYTES + 1), error.code)


def _made_of_the_photo(make: Callable[[Photo], Made]) -> Made:
    """What is made of the photo sent, once a desk is free; where none comes free, it is to come again."""
    if not places.acquire(blocking=False):
        raise ServiceUnavailable(retry_after=COME_AGAIN)
    try:
        made = desks.submit(copy_current_request_context(lambda: make(_sent())))
        try:
            return made.result(LONGEST_WAIT)
        except TimeoutError:
            if made.cancel():
                raise ServiceUnavailable(retry_after=COME_AGAIN) from None
            return made.result()
    finally:
        places.release()


def _sent() -> Photo:
    request.max_content_length = LARGEST_BYTES
    return read_photo(request.get_data(cache=False))


def _labels(photo: Photo) -> dict[str, object]:
    try:
        found, off = read_labels(photo.image), ""
    except ReaderMissing as missing:
        found, off = [], str(missing)
    return {
        "width": photo.image.width,
        "height": photo.image.height,
        "labels": [{"text": label.text, "corners": label.corners} for label in found],
        "readers": [name for name, missing in readers().items() if not missing],
        "off": off,
    }
