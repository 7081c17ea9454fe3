"""Photos part by part: resumed, checked, counted, and let go of long after they were removed."""

import time
from collections.abc import Callable
from contextlib import suppress

import pytest
from flask import Flask
from hypothesis import given
from hypothesis import strategies as st

from tests.support.server_phone import ServerPhone, a_photo, an_operation, error_of
from webapp.errors import BadInput
from webapp.notebook.clearing import clear_removed
from webapp.notebook.database import Database
from webapp.notebook.limits import LARGEST_PART
from webapp.notebook.pictures import read_part

DAY = 24 * 60 * 60


def held(phone: ServerPhone, sha256: str) -> object:
    """Give what the server says it holds of a photo."""
    return phone.ask("POST", "/pictures/held", json={"hashes": [sha256]}).json


def test_a_photo_that_broke_off_goes_on_where_it_stopped(phone: ServerPhone) -> None:
    sha256, content = a_photo(2500)
    assert held(phone, sha256) == {"held": {}, "whole": []}
    assert phone.send_part(sha256, content, 0, 1000).json == {"held": 1000, "whole": False}
    assert held(phone, sha256) == {"held": {sha256: 1000}, "whole": []}
    assert error_of(phone.ask("GET", f"/pictures/{sha256}")) == (404, "not-known")
    assert phone.send_part(sha256, content, 1000, 2000).json == {"held": 2000, "whole": False}
    assert phone.send_part(sha256, content, 2000, 2500).json == {"held": 2500, "whole": True}
    assert held(phone, sha256) == {"held": {}, "whole": [sha256]}
    answer = phone.ask("GET", f"/pictures/{sha256}")
    assert (answer.data, answer.mimetype) == (content, "image/jpeg")
    assert answer.headers["Cache-Control"] == "no-store"


def test_a_part_sent_again_is_a_success_and_changes_nothing(phone: ServerPhone) -> None:
    sha256, content = a_photo(2000)
    for _ in range(2):
        assert phone.send_part(sha256, content, 0, 1000).json == {"held": 1000, "whole": False}
    for _ in range(2):
        assert phone.send_part(sha256, content, 1000, 2000).json == {"held": 2000, "whole": True}
    assert phone.send_part(sha256, content, 0, 1000).json == {"held": 2000, "whole": True}
    assert phone.ask("GET", f"/pictures/{sha256}").data == content
    assert phone.ask("GET", "/contents").json["photos"] == {"count": 1, "bytes": 2000}


@pytest.mark.parametrize(("start", "end"), [(1500, 2000), (500, 1500)])
def test_a_part_that_leaves_a_gap_or_overlaps_is_told_where_to_go_on(
    phone: ServerPhone, start: int, end: int
) -> None:
    sha256, content = a_photo(2000)
    phone.send_part(sha256, content, 0, 1000)
    refused = phone.send_part(sha256, content, start, end)
    assert error_of(refused) == (409, "part-does-not-follow")
    assert refused.json["held"] == 1000


def test_a_photo_not_begun_begins_at_its_beginning(phone: ServerPhone) -> None:
    refused = phone.send_part(*a_photo(), 500, 1000)
    assert (error_of(refused), refused.json["held"]) == ((409, "part-does-not-follow"), 0)


def test_a_damaged_photo_is_dropped_and_can_be_sent_again(phone: ServerPhone) -> None:
    sha256, content = a_photo(2000)
    phone.send_part(sha256, b"\0" * 2000, 0, 1000)
    assert error_of(phone.send_part(sha256, content, 1000, 2000)) == (422, "picture-damaged")
    assert held(phone, sha256) == {"held": {}, "whole": []}
    assert phone.ask("GET", "/contents").json["photos"] == {"count": 0, "bytes": 0}
    assert phone.send_photo(sha256, content).json == {"held": 2000, "whole": True}


def test_a_photo_begun_with_another_size_is_begun_anew(phone: ServerPhone) -> None:
    sha256, content = a_photo(2000)
    phone.send_part(sha256, content + b"more", 0, 1000)
    refused = phone.send_part(sha256, content, 1000, 2000)
    assert (error_of(refused), refused.json["held"]) == ((409, "part-does-not-follow"), 0)
    assert phone.send_photo(sha256, content).json == {"held": 2000, "whole": True}
    # Once whole, no other size changes it.
    assert phone.send_part(sha256, content + b"more", 2000, 2004).json == {"held": 2000, "whole": True}


