"""Model sheets: parts their type never had, parts it has beyond its family, figures of its own."""

import json
from pathlib import Path
from typing import Any

import pytest

from tests.support.broken import problems_of
from tests.support.own_rules import GROUNDS, own_folder
from tests.support.packs import FAMILY, families, kinds, pack_for, shipped
from webapp.appraisal.findings import read_findings
from webapp.appraisal.numbers import Numbers, numbers
from webapp.appraisal.prepared import prepare
from webapp.paths import rules_folder
from webapp.rulebook.sheets import apply_sheet, sheet_overrides

Json = dict[str, Any]

GUARD: Json = {
    "id": "send-switch-guard", "label": "red guard over the switch", "stage": "front", "weight": 2.0,
    "salvage": [0.0, 1.0, 2.0], "buy": [3.0, 5.0, 9.0], "gone_prior": 0.35, "gone_effect": -0.05,
    "basis": "invented", "why": "It catches on everything.",
}  # fmt: skip


def sheet(family: str, **changes: Any) -> Json:
    """The pack of a family under a sheet that says this and nothing else."""
    overrides: Json = {
        "name": "Knot", "about": "A Knot.", "sheet": {"id": "knot", "family": family}, "reference": {},
        "absent": [], "parts": [], "extra": [],
    }  # fmt: skip
    return apply_sheet(pack_for(None, family), {**overrides, **changes})


def by_id(rows: list[Json]) -> dict[str, Json]:
    return {row["id"]: row for row in rows}


def numbers_with(pack: Json, **answers: str) -> Numbers:
    prepared = prepare(pack)
    found = {check.replace("_", "-"): option for check, option in answers.items()}
    return numbers(prepared, read_findings({"family": pack["family"], "answers": found}, prepared))


def gone_with(pack: Json, part: str) -> set[str]:
    """The check on a part and, told by searching on until nothing more is found, what only it opens."""
    gone: set[str] = {check["id"] for check in pack["checks"] if check["part"] == part}
    for _ in pack["checks"]:
        gone |= {c["id"] for c in pack["checks"] if c["shown_if"] and c["shown_if"]["check"] in gone}
    return gone


# ---- absent parts


@pytest.mark.parametrize("family", families())
def test_an_absent_part_takes_its_check_and_follow_ups_with_it_and_nothing_else(family: str) -> None:
    pack = pack_for(None, family)
    followed = 0
    for part in pack["parts"]:
        gone = gone_with(pack, part["id"])
        followed += len(gone) > 1
        under = sheet(family, absent=[part["id"]])
        assert under["parts"] == [row for row in pack["parts"] if row["id"] != part["id"]]
        assert under["checks"] == [row for row in pack["checks"] if row["id"] not in gone]
        assert under["tasks"] == pack["tasks"]


def test_some_part_of_a_family_has_a_check_that_opens_follow_ups() -> None:
    """Otherwise the test above would show less than it says."""
    opening = [
        (family, part["id"])
        for family in families()
        for part in pack_for(None, family)["parts"]
        if len(gone_with(pack_for(None, family), part["id"])) > 1
    ]
    assert opening


def test_an_absent_part_is_no_longer_missed_in_completeness() -> None:
    whole = numbers_with(sheet(FAMILY), loading_coil="gone").scores.completeness
    without = numbers_with(sheet(FAMILY, absent=["loading-coil"])).scores.completeness
    assert whole.high < 100
    assert without.high == 100


def test_an_absent_crystal_is_no_longer_computed() -> None:
    pack = pack_for()
    assert pack["effects"]["crystal_part"] == "check-crystal"
    under = sheet(FAMILY, absent=["check-crystal"])
    assert under["effects"] == {**pack["effects"], "crystal_part": None}
    assert "check-crystal" not in by_id(under["checks"])


WITH_BOOK = [family for family in families() if pack_for(None, family)["effects"]["book_part"]]


