"""Who may open what: keys, their replacement, deletion, and other people's notebooks."""

import logging
import secrets
from collections.abc import Callable
from pathlib import Path

import pytest
import segno
from flask import Flask
from pyzbar.pyzbar import decode
from sqlalchemy import select

from tests.support.server_phone import ServerPhone, a_photo, an_operation, error_of
from tests.support.shares import a_body, a_token
from webapp.notebook import schema
from webapp.notebook.database import Database

ROUTES = [
    ("DELETE", ""),
    ("POST", "/exchange"),
    ("GET", "/contents"),
    ("POST", "/pictures/held"),
    ("PUT", f"/pictures/{'a' * 64}"),
    ("GET", f"/pictures/{'a' * 64}"),
    ("POST", "/key"),
    ("POST", "/key/code"),
]
BODIES = {
    "/exchange": {"generation": None, "since": 0, "operations": []},
    "/pictures/held": {"hashes": []},
    "/key": {"key": "0" * 32},
    "/key/code": {"address": "https://radio.example"},
}


def ask(phone: ServerPhone, method: str, path: str) -> tuple[int, str]:
    """Give status and code of a refused request that is well-formed but for its key."""
    if method == "PUT":
        headers = {"Content-Range": "bytes 0-2/3"}
        return error_of(phone.ask(method, path, data=b"abc", headers=headers))
    return error_of(phone.ask(method, path, json=BODIES.get(path)))


def test_every_route_of_the_notebook_is_tried_here(phone: ServerPhone) -> None:
    rules = [rule for rule in phone.app.url_map.iter_rules() if rule.endpoint.startswith("notebook.")]
    known = {
        (method, rule.rule.removeprefix("/notebook").replace("<sha256>", "a" * 64))
        for rule in rules
        for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}
    }
    assert known == {*ROUTES, ("PUT", "")}


def test_a_key_makes_one_notebook_and_opens_it_again(phone: ServerPhone) -> None:
    fresh = ServerPhone(phone.app)
    first, second = fresh.open(), fresh.open()
    assert (first.status_code, second.status_code) == (201, 200)
    assert (first.json["created"], second.json["created"]) == (True, False)
    assert first.json["generation"] == second.json["generation"]
    assert "Set-Cookie" not in first.headers
    assert first.headers["Cache-Control"] == "no-store"


@pytest.mark.parametrize(("method", "path"), ROUTES)
def test_an_unknown_key_opens_nothing(phone: ServerPhone, method: str, path: str) -> None:
    assert ask(ServerPhone(phone.app), method, path) == (401, "key-unknown")


@pytest.mark.parametrize(("method", "path"), [*ROUTES, ("PUT", "")])
def test_a_replaced_key_opens_nothing_and_says_so(phone: ServerPhone, method: str, path: str) -> None:
    old, new = ServerPhone(phone.app).opened(), ServerPhone(phone.app)
    assert old.ask("POST", "/key", json={"key": new.key}).status_code == 200
    assert ask(old, method, path) == (401, "key-replaced")
    assert new.open().status_code == 200


@pytest.mark.parametrize(
    "said", ["", "Bearer", "Bearer ", "Basic YTpi", "Bearer x", "Bearer {upper}", "{key}"]
)
def test_what_is_no_key_makes_and_opens_nothing(phone: ServerPhone, said: str) -> None:
    header = {"Authorization": said.format(upper=phone.key.upper() + "F", key=phone.key)}
    for method, path in (("PUT", ""), ("GET", "/contents")):
        answer = phone.ask(method, path, headers=header)
        assert error_of(answer) == (401, "key-unknown")
        assert answer.headers["WWW-Authenticate"] == "Bearer"


def test_the_new_key_opens_what_the_old_one_opened(phone: ServerPhone) -> None:
    old, new = ServerPhone(phone.app).opened(), ServerPhone(phone.app)
    sent = an_operation()
    before = old.send(sent).json
    old.ask("POST", "/key", json={"key": new.key})
    after = new.send().json
    assert after["operations"] == [sent]
    # Its place in the notebook holds, so nothing is sent again.
    assert new.send(since=before["cursor"], generation=before["generation"]).json["operations"] == []


def test_a_key_in_use_takes_no_other_notebooks_place(phone: ServerPhone) -> None:
    taken = ServerPhone(phone.app).opened()
    taken.send(an_operation())
    assert error_of(phone.ask("POST", "/key", json={"key": taken.key})) == (409, "key-in-use")
    assert error_of(phone.ask("POST", "/key", json={"key": phone.key})) == (409, "key-in-use")
    assert error_of(phone.ask("POST", "/key", json={"key": "short"})) == (400, "bad-input")
    assert phone.open().status_code == 200
    assert len(taken.listed()) == 1


def test_the_database_holds_no_key(phone: ServerPhone, store: Database) -> None:
    with store.read() as connection:
        hashes = set(connection.scalars(select(schema.notebook_key.c.hash)))
    assert hashes
    assert phone.key not in hashes


def test_no_other_notebooks_data_is_ever_given(phone: ServerPhone) -> None:
    mine, sent, photo = ServerPhone(phone.app).opened(), an_operation("ab12", {"family": "x"}), a_photo()
    phone.send(sent, an_operation("ab12/title", "their secret"))
    phone.send_photo(*photo)
    assert mine.listed() == []
    contents = mine.ask("GET", "/contents").json
    assert (contents["sets"], contents["operations"], contents["bytes"]) == ([], 0, 0)
    assert contents["photos"] == {"count": 0, "bytes": 0}
    # Knowing the hash of a photo is no right to it.
    assert mine.ask("POST", "/pictures/held", json={"hashes": [photo[0]]}).json == {"held": {}, "whole": []}
    assert error_of(mine.ask("GET", f"/pictures/{photo[0]}")) == (404, "not-known")
    assert error_of(mine.send_part(*photo, 500, 1000)) == (409, "part-does-not-follow")
    # The same operation and photo may be in both, each with its own.
    assert mine.send(sent).json["refused"] == []
    assert mine.send_photo(*photo).json == {"held": 1000, "whole": True}
    mine.ask("DELETE")
    assert len(phone.listed()) == 2
    assert phone.ask("GET", f"/pictures/{photo[0]}").data == photo[1]


