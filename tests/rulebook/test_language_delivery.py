"""Packs of further languages on their way: to the phone, to the pages of the server, out of the command."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.rulebook.test_delivery import exactly, whole
from tests.support.other_language import CODE, NAME, OTHER, swapped
from tests.support.own_rules import own_folder
from tests.support.packs import FAMILY
from webapp.app import create_app, documents
from webapp.cli import main
from webapp.rulebook.books import Books
from webapp.rulebook.compiling import compile_family
from webapp.rulebook.progress import progress
from webapp.site import Site

Json = dict[str, Any]


@pytest.fixture(scope="module")
def sent(books: Books) -> dict[str, Json]:
    files = documents(books.english, further=books.further.values())
    return {name: json.loads(file) for name, file in files.items() if name.startswith("packs/")}


def test_the_phone_gets_the_packs_of_complete_families_to_the_letter(
    books: Books, sent: dict[str, Json]
) -> None:
    folder = f"packs/{CODE}/"
    assert {name for name in sent if name.startswith(folder)} == {
        f"{folder}{name}.json" for name in ("index", "shared", "reasons", FAMILY)
    }
    own = {name.replace(folder, "packs/"): file for name, file in sent.items() if name.startswith(folder)}
    assert exactly(whole(own, FAMILY), compile_family(books.further[CODE], FAMILY))
    assert exactly(whole(sent, OTHER), compile_family(books.english, OTHER))


def test_the_index_names_what_there_is_in_the_language_as_far_as_it_goes(
    books: Books, sent: dict[str, Json]
) -> None:
    english, other = sent["packs/index.json"], sent[f"packs/{CODE}/index.json"]
    assert english["languages"] == other["languages"] == books.listed()
    names = {row["id"]: (row["name"], row["about"]) for row in english["families"]}
    assert {row["id"]: (row["name"], row["about"]) for row in other["families"]} == {
        FAMILY: tuple(map(swapped, names[FAMILY])),
        OTHER: names[OTHER],
    }
    assert english["sheets"].keys() == other["sheets"].keys()
    assert other["sheets"]["tern-b"]["about"] == swapped(english["sheets"]["tern-b"]["about"])
    # Its family is used in English whole.
    assert other["sheets"]["knot"] == english["sheets"]["knot"]
    assert other["counts"] == english["counts"]


def test_the_server_has_the_tables_of_every_language(books: Books, tmp_path: Path) -> None:
    app = create_app(books.english, tmp_path, Site("none", tmp_path, None), further=books.further.values())
    assert app.config["BOOKS"].book_for(CODE, FAMILY).language.name == NAME
    assert app.config["BOOKS"].book_for(CODE, OTHER) is books.english


# ---- what the command says


@pytest.fixture
def spoken(
    rules: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Callable[..., tuple[str, str]]:
    """What a command on the two families says, on both its outputs."""
    monkeypatch.setattr("webapp.cli.rules_folder", lambda: rules)

    def run(*arguments: str) -> tuple[str, str]:
        assert main(list(arguments)) == 0
        captured = capsys.readouterr()
        return captured.out, captured.err

    return run


def test_rules_tells_how_far_each_language_has_come(
    spoken: Callable[..., tuple[str, str]], books: Books, tmp_path: Path
) -> None:
    whole_count = progress(books.further[CODE], FAMILY).texts
    found = progress(books.further[CODE], OTHER)
    assert (
        f"\n{CODE}, {FAMILY}: complete, all {whole_count} texts\n"
        f"{CODE}, {OTHER}: {found.texts - len(found.missing)} of {found.texts} texts\n" in spoken("rules")[0]
    )
    own = own_folder(tmp_path, {"walk.toml": '[[aim]]\nid = "bench"\nlabel = "on the table"'})
    missing = f'own/languages/{CODE}/walk.toml, aim "bench": label'
    near = f"{CODE}, {FAMILY}: {whole_count - 1} of {whole_count} texts; missing: {missing}\n"
    assert near in spoken("rules", "--rules", str(own))[0]
    listed, _ = spoken("rules", "--rules", str(own), "--missing", FAMILY)
    assert listed == f'{missing} = "on the table"\n{near}'


def test_pack_is_in_the_language_where_it_is_complete_and_says_so_where_it_is_not(
    spoken: Callable[..., tuple[str, str]], books: Books
) -> None:
    out, err = spoken("pack", FAMILY, "--language", CODE)
    assert (exactly(json.loads(out), compile_family(books.further[CODE], FAMILY)), err) == (True, "")
    out, err = spoken("pack", OTHER, "--language", CODE)
    assert exactly(json.loads(out), compile_family(books.english, OTHER))
    assert err.startswith(f"underchassis: {OTHER} is used in English until it is complete in {NAME}: ")
    assert len(err.splitlines()) == 1
