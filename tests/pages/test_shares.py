"""A shared description: the routes for its seller's phone, and the page that a stranger sees."""

import hashlib
import re
from datetime import date
from html import unescape
from typing import Any

import pytest
import segno
from flask.testing import FlaskClient
from hypothesis import given
from PIL import Image, ImageDraw
from pyzbar.pyzbar import decode

from tests.support.examples import examples
from tests.support.server_phone import ServerPhone, a_photo, error_of
from tests.support.shares import a_body, a_share_document, a_token, an_own_sheet, broken_bodies
from webapp.errors import BadFindings, DatabaseUnusable, NotKnown
from webapp.notebook.limits import Limits
from webapp.notebook.share_form import read_share
from webapp.notebook.shares import put_share
from webapp.pages import description

Json = dict[str, Any]

WITHDRAWN = "The seller has withdrawn this description."


@pytest.fixture(scope="module")
def seller(client: FlaskClient) -> ServerPhone:
    """A phone with a notebook on the server."""
    return ServerPhone(client.application).opened()


@pytest.fixture
def token() -> str:
    """The token of a link that nobody has made yet."""
    return a_token()


def shared(seller: ServerPhone, token: str, *photos: str, **changes: Any) -> str:
    """Share a description; gives its public address."""
    assert seller.ask("PUT", f"/shares/{token}", json=a_body(*photos, **changes)).status_code in (200, 201)
    return f"/d/{token}"


def words_of(answer: Any) -> str:
    """Give the words of a page."""
    return unescape(re.sub(r"\s+", " ", re.sub("<[^>]+>", " ", answer.text)))


def test_a_description_is_made_read_replaced_and_taken_back(
    client: FlaskClient, seller: ServerPhone, token: str
) -> None:
    path, link = f"/shares/{token}", f"/d/{token}"
    made = seller.ask("PUT", path, json=a_body())
    assert made.status_code == 201
    assert made.json["hash"] == hashlib.sha256(bytes.fromhex(token)).hexdigest()
    assert "The key is lost, the case opens." in words_of(client.get(link))
    body = a_body(title="Tern B, cleaned", expires="9999-12-31", found=True)
    replaced = seller.ask("PUT", path, json=body)
    assert (replaced.status_code, replaced.json["expires"], replaced.json["found"]) == (
        200,
        "9999-12-31",
        True,
    )
    assert "Tern B, cleaned" in words_of(client.get(link))
    assert client.get(f"{link}.json").json == {"document": body["document"], "expires": "9999-12-31"}
    assert replaced.json in seller.ask("GET", "/shares").json
    assert [seller.ask("DELETE", path).status_code for _ in range(2)] == [204, 204]
    gone = client.get(link)
    assert gone.status_code == 410
    assert WITHDRAWN in words_of(gone)
    assert "Tern" not in gone.text
    assert error_of_json(client.get(f"{link}.json")) == (410, "no-longer-shared")
    assert error_of(seller.ask("PUT", path, json=a_body())) == (410, "no-longer-shared")
    [row] = [row for row in seller.ask("GET", "/shares").json if row["hash"] == made.json["hash"]]
    assert row["revoked"]


def error_of_json(answer: Any) -> tuple[int, str]:
    """Give status and code of a refusal to a script that asked for a public document."""
    return answer.status_code, answer.json["error"]["code"]


def test_a_link_that_ran_out_says_on_which_day_and_nothing_else(
    client: FlaskClient, seller: ServerPhone, token: str
) -> None:
    photo, day = a_photo(), date(2026, 1, 5)
    seller.send_photo(*photo)
    share = read_share(a_body(photo[0], expires="2026-01-05"), day)
    put_share(client.application.config["NOTEBOOKS"], seller.key, token, share, Limits(), 1_767_600_000)
    over = client.get(f"/d/{token}")
    assert over.status_code == 410
    assert "could be read until 5 January 2026, and that day is over." in words_of(over)
    assert "Tern" not in over.text
    assert "5. Januar 2026" in words_of(client.get(f"/d/{token}?language=de"))
    assert client.get(f"/d/{token}/photos/{photo[0]}").status_code == 410
    assert error_of(seller.ask("GET", f"/shares/{token}/tag?address=http://a")) == (410, "no-longer-shared")
    assert error_of(seller.ask("PUT", f"/shares/{token}", json=a_body(expires="2026-01-05"))) == (
        400,
        "bad-input",
    )


@pytest.mark.parametrize("name", ["0" * 32, "0" * 31, "A" * 32, "x", "..", "%00", "0" * 32 + "%0a"])
def test_a_link_that_leads_nowhere_is_not_found(client: FlaskClient, name: str) -> None:
    home = {"REMOTE_ADDR": "192.0.2.1"}
    for page in ("", ".json", f"/photos/{'0' * 64}"):
        assert client.get(f"/d/{name}{page}", environ_base=home).status_code == 404


