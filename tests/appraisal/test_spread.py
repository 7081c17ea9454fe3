"""How wide the range is, and from what: variances that add up (contract §3)."""

import math
from typing import Any

import pytest
from hypothesis import given

from tests.support.examples import examples
from tests.support.packs import FAMILY, appraised, pack_for
from tests.support.strategies import findings

Json = dict[str, Any]


@examples(80)
@given(findings())
def test_the_parts_add_up_to_the_variance_of_the_log_price(document: Json) -> None:
    appraisal = appraised(document)
    found, price = appraisal["spread"], appraisal["price"]["as_is"]
    width = math.log(price["p90"] / price["p10"]) / (2 * pack_for()["model"]["z90"])
    assert found["log_sd"] == pytest.approx(width)
    assert math.fsum(part["variance"] for part in found["parts"]) == pytest.approx(found["log_sd"] ** 2)
    assert math.fsum(part["share"] for part in found["parts"]) == pytest.approx(1)


@examples(50)
@given(findings())
def test_looking_at_all_that_is_left_never_widens_the_range(document: Json) -> None:
    appraisal = appraised(document)
    price, settled = appraisal["price"]["as_is"], appraisal["spread"]["settled"]
    assert price["p10"] <= settled["p10"] * (1 + 1e-9)
    assert settled["p90"] <= price["p90"] * (1 + 1e-9)


@examples(50)
@given(findings())
def test_what_was_not_found_yet_is_told_apart(document: Json) -> None:
    appraisal = appraised(document)
    open_parts = {part["what"] for part in appraisal["spread"]["parts"] if not part["found"]} - {"coverage"}
    assert open_parts <= set(appraisal["not_checked"])


def test_comparable_sales_narrow_the_part_of_the_reference_price_alone() -> None:
    sales = [{"price": 190, "date": "2026-11-01"}] * 4
    before = appraised({"family": FAMILY})["spread"]["parts"]
    after = appraised({"family": FAMILY, "today": "2026-11-25", "comparables": sales})["spread"]["parts"]
    first, then = ({part["what"]: part["variance"] for part in parts} for parts in (before, after))
    assert then.pop("reference") < first.pop("reference")
    assert then == pytest.approx(first)
