"""What a family takes of the common tables, and in what order its checks come out."""

from collections.abc import Mapping
from pathlib import Path

import pytest

from tests.support.broken import Mistake, check_told
from tests.support.own_rules import NEW_FAMILY, problems_laying
from webapp.rulebook.common import in_order_of_the_walk, laid_over
from webapp.rulebook.layers import Layers
from webapp.rulebook.reading import TableFile, id_of

# Rows without their figures: what is taken and what is left depends on ids alone.
BASE = """
[[part]]
id = "case"

[[part]]
id = "lid"

[[check]]
id = "case"
stage = "front"
part = "case"
option = [{id = "sound"}, {id = "bent", tasks = ["straighten", "photograph"]}]

[[check]]
id = "lid"
stage = "top"
part = "lid"
option = [{id = "there"}, {id = "gone", tasks = ["find-lid", "photograph"]}, {id = "other"}]

[[check]]
id = "other-lid"
stage = "top"
shown_if = {check = "lid", options = ["other"]}
option = [{id = "fits"}, {id = "wobbles"}]

[[check]]
id = "wobble"
stage = "top"
shown_if = {check = "other-lid", options = ["wobbles"]}
option = [{id = "a-little"}, {id = "much", tasks = ["file-down"]}]

[[hole_place]]
id = "lid"
size = [{task = "close-holes"}]

[[task]]
id = "photograph"

[[task]]
id = "find-lid"
after = ["photograph"]

[[task]]
id = "straighten"
after = ["find-lid", "photograph", "nowhere"]

[[task]]
id = "file-down"

[[task]]
id = "close-holes"
after = ["find-lid"]
"""
MORE = '[[check]]\nid = "dial"\nstage = "front"\noption = [{id = "clear"}]\n'


def taken(
    folder: Path, own: str, common: Mapping[str, str] | None = None, later: str = ""
) -> tuple[Layers, list[str]]:
    """A family's text (and one laid over it later) over the common tables, and what was told."""
    problems: list[str] = []

    def file(name: str, text: str, root: str = "rules") -> TableFile:
        path = folder / root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
        return TableFile(path, folder / root, problems)

    tables = {"base": BASE, "more": MORE} if common is None else common
    files = {name: [file(f"common/{name}.toml", text)] for name, text in tables.items()}
    mine = [file("families/x.toml", own)] + ([file("families/x.toml", later, "own")] if later else [])
    return laid_over(files, mine), problems


def ids(layers: Layers, table: str) -> list[str | None]:
    return [id_of(raw) for raw in layers.tables.get(table, [])]


def after(layers: Layers) -> dict[str, list[str]]:
    return {raw["id"]: raw.get("after", []) for raw in layers.tables["task"]}


# ---- uses


def test_only_the_tables_that_are_used_are_taken(tmp_path: Path) -> None:
    assert ids(taken(tmp_path, 'uses = ["more"]')[0], "check") == ["dial"]
    assert ids(taken(tmp_path, 'uses = ["more", "base"]')[0], "check")[:2] == ["dial", "case"]
    assert ids(taken(tmp_path, MORE)[0], "check") == ["dial"]


def test_a_later_file_adds_to_what_is_used_and_left_out(tmp_path: Path) -> None:
    layers, problems = taken(
        tmp_path, 'uses = ["base"]\nwithout = ["case"]', later='uses = ["more", "base"]\nwithout = ["lid"]'
    )
    assert problems == []
    assert ids(layers, "check") == ["dial"]


def test_neither_uses_nor_without_stays_among_the_tables(tmp_path: Path) -> None:
    layers, _ = taken(tmp_path, 'uses = ["base"]\nwithout = ["case"]')
    assert {"uses", "without"} & set(layers.tables) == set()


# ---- without


def test_a_check_left_out_takes_its_part_follow_ups_and_tasks_with_it(tmp_path: Path) -> None:
    layers, problems = taken(tmp_path, 'uses = ["base"]\nwithout = ["lid"]')
    assert problems == []
    assert ids(layers, "check") == ["case"]
    assert ids(layers, "part") == ["case"]
    assert ids(layers, "task") == ["photograph", "straighten", "close-holes"]


def test_what_somebody_else_needs_stays(tmp_path: Path) -> None:
    mine = '[[check]]\nid = "cover"\nstage = "top"\npart = "lid"\noption = [{id = "a", tasks = ["find-lid"]}]'
    layers, _ = taken(tmp_path, f'uses = ["base"]\nwithout = ["lid"]\n{mine}')
    assert ids(layers, "part") == ["case", "lid"]
    assert "find-lid" in ids(layers, "task")


