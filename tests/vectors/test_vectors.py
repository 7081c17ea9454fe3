"""The hand-worked vectors through the Python engine; the same files go through its twin."""

import re
from pathlib import Path
from typing import Any

import pytest

from tests.support.packs import pack_for
from tests.support.vectors import (
    FOLDER,
    Vector,
    engine_result,
    rounding_table,
    vector_differences,
    vector_pack,
    vectors,
)
from webapp import appraisal
from webapp.appraisal.money import rounded
from webapp.errors import BadFindings

VECTORS = vectors()
RIGHT = [vector for vector in VECTORS if vector.expected and not vector.must_fail]
WRONG = [vector for vector in VECTORS if vector.must_fail]
REFUSED = [vector for vector in VECTORS if vector.expected_error]


# Sentences that only a page says: names of comparisons and reasons, and what a sheet of one's own is for.
SAID_BY_PAGES = (
    "name-", "reason-", "reasons-", "own-", "heading-", "title-", "tell-", "caution-", "photo-", "face-",
    "hole-", "words-", "how-made",
)  # fmt: skip


def named(vector: Vector) -> str:
    return vector.name


@pytest.mark.parametrize("vector", RIGHT, ids=named)
def test_the_engine_gives_what_was_worked_out_by_hand(vector: Vector) -> None:
    assert vector_differences(vector, engine_result(vector)) == []


@pytest.mark.parametrize("vector", WRONG, ids=named)
def test_a_wrong_expectation_is_reported_in_every_place_where_it_is_wrong(vector: Vector) -> None:
    found = vector_differences(vector, engine_result(vector))
    assert [line.split(":")[0] for line in found] == ["price.as_is.p50", "worth.way", "not_checked"]


@pytest.mark.parametrize("vector", REFUSED, ids=named)
def test_findings_that_contradict_themselves_are_refused(vector: Vector) -> None:
    with pytest.raises(BadFindings) as refusal:
        engine_result(vector)
    assert [word for word in vector.expected_error if word not in str(refusal.value)] == []


@pytest.mark.parametrize("row", rounding_table(), ids=lambda row: row["workings"])
def test_money_shows_as_worked_out_by_hand(row: dict[str, Any]) -> None:
    assert rounded(row["value"], 0.02, row["minor_digits"], row["down"]) == row["shown"]


def test_every_vector_is_of_one_kind_and_shows_its_workings() -> None:
    assert len(RIGHT) >= 12
    assert WRONG
    assert REFUSED
    for vector in VECTORS:
        assert bool(vector.expected) != bool(vector.expected_error), vector.name
        assert vector.why, vector.name
        assert vector.workings, vector.name


def test_every_vector_stands_in_the_file_of_its_name() -> None:
    names = {path.stem for path in FOLDER.glob("*.json")}
    assert {vector.name for vector in VECTORS} | {"rounding"} == names


def shape(value: Any) -> Any:
    """The keys of a JSON value at every level; rows of one list are laid together."""
    if isinstance(value, dict):
        return {key: shape(inner) for key, inner in value.items()}
    if isinstance(value, list) and value and isinstance(value[0], dict):
        keys: dict[str, Any] = {}
        for row in value:
            keys |= shape(row)
        return [keys]
    return None


def stray_keys(tiny: Any, shipped: Any, where: str) -> list[str]:
    """Keys of a vector pack that the compiler never writes."""
    if isinstance(tiny, dict) and isinstance(shipped, dict):
        stray = [f"{where}.{key}" for key in tiny if key not in shipped]
        return stray + [
            line
            for key in tiny
            if key in shipped
            for line in stray_keys(tiny[key], shipped[key], f"{where}.{key}")
        ]
    if isinstance(tiny, list) and isinstance(shipped, list):
        return stray_keys(tiny[0], shipped[0], where)
    return []


@pytest.mark.parametrize("name", sorted(path.stem for path in (FOLDER / "packs").glob("*.json")))
def test_a_vector_pack_has_the_form_of_a_compiled_one(name: str) -> None:
    vector, compiled = shape(vector_pack(name)), shape(pack_for("curlew"))
    # Which grounds stand among the effects depends on the family: one has a book, the other heaters.
    compiled |= {"effects": compiled["effects"] | shape(pack_for())["effects"]}
    assert stray_keys(vector, {**compiled, "state_offsets": None, "sources": None}, name) == []
    assert read_by_the_engine(compiled) - set(vector) <= {"sheet"}
    assert set(compiled["reference"]) - set(vector["reference"]) <= {"why", "basis", "source"}
    constants = {name for name in compiled["model"] if f'"{name}"' in engine_text()}
    assert constants - set(vector["model"]) == set()
    spoken = {word for word in compiled["words"] if not word.startswith(SAID_BY_PAGES)}
    assert spoken - set(vector["words"]) == set()


def engine_text() -> str:
    return "".join(path.read_text(encoding="utf-8") for path in Path(appraisal.__file__).parent.glob("*.py"))


def read_by_the_engine(compiled: dict[str, Any]) -> set[str]:
    """The tables of a pack that some module of the engine asks for."""
    return set(re.findall(r"""pack(?:\["|\.get\(")([a-z_]+)""", engine_text())) & set(compiled)