@pytest.mark.parametrize("family", WITH_BOOK)
def test_a_type_without_a_book_lacks_its_part_and_its_check(family: str) -> None:
    pack = pack_for(None, family)
    part = pack["effects"]["book_part"]
    under = sheet(family, sheet={"id": "knot", "family": family, "book": "none"})
    assert set(by_id(pack["parts"])) - set(by_id(under["parts"])) == {part}
    assert under["effects"] == {**pack["effects"], "book_part": None}
    assert [check for check in under["checks"] if check.get("asks") == "book"] == []
    for book in ("by serial", "by model"):
        assert sheet(family, sheet={"id": "knot", "family": family, "book": book})["parts"] == pack["parts"]


def test_a_family_has_a_book_and_another_has_none() -> None:
    assert WITH_BOOK
    assert FAMILY not in WITH_BOOK
    assert (
        sheet(FAMILY, sheet={"id": "knot", "family": FAMILY, "book": "none"})["parts"] == pack_for()["parts"]
    )


# ---- extra parts


def test_an_extra_part_gives_part_check_and_task_with_the_figures_of_its_row() -> None:
    pack, under = pack_for(), sheet(FAMILY, extra=[GUARD])
    part = under["parts"][-1]
    assert {key: part[key] for key in ("id", "label", "weight", "salvage", "buy", "basis", "why")} == {
        key: GUARD[key] for key in ("id", "label", "weight", "salvage", "buy", "basis", "why")
    }
    assert (part["calibration"], part["fits_family"]) == (False, False)

    check = by_id(under["checks"])[GUARD["id"]]
    assert set(check) >= set(next(row for row in pack["checks"] if row["part"])) - {"asks", "source"}
    assert (check["part"], check["stage"], check["label"]) == (GUARD["id"], "front", GUARD["label"])
    assert GUARD["label"] in check["help"]
    there, gone = check["options"]
    assert (there["id"], there["prior"], there["state"], there["as_made"]) == ("there", 0.65, 1, True)
    assert (gone["id"], gone["prior"], gone["state"], gone["as_made"]) == ("gone", 0.35, 0, False)
    assert (there["log_effect"][0], gone["log_effect"][0]) == (0, -0.05)
    assert (gone["fixable"], gone["tasks"]) == (True, ["find-and-fit-send-switch-guard"])

    task = by_id(under["tasks"])["find-and-fit-send-switch-guard"]
    assert set(task) >= set(pack["tasks"][0]) - {"source"}
    assert task["set_up"]["materials"] == GUARD["buy"]
    assert task["part"] == GUARD["id"]
    assert task["set_up"]["hours"] == [
        pack["model"][f"fit_hours_{word}"] for word in ("low", "likely", "high")
    ]
    assert set(task["aims"]) == {aim["id"] for aim in pack["aims"]}


def test_the_check_on_an_extra_part_comes_last_of_its_stage() -> None:
    before, after = pack_for()["checks"], sheet(FAMILY, extra=[GUARD])["checks"]
    place = [check["id"] for check in after].index(GUARD["id"])
    assert [*after[:place], *after[place + 1 :]] == before
    assert after[place - 1]["stage"] == "front"
    assert after[place + 1]["stage"] != "front"


def test_an_extra_part_that_nobody_sells_calls_no_task_and_cannot_be_mended() -> None:
    under = sheet(FAMILY, extra=[{**GUARD, "buy": None}])
    assert under["tasks"] == pack_for()["tasks"]
    gone = by_id(under["checks"])[GUARD["id"]]["options"][1]
    assert (gone["fixable"], gone["tasks"]) == (False, [])
    assert under["parts"][-1]["buy"] is None


def test_an_extra_part_counts_in_price_completeness_and_work() -> None:
    under = sheet(FAMILY, extra=[GUARD])
    there = numbers_with(under, send_switch_guard="there")
    gone = numbers_with(under, send_switch_guard="gone")
    assert gone.market.log_median == pytest.approx(there.market.log_median - 0.05, abs=1e-12)
    assert gone.scores.completeness.likely < there.scores.completeness.likely
    assert gone.effort.hours[0] > there.effort.hours[0]


def test_several_extra_parts_keep_their_order() -> None:
    second = {**GUARD, "id": "second-guard"}
    checks = [check["id"] for check in sheet(FAMILY, extra=[GUARD, second])["checks"]]
    assert checks.index("second-guard") == checks.index(GUARD["id"]) + 1


