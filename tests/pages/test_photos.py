"""Photos sent to the server: what it gives back, and how it refuses."""

import json
import math
import socket
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import ExitStack, suppress
from io import BytesIO
from pathlib import Path

import pytest
import segno
from flask.testing import FlaskClient
from PIL import ExifTags, Image

from tests.support.photos import FORMATS, off_by, scene, written
from tests.support.server import LiveServer
from webapp.pages import photos
from webapp.photos.intake import LARGEST_BYTES

ROOT = Path(__file__).resolve().parents[2]
ROUTES = ("/photos/labels", "/photos/upright")


def error_of(answer: object) -> tuple[int, str, str]:
    """Give status, code and sentence of a refusal; AssertionError when it has another shape."""
    body = answer.json  # type: ignore[attr-defined]
    assert set(body) == {"error"}
    assert set(body["error"]) == {"code", "message", "hint"}
    sentence = f"{body['error']['message']} {body['error']['hint']}"
    return answer.status_code, body["error"]["code"], sentence  # type: ignore[attr-defined]


@pytest.mark.parametrize("kind", FORMATS)
def test_a_photo_of_any_format_comes_back_as_an_upright_jpeg(client: FlaskClient, kind: str) -> None:
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = 6
    stored = scene(2000, 1500).transpose(Image.Transpose.ROTATE_90)
    answer = client.post("/photos/upright", data=written(stored, kind, exif=exif.tobytes()))
    assert (answer.status_code, answer.mimetype) == (200, "image/jpeg")
    assert "Set-Cookie" not in answer.headers
    assert off_by(Image.open(BytesIO(answer.data)), scene(1600, 1200)) <= 8


def labelled(text: str, corner: tuple[int, int], side: int) -> Image.Image:
    """Give a photo with a label of ours whose symbol has that top left corner and side."""
    symbol = BytesIO()
    segno.make(text, error="q", version=1, boost_error=False).save(symbol, kind="png", scale=10, border=0)
    photo = Image.new("RGB", (800, 600), (225, 220, 210))
    photo.paste(Image.open(symbol).convert("RGB").resize((side, side), Image.Resampling.BOX), corner)
    return photo


def test_a_label_is_found_with_its_corners_in_pixels_of_the_upright_photo(client: FlaskClient) -> None:
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = 6
    photo = labelled("UC:K7Q2:007", (300, 150), 168)
    stored = photo.transpose(Image.Transpose.ROTATE_90)
    answer = client.post("/photos/labels", data=written(stored, "JPEG", exif=exif.tobytes()))
    assert (answer.status_code, answer.json["width"], answer.json["height"]) == (200, 800, 600)
    [label] = answer.json["labels"]
    assert label["text"] == "K7Q2-007"
    true = [(300, 150), (468, 150), (468, 318), (300, 318)]
    assert max(math.dist(*pair) for pair in zip(label["corners"], true, strict=True)) < 5
    assert answer.json["off"] == ""
    assert answer.json["readers"]


def test_a_photo_without_a_label_is_answered_too(client: FlaskClient) -> None:
    answer = client.post("/photos/labels", data=written(scene(), "PNG"))
    assert (answer.status_code, answer.json["labels"]) == (200, [])


def test_where_no_reader_is_installed_the_app_starts_and_says_so(tmp_path: Path) -> None:
    (tmp_path / "photo").write_bytes(written(scene(), "PNG"))
    program = f"""
import sys
sys.modules["pyzbar"] = sys.modules["zxingcpp"] = None
from pathlib import Path
from webapp.app import create_app
from webapp.paths import rules_folder
from webapp.rulebook.tables import load
from webapp.site import Site
here = Path({str(tmp_path)!r})
app = create_app(load(rules_folder()), here, Site("none", here, None))
print(app.test_client().post("/photos/labels", data=(here / "photo").read_bytes()).text)
"""
    command = [sys.executable, "-c", program]
    ended = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    answer = json.loads(ended.stdout)
    assert (answer["labels"], answer["readers"]) == ([], [])
    assert "Labels cannot be read on this machine" in answer["off"]


def test_the_declared_type_is_not_believed(client: FlaskClient) -> None:
    for said in ("text/html", "image/gif", "application/x-www-form-urlencoded", "nonsense"):
        answer = client.post("/photos/upright", data=written(scene(), "PNG"), content_type=said)
        assert answer.status_code == 200
    answer = client.post("/photos/upright", data=b"<html>", content_type="image/jpeg")
    assert error_of(answer)[1:] == (
        "bad-photo",
        "This photo is a web page. Send a photo as JPEG, PNG, WebP, AVIF or HEIC.",
    )


@pytest.mark.parametrize("route", ROUTES)
def test_what_is_no_photo_is_refused_in_one_shape(client: FlaskClient, route: str) -> None:
    assert error_of(client.post(route)) == (
        400,
        "bad-photo",
        "This photo is empty: not one byte of it arrived. Send it again.",
    )
    whole = written(scene(), "JPEG")
    assert error_of(client.post(route, data=whole[:-100])) == (
        400,
        "bad-photo",
        "This photo is cut short: its last part is missing. Take or send it again.",
    )
    form = client.post(route, data={"photo": (BytesIO(whole), "a.jpg")})
    assert error_of(form)[:2] == (400, "bad-photo")


