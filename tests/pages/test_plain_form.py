"""The plain form answered by the server: what it gives, and what it refuses in words."""

import re
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from webapp.app import create_app, documents
from webapp.pages.walk_form import number
from webapp.paths import rules_folder, static_folder
from webapp.rulebook.tables import load
from webapp.site import build

FAMILY = "/form/aircraft-hf-transmitter"


@pytest.fixture(scope="module")
def client(tmp_path_factory: pytest.TempPathFactory) -> FlaskClient:
    """A browser before the real app."""
    data = tmp_path_factory.mktemp("data")
    book = load(rules_folder())
    app = create_app(book, data, build(static_folder(), documents(book), data, demo=False))
    return app.test_client()


def _token(client: FlaskClient) -> str:
    found = re.search(r'id="csrf_token"[^>]*value="([^"]+)"', client.get(FAMILY).text)
    assert found
    return found.group(1)


def _send(client: FlaskClient, fields: dict[str, str], language: str = "en") -> tuple[int, str]:
    answer = client.post(
        FAMILY,
        data={"csrf_token": _token(client), "currency": "USD", "aim": "on-air", **fields},
        headers={"Accept-Language": language},
    )
    return answer.status_code, answer.text


def test_nothing_checked_is_an_answer_too_with_a_wide_range(client: FlaskClient) -> None:
    status, page = _send(client, {})
    assert status == 200
    assert "Ask what they want for it." in page
    assert "Added holes" in page.split("Not checked</h2>")[1]


def test_a_form_without_its_token_is_refused_in_words(client: FlaskClient) -> None:
    answer = client.post(FAMILY, data={"asking": "90"})
    assert answer.status_code == 400
    assert "too old to be accepted" in answer.text


def test_the_same_findings_give_the_same_verdict_as_the_engine_in_another_currency(
    client: FlaskClient,
) -> None:
    status, page = _send(client, {"asking": "45", "currency": "eur", "rate": "0,5", "check-dial": "gone"})
    assert status == 200
    assert "€45" in page


@pytest.mark.parametrize("typed", ["1.500", "1,500", "1 500", "1500,00", "1.500,00", "1,500.00"])
def test_fifteen_hundred_is_read_as_people_write_it(client: FlaskClient, typed: str) -> None:
    status, page = _send(client, {"asking": typed, "hour_rate": "2"})
    assert status == 200
    assert "$1,500" in page


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"asking": "ninety"}, "“ninety” is not a number"),
        ({"asking": "-5"}, "must lie between 0"),
        ({"asking": "1e999"}, "plain number"),
        ({"asking": "nan"}, "plain number"),
        ({"currency": "EUR"}, "how many EUR one USD buys"),
        ({"currency": "XQX", "rate": "1"}, "not a currency code"),
        ({"coverage_from": "5000", "coverage_to": "3300"}, "lower frequency comes first"),
        ({"coverage_from": "3300"}, "plain number is expected"),
        ({"hole-1-place": "front-panel"}, "diameter_mm of hole 1"),
        (
            {"hole-1-place": "front-panel", "hole-1-mm": "16", "check-added-holes": "none"},
            "answered &#34;none&#34;",
        ),
        ({"check-dial": "invented"}, "Not a valid choice"),
        ({"region": "7"}, "Not a valid choice"),
    ],
)
def test_what_cannot_be_used_is_said_and_the_form_keeps_the_rest(
    client: FlaskClient, fields: dict[str, str], words: str
) -> None:
    status, page = _send(client, {"check-loading-coil": "gone", **fields})
    assert status == 400
    assert words in page
    assert re.search(r'<input checked[^>]*name="check-loading-coil"[^>]*value="gone"', page)


def test_a_german_reads_the_verdict_in_german_with_money_and_figures_written_so(client: FlaskClient) -> None:
    fields = {"asking": "1.500,00", "currency": "eur", "rate": "0,5", "check-loading-coil": "gone"}
    _, page = _send(client, fields, "de")
    assert '<html lang="de">' in page
    assert "<h2>Was sich sagen lässt</h2>" in page
    assert "1.500\xa0€" in page
    assert re.search(r"<td>\d+,\d bis \d+,\d</td>", page)
    assert "Alles wurde angesehen." not in page


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"asking": "neunzig"}, "Geforderter Preis: „neunzig“ ist keine Zahl."),
        ({"asking": "-5"}, "„asking“ ist -5.0; erlaubt ist 0 bis 1e+12."),
        (
            {"hole-1-place": "front-panel"},
            "„diameter_mm von Loch 1“ ist None; erwartet wird eine einfache Zahl.",
        ),
        ({"currency": "EUR"}, "Den Wechselkurs („rate“) angeben: wie viele EUR es für einen USD gibt."),
        ({"region": "7"}, "ITU-Region: Keine gültige Auswahl."),
    ],
)
def test_what_cannot_be_used_is_said_in_the_language_of_the_page(
    client: FlaskClient, fields: dict[str, str], words: str
) -> None:
    status, page = _send(client, fields, "de")
    assert status == 400
    assert words in page
    assert "alles Gewählte ist noch da" in page


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("1,500", 1500.0), ("4,5", 4.5), ("1.500,50", 1500.5), ("1 500.5", 1500.5), ("12,345,678", 12345678.0)],
)
def test_a_comma_before_three_figures_parts_thousands_and_else_decimals(typed: str, meant: float) -> None:
    assert number(typed) == meant


def test_cannot_be_looked_at_here_is_said_in_the_verdict(client: FlaskClient) -> None:
    _, page = _send(client, {"check-wiring": "cannot-look"})
    assert "Could not be looked at: Wiring." in page


@pytest.mark.parametrize("address", ["/form/no-such-family", f"{FAMILY}?sheet=no-such-sheet"])
def test_an_unknown_family_or_sheet_is_a_page_with_a_sentence(client: FlaskClient, address: str) -> None:
    answer = client.get(address)
    assert answer.status_code == 404
    assert "There is no" in answer.text


def test_a_page_that_does_not_exist_is_a_page_with_a_sentence(client: FlaskClient) -> None:
    answer = client.get("/no/such/page")
    assert (answer.status_code, "There is no such page." in answer.text) == (404, True)


def test_a_bug_shows_a_fixed_sentence_and_a_reference_and_no_traceback(
    tmp_path: Path, caplog: pytest.LogCaptureFixture
) -> None:
    book = load(rules_folder())
    app = create_app(book, tmp_path, build(static_folder(), documents(book), tmp_path, demo=False))
    app.config["BOOKS"] = None
    page = app.test_client().get("/form")
    reference = re.search(r"reference ([0-9a-f]{8})", page.text)
    assert page.status_code == 500
    assert "Traceback" not in page.text
    assert reference
    assert reference.group(1) in caplog.text


def test_something_too_large_is_refused_in_words(client: FlaskClient) -> None:
    answer = client.post(FAMILY, data={"asking": "9" * 1_100_000})
    assert answer.status_code == 413
    assert "too large" in answer.text
