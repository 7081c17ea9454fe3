"""Descriptions shared by a link: made, replaced, taken back for good, run out, and no other's to change."""

import hashlib
import sqlite3
import threading
from collections.abc import Callable
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import select, text, update

from tests.notebook.conftest import BOTH, rows_of
from tests.support.postgresql import Cluster
from tests.support.server_phone import ServerPhone, a_photo, an_operation
from tests.support.shares import a_body, a_share_document, a_token
from webapp.errors import BadInput, KeyUnknown, NoLongerShared, NotebookFull, NotKnown
from webapp.notebook import schema
from webapp.notebook.backup import write_backup
from webapp.notebook.clearing import clear_removed
from webapp.notebook.database import Database
from webapp.notebook.limits import LARGEST_SHARE, Limits
from webapp.notebook.migrating import opened
from webapp.notebook.restore import restore_backup
from webapp.notebook.share_form import Share, read_share
from webapp.notebook.shares import check_share, list_shares, put_share, shared, shared_picture, withdraw

Json = dict[str, Any]

TODAY = date(2026, 11, 26)
# The first and the last second of that day in UTC.
MORNING, NIGHT = 1_795_651_200, 1_795_651_200 + 86_399
LIMITS = Limits()


def a_share(*photos: str, **changes: Any) -> Share:
    """Give a share as it is read from a body."""
    return read_share(a_body(*photos, **changes), TODAY)


def put(
    store: Database, phone: ServerPhone, token: str, share: Share | None = None, now: int = MORNING
) -> bool:
    """Share something; gives whether the link is new."""
    return put_share(store, phone.key, token, share or a_share(), LIMITS, now)[0]


def test_a_description_is_shared_replaced_and_listed_by_its_hash(store: Database, phone: ServerPhone) -> None:
    token, other = a_token(), a_token()
    assert list_shares(store, phone.key) == []
    assert put(store, phone, token)
    assert shared(store, token, MORNING).document == a_share_document()
    changed = a_share(title="Tern B, dial cleaned", expires="2026-12-31", found=True)
    assert not put(store, phone, token, changed, NIGHT)
    put(store, phone, other, now=NIGHT)
    now = shared(store, token, NIGHT)
    assert now.document["title"] == "Tern B, dial cleaned"
    assert (now.expires, now.found) == ("2026-12-31", True)
    first, second = list_shares(store, phone.key)
    assert first == {
        "hash": hashlib.sha256(bytes.fromhex(token)).hexdigest(),
        "created": MORNING, "changed": NIGHT, "expires": "2026-12-31", "revoked": None, "found": True,
    }  # fmt: skip
    assert (second["created"], second["expires"], second["found"]) == (NIGHT, None, False)


def test_what_is_taken_back_is_gone_for_good_and_its_link_is_never_made_again(
    store: Database, phone: ServerPhone
) -> None:
    token = a_token()
    put(store, phone, token)
    for moment in (MORNING + 1, NIGHT):
        withdraw(store, phone.key, token, moment)
    with pytest.raises(NoLongerShared, match="The seller has withdrawn this description"):
        shared(store, token, NIGHT)
    with pytest.raises(NoLongerShared, match="withdrawn"):
        put(store, phone, token)
    with pytest.raises(NoLongerShared, match="withdrawn"):
        check_share(store, phone.key, token, NIGHT)
    [row] = list_shares(store, phone.key)
    assert row["revoked"] == MORNING + 1
    with store.read() as connection:
        left = connection.execute(select(schema.share).where(schema.share.c.hash == row["hash"])).one()
    assert left.document is None


def test_a_link_holds_through_the_end_of_its_last_day_and_may_be_prolonged(
    store: Database, phone: ServerPhone
) -> None:
    token, photo = a_token(), a_photo()
    put(store, phone, token, a_share(photo[0], expires="2026-11-26"))
    assert shared(store, token, NIGHT).expires == "2026-11-26"
    for refused in (
        lambda: shared(store, token, NIGHT + 1),
        lambda: shared_picture(store, token, photo[0], NIGHT + 1),
        lambda: check_share(store, phone.key, token, NIGHT + 1),
    ):
        with pytest.raises(NoLongerShared, match="until 26 November 2026, and that day is over"):
            refused()
    put(store, phone, token, a_share(expires="2026-11-27"), NIGHT + 1)
    assert shared(store, token, NIGHT + 1).expires == "2026-11-27"


