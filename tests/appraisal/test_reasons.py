"""What each finding is worth in money: rows that add up and keep their grounds (contract §11)."""

import math
from typing import Any

import pytest
from hypothesis import given

from tests.support.examples import examples
from tests.support.packs import FAMILY, appraised, check_of, pack_for
from tests.support.strategies import findings
from webapp.appraisal.reasons import weakest

Json = dict[str, Any]


@examples(80)
@given(findings())
def test_the_amounts_add_up_to_the_median_less_the_reference(document: Json) -> None:
    appraisal = appraised(document)
    median, reference = appraisal["price"]["as_is"]["p50"], appraisal["price"]["reference"]["median"]
    total = math.fsum(row["amount"] for row in appraisal["reasons"])
    assert math.isclose(total, median - reference, rel_tol=1e-9, abs_tol=1e-9 * reference)


@examples(50)
@given(findings())
def test_the_log_effects_add_up_to_the_log_of_median_over_reference(document: Json) -> None:
    appraisal = appraised(document)
    ratio = appraisal["price"]["as_is"]["p50"] / appraisal["price"]["reference"]["median"]
    total = math.fsum(row["log_effect"] for row in appraisal["reasons"])
    assert math.isclose(total, math.log(ratio), abs_tol=1e-9)


@examples(50)
@given(findings())
def test_rows_come_by_size_with_what_is_not_checked_last(document: Json) -> None:
    rows = appraised(document)["reasons"]
    found = [row for row in rows if row["what"] != "not checked"]
    assert [row["what"] for row in rows[len(found) :]] in ([], ["not checked"])
    sizes = [abs(row["log_effect"]) for row in found]
    assert sizes == sorted(sizes, reverse=True)


@examples(80)
@given(findings())
def test_every_row_says_what_it_rests_on_and_why(document: Json) -> None:
    for row in appraised(document)["reasons"]:
        assert row["basis"] in ("published", "common practice", "from memory", "invented")
        assert row["why"]


@pytest.mark.parametrize("check", [row["id"] for row in pack_for()["checks"] if not row["shown_if"]])
def test_a_row_carries_basis_and_reason_of_the_option_found(check: str) -> None:
    for option in check_of(check)["options"]:
        document = {"family": FAMILY, "answers": {check: option["id"]}}
        row = next(row for row in appraised(document)["reasons"] if row["what"] == check)
        own = option["log_effect_open"] or option["log_effect"]
        assert (row["option"], row["log_effect"], row["basis"]) == (option["id"], own[0], option["basis"])
        assert row["why"] == option.get("why", check_of(check)["why"])


def test_holes_speak_with_the_weakest_basis_of_their_rows() -> None:
    document = {"family": FAMILY, "holes": [{"place": "back", "diameter_mm": 5}]}
    row = next(row for row in appraised(document)["reasons"] if row["what"] == "holes")
    assert row["basis"] == "invented"
    assert row["why"] == pack_for()["holes"]["why"]


def test_what_is_not_checked_speaks_with_the_weakest_basis_among_it() -> None:
    assert weakest([{"basis": "published"}, {"basis": "from memory"}]) == "from memory"
    assert weakest([{"basis": "common practice"}, {"basis": "published"}]) == "common practice"
    assert weakest([{"basis": "from memory"}, {"basis": "invented"}]) == "invented"


def test_coverage_has_a_row_of_its_own_once_known_and_counts_as_not_checked_before() -> None:
    known = appraised({"family": FAMILY, "coverage_khz": [3300, 5000], "region": 2})["reasons"]
    unknown = appraised({"family": FAMILY, "coverage_khz": [3300, 5000]})["reasons"]
    assert "coverage" in [row["what"] for row in known]
    assert "coverage" not in [row["what"] for row in unknown]
