"""The hand-worked vectors through the Python engine; the same files go through its twin."""

from typing import Any

import pytest

from tests.support.packs import pack_for
from tests.support.vectors import FOLDER, Vector, engine_result, rounding_table, vector_differences, vectors
from webapp.appraisal.money import rounded
from webapp.errors import BadFindings

VECTORS = vectors()
RIGHT = [vector for vector in VECTORS if vector.expected and not vector.must_fail]
WRONG = [vector for vector in VECTORS if vector.must_fail]
REFUSED = [vector for vector in VECTORS if vector.expected_error]


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
    """Keys of the tiny pack that the compiler never writes."""
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


def test_the_tiny_pack_has_the_form_of_a_compiled_one() -> None:
    tiny, compiled = shape(VECTORS[0].pack), shape(pack_for())
    assert set(tiny) == set(compiled)
    free = ("state_offsets", "sources")
    for key in set(tiny) - set(free):
        assert stray_keys(tiny[key], compiled[key], key) == []
    for key in ("model", "words", "effects", "reference"):
        assert set(compiled[key]) - set(tiny[key]) <= {"why", "basis", "source"}, key
