"""Whatever is sent to the notebook's routes is answered with a sentence, and never breaks anything."""

import json
import zlib
from collections.abc import Iterator
from typing import Any

import pytest
from flask.testing import FlaskClient
from hypothesis import given
from hypothesis import strategies as st

from tests.support.examples import examples
from tests.support.server_phone import ServerPhone, an_operation
from webapp.app import create_app
from webapp.paths import rules_folder
from webapp.rulebook.tables import load
from webapp.site import Site

PATHS = ["", "/", "/exchange", "/contents", "/pictures/held", f"/pictures/{'a' * 64}", "/pictures/x", "/key",
         "/key/code", "/shares", f"/shares/{'a' * 32}", f"/shares/{'a' * 32}/tag", "/shares/x",
         "/nowhere"]  # fmt: skip
TEXTS = st.text(st.characters(exclude_categories=()), max_size=30)
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | TEXTS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXTS, inner, max_size=3),
    max_leaves=6,
)
NAMES = st.sampled_from(
    ["generation", "since", "operations", "hashes", "key", "address", "document", "expires", "found", "more"]
)
BODIES = (
    st.binary(max_size=60)
    | VALUES.map(lambda value: json.dumps(value).encode())
    | st.dictionaries(NAMES, VALUES, max_size=4).map(lambda value: json.dumps(value).encode())
)


@pytest.fixture(scope="module")
def phone(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServerPhone]:
    """A phone that has opened a notebook in the real app."""
    data = tmp_path_factory.mktemp("data")
    app = create_app(load(rules_folder()), data, Site("none", data, None))
    yield ServerPhone(app).opened()
    app.config["NOTEBOOKS"].engine.dispose()


def client_of(phone: ServerPhone) -> FlaskClient:
    """Give a client without the phone's key."""
    return phone.app.test_client(use_cookies=False)


def check(answer: Any) -> None:
    """Assert that an answer is a success, or a refusal of the one shape; never a bug."""
    assert answer.status_code < 500, answer.text
    assert answer.headers["Cache-Control"] == "no-store"
    assert "Set-Cookie" not in answer.headers
    if answer.status_code >= 400:
        assert set(answer.json["error"]) == {"code", "message", "hint"}


@examples(300)
@given(
    st.sampled_from(["GET", "PUT", "POST", "DELETE", "PATCH", "HEAD"]),
    st.sampled_from(PATHS[1:]),
    BODIES,
    st.text(st.characters(min_codepoint=32, max_codepoint=255), max_size=30) | st.just("bytes 0-9/20"),
    st.sampled_from(["application/json", "text/html", "multipart/form-data", ""]),
)
def test_any_request_with_the_key_is_answered(
    phone: ServerPhone, method: str, path: str, body: bytes, content_range: str, kind: str
) -> None:
    headers = {"Content-Range": content_range}
    answer = phone.ask(method, path, data=body, headers=headers, content_type=kind)
    if method != "HEAD":
        check(answer)


@examples(100)
@given(st.text(st.characters(min_codepoint=32, max_codepoint=255), max_size=60), st.sampled_from(PATHS))
def test_any_key_is_answered(phone: ServerPhone, said: str, path: str) -> None:
    # Each from an address of its own, so that the count of unknown keys does not hide what is behind it.
    number = zlib.crc32(f"{said} {path}".encode())
    home = {"REMOTE_ADDR": f"2001:db8:{number >> 16:x}:{number & 65535:x}::1"}
    for header in (said, f"Bearer {said}"):
        answer = client_of(phone).get(
            f"/notebook{path}", headers={"Authorization": header}, environ_base=home
        )
        check(answer)
        assert answer.status_code in (401, 404, 405, 429)


@examples(300)
@given(
    st.dictionaries(
        st.sampled_from(["id", "device", "by", "time", "at", "kind", "record", "after", "value", "more"]),
        VALUES | st.sampled_from(["sets", "photos", "ab12", "ab12/title", "2026-11-26T20:30:00Z"]),
        max_size=3,
    )
)
def test_an_operation_with_anything_in_it_is_stored_or_refused_by_name(
    phone: ServerPhone, changes: dict[str, Any]
) -> None:
    operation, good = an_operation() | changes, an_operation()
    body = json.dumps({"generation": None, "since": 2**40, "operations": [operation, good]})
    answer = phone.ask("POST", "/exchange", data=body)
    if answer.status_code == 400:
        # NaN and its kin are no JSON at all.
        assert "NaN" in body or "Infinity" in body
        return
    check(answer)
    assert answer.status_code == 200
    assert [entry["id"] for entry in answer.json["refused"]] in ([], [_named(operation)])
    check(phone.ask("GET", "/contents"))


def _named(operation: dict[str, Any]) -> str:
    return operation["id"][:60] if isinstance(operation["id"], str) else ""


@examples(150)
@given(VALUES, st.sampled_from(["sets", "photos", "findings", "sales", "sheets"]))
def test_a_value_comes_back_as_it_was_written(phone: ServerPhone, value: Any, kind: str) -> None:
    text = json.dumps(value)
    if "NaN" in text or "Infinity" in text:
        return
    operation = an_operation("ab12/title" if kind == "findings" else "ab12", value, kind=kind)
    other = ServerPhone(phone.app, phone.key)
    assert phone.send(operation).json["refused"] == []
    [found] = [one for one in other.listed() if one["id"] == operation["id"]]
    assert found == json.loads(json.dumps(operation))
    check(other.ask("GET", "/contents"))
