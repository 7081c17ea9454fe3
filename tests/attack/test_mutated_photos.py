"""Broken photos, by the hundred and by design: an answer in words each time, soon, and in bounded memory."""

import http.client
import json
import re
import struct
import time
import zlib
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from io import BytesIO

from PIL import Image

from tests.support.mutated_photos import mutated
from tests.support.photos import png, png_head, scene, segment, with_segments, written
from tests.support.server import LiveServer
from webapp.errors import BadPhoto
from webapp.photos.intake import KEPT_SIDE, LARGEST_BYTES, keepable, read_photo

FILES = 500
# Seconds for one answer on a machine that has much else to do, where an idle one takes four at most.
LONGEST = 30
# MB that the server may ever hold: a large picture being decoded (900), another done, the bodies, and itself.
MOST_MEMORY = 1500
WIDE, HIGH = 8192, 6144
IEND = (b"IEND", b"")
EXIF_OF_LARGE_VALUES = b"Exif\0\0II*\0\x08\0\0\0\x88\x13" + struct.pack("<HHII", 0x9286, 7, 60_000, 8) * 5000


def test_every_mutated_file_is_a_photo_or_refused_in_words() -> None:
    taken, sentences = 0, set()
    for seed in range(FILES):
        name, raw = mutated(seed)
        try:
            photo = read_photo(raw)
        except BadPhoto as refusal:
            sentences.add(str(refusal))
            continue
        taken += 1
        kept = Image.open(BytesIO(keepable(photo)))
        kept.load()
        assert max(kept.size) <= KEPT_SIDE, name
    assert all(re.fullmatch(r"This photo [^\n]+\. [A-Z][^\n]+\.", sentence) for sentence in sentences)
    assert len(sentences) > 5
    # Some breaks do no harm; were none or nearly all harmless, they would test nothing.
    assert FILES // 10 < taken < FILES // 2


def answer(server: LiveServer, route: str, raw: bytes) -> tuple[int, str, bytes, float]:
    """Give status, type and body of the answer, and the seconds it took."""
    began = time.monotonic()
    line = http.client.HTTPConnection("127.0.0.1", int(server.url.rpartition(":")[2]), timeout=60)
    line.request("POST", f"/photos/{route}", raw)
    response = line.getresponse()
    body = response.read()
    line.close()
    return response.status, response.getheader("Content-Type", ""), body, time.monotonic() - began


def check(server: LiveServer, name: str, raw: bytes, routes: Sequence[str] = ("labels", "upright")) -> None:
    """Send one file to the routes and look at what comes back."""
    for route in routes:
        status, kind, body, seconds = answer(server, route, raw)
        assert status in (200, 400), (name, route, body)
        assert seconds < LONGEST, (name, route)
        if status == 400:
            assert json.loads(body)["error"]["code"] == "bad-photo", name
        else:
            assert kind == ("image/jpeg" if route == "upright" else "application/json"), name


def test_the_server_answers_every_mutated_file_soon_and_in_bounded_memory(live_server: LiveServer) -> None:
    with ThreadPoolExecutor(3) as clients:
        list(clients.map(lambda seed: check(live_server, *mutated(seed)), range(FILES)))
    assert "Traceback" not in live_server.log.read_text()
    assert live_server.peak_memory() < MOST_MEMORY
    assert answer(live_server, "upright", written(scene(), "JPEG"))[0] == 200


def bombs() -> dict[str, bytes]:
    """Give small files that unpack to large ones, and large ones of many small pieces."""
    plain = written(scene(), "JPEG")
    return {
        "millions of segments": with_segments(plain, segment(0xE0, b"") * 4_000_000),
        "thousands of exifs": with_segments(plain, segment(0xE1, b"Exif\0\0".ljust(300, b"x")) * 60_000),
        "the largest exifs": with_segments(plain, segment(0xE1, b"Exif\0\0".ljust(65_000, b"x")) * 300),
        "exif of large values": with_segments(plain, segment(0xE1, EXIF_OF_LARGE_VALUES)),
        "padding": with_segments(plain, b"\xff" * 19_000_000),
        **png_bombs(),
        **large_pictures(),
        **films(),
    }


def png_bombs() -> dict[str, bytes]:
    """Give PNGs whose packed parts swell to 300 MB each."""
    zeros = zlib.compress(bytes(300_000_000), 1)
    small, data = png_head(99, 99), (b"IDAT", zeros)
    return {
        "too much data": png(small, data, IEND),
        "a profile": png(small, (b"iCCP", b"x\0\0" + zeros), data, IEND),
        "a text": png(small, (b"zTXt", b"x\0\0" + zeros), data, IEND),
        "many texts": png(small, *[(b"zTXt", b"x\0\0" + zeros[:60_000])] * 200, data, IEND),
        "a side of two thousand million": png(png_head(2**31 - 1, 2**31 - 1), data, IEND),
    }


def large_pictures() -> dict[str, bytes]:
    """Give the largest pictures that are taken, in few bytes, and some that lie about being large."""
    flat, small = Image.new("RGB", (WIDE, HIGH)), written(scene(), "AVIF")
    scans = written(flat, "JPEG", progressive=True)
    last_scan = scans[scans.rindex(b"\xff\xda") : -2]
    deep = zlib.compress(bytes(8 * WIDE * HIGH + HIGH), 1)
    large_sides, small_sides = struct.pack(">II", WIDE, HIGH), struct.pack(">II", 96, 64)
    return {
        "16 bits and glass": png(png_head(WIDE, HIGH, 16, 6), (b"IDAT", deep), IEND),
        "many scans": scans[:-2] + last_scan * 30 + scans[-2:],
        "small, said to be large": small.replace(small_sides, large_sides),
        "large, said to be small": written(flat, "AVIF", speed=10).replace(large_sides, small_sides),
    }


def films() -> dict[str, bytes]:
    """Give an animation of 20 MB in the smallest frames, and the same on a large canvas."""
    film = written(scene(16, 16), "WEBP", save_all=True, append_images=[Image.new("RGB", (16, 16))])
    frame = film[film.rindex(b"ANMF") :]
    frames = film[8:] + frame * ((LARGEST_BYTES - len(film)) // len(frame))
    head = b"RIFF" + struct.pack("<I", len(frames))
    canvas = b"".join((side - 1).to_bytes(3, "little") for side in (WIDE, HIGH))
    return {
        "frames without end": head + frames,
        "frames on a large canvas": head + frames[:16] + canvas + frames[22:],
    }


def test_bombs_are_answered_soon_and_in_bounded_memory(live_server: LiveServer) -> None:
    with ThreadPoolExecutor(2) as clients:
        list(clients.map(lambda bomb: check(live_server, *bomb, ["upright"]), bombs().items()))
    assert "Traceback" not in live_server.log.read_text()
    assert live_server.peak_memory() < MOST_MEMORY


def test_thirty_large_photos_at_once_are_answered_or_sent_away_for_now(live_server: LiveServer) -> None:
    large = written(scene(4000, 3000), "JPEG").ljust(LARGEST_BYTES, b"\0")
    with ThreadPoolExecutor(30) as phones:
        statuses = list(phones.map(lambda _: answer(live_server, "upright", large)[0], range(30)))
    assert set(statuses) <= {200, 503}
    assert statuses.count(200) >= 2
    assert live_server.peak_memory() < MOST_MEMORY
    assert answer(live_server, "upright", written(scene(), "JPEG"))[0] == 200
