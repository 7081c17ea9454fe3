"""`underchassis appraise` as people run it: what comes out, and what is refused in one sentence."""

import json
import math
from pathlib import Path
from typing import Any

import pytest

from tests.support.command import refusal_of, run
from tests.support.packs import FAMILY, appraised_by_the_app
from webapp.cli import main

Json = dict[str, Any]

FOUND: Json = {"family": FAMILY, "asking": 120, "answers": {"loading-coil": "gone"}, "today": "2026-11-25"}


def written(folder: Path, content: bytes | str | Json) -> str:
    path = folder / "found.json"
    if isinstance(content, dict):
        content = json.dumps(content)
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return str(path)


def test_a_findings_file_gives_the_appraisal_as_json(tmp_path: Path) -> None:
    result = run("appraise", written(tmp_path, FOUND))
    assert (result.returncode, result.stderr) == (0, b"")
    assert json.loads(result.stdout) == appraised_by_the_app(FOUND)


def test_a_dash_reads_standard_input() -> None:
    result = run("appraise", "-", given=json.dumps(FOUND).encode())
    assert json.loads(result.stdout) == appraised_by_the_app(FOUND)


def test_a_byte_order_mark_before_the_json_does_no_harm(tmp_path: Path) -> None:
    result = run("appraise", written(tmp_path, b"\xef\xbb\xbf" + json.dumps(FOUND).encode()))
    assert result.returncode == 0


def test_the_working_folder_does_not_matter(tmp_path: Path) -> None:
    (tmp_path / "rules").mkdir()
    assert run("appraise", written(tmp_path, FOUND), cwd=tmp_path).returncode == 0


@pytest.mark.parametrize("encoding", ["ascii", "latin-1", "utf-16"])
def test_the_output_is_readable_json_whatever_the_encoding_of_the_terminal(
    tmp_path: Path, encoding: str
) -> None:
    found = {**FOUND, "currency": "EUR", "rate": 0.9}
    result = run("appraise", written(tmp_path, found), PYTHONIOENCODING=encoding)
    assert (result.returncode, result.stderr) == (0, b"")
    assert json.loads(result.stdout.decode(encoding)) == appraised_by_the_app(found)


NOT_USABLE: dict[str, tuple[bytes | str | Json, list[str]]] = {
    "empty": ("", ["not JSON", "line 1"]),
    "only spaces": (" \n \n", ["not JSON", "line 3"]),
    "words": ("a fine set, 60 dollars", ["not JSON", "line 1"]),
    "comma too many": ('{\n"family": "x",\n}', ["not JSON", "line 3"]),
    "binary": (b"\x89PNG\r\n\x1a\n\x00\x00", ["not UTF-8 text", "Save it as UTF-8"]),
    "another encoding": ('{"serial": "Nº"}'.encode("latin-1"), ["not UTF-8 text"]),
    "nested too deeply": ("[" * 100_000, ["nested too deeply"]),
    "nested and closed": ("[" * 100_000 + "]" * 100_000, ["nested too deeply"]),
    "just below that": ('{"family": ' + "[" * 900 + "]" * 900 + "}", ['no "family"']),
    "too large": (b" " * 5_000_001, ["larger than 5 MB", "Is it a findings file?"]),
    "a number too long": ('{"asking": ' + "9" * 5000 + "}", ["a number too long"]),
    "a long number": (f'{{"family": "{FAMILY}", "asking": {"9" * 400}}}', ['"asking" is', "1e+12"]),
    "not a number": (f'{{"family": "{FAMILY}", "asking": NaN}}', ['"asking" is nan', "a plain number"]),
    "infinite": (f'{{"family": "{FAMILY}", "asking": 1e999}}', ['"asking" is inf', "a plain number"]),
    "a key twice": ('{"family": "a", "family": "b"}', ['"family" stands twice', "Keep one of the two"]),
    "a check twice": (
        f'{{"family": "{FAMILY}", "answers": {{"case": "sound", "case": "dented"}}}}',
        ['"case" stands twice'],
    ),
    "a list": ("[]", ["JSON object with named values"]),
    "a text": ('"found"', ["JSON object with named values"]),
    "null": ("null", ["JSON object with named values"]),
    "no family": ("{}", ['no "family"', FAMILY]),
    "an unknown family": ({"family": "aircraft-hf-transmiter"}, [f'Did you mean "{FAMILY}"?']),
    "a family of many lines": ({"family": "a\nb\r\x1b[31m\u2028c"}, ["There is no family"]),
    "an endless family": ({"family": "x" * 100_000}, ["There is no family"]),
    "an unknown sheet": ({"family": FAMILY, "model_sheet": "tern-d"}, ['no model sheet "tern-d"']),
    "an unknown check": ({"family": FAMILY, "answers": {"loading-koil": "there"}}, ['mean "loading-coil"?']),
    "a key of many lines": ({"family": FAMILY, "a\nb": 1}, ["Unknown key"]),
    "a lone surrogate": (f'{{"family": "{FAMILY}", "\\ud800": 1}}', ["Unknown key"]),
    "holes and none": (
        {
            "family": FAMILY,
            "answers": {"added-holes": "none"},
            "holes": [{"place": "back", "diameter_mm": 5}],
        },
        ['answered "none"'],
    ),
    "another currency": ({"family": FAMILY, "currency": "EUR"}, ['Give "rate"']),
}