def test_only_the_notebook_that_made_a_link_replaces_lists_or_takes_it_back(
    store: Database, phone: ServerPhone
) -> None:
    token, other = a_token(), ServerPhone(phone.app).opened()
    put(store, phone, token)
    for refused in (
        lambda: put(store, other, token, a_share(title="mine now")),
        lambda: withdraw(store, other.key, token, MORNING),
        lambda: check_share(store, other.key, token, MORNING),
    ):
        with pytest.raises(NotKnown, match="Nothing is shared by this link"):
            refused()
    for nobody in (lambda: put(store, ServerPhone(phone.app), token), lambda: list_shares(store, a_token())):
        with pytest.raises(KeyUnknown):
            nobody()
    assert list_shares(store, other.key) == []
    assert shared(store, token, MORNING).document == a_share_document()
    phone.ask("POST", "/key", json={"key": (new := a_token())})
    withdraw(store, new, token, MORNING)


@pytest.mark.parametrize(
    "token", ["", "0" * 31, "0" * 33, "A" * 32, "0" * 31 + "g", "٠" * 32, "0" * 32 + "\n"]
)
def test_what_is_no_token_is_shared_by_nobody(store: Database, phone: ServerPhone, token: str) -> None:
    for refused in (
        lambda: shared(store, token, MORNING),
        lambda: put(store, phone, token),
        lambda: withdraw(store, phone.key, token, MORNING),
    ):
        with pytest.raises(NotKnown):
            refused()


def test_a_description_shows_its_own_photos_that_the_server_holds_and_no_others(
    store: Database, phone: ServerPhone
) -> None:
    shown, broken_off, elsewhere, unlisted = a_photo(), a_photo(), a_photo(), a_photo()
    token, other = a_token(), ServerPhone(phone.app).opened()
    for photo in (shown, unlisted):
        phone.send_photo(*photo)
    phone.send_part(*broken_off, 0, 500)
    other.send_photo(*elsewhere)
    put(store, phone, token, a_share(shown[0], broken_off[0], elsewhere[0], "0" * 64))
    assert shared(store, token, MORNING).document["photos"] == [{"sha256": shown[0], "about": ""}]
    assert shared_picture(store, token, shown[0], MORNING) == (shown[1], False)
    for photo in (broken_off, elsewhere, unlisted, ("0" * 64, b""), ("../x", b"")):
        with pytest.raises(NotKnown):
            shared_picture(store, token, photo[0], MORNING)
    phone.send_part(*broken_off, 500, 1000)
    assert len(shared(store, token, MORNING).document["photos"]) == 2


def test_a_photo_let_go_of_long_after_its_removal_leaves_the_page(
    store: Database, phone: ServerPhone
) -> None:
    photo, token = a_photo(), a_token()
    phone.send_photo(*photo)
    put(store, phone, token, a_share(photo[0]))
    phone.send(an_operation("p1", {"set": "ab12", "sha256": photo[0], "removed": True}, kind="photos"))
    assert len(shared(store, token, NIGHT).document["photos"]) == 1
    assert clear_removed(store, phone.key, 4_000_000_000) == 1
    assert shared(store, token, NIGHT).document["photos"] == []


def test_a_deleted_notebook_shares_nothing(store: Database, phone: ServerPhone) -> None:
    tokens = a_token(), a_token()
    for token in tokens:
        put(store, phone, token)
    withdraw(store, phone.key, tokens[1], MORNING)
    phone.ask("DELETE")
    for token in tokens:
        with pytest.raises(NotKnown):
            shared(store, token, MORNING)


