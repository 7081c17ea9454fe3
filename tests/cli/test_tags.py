"""The command that prints labels."""

import re
from pathlib import Path

import pytest

from tests.support.command import refusal_of, run
from webapp.paths import static_folder

SYMBOLS = re.compile(r'class="symbol"')


def test_the_sheet_is_one_document_that_needs_no_other_file() -> None:
    result = run("tags", "--sheet", "K7Q2", "--lot", "Petrel Street lot")
    assert (result.returncode, result.stderr) == (0, b"")
    document = result.stdout.decode("ascii")
    assert document.startswith("<!doctype html>")
    assert len(SYMBOLS.findall(document)) == 24
    assert not re.search(r"(src|href)=|url\(|@import", document)
    assert (static_folder() / "css" / "tags.css").read_text(encoding="utf-8") in document


def test_options_change_what_is_printed() -> None:
    options = "--sheet k7q2 --from 998 --count 2 --side-mm 21 --paper letter"
    result = run("tags", *options.split())
    document = result.stdout.decode("ascii")
    assert re.findall(r">(K7Q2-\d+)</text>", document) == ["K7Q2-998", "K7Q2-999"]
    assert 'width="195.9mm" height="259.4mm"' in document
    assert "symbols 21 mm a side" in document


def test_without_a_sheet_each_call_begins_a_new_one() -> None:
    names = [re.findall(rb"Labels (\w{4})-001", run("tags", "--count", "1").stdout) for _ in range(2)]
    assert names[0] != names[1]


def test_the_document_goes_into_a_file_when_asked(tmp_path: Path) -> None:
    result = run("tags", "--sheet", "K7Q2", "--out", "labels.html", cwd=tmp_path)
    assert (result.returncode, result.stdout, result.stderr) == (0, b"", b"")
    written = (tmp_path / "labels.html").read_bytes()
    assert written == run("tags", "--sheet", "K7Q2").stdout


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["--sheet", "IOU1"], '"IOU1" names no sheet.'),
        (["--from", "one"], '"one" is no number of a label.'),
        (["--count", "0"], '"0" is no count of labels'),
        (["--count", "1e3"], '"1e3" is no count of labels'),
        (["--from", "999"], "would end at 1022"),
        (["--side-mm", "300"], '"300" is no side for a symbol.'),
        (["--paper", "foolscap"], '"foolscap" is no paper known here.'),
        (["--lot", "a\tb"], "signs that cannot be printed"),
        (["--out", "no/such/folder/labels.html"], "cannot be written: No such file or directory"),
        (["--out", "/dev/full"], "cannot be written: No space left on device"),
        (["--out", "."], "cannot be written: Is a directory"),
    ],
)
def test_a_bad_option_is_refused_in_one_sentence(arguments: list[str], words: str, tmp_path: Path) -> None:
    assert words in refusal_of(run("tags", *arguments, cwd=tmp_path))


def test_the_lot_may_hold_any_script_whatever_the_terminal_can_show() -> None:
    result = run("tags", "--count", "1", "--lot", "Lot № 7, Öre", PYTHONIOENCODING="ascii", PYTHONUTF8="1")
    assert (result.returncode, result.stderr) == (0, b"")
    assert b"Lot &#8470; 7, &#214;re" in result.stdout