@pytest.mark.parametrize("found", [False, True])
def test_every_answer_is_kept_private_and_engines_are_let_in_only_where_the_seller_says_so(
    client: FlaskClient, seller: ServerPhone, token: str, found: bool
) -> None:
    photo = a_photo()
    seller.send_photo(*photo)
    link = shared(seller, token, photo[0], found=found)
    answers = [client.get(link + rest) for rest in ("", ".json", f"/photos/{photo[0]}")]
    assert [answer.status_code for answer in answers] == [200, 200, 200]
    refused = [client.get(f"{link}/photos/{'0' * 64}"), client.get(f"/d/{a_token()}")]
    for answer in answers + refused:
        headers = answer.headers
        assert headers["Referrer-Policy"] == "no-referrer"
        assert headers["Cache-Control"] == "private, no-cache"
        assert "default-src 'none'" in headers["Content-Security-Policy"]
        assert "Set-Cookie" not in headers
        expected = None if found and answer in answers else "noindex"
        assert headers.get("X-Robots-Tag") == expected


def test_nothing_on_the_page_needs_more_than_its_policy_allows(
    client: FlaskClient, seller: ServerPhone, token: str
) -> None:
    text = client.get(shared(seller, token, title="<script>1</script>", words="<b onclick=1>x</b>")).text
    assert "<script>1" not in text
    assert "<b onclick" not in text
    assert not re.search(r'\sstyle="|<style|<script(?! type="application/ld\+json")', text)
    assert not re.search(r'(?:src|href)="(?:https?:)?//', text)


def test_only_photos_of_the_description_are_given_and_only_those_here_are_shown(
    client: FlaskClient, seller: ServerPhone, token: str
) -> None:
    shown, unlisted, absent = a_photo(), a_photo(), a_photo()
    for photo in (shown, unlisted):
        seller.send_photo(*photo)
    link = shared(seller, token, shown[0], absent[0])
    page = client.get(link).text
    assert f"{link}/photos/{shown[0]}" in page
    assert absent[0] not in page
    assert [row["sha256"] for row in client.get(f"{link}.json").json["document"]["photos"]] == [shown[0]]
    answer = client.get(f"{link}/photos/{shown[0]}")
    assert (answer.data, answer.mimetype) == (shown[1], "image/jpeg")
    for photo in (unlisted, absent):
        assert client.get(f"{link}/photos/{photo[0]}").status_code == 404


def test_a_browser_that_has_the_photo_already_is_told_so_until_it_is_taken_back(
    client: FlaskClient, seller: ServerPhone, token: str
) -> None:
    photo = a_photo()
    seller.send_photo(*photo)
    address = f"{shared(seller, token, photo[0])}/photos/{photo[0]}"
    known = {"If-None-Match": client.get(address).headers["ETag"]}
    again = client.get(address, headers=known)
    assert (again.status_code, again.data) == (304, b"")
    seller.ask("DELETE", f"/shares/{token}")
    assert client.get(address, headers=known).status_code == 410


def test_a_model_sheet_made_on_the_phone_goes_with_the_description(
    client: FlaskClient, seller: ServerPhone, token: str
) -> None:
    findings = a_share_document()["findings"] | {"model_sheet": "own-1"}
    link = shared(seller, token, findings=findings, own_sheet=an_own_sheet())
    assert client.get(link).status_code == 200
    assert client.get(f"{link}.json").json["document"]["own_sheet"] == an_own_sheet()


def test_another_notebook_and_nobody_at_all_change_nothing(
    client: FlaskClient, seller: ServerPhone, token: str
) -> None:
    link, other = shared(seller, token), ServerPhone(client.application).opened()
    asked: list[tuple[str, str, Json]] = [
        ("PUT", f"/shares/{token}", {"json": a_body(title="mine now")}),
        ("DELETE", f"/shares/{token}", {}),
        ("GET", f"/shares/{token}/tag?address=http://a", {}),
    ]
    for method, path, options in asked:
        assert error_of(other.ask(method, path, **options)) == (404, "not-known")
        home = {"environ_base": {"REMOTE_ADDR": "192.0.2.3"}}
        nobody = ServerPhone(client.application)
        assert error_of(nobody.ask(method, path, **options, **home)) == (401, "key-unknown")
    assert other.ask("GET", "/shares").json == []
    assert "Tern B from the barn" in words_of(client.get(link))