def test_a_follow_up_that_the_family_speaks_of_is_not_lost_in_silence(tmp_path: Path) -> None:
    mine = '[[check]]\nid = "other-lid"\nlabel = "Another"'
    layers, _ = taken(tmp_path, f'uses = ["base"]\nwithout = ["lid"]\n{mine}')
    assert ids(layers, "check") == ["case", "other-lid", "wobble"]


def test_a_part_or_task_of_the_common_tables_that_nothing_uses_is_not_taken(tmp_path: Path) -> None:
    spare = BASE + '\n[[part]]\nid = "spare"\n\n[[task]]\nid = "spare"\n'
    layers, _ = taken(tmp_path, 'uses = ["base"]', {"base": spare})
    assert ids(layers, "part") == ["case", "lid"]
    assert "spare" not in ids(layers, "task")
    assert layers.left_out == {"part": ["spare"], "task": ["spare"]}


@pytest.mark.parametrize("table", ["part", "task"])
def test_an_own_row_that_nothing_uses_stays_to_be_told(table: str, tmp_path: Path) -> None:
    layers, _ = taken(tmp_path, f'uses = ["base"]\n[[{table}]]\nid = "spare"')
    assert "spare" in ids(layers, table)


# ---- what a common task waits for


def test_a_common_task_waits_only_for_tasks_of_this_family(tmp_path: Path) -> None:
    """A name that no common table has is a mistake and stays to be told."""
    layers, _ = taken(tmp_path, 'uses = ["base"]\nwithout = ["lid"]')
    assert after(layers)["straighten"] == ["photograph", "nowhere"]
    assert after(layers)["close-holes"] == []
    whole, _ = taken(tmp_path, 'uses = ["base"]')
    assert after(whole)["straighten"] == ["find-lid", "photograph", "nowhere"]


def test_it_does_so_too_when_the_family_changes_its_hours(tmp_path: Path) -> None:
    mine = '[[task]]\nid = "straighten"\nhours = [1, 2, 3]'
    layers, _ = taken(tmp_path, f'uses = ["base"]\nwithout = ["lid"]\n{mine}')
    assert after(layers)["straighten"] == ["photograph", "nowhere"]


def test_what_an_own_row_waits_for_is_left_as_it_is(tmp_path: Path) -> None:
    mine = '[[task]]\nid = "straighten"\nafter = ["find-lid"]'
    layers, _ = taken(tmp_path, f'uses = ["base"]\nwithout = ["lid"]\n{mine}')
    assert after(layers)["straighten"] == ["find-lid"]


def test_the_tables_of_one_family_are_not_changed_by_those_of_another(tmp_path: Path) -> None:
    problems: list[str] = []
    (tmp_path / "base.toml").write_text(BASE, encoding="utf-8")
    common = {"base": [TableFile(tmp_path / "base.toml", tmp_path, problems)]}
    found = []
    for number, text in enumerate(('uses = ["base"]\nwithout = ["lid"]', 'uses = ["base"]')):
        path = tmp_path / f"{number}.toml"
        path.write_text(text, encoding="utf-8")
        found.append(laid_over(common, [TableFile(path, tmp_path, problems)]))
    assert after(found[0])["straighten"] == ["photograph", "nowhere"]
    assert after(found[1])["straighten"] == ["find-lid", "photograph", "nowhere"]


# ---- the order of the walk


def walk(folder: Path, *checks: tuple[str, str, str]) -> tuple[list[str | None], list[str]]:
    """The order in which checks (id, stage, followed check or "") come out, and what was told."""
    rows = [
        f'[[check]]\nid = "{check}"\nstage = "{stage}"\n' + (f'follows = "{followed}"\n' if followed else "")
        for check, stage, followed in checks
    ]
    layers, problems = taken(folder, "\n".join(rows), {})
    in_order_of_the_walk(layers, ["front", "top", "back"])
    assert all("follows" not in raw for raw in layers.tables["check"])
    return ids(layers, "check"), problems


def test_checks_come_by_stage_and_else_in_the_order_of_the_files(tmp_path: Path) -> None:
    found, problems = walk(
        tmp_path, ("d", "back", ""), ("b", "top", ""), ("c", "top", ""), ("a", "front", "")
    )
    assert (found, problems) == (["a", "b", "c", "d"], [])


def test_a_check_comes_right_after_the_one_it_follows(tmp_path: Path) -> None:
    found, problems = walk(tmp_path, ("a", "front", ""), ("c", "front", ""), ("b", "front", "a"))
    assert (found, problems) == (["a", "b", "c"], [])


