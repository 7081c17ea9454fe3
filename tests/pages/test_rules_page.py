"""The rules without JavaScript: the same rows on pages of the server, searched and counted."""

import re
from collections.abc import Iterator
from html import unescape

import pytest
from flask.testing import FlaskClient

from tests.support.packs import FAMILY, pack_for, shipped
from webapp.app import create_app, documents
from webapp.pages.rule_tables import counted, found, in_groups, merged
from webapp.paths import static_folder
from webapp.rulebook.counts import rows_by_basis
from webapp.site import build


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FlaskClient]:
    """A browser before the real app."""
    data = tmp_path_factory.mktemp("data")
    app = create_app(shipped(), data, build(static_folder(), documents(shipped()), data, demo=False))
    with app.test_client() as client:
        yield client


def _read(client: FlaskClient, address: str) -> str:
    answer = client.get(address)
    assert answer.status_code == 200
    text = re.sub(r"<[^>]+>", " ", unescape(answer.text.split("<main")[1]))
    return re.sub(r"[^\S\u202f]+", " ", text)


def test_a_family_page_says_every_option_in_figures_with_basis_and_why(client: FlaskClient) -> None:
    page = _read(client, f"/rules/{FAMILY}")
    for check in pack_for()["checks"]:
        assert check["help"] in page
        for option in check["options"]:
            assert option["label"] in page
            assert option.get("why", "") in page
    # exp(-0.4) = 0.670.
    assert "Price −33 % (" in page


def test_published_rows_name_their_source_and_where_it_was_read(client: FlaskClient) -> None:
    page = _read(client, "/rules")
    sources = pack_for()["sources"]
    for row in pack_for()["band_rows"].values():
        if row["basis"] == "published":
            source = sources[row["source"]]
            assert f"Rests on: published: {source['title']} ({source['where']})." in page


def test_the_counts_are_those_of_the_tables(client: FlaskClient) -> None:
    page = _read(client, "/rules")
    every = rows_by_basis(shipped())
    numbers = " ".join(str(number) for number in (*every.values(), sum(every.values())))
    assert f"All together, what families share once {numbers} For every family" in page
    assert all(family.name in page for family in shipped().families.values())


def test_what_is_looked_for_is_found_in_all_families(client: FlaskClient) -> None:
    page = _read(client, "/rules?words=loading+COIL+gone")
    assert re.search(r"\d+ rows? found", page)
    assert "Aerial loading coil" in page
    assert "How many rows rest on what" not in page
    published = _read(client, "/rules?basis=published")
    count = published.count("Rests on: published")
    assert count >= rows_by_basis(shipped())["published"]
    assert f"{count} rows found" in published
    assert "Rests on: invented" not in published


def test_nothing_found_says_what_to_do_and_words_come_back_as_text(client: FlaskClient) -> None:
    answer = client.get("/rules?words=%3Cb%3Ezzzz")
    assert "No row found. Try fewer words" in answer.text
    assert "<b>zzzz" not in answer.text


def test_an_unknown_family_is_refused_in_words(client: FlaskClient) -> None:
    answer = client.get("/rules/aircraft-transmitter")
    assert answer.status_code == 404
    assert "There is no family" in answer.text


def test_the_plain_form_leads_to_the_rules(client: FlaskClient) -> None:
    assert 'href="/rules"' in client.get("/form").text
    assert f'href="/rules/{FAMILY}"' in client.get("/rules").text


ROW = {"group": "", "says": ["Met in 3 of 100."], "basis": "invented", "source": None, "why": "Rare."}


def test_a_row_alike_in_two_families_stands_once_and_one_that_differs_in_each() -> None:
    alike, other = {"address": "a", "title": "Alike", **ROW}, {"address": "b", "title": "Other", **ROW}
    changed = {**other, "why": "Rarer."}
    tables = {
        "one": [{"id": "t", "title": "T", "rows": [alike, other]}],
        "two": [{"id": "t", "title": "T", "rows": [alike, changed]}],
        "three": [{"id": "t", "title": "T", "rows": [alike]}],
    }
    groups = in_groups(tables, [], {family: family.upper() for family in tables})
    read = {group["title"]: [row["title"] for t in group["tables"] for row in t["rows"]] for group in groups}
    assert read == {
        "Alike in every family": ["Alike"],
        "Alike in several families": [],
        "ONE": ["Other"],
        "TWO": ["Other"],
        "THREE": [],
        "For every family": [],
    }
    assert counted(merged(tables))["invented"] == 3


def test_every_word_has_to_be_there_in_any_order_and_case() -> None:
    row = {"address": "a", "title": "Peep hole", **ROW, "source": "book"}
    groups = [{"title": "G", "tables": [{"id": "t", "title": "T", "rows": [row]}]}]
    sources = {"book": {"title": "A Book of Holes"}}
    for words, basis, source, hit in (
        ("RARE peep", "", "", True),
        ("book of", "invented", "book", True),
        ("peep often", "", "", False),
        ("", "published", "", False),
        ("", "", "page", False),
    ):
        assert bool(found(groups, words, basis, source, sources)) is hit, words
