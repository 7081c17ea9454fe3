"""Whole files that cannot be read, or stand in the wrong place, or say a thing twice."""

from pathlib import Path

import pytest

from tests.support.broken import EVERY_SET, FAM, Mistake, check_told, problems_of, problems_with
from tests.support.packs import FAMILY, copy_of_rules
from webapp.errors import RulesBroken
from webapp.rulebook.tables import load

FILES = [
    "sources.toml", "walk.toml", "cautions.toml", "bands.toml", "model.toml", "words.toml", "finishes.toml",
    "nomenclature.toml", "component_holes.toml", "tube_numbers.toml", "price_index.toml",
]  # fmt: skip
PAY = 'verdict-pay-it = "Pay {asking}.'

MISTAKES = [
    # ids used twice
    Mistake('id = "worn"\n', 'id = "clear"\n', "", ('check "nameplate", option 2', "used twice")),
    Mistake('id = "serial"\n', 'id = "nameplate"\n', "[[check]]", ('check "nameplate"', "used twice")),
    Mistake('id = "case"\n', 'id = "front-panel"\n', "", ('part "front-panel"', "used twice")),
    Mistake(
        'id = "side"\nlabel', 'id = "front-panel"\nlabel', "", ('hole_place "front-panel"', "used twice")
    ),
    Mistake('id = "bench"', 'id = "display"', "", ('aim "display"', "used twice"), "walk.toml"),
    # tables that are not there, or are something else
    Mistake("[breaking]", "[braking]", "", ('unknown table "braking"', 'Did you mean "breaking"?')),
    Mistake("[breaking]", "[braking]", "", ("the table [breaking] is missing",)),
    Mistake("[[aim]]", "[[goal]]", "", ('unknown table "goal"',), "walk.toml"),
    Mistake(
        '[[stage]]\nid = "what-is-it"',
        '[stages]\n[[stages.a]]\nid = "a"',
        "",
        ('unknown table "stages"',),
        "walk.toml",
    ),
    Mistake('default_aim = "on-air"\n', "", "", ('the key "default_aim" is missing',)),
    Mistake('default_aim = "on-air"\n', 'default_aim = "on-air"\naim = "x"\n', "", ('unknown table "aim"',)),
    # names of files
    Mistake(
        f'id = "{FAMILY}"',
        'id = "aircraft-set"',
        "",
        ('"aircraft-set" must stand in', "families/aircraft-set.toml"),
    ),
    Mistake(
        'id = "tern-a"',
        'id = "tern-x"',
        "",
        ('"tern-x" must stand in', "sheets/tern-x.toml"),
        "sheets/tern-a.toml",
    ),
    # TOML itself
    Mistake("prior = 0.78", "prior = 0,78", "", ("not valid TOML", "at line")),
    Mistake("[breaking]", "[reference]", "", ("not valid TOML", "at line")),
    Mistake(
        "median = 185",
        "median = 185\nmedian = 195",
        "",
        ("not valid TOML", "at line"),
        "sheets/tern-a.toml",
    ),
    # the sentences
    Mistake(
        "verdict-pay-it =",
        "verdict-payit =",
        "",
        ('unknown sentence "verdict-payit"', "Did you mean"),
        "words.toml",
    ),
    Mistake("verdict-pay-it =", "verdict-payit =", "", ('"verdict-pay-it" is missing',), "words.toml"),
    Mistake(
        PAY, PAY.replace("{asking}", "{price}"), "[words]", ("{price}", "not filled there"), "words.toml"
    ),
    Mistake(PAY, PAY.replace("{asking}", "{}"), "[words]", ("{}", "not filled there"), "words.toml"),
    Mistake(PAY, PAY.replace("{asking}", "{asking:>9}"), "[words]", ("{asking:>9}",), "words.toml"),
    Mistake(PAY, PAY.replace("{asking}", "{asking"), "[words]", ('"verdict-pay-it"', "brace"), "words.toml"),
    Mistake(PAY, PAY.replace("{asking}", "asking}"), "[words]", ('"verdict-pay-it"', "brace"), "words.toml"),
    Mistake("[words]", "[word]", "", ("the table [words] is missing",), "words.toml"),
]


@pytest.mark.parametrize("mistake", MISTAKES, ids=[" ".join(m.words)[:70] for m in MISTAKES])
def test_a_file_that_cannot_be_used_is_named_with_what_is_wrong(mistake: Mistake, tmp_path: Path) -> None:
    check_told(tmp_path, mistake)


def test_a_syntax_error_is_told_with_its_line(tmp_path: Path) -> None:
    rules = copy_of_rules(tmp_path)
    text = (rules / FAM).read_text(encoding="utf-8")
    line = text[: text.index("sell_through")].count("\n") + 1
    (rules / FAM).write_text(text.replace("sell_through =", "sell_through = =", 1), encoding="utf-8")
    (problem,) = problems_of(rules)
    assert f"at line {line}," in problem