def test_deletion_leaves_nothing_and_frees_the_key(phone: ServerPhone, store: Database) -> None:
    gone, photo = ServerPhone(phone.app).opened(), a_photo()
    gone.send(an_operation())
    gone.send_photo(*photo)
    gone.ask("PUT", f"/shares/{a_token()}", json=a_body())
    newer = ServerPhone(phone.app)
    gone.ask("POST", "/key", json={"key": newer.key})
    before = counts(store)
    answer = newer.ask("DELETE")
    assert (answer.status_code, answer.data, answer.headers["Cache-Control"]) == (204, b"", "no-store")
    after = counts(store)
    assert {table: count - after[table] for table, count in before.items()} == {
        "server": 0, "notebook": 1, "notebook_key": 2, "operation": 1, "picture": 1, "picture_part": 1,
        "set_overview": 1, "photo_overview": 0, "share": 1,
    }  # fmt: skip
    assert ask(newer, "GET", "/contents") == (401, "key-unknown")
    assert ask(gone, "GET", "/contents") == (401, "key-unknown")
    assert gone.open().status_code == newer.open().status_code == 201
    assert newer.listed() == []


def counts(store: Database) -> dict[str, int]:
    """Give the number of rows of every table."""
    with store.read() as connection:
        tables = schema.tables.sorted_tables
        return {table.name: len(connection.execute(select(table)).all()) for table in tables}


def test_the_pairing_symbol_holds_address_and_key(phone: ServerPhone, tmp_path: Path) -> None:
    answer = phone.ask("POST", "/key/code", json={"address": "https://radio.example:8443"})
    assert (answer.status_code, answer.mimetype) == (200, "image/svg+xml")
    expected = segno.make(f"https://radio.example:8443/#/join/{phone.key}", error="m", micro=False)
    assert expected.svg_inline(scale=4).partition("<path")[2] in answer.text
    expected.save(tmp_path / "code.png", scale=6)
    from PIL import Image

    with Image.open(tmp_path / "code.png") as drawn:
        [found] = decode(drawn)
    assert found.data.decode() == f"https://radio.example:8443/#/join/{phone.key}"


@pytest.mark.parametrize(
    "address", ["", "radio.example", "javascript:alert(1)", "https://a/b", "https://a b", 5]
)
def test_a_pairing_symbol_is_drawn_for_an_address_only(phone: ServerPhone, address: object) -> None:
    assert error_of(phone.ask("POST", "/key/code", json={"address": address})) == (400, "bad-input")


def test_who_tries_keys_is_slowed_down_and_told_when_to_come_again(
    store: Database, make_app: Callable[..., Flask]
) -> None:
    app = make_app(store)
    known = ServerPhone(app).opened()
    for _ in range(30):
        assert ask(ServerPhone(app), "GET", "/contents") == (401, "key-unknown")
    refused = ServerPhone(app).ask("GET", "/contents")
    assert error_of(refused) == (429, "too-many-requests")
    assert 1 <= int(refused.headers["Retry-After"]) <= 60
    # Another address is another visitor.
    elsewhere = {"environ_base": {"REMOTE_ADDR": "192.0.2.7"}}
    assert known.ask("GET", "/contents", **elsewhere).status_code == 200


def test_known_keys_are_never_counted(store: Database, make_app: Callable[..., Flask]) -> None:
    phone = ServerPhone(make_app(store)).opened()
    assert {phone.ask("GET", "/contents").status_code for _ in range(80)} == {200}


def test_one_address_makes_twenty_notebooks_an_hour(store: Database, make_app: Callable[..., Flask]) -> None:
    app = make_app(store)
    home = {"environ_base": {"REMOTE_ADDR": "2001:db8:1:2::1"}}
    made = [ServerPhone(app) for _ in range(20)]
    assert {phone.ask("PUT", **home).status_code for phone in made} == {201}
    # A household's IPv6 addresses are counted as one.
    neighbour = {"environ_base": {"REMOTE_ADDR": "2001:db8:1:2::ffff"}}
    refused = ServerPhone(app).ask("PUT", **neighbour)
    assert error_of(refused) == (429, "too-many-requests")
    assert 60 < int(refused.headers["Retry-After"]) <= 3600
    assert ServerPhone(app).ask("PUT", environ_base={"REMOTE_ADDR": "2001:db8:1:3::1"}).status_code == 201


def test_no_line_of_the_log_holds_a_key_or_what_was_entered(
    store: Database,
    make_app: Callable[..., Flask],
    caplog: pytest.LogCaptureFixture,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    caplog.set_level(logging.DEBUG)
    phone, words = ServerPhone(make_app(store)).opened(), secrets.token_hex(8)
    phone.app.config["PROPAGATE_EXCEPTIONS"] = False
    phone.send(an_operation(value=words))
    phone.send(an_operation(value=words, time=0))
    # A bug, met where the words are at hand.
    monkeypatch.setitem(phone.app.config, "NOTEBOOK_LIMITS", None)
    assert error_of(phone.send(an_operation(value=words))) == (500, "internal-server-error")
    assert "reference" in caplog.text
    assert phone.key not in caplog.text
    assert words not in caplog.text
