"""Operations stored once, listed whole, refused one by one."""

import json
from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask

from tests.support.server_phone import ServerPhone, an_operation, error_of
from webapp.notebook.database import Database


def test_what_one_phone_stores_another_with_the_key_is_given(phone: ServerPhone) -> None:
    sent = [an_operation(value=value) for value in ("gone", None, 2.5, {"b": 1, "a": [True, "é𝄞\ud83d"]})]
    answer = phone.send(*sent)
    assert answer.status_code == 200
    assert (answer.json["refused"], answer.json["operations"]) == ([], [])
    assert (answer.json["cursor"], answer.json["more"]) == (4, False)
    other = ServerPhone(phone.app, phone.key)
    assert other.listed() == sent


def test_an_exchange_leaves_out_its_own_and_gives_what_came_between(phone: ServerPhone) -> None:
    first, between, own = an_operation(), an_operation(), an_operation()
    place = phone.send(first).json
    ServerPhone(phone.app, phone.key).send(between)
    answer = phone.send(own, since=place["cursor"], generation=place["generation"]).json
    assert (answer["operations"], answer["cursor"]) == ([between], 3)


def test_the_server_answered_500_although_it_had_stored_and_the_same_sent_again_is_one(
    phone: ServerPhone,
) -> None:
    sent = [an_operation(), an_operation()]
    phone.send(*sent)
    again = phone.send(*[dict(reversed(list(one.items()))) for one in sent])
    assert (again.json["refused"], again.json["operations"], again.json["cursor"]) == ([], [], 2)
    assert phone.listed() == sent
    assert phone.send(sent[0], sent[0]).json["refused"] == []
    assert phone.ask("GET", "/contents").json["operations"] == 2


def test_an_id_with_other_contents_is_refused_and_the_first_stays(phone: ServerPhone) -> None:
    first = an_operation(value="cracked")
    phone.send(first)
    for changed in ({**first, "value": "gone"}, {**first, "value": True}, {**first, "time": 5}):
        [refused] = phone.send(changed).json["refused"]
        assert (refused["id"], refused["code"]) == (first["id"], "operation-differs")
        assert refused["message"]
        assert refused["hint"]
    assert phone.listed() == [first]
    twins = an_operation(value=1), an_operation(value=True)
    [refused] = phone.send(twins[0], {**twins[1], "id": twins[0]["id"]}).json["refused"]
    assert refused["code"] == "operation-differs"
    assert phone.listed() == [first, twins[0]]


MALFORMED: list[tuple[str, Any]] = [
    ("no operation", 7),
    ("no operation", None),
    ("id", {"id": "ABCDEF0123456789ABCDEF01"}),
    ("id", {"id": "0123456789abcdef01234567\n"}),
    ("device", {"device": "phone"}),
    ("by", {"by": "x" * 61}),
    ("time", {"time": 0}),
    ("time", {"time": 1.5}),
    ("time", {"time": True}),
    ("time", {"time": 9_000_000_000_000_001}),
    ("at", {"at": "yesterday"}),
    ("kind", {"kind": "radios"}),
    ("record", {"record": ""}),
    ("record", {"record": "x/" + "y" * 199}),
    ("record", {"record": "a\0/b"}),
    ("record", {"record": "no-set", "kind": "findings"}),
    ("record", {"record": "/key", "kind": "findings"}),
    ("record", {"record": "half\ud83d/x"}),
    ("after", {"after": ["0123456789abcdef01234567"] * 51}),
    ("after.0", {"after": ["x"]}),
    ("more", {"more": 1}),
]


@pytest.mark.parametrize(("where", "change"), MALFORMED)
def test_a_bad_operation_is_refused_on_its_own_and_the_rest_is_stored(
    phone: ServerPhone, where: str, change: Any
) -> None:
    good, last = an_operation(), an_operation()
    bad = {**an_operation(), **change} if isinstance(change, dict) else change
    answer = phone.send(good, bad, last)
    [refused] = answer.json["refused"]
    assert refused["code"] == "operation-malformed"
    assert where in refused["message"]
    assert phone.listed() == [good, last]


@pytest.mark.parametrize("missing", ["id", "device", "by", "time", "at", "kind", "record", "after", "value"])
def test_an_operation_without_one_of_its_keys_is_refused(phone: ServerPhone, missing: str) -> None:
    operation = an_operation()
    del operation[missing]
    [refused] = phone.send(operation).json["refused"]
    assert f'"{missing}"' in refused["message"]


def test_values_no_reader_could_read_again_are_refused(phone: ServerPhone) -> None:
    deep: Any = 1
    for _ in range(150):
        deep = [deep]
    many = [[1]] * 500
    refused = phone.send(an_operation(value=deep), an_operation(value=many)).json["refused"]
    assert [entry["code"] for entry in refused] == ["operation-malformed"]
    text = json.dumps({"generation": None, "since": 0, "operations": [an_operation(value="HERE")]})
    infinite = phone.ask("POST", "/exchange", data=text.replace('"HERE"', "1e400"))
    assert [entry["code"] for entry in infinite.json["refused"]] == ["operation-malformed"]


