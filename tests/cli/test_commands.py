"""The other commands, their help, and how the command ends."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import webapp
from tests.support.broken import EVERY_SET
from tests.support.command import COMMAND, refusal_of, run
from tests.support.packs import FAMILY, SHEETS, copy_of_rules, families, pack_for, shipped
from webapp.rulebook.counts import rows_by_basis

COMMANDS = ["serve", "appraise", "pack", "rules"]
MAIN = "import sys; from webapp.cli import main; sys.exit(main())"


def test_the_shipped_rules_hold_together_and_are_counted() -> None:
    result = run("rules")
    assert (result.returncode, result.stderr) == (0, b"")
    said = result.stdout.decode()
    for family in families():
        pack = pack_for(None, family)
        assert f"{family}: {len(pack['parts'])} parts, {len(pack['checks'])} checks" in said
    assert f"model sheets: {', '.join(sorted(shipped().sheets))}" in said
    counts = rows_by_basis(shipped())
    rows = ", ".join(f"{count} {basis}" for basis, count in counts.items())
    assert f"\n{sum(counts.values())} rows, by what they rest on: {rows}\n" in said
    assert said.endswith("The rule tables hold together.\n")


def test_broken_rules_are_told_problem_by_problem(tmp_path: Path) -> None:
    """A copy of the program with two mistakes in its tables, run from its own folder."""
    shutil.copytree(Path(webapp.__file__).parent, tmp_path / "webapp")
    path = copy_of_rules(tmp_path, FAMILY) / EVERY_SET
    text = path.read_text(encoding="utf-8").replace("prior = 0.78", "prior = 0.79", 1)
    path.write_text(text.replace('stage = "story"', 'stage = "stroy"', 1), encoding="utf-8")
    result = subprocess.run(
        [sys.executable, "-c", MAIN, "rules"], cwd=tmp_path, capture_output=True, text=True, check=False
    )
    lines = result.stderr.splitlines()
    assert (result.returncode, result.stdout) == (2, "")
    assert lines[0] == "underchassis: The rule tables have 2 problems:"
    assert [line.startswith(f"- rules/{EVERY_SET} (line ") for line in lines[1:]] == [True, True]


@pytest.mark.parametrize("sheet", [None, *SHEETS])
def test_pack_prints_the_compiled_tables(sheet: str | None) -> None:
    result = run("pack", FAMILY, *(["--sheet", sheet] if sheet else []))
    assert (result.returncode, result.stderr) == (0, b"")
    assert json.loads(result.stdout) == pack_for(sheet)


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["aircraft"], "There is no family"),
        ([""], "There is no family"),
        ([FAMILY, "--sheet", "tern-z"], 'There is no model sheet "tern-z".'),
        ([FAMILY, "--sheet", ""], "There is no model sheet"),
    ],
)
def test_a_pack_that_is_not_known_is_refused(arguments: list[str], words: str) -> None:
    assert words in refusal_of(run("pack", *arguments))


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help_with_an_example(command: str) -> None:
    result = run(command, "--help")
    assert (result.returncode, result.stderr) == (0, b"")
    assert f"Example: underchassis {command}" in result.stdout.decode()


def test_the_help_names_every_command() -> None:
    said = run("--help").stdout.decode()
    assert [command for command in COMMANDS if command not in said] == []


def test_the_version_is_that_of_the_package() -> None:
    assert run("--version").stdout.decode() == f"underchassis {webapp.__version__}\n"


@pytest.mark.parametrize("arguments", [[], ["apraise"], ["appraise"], ["pack"], ["serve", "--port", "0"]])
def test_a_wrong_call_ends_with_2_and_the_usage(arguments: list[str]) -> None:
    result = run(*arguments)
    assert (result.returncode, result.stdout) == (2, b"")
    assert result.stderr.startswith(b"usage: underchassis")
    assert b"Traceback" not in result.stderr


@pytest.mark.parametrize("arguments", [["pack", FAMILY], ["rules"]])
def test_a_reader_that_stops_early_is_no_error(arguments: list[str]) -> None:
    reader, writer = os.pipe()
    os.close(reader)
    with os.fdopen(writer, "wb") as nobody_reads:
        result = subprocess.run(
            [COMMAND, *arguments], stdout=nobody_reads, stderr=subprocess.PIPE, timeout=60, check=False
        )
    assert (result.returncode, result.stderr) == (0, b"")


@pytest.mark.parametrize("arguments", [["pack", FAMILY], ["rules"]])
def test_a_full_disk_is_told_in_one_sentence(arguments: list[str]) -> None:
    with Path("/dev/full").open("wb") as full:
        result = subprocess.run(
            [COMMAND, *arguments], stdout=full, stderr=subprocess.PIPE, timeout=60, check=False
        )
    assert result.returncode == 2
    assert result.stderr == b"underchassis: The output cannot be written: No space left on device.\n"
