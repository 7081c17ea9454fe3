"""A person's own rules over the shipped ones: row by row and option by option, by id."""

from pathlib import Path
from typing import Any

import pytest

from tests.support.broken import EVERY_SET, FAM, Mistake, problems_of
from tests.support.own_rules import (
    GROUNDS,
    NEW_FAMILY,
    NEW_SHEET,
    laid,
    line_of,
    own_folder,
    problems_laying,
)
from tests.support.packs import FAMILY, copy_of_rules, families, pack_for, shipped
from webapp.appraisal.findings import read_findings
from webapp.appraisal.numbers import numbers
from webapp.appraisal.prepared import prepare
from webapp.rulebook.compiling import compile_family, compile_sheet

Json = dict[str, Any]

PLATE = """[[check]]
id = "nameplate"

  [[check.option]]
  id = "gone"
"""


def row_of(pack: Json, table: str, row_id: str) -> Json:
    row: Json = next(row for row in pack[table] if row["id"] == row_id)
    return row


def changes(before: Json, after: Json) -> set[str]:
    return {key for key in before.keys() | after.keys() if before.get(key) != after.get(key)}


def pack_with(folder: Path, text: str, file: str = FAM) -> Json:
    """The pack of the first family with this own file over it."""
    return compile_family(laid(folder, {file: text}), FAMILY)


# ---- what is laid over what


@pytest.mark.parametrize("file", [FAM, EVERY_SET])
def test_an_own_row_changes_only_the_keys_it_gives(file: str, tmp_path: Path) -> None:
    """Over a common row it may stand in the family's file or in the common one."""
    pack = pack_with(tmp_path, '[[check]]\nid = "serial"\nhelp = "Look under the plate."', file)
    before, after = row_of(pack_for(), "checks", "serial"), row_of(pack, "checks", "serial")
    assert changes(before, after) == {"help"}
    assert after["help"] == "Look under the plate."
    assert changes(pack_for(), pack) == {"checks", "hash"}


def test_an_own_option_changes_only_that_option_and_no_order(tmp_path: Path) -> None:
    pack = pack_with(tmp_path, PLATE + '  label = "Gone for good"')
    before, after = (row_of(p, "checks", "nameplate")["options"] for p in (pack_for(), pack))
    assert [option["id"] for option in after] == [option["id"] for option in before]
    assert [changes(b, a) for b, a in zip(before, after, strict=True)] == [set(), set(), set(), {"label"}]
    assert [check["id"] for check in pack["checks"]] == [check["id"] for check in pack_for()["checks"]]


def test_a_row_in_the_common_folder_changes_every_family_that_uses_it(tmp_path: Path) -> None:
    book = laid(tmp_path, {EVERY_SET: '[[part]]\nid = "wiring"\nlabel = "wires"'})
    using = [family.id for family in book.families.values() if "wiring" in {part.id for part in family.parts}]
    assert len(using) > 1
    for family in using:
        assert row_of(compile_family(book, family), "parts", "wiring")["label"] == "wires"


def test_the_file_of_a_family_goes_before_the_common_one_in_the_same_folder(tmp_path: Path) -> None:
    label = '[[part]]\nid = "wiring"\nlabel = '
    book = laid(tmp_path, {EVERY_SET: label + '"wires"', FAM: label + '"harness"'})
    labels = {
        family: row_of(compile_family(book, family), "parts", "wiring")["label"] for family in families()
    }
    assert labels.pop(FAMILY) == "harness"
    assert set(labels.values()) == {"wires"}


def test_a_new_row_and_a_new_option_come_after_the_others(tmp_path: Path) -> None:
    text = f"""{PLATE}  prior = 0.05
  {GROUNDS}
  [[check.option]]
  id = "two"
  label = "Two plates"
  prior = 0.02
  state = 0
  effect = [-0.2, 0.1]
  {GROUNDS}"""
    pack = pack_with(tmp_path, text)
    options = row_of(pack, "checks", "nameplate")["options"]
    assert [(option["id"], option["prior"]) for option in options][-2:] == [("gone", 0.05), ("two", 0.02)]