@pytest.mark.parametrize("case", NOT_USABLE)
def test_a_file_that_cannot_be_used_is_refused_in_one_sentence(
    case: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    content, words = NOT_USABLE[case]
    assert main(["appraise", written(tmp_path, content)]) == 2
    out, said = capsys.readouterr()
    assert out == ""
    assert [word for word in words if word not in said] == []
    assert len(said) < 500
    assert said.startswith("underchassis: ")
    assert said.removesuffix("\n").isprintable()


@pytest.mark.parametrize(
    "case",
    ["empty", "binary", "nested and closed", "too large", "a check twice", "a family of many lines",
     "a lone surrogate", "holes and none"],
)  # fmt: skip
def test_the_command_itself_refuses_with_exit_2_and_one_line(case: str, tmp_path: Path) -> None:
    content, words = NOT_USABLE[case]
    said = refusal_of(run("appraise", written(tmp_path, content)))
    assert [word for word in words if word not in said] == []


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    said = refusal_of(run("appraise", str(tmp_path / "lost.json")))
    assert said.endswith('lost.json" cannot be read: No such file or directory. Check the name.')


def test_a_folder_in_place_of_a_file_is_named(tmp_path: Path) -> None:
    assert "cannot be read: Is a directory" in refusal_of(run("appraise", str(tmp_path)))


def test_nothing_on_standard_input_is_refused() -> None:
    assert '"-" is not JSON' in refusal_of(run("appraise", "-"))


def test_too_much_on_standard_input_is_refused() -> None:
    assert "larger than 5 MB" in refusal_of(run("appraise", "-", given=b" " * 5_000_001))


def test_any_depth_of_nesting_is_refused_in_a_sentence(tmp_path: Path) -> None:
    """The reader and the engine reach their limits of depth at different points; neither shows through."""
    for depth in (*range(950, 1001, 16), 1500):
        content = f'{{"family": "{FAMILY}", "asking": {"[" * depth}{"]" * depth}}}'
        said = refusal_of(run("appraise", written(tmp_path, content)))
        assert "a plain number is expected" in said or "nested too deeply" in said


def test_numbers_come_out_finite_for_the_largest_that_are_taken(tmp_path: Path) -> None:
    found = {**FOUND, "asking": 1e12, "hour_rate": 1e12, "currency": "EUR", "rate": 1e9}
    document = json.loads(run("appraise", written(tmp_path, found)).stdout)
    assert math.isfinite(document["price"]["parts"]["mean"])