@pytest.mark.parametrize(
    ("body", "status", "words"),
    [
        (b"", 400, "is not JSON"),
        (b'{"document": NaN}', 400, "is not JSON"),
        (b"[" * 100_000, 400, "is not JSON"),
        (b'{"document": {}}', 400, "cannot read this description"),
        (b'"' + b"x" * 400_000 + b'"', 413, "larger than 200,000 bytes"),
    ],
)
def test_what_is_no_description_is_refused_in_words(
    seller: ServerPhone, token: str, body: bytes, status: int, words: str
) -> None:
    refused = seller.ask("PUT", f"/shares/{token}", data=body)
    assert error_of(refused) == (status, "bad-input")
    assert words in refused.json["error"]["message"]
    assert error_of(seller.ask("DELETE", f"/shares/{token}")) == (404, "not-known")


@pytest.mark.parametrize(
    "refusal", [BadFindings("No such check.", "Look anew."), NotKnown("No such family.")]
)
def test_what_the_tables_do_not_know_is_not_shared_and_what_they_forgot_is_a_sentence(
    client: FlaskClient, seller: ServerPhone, token: str, monkeypatch: pytest.MonkeyPatch, refusal: Exception
) -> None:
    def refused(*_: object) -> str:
        raise refusal

    link = shared(seller, token)
    monkeypatch.setattr(description, "render_description", refused)
    answer = seller.ask("PUT", f"/shares/{a_token()}", json=a_body())
    assert error_of(answer)[0] == 400
    assert "The server cannot describe this set: No such" in answer.json["error"]["message"]
    page = client.get(link)
    assert page.status_code == 404
    assert "tables have changed" in words_of(page)


def test_where_the_database_lies_is_no_strangers_business(
    client: FlaskClient, token: str, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def gone(*_: object) -> None:
        raise DatabaseUnusable("The database /secret/place cannot be used.")

    monkeypatch.setattr(description.shares, "shared", gone)
    answer = client.get(f"/d/{token}")
    assert (answer.status_code, answer.headers["Retry-After"]) == (503, "30")
    assert "/secret/place" not in answer.text
    assert "/secret/place" in caplog.text


def test_who_tries_links_is_slowed_down(client: FlaskClient) -> None:
    home = {"REMOTE_ADDR": "192.0.2.2"}
    for _ in range(30):
        assert client.get(f"/d/{a_token()}", environ_base=home).status_code == 404
    assert client.get(f"/d/{a_token()}.json", environ_base=home).status_code == 429


def test_the_tag_holds_the_public_address_with_a_quiet_zone_and_says_it_in_letters(
    seller: ServerPhone, token: str
) -> None:
    shared(seller, token)
    answer = seller.ask("GET", f"/shares/{token}/tag?address=https://radio.example:8443")
    assert (answer.status_code, answer.mimetype) == (200, "image/svg+xml")
    address, drawing = f"https://radio.example:8443/d/{token}", answer.text
    assert ">What its seller found: scan</text>" in drawing
    assert "".join(re.findall(r'font-family="monospace">([^<]+)<', drawing)) == address
    assert _read(drawing) == address
    symbol = segno.make(address, error="m", micro=False, boost_error=False)
    placed = re.search(r"translate\((\S+) \S+\) scale\((\S+)\)", drawing)
    width = re.search(r'width="(\S+)mm"', drawing)
    assert placed
    assert width
    left, module = float(placed[1]), float(placed[2])
    # ISO/IEC 18004 asks for four modules of nothing around the symbol.
    assert left == pytest.approx(4 * module, abs=1e-3)
    assert float(width[1]) == pytest.approx((symbol.symbol_size(border=0)[0] + 8) * module, abs=1e-3)


def _read(drawing: str) -> str:
    """What a reader of symbols finds on the drawn tag."""
    runs = [[int(number) for number in run] for run in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", drawing)]
    picture = Image.new("L", (800, 800), 255)
    pen = ImageDraw.Draw(picture)
    for x, y, run in runs:
        pen.rectangle([40 + 10 * x, 40 + 10 * y, 39 + 10 * (x + run), 49 + 10 * y], fill=0)
    [found] = decode(picture)
    return str(found.data.decode())


@pytest.mark.parametrize(
    "asked", ["", "?address=", "?address=radio.example", "?address=javascript:alert(1)", "?address=http://a/b",
              "?address=http://a&more=1"],
)  # fmt: skip
def test_a_tag_is_drawn_for_an_origin_only(seller: ServerPhone, token: str, asked: str) -> None:
    shared(seller, token)
    assert error_of(seller.ask("GET", f"/shares/{token}/tag{asked}")) == (400, "bad-input")


@examples(150)
@given(broken_bodies())
def test_whatever_is_shared_is_refused_or_shown(client: FlaskClient, seller: ServerPhone, body: Json) -> None:
    answer = seller.ask("PUT", f"/shares/{'5' * 32}", json=body)
    assert answer.status_code in (200, 201, 400, 413), answer.text
    if answer.status_code < 400:
        page = client.get(f"/d/{'5' * 32}")
        assert (page.status_code, page.mimetype) == (200, "text/html")
        assert client.get(f"/d/{'5' * 32}.json").json["document"]["form"] == 1