def test_hole_sizes_have_no_ids_so_an_own_list_replaces_the_shipped_one(tmp_path: Path) -> None:
    size = f"""[[hole_place]]
id = "back"

  [[hole_place.size]]
  label = "any size"
  severity = 0.1
  severity_plugged = 0.05
  fixable = 0
  {GROUNDS}"""
    places = {place["id"]: place["sizes"] for place in pack_with(tmp_path, size)["holes"]["places"]}
    assert [entry["label"] for entry in places["back"]] == ["any size"]
    assert len(places["front-panel"]) > 1


def test_a_single_table_changes_key_by_key(tmp_path: Path) -> None:
    pack = pack_with(tmp_path, f"[reference]\nmedian = 250\n{GROUNDS}")
    assert changes(pack_for()["reference"], pack["reference"]) == {"median", "why"}
    assert pack["reference"]["median"] == 250


def test_sentences_change_one_by_one(tmp_path: Path) -> None:
    book = laid(tmp_path, {"words.toml": '[words]\ncoverage-unknown = "Nobody knows."'})
    assert changes(shipped().words, book.words) == {"coverage-unknown"}


def test_an_own_sheet_replaces_coverage_and_absent_parts_and_adds_to_neither(tmp_path: Path) -> None:
    text = f"coverage_khz = [2300, 3100]\n{GROUNDS}"
    pack = compile_sheet(laid(tmp_path, {"sheets/tern-a.toml": text}), FAMILY, "tern-a")
    assert pack["sheet"]["coverage_khz"] == [2300, 3100]
    assert pack["sheet"]["crystal_khz"] == pack_for("tern-a")["sheet"]["crystal_khz"]
    assert pack["reference"] == pack_for("tern-a")["reference"]


def test_without_an_own_folder_or_with_an_empty_one_the_packs_are_the_same(tmp_path: Path) -> None:
    assert compile_family(laid(tmp_path, {}), FAMILY)["hash"] == pack_for()["hash"]


# ---- what a changed number rests on

BAND = '[[band]]\nid = "region-1-40-m"\nto_khz = 7150\n'
NUMBERS = [
    (FAM, '[[part]]\nid = "front-panel"\nweight = 8', 'part "front-panel"', "weight"),
    (FAM, '[[part]]\nid = "front-panel"\nsalvage = [5, 8, 14]', 'part "front-panel"', "salvage"),
    (FAM, '[[check]]\nid = "serial"\nseconds = 9', 'check "serial"', "seconds"),
    (FAM, PLATE + "  prior = 0.08", 'check "nameplate", option 1', "prior"),
    (FAM, PLATE + "  effect = [-0.1, 0.08]", 'check "nameplate", option 1', "effect"),
    (FAM, '[[task]]\nid = "make-safe"\nhours = [1, 2, 3]', 'task "make-safe"', "hours"),
    (FAM, "[reference]\nmedian = 250", "reference", "median"),
    (FAM, "[holes]\nb = 2", "holes", "b"),
    ("bands.toml", BAND, 'band "region-1-40-m"', "to_khz"),
    ("model.toml", '[[constant]]\nid = "overlap_khz"\nvalue = 30', 'constant "overlap_khz"', "value"),
    ("finishes.toml", "[mismatch]\neffect = [-0.03, 0.03]", "mismatch", "effect"),
    ("sheets/tern-a.toml", "crystal_khz = 2800", "", "crystal_khz"),
    ("sheets/tern-a.toml", "coverage_khz = [2200, 3200]", "", "coverage_khz"),
    ("sheets/tern-a.toml", "heater_strings = [[{volts = 12.6, amps = 0.3}]]", "", "heater_strings"),
    ("sheets/tern-a.toml", "[reference]\nmedian = 180", "reference", "median"),
]


HALF = [(*number, "") for number in NUMBERS]
HALF += [
    (*number, half) for number in (NUMBERS[0], NUMBERS[-3]) for half in ('why = "x"', 'basis = "invented"')
]


@pytest.mark.parametrize(
    ("file", "text", "row", "key", "half"), HALF, ids=[f"{row} {key} {half}" for _, _, row, key, half in HALF]
)
def test_a_changed_number_needs_a_basis_and_a_why_of_its_own(
    file: str, text: str, row: str, key: str, half: str, tmp_path: Path
) -> None:
    (problem,) = problems_laying(tmp_path, {file: f"{text}\n{half}" if row else f"{half}\n{text}"})
    told = f"own/{file} (line {line_of(text, key)}), {row}" if row else f"own/{file}"
    assert problem == f'{told}: it changes "{key}", so it needs a basis and a why of its own.'


