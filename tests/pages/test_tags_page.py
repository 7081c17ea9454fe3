"""The page that prints labels: a form that needs no token, and the labels below it."""

import re
from collections.abc import Iterator
from html import unescape

import pytest
from flask.testing import FlaskClient

from tests.support.packs import shipped
from webapp.app import create_app, documents
from webapp.paths import static_folder
from webapp.photos.label_text import is_sheet
from webapp.site import build


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FlaskClient]:
    """A browser before the real app."""
    data = tmp_path_factory.mktemp("data")
    app = create_app(shipped(), data, build(static_folder(), documents(shipped()), data, demo=False))
    with app.test_client() as client:
        yield client


def _labels(page: str) -> list[str]:
    return re.findall(r">([0-9A-Z]{4}-\d{3})</text>", page)


def test_without_a_sheet_the_address_gets_a_new_one_and_keeps_what_was_asked(client: FlaskClient) -> None:
    answer = client.get("/tags?count=3&lot=Petrel+Street+lot")
    assert answer.status_code == 302
    page = client.get(answer.location)
    sheet = re.search(r"sheet=(\w+)", answer.location)
    assert sheet
    assert is_sheet(sheet[1])
    assert _labels(page.text) == [f"{sheet[1]}-00{number}" for number in (1, 2, 3)]
    assert ">Petrel Street lot</text>" in page.text


@pytest.mark.parametrize(
    "address", ["/tags?endpoint=form.choose", "/tags?_external=1&_scheme=x&values=2", "/tags?sheet="]
)
def test_other_words_in_the_address_change_nothing(client: FlaskClient, address: str) -> None:
    answer = client.get(address)
    assert answer.status_code == 302
    assert re.fullmatch(r"/tags\?.*sheet=\w{4}.*", answer.location)


def test_the_form_shows_what_was_asked(client: FlaskClient) -> None:
    page = client.get("/tags?sheet=k7q2&first=5&count=2&side_mm=25&paper=letter&lot=A+%26+B").text
    assert _labels(page) == ["K7Q2-005", "K7Q2-006"]
    for name, value in {"first": "5", "count": "2", "side_mm": "25", "lot": "A &amp; B"}.items():
        assert re.search(rf'<input[^>]* name="{name}"[^>]* value="{value}"', page)
    assert '<option selected value="letter">' in page
    assert 'class="tags paper-letter"' in page


@pytest.mark.parametrize(
    ("asked", "words"),
    [
        ("sheet=K0Q2", '"K0Q2" names no sheet.'),
        ("sheet=K7Q2&count=0", '"0" is no count of labels'),
        ("sheet=K7Q2&count=", '"" is no count of labels'),
        ("sheet=K7Q2&first=x", '"x" is no number of a label'),
        ("sheet=K7Q2&first=990", "would end at 1013"),
        ("sheet=K7Q2&side_mm=5", '"5" is no side for a symbol'),
        ("sheet=K7Q2&paper=a3", "Not a valid choice"),
        ("sheet=K7Q2&lot=" + "x" * 81, "has 81 signs"),
    ],
)
def test_what_cannot_be_printed_is_said_beside_its_field(client: FlaskClient, asked: str, words: str) -> None:
    answer = client.get(f"/tags?{asked}")
    assert answer.status_code == 400
    assert words in unescape(re.sub("<[^>]+>", " ", answer.text))
    assert answer.text.count('class="wrong"') == 1
    assert 'aria-invalid="true"' in answer.text
    assert _labels(answer.text) == []


def test_text_of_the_address_is_never_markup(client: FlaskClient) -> None:
    text = client.get("/tags?sheet=K7Q2&count=1&lot=<script>1</script>").text
    assert "<script>1" not in text
    assert ">&lt;script&gt;1&lt;/script&gt;</text>" in text


def test_nothing_on_the_page_needs_more_than_the_policy_allows(client: FlaskClient) -> None:
    page = client.get("/tags?sheet=K7Q2").text
    assert not re.search(r'\sstyle="|<style|\son\w+="|<script(?![^>]* src=)', page)
    assert re.search(r'<link rel="stylesheet" href="/a/[^"]+/css/tags.css">', page)


def test_the_form_is_asked_not_sent(client: FlaskClient) -> None:
    assert client.post("/tags").status_code in (400, 405)
    assert 'name="csrf_token"' not in client.get("/tags?sheet=K7Q2").text
