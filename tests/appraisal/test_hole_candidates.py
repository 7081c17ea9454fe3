"""What may have sat in a hole: order, tolerance, and the sentence about it."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.reference_tables import holes
from webapp.appraisal.hole_candidates import hole_candidates, sentence, tolerance_of

diameters = st.floats() | st.floats(0, 120) | st.integers(-5, 600)
tolerances = st.floats(0, 20)


def small_table(*ranges: tuple[float, float]) -> dict[str, Any]:
    rows = [
        {"id": f"part-{n}", "label": f"part {n}", "from_mm": low, "to_mm": high}
        for n, (low, high) in enumerate(ranges)
    ]
    return {**holes(), "components": rows}


def ids(table: dict[str, Any], diameter: float, tolerance: float) -> list[str]:
    return [candidate.id for candidate in hole_candidates(table, diameter, tolerance)]


def said(table: dict[str, Any], diameter: float, tolerance: float) -> str:
    return sentence(table, diameter, hole_candidates(table, diameter, tolerance))


@given(diameters, st.floats())
def test_any_number_gives_candidates_and_a_sentence_without_a_blank_left(
    diameter: float, tolerance: float
) -> None:
    candidates = hole_candidates(holes(), diameter, tolerance)
    text = sentence(holes(), diameter, candidates)
    assert text.endswith(".")
    assert "{" not in text


@given(diameters, tolerances, tolerances)
def test_a_wider_tolerance_never_loses_a_candidate(diameter: float, one: float, other: float) -> None:
    narrow, wide = sorted((one, other))
    assert set(ids(holes(), diameter, narrow)) <= set(ids(holes(), diameter, wide))


@given(st.floats(0.5, 100), tolerances)
def test_candidates_come_nearest_first_and_lie_within_the_tolerance(
    diameter: float, tolerance: float
) -> None:
    distances = [one.distance_mm for one in hole_candidates(holes(), diameter, tolerance)]
    assert distances == sorted(distances)
    assert all(0 <= distance <= tolerance + 1e-9 for distance in distances)


def test_a_hole_of_a_parts_own_size_is_at_no_distance_with_no_tolerance_at_all() -> None:
    for row in holes()["components"]:
        for diameter in (row["from_mm"], row["to_mm"]):
            found = {one.id: one.distance_mm for one in hole_candidates(holes(), diameter, 0)}
            assert found[row["id"]] == 0, row["id"]


def test_inside_two_ranges_the_one_whose_middle_is_nearer_comes_first() -> None:
    assert ids(small_table((8, 12), (9, 10)), 9.5, 0) == ["part-1", "part-0"]


def test_outside_both_ranges_the_nearer_edge_comes_first() -> None:
    table = small_table((10, 20), (6, 8))
    (first, second) = hole_candidates(table, 9, 1)
    assert (first.id, first.distance_mm) == ("part-1", 1)
    assert (second.id, second.distance_mm) == ("part-0", 1)
    assert ids(table, 9.2, 1.5) == ["part-0", "part-1"]


def test_of_equal_parts_the_first_in_the_table_comes_first() -> None:
    assert ids(small_table((9, 10), (5, 6), (9, 10)), 9.1, 0) == ["part-0", "part-2"]


@pytest.mark.parametrize("diameter", [0, -3, 0.05, 501, float("nan"), float("inf"), 10**400])
def test_what_is_no_hole_has_no_candidates_and_is_asked_for_again(diameter: float) -> None:
    assert hole_candidates(holes(), diameter, 1000) == []
    assert said(holes(), diameter, 1000) == "Give the diameter of the hole in millimetres, from 0.1 to 500."


def test_the_way_of_measuring_gives_the_tolerance_and_an_unknown_way_the_widest() -> None:
    assert tolerance_of(holes(), "tape") == 0.8
    assert tolerance_of(holes(), "calliper") < tolerance_of(holes(), "tape")
    for way in (None, "", "by ear"):
        assert tolerance_of(holes(), way) == max(row["mm"] for row in holes()["tolerances"])


def test_those_equally_near_are_told_together_and_the_rest_after_them() -> None:
    table = small_table((9, 10), (8, 11), (10.5, 11))
    assert said(table, 9.8, 0.8) == (
        "A 9.8 mm hole, most likely for: part 0, or part 1. It could also be for: part 2. "
        "A bare hole is never proof."
    )


def test_a_single_candidate_is_told_alone_and_still_not_as_proof() -> None:
    expected = "A 9.8 mm hole, most likely for: part 0. A bare hole is never proof."
    assert said(small_table((9, 10)), 9.8, 0) == expected


def test_no_candidate_and_too_many_to_name_have_sentences_of_their_own() -> None:
    assert said(small_table((9, 10)), 40, 1) == "No usual part needs a hole of 40 mm."
    named = holes()["limits"]["named"]
    assert "A bare hole" in said(small_table(*[(9, 10)] * named), 9, 1)
    many = said(small_table(*[(9, 10)] * (named + 1)), 9, 1)
    assert many.startswith(f"A 9 mm hole, measured like this, suits {named + 1} usual parts.")


@pytest.mark.parametrize(
    ("diameter", "shown"), [(9.0, "9"), (9.525, "9.53"), (8.668, "8.67"), (0.125, "0.13"), (499.99, "499.99")]
)
def test_millimetres_are_shown_to_two_decimals_halves_upward(diameter: float, shown: str) -> None:
    table = small_table((600, 601))
    assert said(table, diameter, 0) == f"No usual part needs a hole of {shown} mm."


def test_further_holes_and_hints_of_later_work_come_with_the_candidate() -> None:
    by_id = {one.id: one for one in hole_candidates(holes(), 6.35, 0.2)}
    assert "before 1955" in (by_id["small-phone-jack"].hint or "")
    assert by_id["small-phone-jack"].extra is None
    (octal,) = hole_candidates(holes(), 28.6, 0.2)
    assert "38.1 mm" in (octal.extra or "")