@pytest.mark.parametrize(("file", "text", "row", "key"), NUMBERS, ids=[f"{n[2]} {n[3]}" for n in NUMBERS])
def test_with_both_it_is_taken(file: str, text: str, row: str, key: str, tmp_path: Path) -> None:
    problems = problems_laying(tmp_path, {file: f"{GROUNDS}{text}" if not row else f"{text}\n{GROUNDS}"})
    # A changed share no longer adds up with the others, which is another matter.
    assert [problem for problem in problems if "add up" not in problem] == []


def test_the_same_number_again_is_no_change(tmp_path: Path) -> None:
    weight = row_of(pack_for(), "parts", "front-panel")["weight"]
    pack = pack_with(tmp_path, f'[[part]]\nid = "front-panel"\nweight = {weight}\nlabel = "panel"')
    part = row_of(pack, "parts", "front-panel")
    assert changes(row_of(pack_for(), "parts", "front-panel"), part) == {"label"}


def test_the_old_source_does_not_stay_behind_a_new_basis(tmp_path: Path) -> None:
    (before,) = [band for band in shipped().bands if band.id == "region-1-40-m"]
    assert (before.basis, before.source is None) == ("published", False)
    (after,) = [b for b in laid(tmp_path, {"bands.toml": BAND + GROUNDS}).bands if b.id == before.id]
    assert (after.to_khz, after.from_khz) == (7150, before.from_khz)
    assert (after.basis, after.source, after.why) == ("invented", None, "Seen at two sales.")


def test_neither_source_nor_why_stay_behind_a_new_basis_of_an_option(tmp_path: Path) -> None:
    (problem,) = problems_laying(tmp_path, {FAM: PLATE + '  basis = "invented"'})
    assert "needs a `why`" in problem


# ---- faults


def test_a_fault_is_told_of_the_file_that_spoke_last_with_its_line(tmp_path: Path) -> None:
    text = "# mine\n\n" + PLATE + '  cautions = ["plate-cap"]'
    for file in (FAM, EVERY_SET):
        (tmp_path / file.replace("/", "-")).mkdir()
        (problem,) = problems_laying(tmp_path / file.replace("/", "-"), {file: text})
        assert problem == (
            f'own/{file} (line 6), check "nameplate", option 1: there is no caution "plate-cap". '
            'Did you mean "plate-caps"?'
        )


def test_a_fault_below_is_told_of_the_file_below(tmp_path: Path) -> None:
    rules = copy_of_rules(tmp_path, FAMILY)
    mistake = Mistake("prior = 0.78", "prior = 0.79", "[[check]]", (), EVERY_SET)
    line = mistake.make(rules)
    own = own_folder(tmp_path, {FAM: '[[check]]\nid = "serial"\nlabel = "Number"'})
    (problem,) = problems_of(rules, own)
    assert problem.startswith(f'rules/{EVERY_SET} (line {line}), check "nameplate": the priors')


def test_a_fault_in_a_row_of_all_families_is_told_once(tmp_path: Path) -> None:
    rules = copy_of_rules(tmp_path)
    line = Mistake("seconds = 10", "seconds = 0", "[[check]]", (), EVERY_SET).make(rules)
    (problem,) = problems_of(rules)
    assert problem.startswith(f'rules/{EVERY_SET} (line {line}), check "nameplate": "seconds" is 0')


@pytest.mark.parametrize(
    ("text", "where"),
    [
        ('[[part]]\nid = "a"\nlabel = "x"\n\n[[part]]\nid = "a"\nlabel = "y"', ' (line 5), part "a"'),
        (
            '[[part]]\nid = "case"\nlabel = "x"\n\n[[part]]\nid = "case"\nlabel = "y"',
            ' (line 5), part "case"',
        ),
        (PLATE + '\n  [[check.option]]\n  id = "gone"', ' (line 7), check "nameplate", option 2'),
    ],
)
def test_two_rows_with_one_id_in_one_file_are_told(text: str, where: str, tmp_path: Path) -> None:
    problems = problems_laying(tmp_path, {FAM: text})
    told = f"own/{FAM}{where}: this id is used twice; every row needs its own."
    assert problems.count(told) == 1