@pytest.mark.parametrize("route", ROUTES)
def test_a_photo_may_be_larger_than_a_form_and_one_over_the_limit_is_refused_with_its_size(
    client: FlaskClient, route: str
) -> None:
    whole = written(scene(), "JPEG")
    assert client.post(route, data=whole.ljust(LARGEST_BYTES, b"\0")).status_code == 200
    assert error_of(client.post(route, data=whole.ljust(31_000_000, b"\0"))) == (
        413,
        "bad-photo",
        "This photo is 31 MB; the limit is 20 MB. Take it again at a smaller size.",
    )
    # The forms keep their own limit.
    assert client.post("/form/aircraft-hf-transmitter", data={"asking": "9" * 1_100_000}).status_code == 413


@pytest.mark.parametrize("route", ROUTES)
def test_another_method_is_refused(client: FlaskClient, route: str) -> None:
    assert error_of(client.get(route))[:2] == (405, "method-not-allowed")


def test_an_unknown_address_for_photos_is_refused(client: FlaskClient) -> None:
    assert error_of(client.post("/photos/nowhere", data=b"x"))[:2] == (404, "not-found")


@pytest.fixture
def busy_desks() -> Iterator[threading.Event]:
    """All desks at work until the event is set."""
    done = threading.Event()
    at_work = [photos.desks.submit(done.wait, 30) for _ in range(photos.READING)]
    yield done
    done.set()
    assert all(work.result() for work in at_work)


def test_who_waits_for_a_desk_is_served_when_one_is_free(
    client: FlaskClient, busy_desks: threading.Event
) -> None:
    threading.Timer(0.2, busy_desks.set).start()
    assert client.post("/photos/upright", data=written(scene(), "PNG")).status_code == 200


BUSY = (503, "service-unavailable", "The server has its hands full. Send it again in a few seconds.")


def test_who_has_waited_long_enough_is_told_when_to_come_again(
    client: FlaskClient, busy_desks: threading.Event, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(photos, "LONGEST_WAIT", 0.05)
    answer = client.post("/photos/upright", data=written(scene(), "PNG"))
    assert error_of(answer) == BUSY
    assert answer.headers["Retry-After"] == str(photos.COME_AGAIN)
    busy_desks.set()


def test_who_finds_no_place_to_wait_is_sent_away_at_once(client: FlaskClient) -> None:
    with ExitStack() as taken:
        for _ in range(photos.READING + photos.WAITING):
            taken.enter_context(photos.places)
        answer = client.post("/photos/upright", data=written(scene(), "PNG"))
    assert error_of(answer) == BUSY
    assert answer.headers["Retry-After"] == str(photos.COME_AGAIN)
    assert client.post("/photos/upright", data=written(scene(), "PNG")).status_code == 200


def test_a_reading_longer_than_the_longest_wait_is_waited_for(
    client: FlaskClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(photos, "LONGEST_WAIT", 0.01)
    assert client.post("/photos/upright", data=written(scene(4000, 3000), "PNG")).status_code == 200


def test_a_refused_photo_leaves_its_place(client: FlaskClient) -> None:
    for _ in range(photos.READING + photos.WAITING + 1):
        assert client.post("/photos/upright", data=b"x").status_code == 400
    assert client.post("/photos/upright", data=written(scene(), "PNG")).status_code == 200


def sent(server: LiveServer, head: bytes, body: bytes, end: bool = False) -> tuple[int, bytes]:
    """Give status and body of the answer to a request written byte by byte, as no library would."""
    port = int(server.url.rpartition(":")[2])
    with socket.create_connection(("127.0.0.1", port), timeout=30) as line:
        line.sendall(
            b"POST /photos/upright HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n"
            + head
            + b"\r\n"
            + body
        )
        if end:
            line.shutdown(socket.SHUT_WR)
        answer = b""
        # A server that refuses a head does not read the body, so the line is reset behind its answer.
        with suppress(ConnectionResetError):
            while piece := line.recv(65536):
                answer += piece
    top, _, rest = answer.partition(b"\r\n\r\n")
    return int(top.split()[1]) if top else 0, rest


def test_lengths_that_lie_and_bodies_in_pieces_are_answered(live_server: LiveServer) -> None:
    whole = written(scene(), "JPEG")
    pieces = (
        b"".join(b"%x\r\n%s\r\n" % (len(part), part) for part in (whole[:700], whole[700:])) + b"0\r\n\r\n"
    )
    status, body = sent(live_server, b"Transfer-Encoding: chunked\r\n", pieces)
    assert (status, body[:2]) == (200, b"\xff\xd8")
    status, body = sent(live_server, b"Content-Length: %d\r\n" % (len(whole) - 50), whole)
    assert (status, json.loads(body)["error"]["message"]) == (
        400,
        "This photo is cut short: its last part is missing.",
    )
    for head in (b"", b"Content-Length: 0\r\n"):
        status, body = sent(live_server, head, b"")
        assert json.loads(body)["error"]["message"] == "This photo is empty: not one byte of it arrived."
    for head in (b"Content-Length: many\r\n", b"Content-Length: -5\r\n", b"Transfer-Encoding: zip\r\n"):
        assert 400 <= sent(live_server, head, whole)[0] <= 501
    # Promised more than came: there is nobody left to answer, and the next is served.
    sent(live_server, b"Content-Length: %d\r\n" % (len(whole) + 50), whole, end=True)
    assert sent(live_server, b"Content-Length: %d\r\n" % len(whole), whole)[0] == 200
    assert "Traceback" not in live_server.log.read_text()


def test_a_body_of_any_size_is_not_taken_in(live_server: LiveServer) -> None:
    status, _ = sent(live_server, b"Content-Length: 5000000000\r\n", b"")
    assert status == 413