def test_two_that_follow_the_same_check_stay_in_the_order_of_the_file(tmp_path: Path) -> None:
    found, _ = walk(tmp_path, ("a", "top", ""), ("z", "top", ""), ("b", "top", "a"), ("c", "top", "a"))
    assert found == ["a", "b", "c", "z"]


def test_a_chain_of_followers_stays_together_whatever_the_order_of_the_file(tmp_path: Path) -> None:
    found, _ = walk(
        tmp_path, ("c", "top", "b"), ("a", "top", ""), ("z", "top", ""), ("b", "top", "a"), ("d", "top", "a")
    )
    assert found == ["a", "b", "c", "d", "z"]


@pytest.mark.parametrize("followed", ["nobody", "e"])
def test_following_no_check_of_the_same_stage_is_told(followed: str, tmp_path: Path) -> None:
    found, (problem,) = walk(tmp_path, ("e", "back", ""), ("b", "top", followed), ("a", "front", ""))
    assert found == ["a", "b", "e"]
    told = f'check "b": it follows "{followed}", which is no check of its stage.'
    assert problem == f"rules/families/x.toml (line 5), {told}"


def test_checks_that_follow_one_another_in_a_circle_are_told(tmp_path: Path) -> None:
    found, (problem,) = walk(
        tmp_path, ("a", "top", "b"), ("b", "top", "a"), ("c", "top", "b"), ("d", "top", "")
    )
    assert sorted(str(check) for check in found) == ["a", "b", "c", "d"]
    assert problem.endswith('check "a": checks follow one another in a circle: a, b, c.')


# ---- what is told


@pytest.mark.parametrize(
    ("own", "said"),
    [
        ('uses = ["bse"]', 'rules/families/x.toml: there is no common table "bse". Did you mean "base"?'),
        ('uses = ["bas", "more"]', 'there is no common table "bas"'),
        ('uses = "base"', '"uses" should be a list of common tables'),
        ('uses = ["base", 5]', '"uses" should be a list of common tables'),
        ('uses = ["base"]\nwithout = ["lidd"]', '"without" names the check "lidd". Did you mean "lid"?'),
        ('uses = ["base"]\nwithout = ["dial"]', '"without" names the check "dial".'),
        ('uses = ["base"]\nwithout = "lid"', '"without" should be a list of checks'),
        ('uses = ["base"]\nwithout = [["lid"]]', '"without" should be a list of checks'),
    ],
)
def test_a_name_that_no_common_table_has_is_told(own: str, said: str, tmp_path: Path) -> None:
    _, (problem,) = taken(tmp_path, own)
    assert said in problem


def test_an_unknown_name_is_told_of_the_file_that_gives_it(tmp_path: Path) -> None:
    _, problems = taken(tmp_path, 'uses = ["bse"]', later='without = ["lid"]\nuses = ["base", "mor"]')
    assert [problem.split(":")[0] for problem in problems] == ["rules/families/x.toml", "own/families/x.toml"]


@pytest.mark.parametrize("key", ["uses", "without"])
def test_a_common_table_neither_uses_others_nor_leaves_out(key: str, tmp_path: Path) -> None:
    _, (problem,) = taken(tmp_path, 'uses = ["base"]', {"base": f'{key} = ["lid"]\n{BASE}'})
    assert problem == f'rules/common/base.toml: "{key}" belongs in the file of a family.'


MISSPELT = [
    Mistake('part = "nameplate"', 'part = "namplate"', "[[check]]", ('Did you mean "nameplate"?',)),
    Mistake('tasks = ["fit-copy-nameplate"]', 'tasks = ["fit-nameplate"]', "[[check.option]]",
            ('Did you mean "fit-copy-nameplate"?',)),
]  # fmt: skip


@pytest.mark.parametrize("mistake", MISSPELT, ids=[mistake.new for mistake in MISSPELT])
def test_a_misspelt_name_is_guessed_although_the_row_is_no_longer_used(
    mistake: Mistake, tmp_path: Path
) -> None:
    check_told(tmp_path, mistake)


def test_an_own_task_that_waits_for_an_unused_common_one_is_told_so(tmp_path: Path) -> None:
    text = NEW_FAMILY.replace('after = ["make-safe"]', 'after = ["rejoin-cut-leads"]')
    text = text.replace('without = ["smell"]', 'without = ["cut-leads"]')
    (problem,) = problems_laying(tmp_path, {"families/signal-lamp.toml": text})
    assert 'task "test-output": nothing uses the common task "rejoin-cut-leads"' in problem