def test_so_many_descriptions_are_shared_at_a_time_and_so_many_links_ever(
    store: Database, phone: ServerPhone
) -> None:
    tokens, most = [a_token() for _ in range(4)], Limits(shares=2, links=3)

    def share(token: str) -> None:
        put_share(store, phone.key, token, a_share(), most, MORNING)

    share(tokens[0])
    share(tokens[1])
    with pytest.raises(NotebookFull, match=r"2 of 2 descriptions shared by a link.* Withdraw one"):
        share(tokens[2])
    # What is there already is replaced all the same.
    share(tokens[1])
    withdraw(store, phone.key, tokens[0], MORNING)
    share(tokens[2])
    withdraw(store, phone.key, tokens[1], MORNING)
    with pytest.raises(NotebookFull, match="3 of 3 links, withdrawn ones counted"):
        share(tokens[3])


def test_the_token_of_a_link_is_nowhere_in_the_file(
    make_store: Callable[[str], Database], make_app: Callable[..., Flask]
) -> None:
    store, token = make_store("sqlite"), a_token()
    phone = ServerPhone(make_app(store)).opened()
    put(store, phone, token)
    with store.unguarded() as connection:
        connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
    assert store.file
    written = store.file.read_bytes()
    assert hashlib.sha256(bytes.fromhex(token)).hexdigest().encode() in written
    for clear in (token.encode(), bytes.fromhex(token)):
        assert clear not in written


@pytest.mark.parametrize("kind", BOTH)
def test_a_backup_carries_the_links_and_a_withdrawal_outlives_the_restore(
    make_store: Callable[[str], Database], make_app: Callable[..., Flask], tmp_path: Path, kind: str
) -> None:
    first = make_store(kind)
    phone, tokens = ServerPhone(make_app(first)).opened(), [a_token() for _ in range(3)]
    for token in tokens:
        put(first, phone, token, a_share(expires="2026-12-31"))
    withdraw(first, phone.key, tokens[0], MORNING)
    before, file = rows_of(first)["share"], tmp_path / "backup.sqlite3"
    write_backup(first, file)
    put(first, phone, tokens[2], a_share(title="later"))
    restore_backup(first, file, tmp_path)
    assert rows_of(first)["share"] == before
    assert shared(first, tokens[2], MORNING).document["title"] == "Tern B from the barn"
    withdraw(first, phone.key, tokens[1], NIGHT)
    restore_backup(first, file, tmp_path)
    with pytest.raises(NoLongerShared):
        shared(first, tokens[1], NIGHT)
    assert [row["revoked"] for row in list_shares(first, phone.key)].count(None) == 1
    assert shared(first, tokens[2], MORNING).expires == "2026-12-31"


@pytest.mark.parametrize("kind", BOTH)
def test_a_backup_from_before_links_is_put_back_still(
    make_store: Callable[[str], Database], make_app: Callable[..., Flask], tmp_path: Path, kind: str
) -> None:
    first, second = make_store("sqlite"), make_store(kind)
    phone, kept, file = ServerPhone(make_app(first)).opened(), an_operation(), tmp_path / "older.sqlite3"
    phone.send(kept)
    write_backup(first, file)
    with closing(sqlite3.connect(file)) as older:
        older.executescript(
            "DROP TABLE share; DELETE FROM backup WHERE name = 'share'; UPDATE backup SET form = 1"
        )
    there = ServerPhone(make_app(second), phone.key)
    put(second, ServerPhone(make_app(second)).opened(), a_token())
    restore_backup(second, file, tmp_path)
    assert there.listed() == [kept]
    assert rows_of(second)["share"] == []
    put(second, there, a_token())


DEEP: list[Any] = []
for _ in range(98):
    DEEP = [DEEP]