# ---- figures of its own


def test_a_changed_part_keeps_what_the_sheet_leaves_out_and_loses_the_old_source() -> None:
    pack = pack_for()
    row = {"id": "loading-coil", "weight": 11.0, "basis": "invented", "why": "Larger here."}
    sourced = {**pack, "parts": [{**part, "source": "somewhere"} for part in pack["parts"]]}
    overrides = {
        "name": "x",
        "about": "x",
        "sheet": {},
        "reference": {},
        "absent": [],
        "parts": [row],
        "extra": [],
    }
    before, after = (
        by_id(rows)["loading-coil"] for rows in (pack["parts"], apply_sheet(sourced, overrides)["parts"])
    )
    assert after == {**before, **row}
    others = [part for part in apply_sheet(sourced, overrides)["parts"] if part["id"] != "loading-coil"]
    assert all(part["source"] == "somewhere" for part in others)


def test_supply_volts_and_reference_of_the_sheet_go_before_those_of_the_family() -> None:
    pack = pack_for()
    own = sheet(FAMILY, sheet={"supply_volts": [12.0, 14.0]}, reference={"median": 80.0})
    assert (pack["supply_volts"], own["supply_volts"]) == ([24, 28], [12, 14])
    assert own["reference"] == {**pack["reference"], "median": 80}
    assert sheet(FAMILY)["supply_volts"] == pack["supply_volts"]


def test_a_sheet_leaves_the_pack_of_its_family_as_it_is() -> None:
    before = json.dumps(pack_for())
    row = {"id": "loading-coil", "weight": 11.0, "basis": "invented", "why": "Larger here."}
    sheet(FAMILY, absent=["check-crystal"], extra=[GUARD], parts=[row], reference={"median": 1.0})
    assert json.dumps(pack_for()) == before


SHEETS = [(family, name) for family, name in kinds() if name]


@pytest.mark.parametrize(("family", "name"), SHEETS)
def test_every_shipped_sheet_says_what_it_changes_and_its_pack_can_be_counted_with(
    family: str, name: str
) -> None:
    overrides = sheet_overrides(shipped().sheets[name])
    assert json.loads(json.dumps(overrides, allow_nan=False)) == overrides
    pack = pack_for(name, family)
    assert set(overrides["absent"]) & set(by_id(pack["parts"])) == set()
    assert {extra["id"] for extra in overrides["extra"]} <= set(by_id(pack["parts"])) & set(
        by_id(pack["checks"])
    )
    for part in overrides["parts"]:
        assert part.items() <= by_id(pack["parts"])[part["id"]].items()
    low, likely, high = (
        getattr(numbers_with(pack).scores.completeness, key) for key in ("low", "likely", "high")
    )
    assert 0 <= low < likely < high <= 100


def test_among_the_shipped_sheets_every_kind_of_change_is_met() -> None:
    documents = [sheet_overrides(shipped().sheets[name]) for _, name in SHEETS]
    for key in ("absent", "parts", "extra", "reference"):
        assert any(document[key] for document in documents), key


# ---- broken sheets

TERN, CURLEW = "sheets/tern-a.toml", "sheets/curlew.toml"
EXTRA = f"""[[extra_part]]
id = "guard"
label = "guard"
stage = "front"
weight = 2
salvage = [0, 1, 2]
gone_prior = 0.3
gone_effect = -0.05
{GROUNDS}"""
CALIBRATION = ["check-crystal", "indicator-tube", "viewing-mirror", "calibration-trimmer"]


def extra(old: str, new: str) -> str:
    assert old in EXTRA
    return EXTRA.replace(old, new)


