"""The documents name only what exists, and what exists is named."""

import re
import shlex
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from webapp import errors
from webapp.cli import main

ROOT = Path(__file__).resolve().parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def _commands() -> set[str]:
    parser = subprocess.run(
        [sys.executable, "-m", "webapp.cli", "--help"], capture_output=True, text=True, check=True, cwd=ROOT
    )
    return set(re.findall(r"^    (\w+)  ", parser.stdout, flags=re.MULTILINE))


def test_the_readme_names_every_command_and_no_other() -> None:
    assert set(re.findall(r"^    underchassis (\w+)", README, flags=re.MULTILINE)) == _commands()


def test_the_commands_of_the_readme_run(capsys: pytest.CaptureFixture[str]) -> None:
    lines = re.findall(r"^    underchassis (.+?)(?:  .*)?$", README, flags=re.MULTILINE)
    for line in lines:
        words = shlex.split(line.replace("found.json", str(next((ROOT / "tests/findings").glob("*.json")))))
        if words[0] not in ("serve", "backup", "restore"):
            assert main(words) == 0, line
    assert capsys.readouterr().err == ""


def test_the_help_of_every_command_shows_an_example(capsys: pytest.CaptureFixture[str]) -> None:
    for command in _commands():
        with pytest.raises(SystemExit) as stop:
            main([command, "--help"])
        assert stop.value.code == 0
        assert f"Example: underchassis {command}" in capsys.readouterr().out


def test_every_file_that_the_documents_name_exists() -> None:
    named = re.findall(r"`((?:webapp|static|rules|tests|demo_photos)/[\w./-]*)`", README + DEVELOPERS)
    named += re.findall(r"\]\(([\w./]+)\)", README)
    assert len(named) > 20
    assert [name for name in named if not (ROOT / name).exists()] == []


def test_every_error_code_is_in_the_table_with_its_class() -> None:
    classes: list[type[errors.UnderchassisError]] = [
        errors.BadInput, errors.BadFindings, errors.BadFile, errors.BadPhoto, errors.NotKnown,
        errors.RulesBroken, errors.ReaderMissing, errors.SolverMissing, errors.PortBusy, errors.BadBackup,
        errors.KeyUnknown, errors.KeyReplaced, errors.KeyInUse, errors.OtherGeneration,
        errors.PartDoesNotFollow, errors.PictureDamaged, errors.PictureTooLarge, errors.NotebookFull,
        errors.NoLongerShared,
        errors.DatabaseUnusable, errors.DatabaseBusy, errors.ServerFull,
    ]  # fmt: skip
    table = dict(re.findall(r"^\| `([\w-]+)` \| `(\w+)`", DEVELOPERS, flags=re.MULTILINE))
    assert table == {error.code: error.__name__ for error in classes}


def test_every_dependency_has_its_reason() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    listed = project["dependencies"] + project["optional-dependencies"]["dev"]
    table = DEVELOPERS.split("## Dependencies")[1].split("\n## ")[0]
    names = {re.split(r"[\[><=~]", entry)[0] for entry in listed}
    assert [name for name in sorted(names) if name not in table] == []


def test_the_figures_of_the_followed_appraisal_are_those_of_the_tables() -> None:
    sheet = tomllib.loads((ROOT / "rules/sheets/tern-b.toml").read_text(encoding="utf-8"))
    family = tomllib.loads((ROOT / "rules/families/aircraft-hf-transmitter.toml").read_text(encoding="utf-8"))
    coil = next(check for check in family["check"] if check["id"] == "loading-coil")
    gone = next(option for option in coil["option"] if option["id"] == "gone")
    assert f"The reference of a Tern B is {sheet['reference']['median']:g} USD" in DEVELOPERS
    assert f"a log effect of −{-gone['effect'][0]:g}" in DEVELOPERS