FAULTS: dict[str, tuple[Json, str]] = {
    "no document": ({"document": None}, '"document" is not as expected'),
    "another form": ({"form": 2}, '"document.form"'),
    "an unknown key": ({"more": 1}, '"document.more"'),
    "a title too long": ({"title": "x" * 201}, "The title is longer than 200 letters"),
    "a title in two lines": ({"title": "a\nb"}, "title holds signs"),
    "words too long": ({"words": "x" * 4001}, "Your own words are longer than 4,000 letters"),
    "words that bell": ({"words": "\a"}, "words hold signs"),
    "61 photos": ({"photos": [{"sha256": "0" * 64, "about": ""}] * 61}, "at most 60 photos"),
    "no hash": ({"photos": [{"sha256": "x", "about": ""}]}, '"document.photos.0.sha256"'),
    "about no check": ({"photos": [{"sha256": "0" * 64, "about": "<b>"}]}, '"document.photos.0.about"'),
    "a spot nowhere": ({"spots": [None, {"x_mm": 1e9, "y_mm": 0}]}, '"document.spots.1'),
    "no family": ({"findings": {}}, 'name no "family"'),
    "his own bid": ({"findings": {"family": "x", "asking": 90}}, '"asking", which is yours alone'),
    "his own hour": ({"findings": {"family": "x", "hour_rate": 9}}, '"hour_rate"'),
    "sales without a range": ({"findings": {"family": "x", "comparables": [{}]}}, "with a price range only"),
    "an own sheet missing": ({"findings": {"family": "x", "model_sheet": "own-1"}}, "is missing"),
    "an own sheet too many": ({"own_sheet": {}}, "do not name"),
    "a price not to be told": ({"price": "none"}, "is to tell none"),
    "an endless price": ({"asked": {"amount": 1e13, "currency": "USD"}}, '"document.asked.amount"'),
    "no currency": ({"asked": {"amount": 1, "currency": "usd"}}, '"document.asked.currency"'),
    "no day": ({"written": "2026-02-30"}, '"written" is 2026-02-30, which is no day'),
    "a moment": ({"written": "2026-02-20T10:00"}, '"document.written"'),
    "days turned round": ({"looked": ["2026-11-25", "2026-11-20"]}, "comes after the last"),
    "a day that is over": ({"expires": "2026-11-25"}, r"\(UTC\) it is 2026-11-26 already"),
    "half a letter": ({"findings": {"family": "x\ud800"}}, "cannot be shown"),
    "a number that is none": ({"findings": {"family": "x", "region": float("inf")}}, "cannot be shown"),
    "too large": ({"findings": {"family": "x", "holes": ["x" * LARGEST_SHARE]}}, "larger than 200,000 bytes"),
    "too deep": ({"findings": {"family": "x", "holes": DEEP}}, "too deep"),
}


@pytest.mark.parametrize(("changes", "words"), FAULTS.values(), ids=FAULTS)
def test_a_fault_of_a_description_is_one_sentence(changes: Json, words: str) -> None:
    body = {"document": None} if "document" in changes else a_body(**changes)
    with pytest.raises(BadInput, match=words) as refusal:
        read_share(body, TODAY)
    assert refusal.value.hint.endswith(".")
    assert refusal.value.message.count(". ") == 0


def test_the_largest_description_is_taken() -> None:
    filler = "é" * 100_000
    left = LARGEST_SHARE - len(a_share(own_sheet=None, findings={"family": ""}).text.encode())
    share = a_share(findings={"family": filler[: left // 2]})
    assert LARGEST_SHARE - 2 < len(share.text.encode()) <= LARGEST_SHARE


def test_of_two_notebooks_that_draw_one_token_the_quicker_has_it(
    cluster: Cluster, make_app: Callable[..., Flask], tmp_path: Path
) -> None:
    store, token, said = opened(tmp_path, cluster.database()), a_token(), []
    quicker, slower = (ServerPhone(make_app(store)).opened() for _ in range(2))

    def share() -> None:
        with pytest.raises(NotKnown) as refusal:
            put(store, slower, token)
        said.append(refusal.value.message)

    late = threading.Thread(target=share)
    put(store, quicker, a_token())
    with store.write() as connection:
        # The late one finds no such row yet, and waits for what becomes of it.
        link = hashlib.sha256(bytes.fromhex(token)).hexdigest()
        connection.execute(update(schema.share).values(hash=link))
        late.start()
        while not connection.scalar(text("SELECT count(*) FROM pg_locks WHERE NOT granted")):
            pass
    late.join()
    assert said == ["Nothing is shared by this link."]
    assert shared(store, token, MORNING).document == a_share_document()
    store.engine.dispose()
