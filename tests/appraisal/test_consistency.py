"""Coverage against the bands, crystal against the coverage (contract §6)."""

from typing import Any

import pytest

from tests.support.packs import FAMILY, appraised, pack_for

Json = dict[str, Any]

EFFECTS = pack_for()["effects"]


def result(document: Json, check: str) -> Json:
    rows: list[Json] = appraised({"family": FAMILY, **document})["consistency"]
    return next(row for row in rows if row["check"] == check)


@pytest.mark.parametrize(
    ("coverage", "region", "found"),
    [
        ([3300, 5000], 2, "fine"),
        ([3300, 3525], 2, "fine"),
        ([3300, 3524.99], 2, "does not fit"),
        ([3975, 5000], 2, "fine"),
        ([3975.01, 5000], 2, "does not fit"),
        ([3975, 5000], 1, "does not fit"),
        ([5350, 5370], 2, "does not fit"),
        ([200, 400], 2, "does not fit"),
        ([3300, 5000], None, "cannot tell yet"),
        (None, 2, "cannot tell yet"),
    ],
)
def test_a_coverage_fits_from_25_khz_of_one_band_of_the_region_on(
    coverage: list[float] | None, region: int | None, found: str
) -> None:
    row = result({"coverage_khz": coverage, "region": region}, "coverage")
    effect = {"fine": "coverage_in_band", "does not fit": "coverage_out_of_band"}.get(found)
    assert row["result"] == found
    assert row["log_effect"] == (EFFECTS[effect][0] if effect else 0)
    assert "{" not in row["sentence"]


def test_overlaps_with_two_bands_do_not_add_up() -> None:
    """15 kHz of 60 m and 20 kHz of 40 m make no 25 kHz of one band."""
    assert result({"coverage_khz": [5300, 7020], "region": 2}, "coverage")["result"] == "does not fit"


@pytest.mark.parametrize(
    ("coverage", "crystal", "found"),
    [
        ([3300, 5000], 4120, "fine"),
        ([5000, 7600], 2750, "fine"),
        ([3300, 5000], 2600, "does not fit"),
        ([3300, 5000], 250, "fine"),
        ([3300, 5000], 5000.1, "does not fit"),
        ([3300, 5000], None, "cannot tell yet"),
        (None, 4120, "cannot tell yet"),
    ],
)
def test_a_crystal_fits_when_a_harmonic_lies_in_the_coverage(
    coverage: list[float] | None, crystal: float | None, found: str
) -> None:
    row = result({"coverage_khz": coverage, "crystal_khz": crystal}, "crystal")
    assert row["result"] == found
    assert "{" not in row["sentence"]


def test_a_foreign_crystal_costs_only_while_there_is_a_crystal() -> None:
    foreign = {"coverage_khz": [3300, 5000], "crystal_khz": 2600}
    assert result(foreign, "crystal")["log_effect"] == 0
    for option in ("other-holder", "gone"):
        assert result({**foreign, "answers": {"check-crystal": option}}, "crystal")["log_effect"] == 0
    there = result({**foreign, "answers": {"check-crystal": "there"}}, "crystal")
    assert there["log_effect"] == EFFECTS["crystal_foreign"][0] < 0


def test_the_crystal_of_a_sheet_is_not_judged_without_one_read_off_the_set() -> None:
    assert result({"model_sheet": "tern-b"}, "crystal")["result"] == "cannot tell yet"


def test_the_sentence_names_the_figures_and_the_region() -> None:
    fine = result({"coverage_khz": [3300, 5000], "region": 2, "crystal_khz": 2000}, "coverage")["sentence"]
    assert all(word in fine for word in ("3 300", "5 000", "500", "2"))
    crystal = result({"coverage_khz": [3300, 5000], "crystal_khz": 2000}, "crystal")["sentence"]
    assert all(word in crystal for word in ("2 000", "4 000"))