def test_a_finding_may_have_100_000_bytes_and_no_more(phone: ServerPhone) -> None:
    spare = 100_000 - len(json.dumps(an_operation(value=""), separators=(",", ":")))
    assert phone.send(an_operation(value="x" * (spare - 10))).json["refused"] == []
    [refused] = phone.send(an_operation(value="x" * (spare + 10))).json["refused"]
    assert refused["code"] == "operation-too-large"
    assert "100,000" in refused["message"]


def test_long_lists_are_given_in_pages_of_a_thousand(phone: ServerPhone) -> None:
    sent = [an_operation() for _ in range(2300)]
    for start in range(0, len(sent), 500):
        assert phone.send(*sent[start : start + 500], since=start).json["refused"] == []
    first = phone.send().json
    assert (len(first["operations"]), first["cursor"], first["more"]) == (1000, 1000, True)
    # A phone's own operations among the page cost it no other's.
    mixed = phone.send(*sent[:10]).json
    assert mixed["operations"] == sent[10:1001]
    assert (mixed["cursor"], mixed["more"]) == (1001, True)
    assert phone.listed() == sent


def test_large_findings_are_given_in_smaller_pages(phone: ServerPhone) -> None:
    sent = [an_operation(value="x" * 90_000) for _ in range(60)]
    assert phone.send(*sent).json["refused"] == []
    first = phone.send().json
    assert first["more"]
    assert len(first["operations"]) < 60
    assert phone.listed() == sent


def test_a_place_counted_elsewhere_is_refused_and_nothing_stored(phone: ServerPhone) -> None:
    known = phone.send(an_operation()).json["generation"]
    refused = phone.send(an_operation(), since=1, generation="elsewhere")
    assert error_of(refused) == (409, "other-generation")
    assert refused.json["generation"] == known
    assert error_of(phone.send(an_operation(), since=2, generation=known)) == (409, "other-generation")
    assert len(phone.listed()) == 1


def test_a_notebook_deleted_and_made_anew_is_another_generation(phone: ServerPhone) -> None:
    before = phone.send(an_operation(), an_operation()).json
    assert phone.ask("DELETE").status_code == 204
    phone.opened().send(an_operation(), an_operation(), an_operation())
    refused = phone.send(since=before["cursor"], generation=before["generation"])
    assert error_of(refused) == (409, "other-generation")


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"{",
        b"\xff",
        b"[]",
        b"null",
        b'{"generation": null, "since": 0}',
        b'{"generation": null, "since": -1, "operations": []}',
        b'{"generation": null, "since": 1e3, "operations": []}',
        b'{"generation": 3, "since": 0, "operations": []}',
        b'{"generation": null, "since": 0, "operations": {}}',
        b'{"generation": null, "since": 0, "operations": [NaN]}',
        b'{"generation": null, "since": 0, "operations": [], "more": 1}',
        b'{"generation": null, "since": %s, "operations": []}' % (b"9" * 5000),
        b"[" * 100_000,
        json.dumps({"generation": None, "since": 0, "operations": [1] * 501}).encode(),
    ],
)
def test_a_body_of_another_form_is_refused_in_words(phone: ServerPhone, body: bytes) -> None:
    assert error_of(phone.ask("POST", "/exchange", data=body)) == (400, "bad-input")


def test_a_body_over_the_limit_is_refused_before_it_is_read(phone: ServerPhone) -> None:
    assert error_of(phone.ask("POST", "/exchange", data=b" " * 8_000_001)) == (413, "bad-input")


def test_over_a_limit_nothing_of_the_batch_is_stored_and_what_is_there_is_still_given(
    store: Database, make_app: Callable[..., Flask]
) -> None:
    phone = ServerPhone(make_app(store, operations=3)).opened()
    sent = [an_operation() for _ in range(3)]
    phone.send(*sent[:2])
    refused = phone.send(an_operation(), an_operation())
    assert error_of(refused) == (507, "notebook-full")
    assert "holds 2 of 3 operations" in refused.json["error"]["message"]
    assert phone.send(sent[2]).status_code == 200
    assert phone.send(*sent).status_code == 200
    assert phone.listed() == sent


def test_the_bytes_of_findings_are_limited_too(store: Database, make_app: Callable[..., Flask]) -> None:
    phone = ServerPhone(make_app(store, bytes=1000)).opened()
    assert phone.send(an_operation(value="x" * 400)).status_code == 200
    assert error_of(phone.send(an_operation(value="x" * 400))) == (507, "notebook-full")
    assert phone.ask("GET", "/contents").json["bytes"] < 1000