@pytest.mark.parametrize(
    "header",
    ["", "bytes", "bytes 0-999/*", "bytes */1000", "bytes 0-998/1000", "bytes 1-1000/1000", "bytes 9-1/1000",
     "bytes 0-999/10", "items 0-999/1000", "bytes 0-999/1000, 0-1/2", "bytes=0-999", "bytes -1-998/1000"],
)  # fmt: skip
def test_a_range_that_does_not_fit_its_body_is_refused(phone: ServerPhone, header: str) -> None:
    sha256, content = a_photo()
    answer = phone.ask("PUT", f"/pictures/{sha256}", data=content, headers={"Content-Range": header})
    assert error_of(answer) == (400, "bad-input")


@given(st.text(max_size=40) | st.from_regex(r"bytes \d+-\d+/\d+"), st.binary(max_size=20))
def test_any_header_gives_a_part_or_a_sentence(header: str, content: bytes) -> None:
    with suppress(BadInput):
        part = read_part(header, content)
        assert 0 < len(content) == part.end - part.start
        assert part.end <= part.total


@pytest.mark.parametrize("name", ["A" * 64, "a" * 63, "a" * 65, "..%2f" + "a" * 60])
def test_what_is_no_hash_is_no_photo(phone: ServerPhone, name: str) -> None:
    assert phone.ask("GET", f"/pictures/{name}").status_code == 404
    assert error_of(phone.ask("POST", "/pictures/held", json={"hashes": [name]})) == (400, "bad-input")


def test_photos_and_parts_over_the_limit_are_refused_with_the_limit(phone: ServerPhone) -> None:
    sha256, content = a_photo(5_000_001)
    refused = phone.send_part(sha256, content, 0, 1000)
    assert error_of(refused) == (413, "picture-too-large")
    assert "5,000,000" in refused.json["error"]["message"]
    assert error_of(phone.send_part(sha256, content, 0, LARGEST_PART + 1)) == (413, "picture-too-large")
    assert phone.send_part(sha256, content[:5_000_000], 0, LARGEST_PART).status_code == 200


def test_a_notebook_takes_so_many_photos_and_bytes_of_them(
    store: Database, make_app: Callable[..., Flask]
) -> None:
    phone = ServerPhone(make_app(store, photos=2, photo_bytes=2500)).opened()
    first, second = a_photo(), a_photo(1500)
    # The whole size counts from the first part on, so that no photo is stopped half-way.
    assert phone.send_part(*second, 0, 500).status_code == 200
    assert error_of(phone.send_photo(*a_photo(1001))) == (507, "notebook-full")
    assert phone.send_photo(*first).status_code == 200
    refused = phone.send_photo(*a_photo(1))
    assert error_of(refused) == (507, "notebook-full")
    assert "2 of 2 photos" in refused.json["error"]["message"]
    assert phone.send_part(*second, 500, 1500).json == {"held": 1500, "whole": True}


def a_photo_row(sha256: str, **other: object) -> dict[str, object]:
    """Give the value of an operation on a photo."""
    return {"set": "ab12", "sha256": sha256, "width": 1, "height": 1, "bytes": 1000, **other}


def test_a_removed_photo_is_kept_for_thirty_days_and_then_let_go(phone: ServerPhone, store: Database) -> None:
    gone, back, used = a_photo(), a_photo(), a_photo()
    for photo in (gone, back, used):
        phone.send_photo(*photo)
    rows = [
        an_operation(f"p{number}", a_photo_row(photo[0]), kind="photos")
        for number, photo in enumerate((gone, back, used, used))
    ]
    removals = [
        an_operation(row["record"], {**row["value"], "removed": True}, kind="photos", after=[row["id"]])
        for row in rows[:3]
    ]
    undone = an_operation("p1", rows[1]["value"], kind="photos", after=[removals[1]["id"]])
    # Before it is removed: the next second may have begun by the time the server answers.
    now = int(time.time())
    phone.send(*rows, *removals, undone)
    assert clear_removed(store, phone.key, now + 30 * DAY) == 0
    assert phone.ask("GET", f"/pictures/{gone[0]}").status_code == 200
    # Only once a day.
    assert clear_removed(store, phone.key, now + 31 * DAY - 100) == 0
    assert clear_removed(store, phone.key, now + 31 * DAY + 100) == 1
    assert phone.ask("POST", "/pictures/held", json={"hashes": [gone[0], back[0], used[0]]}).json[
        "whole"
    ] == sorted([back[0], used[0]])
    assert phone.ask("GET", "/contents").json["photos"] == {"count": 2, "bytes": 2000}


def test_a_removal_in_conflict_lets_go_of_nothing(phone: ServerPhone, store: Database) -> None:
    photo = a_photo()
    phone.send_photo(*photo)
    kept = an_operation("p1", a_photo_row(photo[0]), kind="photos")
    removed = an_operation("p1", a_photo_row(photo[0], removed=True), kind="photos")
    phone.send(kept, removed)
    assert clear_removed(store, phone.key, int(time.time()) + 40 * DAY) == 0
