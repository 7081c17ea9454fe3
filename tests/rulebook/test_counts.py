"""How many rows rest on what, over all tables, each shared row once."""

import re
from pathlib import Path

from tests.support.broken import EVERY_SET, FAM, problems_of
from tests.support.own_rules import GROUNDS, NEW_FAMILY, NEW_SHEET, laid
from tests.support.packs import FAMILY, copy_of_rules, shipped
from webapp.paths import rules_folder
from webapp.rulebook.counts import rows_by_basis
from webapp.rulebook.grounds import grounded_rows
from webapp.rulebook.tables import load

BASES = ["published", "common practice", "from memory", "invented"]


def written(*files: Path) -> dict[str, int]:
    """How often each basis stands in the files, counted as text."""
    found = [
        basis for file in files for basis in re.findall(r'(?m)^\s*basis = "(.+)"$', file.read_text("utf-8"))
    ]
    return {basis: found.count(basis) for basis in BASES}


def more(folder: Path, files: dict[str, str]) -> dict[str, int]:
    """What own files change in the count; what stays the same is left out."""
    before, after = rows_by_basis(shipped()), rows_by_basis(laid(folder, files))
    return {basis: after[basis] - before[basis] for basis in before if after[basis] != before[basis]}


def test_every_basis_has_a_count_in_the_order_of_its_weight() -> None:
    counts = rows_by_basis(shipped())
    assert list(counts) == BASES
    assert min(counts.values()) > 0


def test_with_one_family_it_counts_what_is_written_but_for_the_common_faces_it_replaces(
    tmp_path: Path,
) -> None:
    """Every other row of the files that are read holds then, so their text says as much as the tables."""
    rules = copy_of_rules(tmp_path, FAMILY)
    book = load(rules)
    unread = [problem.split(":")[0] for problem in problems_of(rules, rules)]
    common = [f"rules/common/{path.name}" for path in rules.glob("common/*.toml")]
    unread += set(common) - {file.name for file in book.families[FAMILY].file.files}
    files = [path for path in rules.rglob("*.toml") if path.relative_to(tmp_path).as_posix() not in unread]
    assert {rules / FAM, rules / EVERY_SET, rules / "bands.toml"} < set(files)
    own_faces = (rules / FAM).read_text("utf-8").count("[[face]]")
    assert own_faces == len(book.families[FAMILY].faces) > 0
    expected = written(*files)
    expected["invented"] -= own_faces
    assert rows_by_basis(book) == expected


def test_a_row_that_families_share_counts_once() -> None:
    counts = rows_by_basis(shipped())
    each_time: list[str] = [row.basis for _, _, row in grounded_rows(shipped())]
    assert all(counts[basis] <= each_time.count(basis) for basis in BASES)
    assert sum(counts.values()) < len(each_time) - 1000


def test_an_own_word_on_a_shared_row_is_no_row_more(tmp_path: Path) -> None:
    assert more(tmp_path, {FAM: '[[part]]\nid = "wiring"\nlabel = "wires"'}) == {}


def test_an_own_figure_for_one_family_is_a_row_more(tmp_path: Path) -> None:
    row = '[[check]]\nid = "serial"\nseconds = 9\nbasis = "from memory"\nwhy = "Timed."'
    assert more(tmp_path, {FAM: row}) == {"from memory": 1}


def test_an_own_figure_for_all_families_takes_the_place_of_the_shared_row(tmp_path: Path) -> None:
    row = '[[check]]\nid = "serial"\nseconds = 9\nbasis = "from memory"\nwhy = "Timed."'
    assert more(tmp_path, {EVERY_SET: row}) == {"common practice": -1, "from memory": 1}


def test_an_own_band_takes_the_place_of_the_published_one(tmp_path: Path) -> None:
    row = f'[[band]]\nid = "region-1-40-m"\nto_khz = 7150\n{GROUNDS}'
    assert more(tmp_path, {"bands.toml": row}) == {"published": -1, "invented": 1}


def test_a_new_family_and_sheet_add_their_own_rows_alone(tmp_path: Path) -> None:
    own = (NEW_FAMILY + NEW_SHEET).count('basis = "invented"')
    # Every shipped family has faces of its own, so the common ones come into use with this one.
    faces = (rules_folder() / EVERY_SET).read_text("utf-8").count("[[face]]")
    files = {"families/signal-lamp.toml": NEW_FAMILY, "sheets/sanderling.toml": NEW_SHEET}
    assert more(tmp_path, files) == {"invented": own + faces}