BROKEN = [
    (TERN, 'absent = ["loading-koil"]', 'no part "loading-koil". Did you mean "loading-coil"?'),
    (TERN, 'absent = ["nameplate"]', 'the part "nameplate" cannot be absent: every set is asked for it.'),
    (TERN, f"absent = {CALIBRATION}", "a set keeps at least one calibration part"),
    (TERN, 'absent = "dial"', '"absent" is \'dial\''),
    (TERN, 'finish = "black wrinkel"', 'finishes.toml does not know. Did you mean "black wrinkle"?'),
    (TERN, 'service = "post"', "\"service\" is 'post', which finishes.toml does not know."),
    (TERN, 'book = "maybe"', '"book" is \'maybe\''),
    (TERN, f"supply_volts = [28, 24]\n{GROUNDS}", "the lower figure comes first"),
    (TERN, f"heater_strings = [[{{volts = 0, amps = 1}}]]\n{GROUNDS}", "greater than 0"),
    (TERN, f"heater_strings = [{{volts = 1, amps = 1}}]\n{GROUNDS}", "heater_strings"),
    (TERN, "colour = 5", 'unknown key "colour"'),
    (TERN, 'family = "aircraft"', 'there is no family "aircraft".'),
    (TERN, f'[[part]]\nid = "loading-koil"\n{GROUNDS}', 'part "loading-koil": the family has no part'),
    (TERN, f'[[part]]\nid = "case"\nwieght = 3\n{GROUNDS}', 'unknown key "wieght". Did you mean "weight"'),
    (TERN, f'[[part]]\nid = "case"\nbuy = [3, 2, 1]\n{GROUNDS}', "must rise: low, likely, high"),
    (TERN, '[[part]]\nid = "case"\nweight = 3', 'the key "why" is missing'),
    (TERN, '[[part]]\nid = "case"\nbasis = "published"\nsource = "tern-book"\nwhy = "x"',
     'part "case": there is no source "tern-book"'),
    (TERN, f"{EXTRA}\n{EXTRA}", "used twice"),
    (TERN, extra('basis = "invented"', 'basis = "published"\nsource = "tern-book"'),
     'extra_part "guard": there is no source "tern-book"'),
    (TERN, extra('id = "guard"', 'id = "loading-coil"'), "taken by a row of the family; choose another."),
    (TERN, extra('id = "guard"', 'id = "serial"'), "taken by a row of the family; choose another."),
    (TERN, extra('id = "guard"', 'id = "knobs"'), "taken by a row of the family; choose another."),
    (TERN, extra('stage = "front"', 'stage = "frnt"'), 'no stage "frnt". Did you mean "front"?'),
    (TERN, extra("gone_prior = 0.3", "gone_prior = 1"), '"gone_prior" is 1'),
    (TERN, extra("gone_prior = 0.3", "gone_prior = 0"), '"gone_prior" is 0'),
    (TERN, extra("gone_effect = -0.05", "gone_effect = 0.05"), "a log effect, 0 or below"),
    (TERN, extra("weight = 2", "weight = 0"), '"weight" is 0'),
    (TERN, extra('label = "guard"', f'label = "{"g" * 41}"'), "at most 40 letters"),
    (TERN, "part = 5", "there are no [[part]] rows"),
    (TERN, "extra_part = [5]", "extra_part 1"),
]  # fmt: skip


@pytest.mark.parametrize(("file", "text", "said"), BROKEN, ids=[said[:60] for _, _, said in BROKEN])
def test_a_broken_sheet_is_told_with_its_file(file: str, text: str, said: str, tmp_path: Path) -> None:
    problems = problems_of(rules_folder(), own_folder(tmp_path, {file: text}))
    matching = [problem for problem in problems if said in problem]
    assert len(matching) == 1, problems
    assert matching[0].startswith(f"own/{file}")


def test_a_sheet_without_a_book_keeps_a_calibration_part_too(tmp_path: Path) -> None:
    parts = pack_for(None, "frequency-meter")["parts"]
    others = [part["id"] for part in parts if part["calibration"] and part["id"] != "calibration-book"]
    assert len(others) + 1 == sum(part["calibration"] for part in parts)
    for book, told in (("by serial", False), ("none", True)):
        folder = tmp_path / book.replace(" ", "-")
        folder.mkdir()
        text = f'book = "{book}"\nabsent = {others}'
        problems = problems_of(rules_folder(), own_folder(folder, {CURLEW: text}))
        assert any("at least one calibration part" in problem for problem in problems) == told
