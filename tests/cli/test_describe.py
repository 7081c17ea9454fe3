"""`underchassis describe`: findings in, an honest description out, as text or as one page."""

import json
from html.parser import HTMLParser
from pathlib import Path

import pytest

from webapp.cli import main

DEMO = "tests/findings/demo-tern-c-0377.json"
EVIL = '<script>alert("x")</script> {size} & "quoted"'


class Tags(HTMLParser):
    """The tags of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Notes a tag."""
        self.seen.append(tag)


def said(capsys: pytest.CaptureFixture[str], *options: str) -> str:
    """What the command prints when all is well."""
    assert main(["describe", DEMO, *options]) == 0
    return capsys.readouterr().out


def test_the_text_keeps_to_76_letters_a_line(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "--words", "A word so long that no line holds it: " + "o" * 200)
    assert max(map(len, text.splitlines())) <= 76
    assert "WHAT WAS NOT CHECKED" in text


def test_the_short_form_leaves_the_sections_out(capsys: pytest.CaptureFixture[str]) -> None:
    text = said(capsys, "--short", "--asked", "120")
    assert "WHAT WAS NOT CHECKED" not in text
    assert "35 of the 69 things on the list were" in text
    assert "The seller asks $120." in " ".join(text.split())


def test_no_price_is_told_unless_it_is_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    assert "$" not in said(capsys, "--short")


def test_lengths_are_in_inches_where_wanted(capsys: pytest.CaptureFixture[str]) -> None:
    assert "0.63 in" in said(capsys, "--units", "inch")


def test_what_a_person_typed_is_never_markup(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    findings = json.loads(Path(DEMO).read_text(encoding="utf-8")) | {"nameplate": EVIL, "serial": EVIL}
    given = tmp_path / "found.json"
    given.write_text(json.dumps(findings), encoding="utf-8")
    out = tmp_path / "found.html"
    options = ["--format", "html", "--title", EVIL, "--words", EVIL, "--out", str(out)]
    assert main(["describe", str(given), *options]) == 0
    page = out.read_text(encoding="utf-8")
    tags = Tags()
    tags.feed(page)
    assert "script" not in tags.seen
    assert page.count("&lt;script&gt;") >= 4
    assert capsys.readouterr().out == "\n"[:0]


def test_the_page_needs_nothing_beside_it(capsys: pytest.CaptureFixture[str]) -> None:
    page = said(capsys, "--format", "html")
    assert "http://" not in page.replace("http://www.w3.org/2000/svg", "")
    assert "url(" not in page
    assert 'src="' not in page


@pytest.mark.parametrize(
    ("options", "sentence"),
    [
        (["--asked", "much"], '--asked is "much"'),
        (["--asked", "-1"], '--asked is "-1"'),
        (["--asked", "nan"], '--asked is "nan"'),
        (["--words", "x" * 5000], "--words is longer than 4000 letters"),
        (["--out", "/no/such/folder/x.txt"], "cannot be written"),
    ],
)
def test_what_cannot_be_done_is_one_sentence(
    capsys: pytest.CaptureFixture[str], options: list[str], sentence: str
) -> None:
    assert main(["describe", DEMO, *options]) == 2
    refusal = capsys.readouterr().err
    assert sentence in refusal
    assert refusal.count("\n") == 1
