"""A refusal is a page for people and one shape of JSON for scripts, with the same words in both."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask, abort
from flask.testing import FlaskClient
from werkzeug.exceptions import ServiceUnavailable

from webapp.errors import BadPhoto
from webapp.pages import reading_habits, refusals

BROKEN = "Something broke on our side; nothing you entered on the phone is lost."


@pytest.fixture
def client() -> Iterator[FlaskClient]:
    """An app whose every page is refused or broken, once for people and once for scripts."""
    app = Flask("webapp", template_folder="pages/templates")
    app.jinja_env.globals["base"] = "/"
    app.config["PROPAGATE_EXCEPTIONS"] = False
    reading_habits.install(app)
    refusals.install(app)
    for folder in ("", "/photos"):
        app.add_url_rule(f"{folder}/bad", f"{folder}bad", _bad)
        app.add_url_rule(f"{folder}/busy", f"{folder}busy", _busy)
        app.add_url_rule(f"{folder}/bug", f"{folder}bug", _bug)
        app.add_url_rule(f"{folder}/odd", f"{folder}odd", lambda: abort(409))
    with app.test_client() as client:
        yield client


def _bad() -> str:
    raise BadPhoto("This photo is empty.", "Send it again.")


def _busy() -> str:
    raise ServiceUnavailable(retry_after=5)


def _bug() -> str:
    raise ZeroDivisionError("secret words")


@pytest.mark.parametrize(
    ("page", "status", "code", "message"),
    [
        ("bad", 400, "bad-photo", "This photo is empty."),
        ("busy", 503, "service-unavailable", "The server has its hands full."),
        ("bug", 500, "internal-server-error", BROKEN),
        ("nowhere", 404, "not-found", "There is no such page."),
        ("odd", 409, "conflict", "The server could not do that."),
    ],
)
def test_scripts_get_code_message_and_hint_and_people_a_page(
    client: FlaskClient, page: str, status: int, code: str, message: str
) -> None:
    for_script, for_people = client.get(f"/photos/{page}"), client.get(f"/{page}")
    assert for_script.status_code == for_people.status_code == status
    assert for_script.mimetype == "application/json"
    error = for_script.json["error"]
    assert set(for_script.json) == {"error"}
    assert (error["code"], error["message"]) == (code, message)
    assert error["hint"].endswith(".")
    assert for_people.mimetype == "text/html"
    assert message in for_people.text
    assert "secret words" not in for_script.text + for_people.text


def test_who_is_to_come_again_is_told_when(client: FlaskClient) -> None:
    for page in ("/busy", "/photos/busy"):
        assert client.get(page).headers["Retry-After"] == "5"


def test_a_wrong_method_is_told_the_right_one(client: FlaskClient) -> None:
    answer = client.put("/photos/bad")
    assert (answer.status_code, answer.json["error"]["code"]) == (405, "method-not-allowed")
    assert "GET" in answer.headers["Allow"]
    assert answer.headers.getlist("Content-Type") == ["application/json"]


def test_a_bug_is_written_down_with_the_reference_that_was_given(
    client: FlaskClient, caplog: pytest.LogCaptureFixture
) -> None:
    hint = client.get("/photos/bug").json["error"]["hint"]
    assert hint.rpartition(" ")[2].rstrip(".") in caplog.text
    assert Path(__file__).name in caplog.text
