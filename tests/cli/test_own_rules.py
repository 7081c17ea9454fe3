"""A folder of own rules by option and by variable, through the real command."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.support.broken import FAM
from tests.support.command import refusal_of, run
from tests.support.own_rules import NEW_FAMILY, NEW_SHEET, own_folder
from tests.support.packs import FAMILY, pack_for, shipped
from webapp.paths import rules_folder
from webapp.rulebook.counts import rows_by_basis

Json = dict[str, Any]

LAMP = {"families/signal-lamp.toml": NEW_FAMILY, "sheets/sanderling.toml": NEW_SHEET}
DEARER = {FAM: '[reference]\nmedian = 500\nbasis = "from memory"\nwhy = "Three sales."'}
WAYS = pytest.mark.parametrize("by_variable", [False, True], ids=["--rules", "UNDERCHASSIS_RULES"])


def with_rules(own: Path, by_variable: bool, *arguments: str, given: bytes | None = None) -> Any:
    """What the command does with these own rules."""
    if by_variable:
        return run(*arguments, given=given, UNDERCHASSIS_RULES=str(own))
    return run(*arguments, "--rules", str(own), given=given)


@WAYS
def test_pack_compiles_with_the_own_rows(by_variable: bool, tmp_path: Path) -> None:
    result = with_rules(own_folder(tmp_path, DEARER), by_variable, "pack", FAMILY)
    assert (result.returncode, result.stderr) == (0, b"")
    pack = json.loads(result.stdout)
    assert pack["reference"] == {
        **pack_for()["reference"], "median": 500, "basis": "from memory", "why": "Three sales.",
    }  # fmt: skip
    assert pack["checks"] == pack_for()["checks"]


@WAYS
def test_pack_compiles_a_sheet_of_a_family_of_ones_own(by_variable: bool, tmp_path: Path) -> None:
    own = own_folder(tmp_path, LAMP)
    result = with_rules(own, by_variable, "pack", "signal-lamp", "--sheet", "sanderling")
    pack = json.loads(result.stdout)
    assert (pack["family"], pack["name"], pack["parts"][-1]["id"]) == (
        "signal-lamp",
        "Sanderling",
        "red-filter",
    )


@WAYS
def test_appraise_counts_with_the_own_rows(by_variable: bool, tmp_path: Path) -> None:
    found = json.dumps({"family": FAMILY, "answers": {"loading-coil": "gone"}}).encode()
    plain = json.loads(run("appraise", "-", given=found).stdout)
    dearer = json.loads(
        with_rules(own_folder(tmp_path, DEARER), by_variable, "appraise", "-", given=found).stdout
    )
    ratio = dearer["price"]["as_is"]["p50"] / plain["price"]["as_is"]["p50"]
    assert ratio == pytest.approx(500 / pack_for()["reference"]["median"], rel=1e-9)


@WAYS
def test_appraise_knows_a_family_of_ones_own(by_variable: bool, tmp_path: Path) -> None:
    found = json.dumps(
        {"family": "signal-lamp", "model_sheet": "sanderling", "answers": {"red-filter": "gone"}}
    )
    result = with_rules(own_folder(tmp_path, LAMP), by_variable, "appraise", "-", given=found.encode())
    assert (result.returncode, result.stderr) == (0, b"")
    assert json.loads(result.stdout)["family"] == "signal-lamp"


@WAYS
def test_rules_lists_and_counts_the_own_rows(by_variable: bool, tmp_path: Path) -> None:
    result = with_rules(own_folder(tmp_path, LAMP), by_variable, "rules")
    said = result.stdout.decode()
    assert (result.returncode, result.stderr) == (0, b"")
    assert "\nsignal-lamp: " in said
    assert "sanderling" in said
    rows = sum(rows_by_basis(shipped()).values()) + (NEW_FAMILY + NEW_SHEET).count("basis = ")
    # The common faces are drawn as they stand here; every shipped family has changed them.
    rows += (rules_folder() / "common" / "every-set.toml").read_text(encoding="utf-8").count("[[face]]")
    assert f"\n{rows} rows, by what they rest on: " in said


@WAYS
def test_rules_tells_what_is_wrong_in_the_own_file(by_variable: bool, tmp_path: Path) -> None:
    own = own_folder(tmp_path, {FAM: "[reference]\nmedian = 500", "band.toml": ""})
    result = with_rules(own, by_variable, "rules")
    assert (result.returncode, result.stdout) == (2, b"")
    assert result.stderr.decode().splitlines() == [
        "underchassis: The rule tables have 2 problems:",
        '- own/band.toml: this is none of the rule tables. Did you mean "bands.toml"? '
        "Families stand in families/, model sheets in sheets/, what families share in common/.",
        f'- own/{FAM} (line 1), reference: it changes "median", so it needs a basis and a why of its own.',
    ]


def test_the_option_goes_before_the_variable(tmp_path: Path) -> None:
    own = own_folder(tmp_path, DEARER)
    result = run("pack", FAMILY, "--rules", str(own), UNDERCHASSIS_RULES=str(tmp_path / "nowhere"))
    assert json.loads(result.stdout)["reference"]["median"] == 500


@pytest.mark.parametrize("command", [["rules"], ["pack", FAMILY], ["appraise", "-"], ["serve"]])
def test_a_folder_that_is_not_there_gets_a_sentence(command: list[str], tmp_path: Path) -> None:
    missing = str(tmp_path / "my rules")
    assert refusal_of(run(*command, "--rules", missing, given=b"{}")) == (
        f'--rules names "{missing}", which is no folder. Check the name.'
    )
    assert refusal_of(run(*command, given=b"{}", UNDERCHASSIS_RULES=missing)) == (
        f'The variable UNDERCHASSIS_RULES names "{missing}", which is no folder. Check the name.'
    )


def test_a_file_in_place_of_a_folder_gets_the_same_sentence(tmp_path: Path) -> None:
    (tmp_path / "bands.toml").touch()
    assert "which is no folder" in refusal_of(run("rules", "--rules", str(tmp_path / "bands.toml")))


def test_an_empty_variable_is_none_and_a_folder_is_found_from_where_one_stands(tmp_path: Path) -> None:
    assert run("rules", UNDERCHASSIS_RULES="").returncode == 0
    own_folder(tmp_path, DEARER)
    result = run("pack", FAMILY, "--rules", "own", cwd=tmp_path)
    assert json.loads(result.stdout)["reference"]["median"] == 500