@pytest.mark.parametrize("file", FILES)
def test_a_missing_file_is_told_once(file: str, tmp_path: Path) -> None:
    rules = copy_of_rules(tmp_path)
    (rules / file).unlink()
    assert problems_of(rules) == [f"rules/{file}: the file is missing."]


@pytest.mark.parametrize("file", [*FILES, FAM, EVERY_SET, "common/crystal.toml", "sheets/tern-b.toml"])
def test_a_file_that_is_not_toml_is_told_once_and_not_as_many_missing_rows(file: str, tmp_path: Path) -> None:
    rules = copy_of_rules(tmp_path)
    (rules / file).write_text("this is = = not TOML\n", encoding="utf-8")
    (problem,) = problems_of(rules)
    assert problem.startswith(f"rules/{file}: not valid TOML: ")
    assert "at line 1" in problem


def test_a_file_that_is_not_text_is_told_once(tmp_path: Path) -> None:
    rules = copy_of_rules(tmp_path)
    (rules / "walk.toml").write_bytes(b"\xff\xfe\x00binary")
    (problem,) = problems_of(rules)
    assert problem.startswith("rules/walk.toml: cannot be read as UTF-8 text")


def test_a_file_with_a_byte_order_mark_is_read_like_one_without(tmp_path: Path) -> None:
    rules = copy_of_rules(tmp_path)
    path = rules / "walk.toml"
    path.write_bytes(b"\xef\xbb\xbf" + path.read_bytes())
    assert problems_of(rules) == []


def test_an_empty_folder_names_every_file_and_the_families(tmp_path: Path) -> None:
    problems = problems_of(tmp_path)
    for file in FILES:
        assert [problem for problem in problems if file in problem and "missing" in problem], file
    assert [problem for problem in problems if "there is no family file" in problem]


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ("check = [1, 2]", "check 1"),
        ("check = 5", "there are no [[check]] rows"),
        ("hole_place = [1]", "hole_place 1"),
        ("part = ['case']", "part 1"),
        ("reference = 5", "reference"),
        ("id = 5", '"id" is 5'),
        ("id = [5]", '"id" is [5]'),
        ("[[check]]\nid = 5\noption = 7", 'check 1: "id" is 5'),
        ("[[check]]\nid = 'x'\noption = 7", "no option rows"),
        ("[[check]]\nid = 'x'\noption = [7]", 'check "x", option 1'),
        ("[[hole_place]]\nid = 'x'\nsize = {a = 1}", "no size rows"),
        ("[[hole_place]]\nid = 'x'\n[[hole_place.size]]\ntask = ['x']", 'hole_place "x", size 1'),
        ("[[check]]\nid = 'x'\npart = ['case']", "\"part\" is ['case']"),
        ("[[check]]\nid = 'x'\nfollows = ['serial']", "it follows \"['serial']\", which is no check"),
        ("[[check]]\nid = 'x'\nshown_if = {check = ['serial']}", '"shown_if.check"'),
        ("[[check]]\nid = 'x'\nshown_if = 'serial'", '"shown_if"'),
        ("[[check]]\nid = 'x'\n[[check.option]]\nid = 'a'\ntasks = 5", '"tasks" is 5'),
        ("uses = ['every-set']\ncheck = [1, {id = 5}]", "check 1"),
        ("uses = ['every-set']\nhole_place = [1]", "hole_place 1"),
        ("uses = ['every-set']\nuse = 'x'", 'unknown table "use"'),
        ("uses = 'every-set'", '"uses" should be a list of common tables'),
        ("uses = [['every-set']]", '"uses" should be a list of common tables'),
        ("uses = ['every-set']\nwithout = 'odour'", '"without" should be a list of checks'),
        ("uses = ['every-set']\nwithout = [['odour']]", '"without" should be a list of checks'),
    ],
)
def test_values_where_tables_belong_are_told_and_break_nothing(rows: str, words: str, tmp_path: Path) -> None:
    rules = copy_of_rules(tmp_path, FAMILY)
    (rules / FAM).write_text(rows, encoding="utf-8")
    assert [problem for problem in problems_of(rules) if words in problem]


def test_the_refusal_counts_the_problems_and_gives_each_a_line(tmp_path: Path) -> None:
    rules = copy_of_rules(tmp_path)
    for mistake in (MISTAKES[0], MISTAKES[4]):
        mistake.make(rules)
    with pytest.raises(RulesBroken) as broken:
        load(rules)
    text = str(broken.value)
    assert text.startswith(f"The rule tables have {len(broken.value.problems)} problems:\n- rules/")
    assert text.count("\n- ") == len(broken.value.problems) > 1


def test_the_shipped_folder_has_no_problem_before_a_mistake_is_made(tmp_path: Path) -> None:
    assert problems_with(tmp_path) == ([], [])