@pytest.mark.parametrize(
    ("given", "said"),
    [("", 'the key "id" is missing; it should be'), ("id = 7\n", '"id" is 7: it should be')],
)
def test_a_row_without_an_id_is_told_by_its_number_in_its_own_file(
    given: str, said: str, tmp_path: Path
) -> None:
    text = f'[[part]]\nid = "wiring"\nlabel = "wires"\n\n[[part]]\n{given}label = "x"'
    (problem,) = problems_laying(tmp_path, {FAM: text})
    assert problem.startswith(f"own/{FAM} (line 5), part 2: {said}")


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("band.toml", 'Did you mean "bands.toml"?'),
        ("families.toml", "Families stand in families/"),
        ("family/my-set.toml", "Families stand in families/"),
        ("models/x.toml", "model sheets in sheets/"),
    ],
)
def test_a_file_that_is_none_of_the_tables_is_told(name: str, said: str, tmp_path: Path) -> None:
    (problem,) = problems_laying(tmp_path, {name: 'id = "x"'})
    assert problem.startswith(f"own/{name}: this is none of the rule tables. ")
    assert said in problem


def test_a_file_that_is_not_toml_is_told_and_nothing_else(tmp_path: Path) -> None:
    (problem,) = problems_laying(tmp_path, {EVERY_SET: "label = = 1"})
    assert problem.startswith(f"own/{EVERY_SET}: not valid TOML: ")


@pytest.mark.parametrize(
    "text",
    ["check = 5", "part = [1]", "reference = 5", "[part]\nid = 'x'", "[[check]]\nid = 'serial'\noption = 7",
     "words = 3"],
)  # fmt: skip
def test_values_where_tables_belong_are_told_of_the_own_file(text: str, tmp_path: Path) -> None:
    problems = problems_laying(tmp_path, {FAM: text})
    assert [problem for problem in problems if problem.startswith(f"own/{FAM}")]


def test_an_own_option_over_a_broken_list_below_is_no_crash(tmp_path: Path) -> None:
    broken = '[[check]]\nid = "serial"\noption = 7'
    problems = problems_laying(tmp_path, {EVERY_SET: broken, FAM: PLATE.replace("nameplate", "serial")})
    assert [problem for problem in problems if f'own/{FAM} (line 4), check "serial", option 1' in problem]


# ---- more families and sheets, without a line of code

LAMP = {"families/signal-lamp.toml": NEW_FAMILY, "sheets/sanderling.toml": NEW_SHEET}


def test_a_new_family_stands_on_the_common_tables_and_on_its_own_rows(tmp_path: Path) -> None:
    book = laid(tmp_path, LAMP)
    assert set(book.families) == {*families(), "signal-lamp"}
    pack = compile_family(book, "signal-lamp")
    checks = [check["id"] for check in pack["checks"]]
    assert checks.index("shutter-scale") == checks.index("front-panel") + 1
    assert "smell" not in checks
    assert row_of(pack, "checks", "nameplate") == row_of(pack_for(), "checks", "nameplate")
    assert pack["nomenclature"]["families"]["signal-lamp"]["sets"] == ["GSQ"]


def test_a_new_sheet_of_a_new_family_appraises(tmp_path: Path) -> None:
    pack = compile_sheet(laid(tmp_path, LAMP), "signal-lamp", "sanderling")
    assert "handbook" not in {part["id"] for part in pack["parts"]}
    prepared = prepare(pack)
    medians = [
        numbers(
            prepared, read_findings({"family": "signal-lamp", "answers": answers}, prepared)
        ).market.log_median
        for answers in ({"red-filter": "gone"}, {"red-filter": "there"}, {"shutter-scale": "gone"})
    ]
    assert medians[2] < medians[0] < medians[1]


def test_an_own_family_is_at_fault_in_its_own_file(tmp_path: Path) -> None:
    broken = NEW_FAMILY.replace("prior = 0.7", "prior = 0.8")
    (problem,) = problems_laying(tmp_path, {"families/signal-lamp.toml": broken})
    line = line_of(broken, 'id = "shutter-scale"\nstage')
    assert problem.startswith(
        f'own/families/signal-lamp.toml (line {line}), check "shutter-scale": the priors'
    )


def test_a_family_file_of_another_name_is_told(tmp_path: Path) -> None:
    problems = problems_laying(tmp_path, {"families/lamp.toml": NEW_FAMILY})
    told = (
        'own/families/lamp.toml: the family "signal-lamp" must stand in the file families/signal-lamp.toml.'
    )
    assert told in problems
