"""The hand-worked vectors through the JavaScript kernel, held to the same figures by the same comparison."""

from collections.abc import Sequence
from typing import Any

import pytest

from tests.support.table import Table
from tests.support.twin import Case, Kernel
from tests.support.vectors import MINOR_DIGITS, Vector, rounding_table, vector_differences, vectors

VECTORS = vectors()
# What the engine refuses, the twin on the phone reads without the key that contradicts the rest.
LEFT_OUT = {
    "refused-answered-and-unseen": "unseen",
    "refused-currency-without-rate": "currency",
    "refused-holes-after-none": "holes",
}


@pytest.fixture
def kernel(table: Table) -> Kernel:
    started = Kernel(table.phone, table.address)
    for vector in VECTORS:
        started.give(vector.name, vector.pack)
    return started


def results(kernel: Kernel, wanted: Sequence[Vector]) -> list[tuple[Vector, dict[str, Any]]]:
    """The twin's appraisal of each vector."""
    cases = [Case(vector.name, vector.findings, MINOR_DIGITS, vector.name) for vector in wanted]
    return list(zip(wanted, kernel.appraise(cases), strict=True))


def test_the_twin_gives_what_was_worked_out_by_hand(kernel: Kernel) -> None:
    right = [vector for vector in VECTORS if vector.expected and not vector.must_fail]
    assert len(right) >= 12
    wrong = {vector.name: vector_differences(vector, found) for vector, found in results(kernel, right)}
    assert {name: lines for name, lines in wrong.items() if lines} == {}


def test_a_wrong_expectation_is_reported_for_the_twin_too(kernel: Kernel) -> None:
    reported = {
        vector.name: bool(vector_differences(vector, found))
        for vector, found in results(kernel, [vector for vector in VECTORS if vector.must_fail])
    }
    assert reported == {"must-fail": True}


def test_what_contradicts_itself_is_read_on_the_phone_without_the_contradiction(kernel: Kernel) -> None:
    refused = {vector.name: vector for vector in VECTORS if vector.expected_error}
    assert set(refused) == set(LEFT_OUT)
    for name, key in LEFT_OUT.items():
        findings = refused[name].findings
        plain = {given: value for given, value in findings.items() if given != key}
        cases = [Case(name, findings, pack=name), Case(f"{name} without {key}", plain, pack=name)]
        with_it, without = kernel.appraise(cases)
        assert with_it.pop("set_aside"), name
        assert without.pop("set_aside") == [], name
        assert with_it == without, name
        assert with_it["worth"]["value"] > 0, name


def test_money_shows_on_the_phone_as_worked_out_by_hand(kernel: Kernel) -> None:
    rows = rounding_table()
    asked = [(row["value"], 0.02, row["minor_digits"], row["down"]) for row in rows]
    assert kernel.call("rounded", asked) == [row["shown"] for row in rows]
