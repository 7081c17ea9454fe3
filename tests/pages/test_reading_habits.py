"""Pages of the server in the reader's language: the one asked for, else the browser's best that is here."""

import re
from html import unescape

import pytest
from flask.testing import FlaskClient

GERMAN = {"Accept-Language": "fr-CH, de-AT;q=0.8, en;q=0.5"}


def _language(page: str) -> str:
    found = re.search(r'<html lang="([^"]+)"', page)
    assert found
    return found[1]


@pytest.mark.parametrize(
    ("address", "headers", "language"),
    [
        ("/form", {}, "en"),
        ("/form", GERMAN, "de"),
        ("/form", {"Accept-Language": "fr, *;q=0.1"}, "en"),
        ("/form?language=de", {}, "de"),
        ("/form?language=en", GERMAN, "en"),
        ("/form?language=xx", GERMAN, "de"),
        ("/form?language=xx", {}, "en"),
    ],
)
def test_the_language_is_the_one_asked_for_else_the_best_of_the_browser_that_is_here(
    client: FlaskClient, address: str, headers: dict[str, str], language: str
) -> None:
    answer = client.get(address, headers=headers)
    assert _language(answer.text) == language
    assert ("Was für ein Gerät ist es?" in answer.text) is (language == "de")
    assert "Accept-Language" in answer.headers["Vary"]
    assert "Set-Cookie" not in answer.headers


def test_links_and_forms_keep_the_language_that_was_asked_for(client: FlaskClient) -> None:
    for address in ("/form", "/rules", "/tags?sheet=K7Q2"):
        asked = client.get(f"{address}{'&' if '?' in address else '?'}language=de").text
        own = re.findall(r'href="((?:/form|/rules|\?)[^"]*)"', asked)
        assert own
        assert all("language=de" in link for link in own)
        assert ('name="language" value="de"' in asked) is (address != "/form")
        assert "language" not in "".join(
            re.findall(r'href="[^"]*"', client.get(address, headers=GERMAN).text)
        )
    assert "language=de" in client.get("/tags?language=de").headers["Location"]


def test_rule_rows_are_said_in_the_language_with_its_decimal_sign(client: FlaskClient) -> None:
    english = unescape(client.get("/rules").text)
    german = unescape(client.get("/rules", headers=GERMAN).text)
    assert "<summary>Drills by number, letter and fraction" in english
    assert "<summary>Bohrer nach Nummer, Buchstabe und Bruch" in german
    assert "0.228 in." in english
    assert "0,228 Zoll." in german
    assert "Grundlage: veröffentlicht: " in german


def test_tables_that_are_in_english_alone_are_said_to_be(client: FlaskClient) -> None:
    note = "was fehlt, steht auf Englisch"
    for address in ("/form", "/rules", "/form/aircraft-hf-transmitter", "/rules/aircraft-hf-transmitter"):
        assert note in client.get(address, headers=GERMAN).text
        assert "stands in English" not in client.get(address).text


def test_printed_labels_say_in_the_language_how_to_measure_them(client: FlaskClient) -> None:
    page = client.get("/tags?sheet=K7Q2&count=2&side_mm=17.5", headers=GERMAN).text
    assert 'aria-label="Etiketten K7Q2-001 bis K7Q2-002, Seite 1 von 1"' in page
    assert "Misst sie nicht 100 mm" in page


def test_what_is_asked_of_labels_is_refused_in_the_language(client: FlaskClient) -> None:
    page = unescape(client.get("/tags?sheet=K7Q2&first=990&count=24&paper=b5", headers=GERMAN).text)
    assert "24 Etiketten ab 990 würden bei 1013 enden; ein Bogen endet bei 999." in page
    # WTForms has a sentence of its own for this.
    assert "Keine gültige Auswahl." in page


def test_refusals_are_said_in_the_language_to_people_and_to_scripts(client: FlaskClient) -> None:
    page = client.get("/form/aircraft-transmitter", headers=GERMAN)
    assert page.status_code == 404
    assert "Die Geräteart „aircraft-transmitter“ gibt es nicht." in page.text
    assert "War „aircraft-hf-transmitter“ gemeint?" in page.text
    answer = client.post("/photos/upright", data=b"", headers=GERMAN)
    assert answer.json["error"] == {
        "code": "bad-photo",
        "message": "Dieses Foto ist leer: Kein einziges Byte davon kam an.",
        "hint": "Noch einmal schicken.",
    }
    assert "Accept-Language" in answer.headers["Vary"]
