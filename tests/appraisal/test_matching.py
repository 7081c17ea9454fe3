"""What agrees with what: serial numbers as people write them, words for finishes and services, heaters."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.packs import pack_for
from webapp.appraisal.findings import Findings, Heater
from webapp.appraisal.matching import finish_of, heating, kind_of, plain_serial, serials_match

PACK = pack_for()
WRITTEN = [
    ("1184", "No. 1184"),
    ("1184", "no1184"),
    ("1184", "SER. NO. 01184"),
    ("1184", "Serial Number: 1184"),
    ("1184", "S/N 1184."),
    ("1184", "sn1184"),
    ("1184", "# 1184"),
    ("1184", "№ 1184"),
    ("1184", "(11-84)"),
    ("A-120", "a 12O"),
    ("0020", "2O"),
    ("12-41", "12 / 41"),
    ("Nor 7", "NOR-7"),
]


@pytest.mark.parametrize(("one", "other"), WRITTEN)
def test_one_number_written_in_two_ways_is_one_number(one: str, other: str) -> None:
    assert plain_serial(one) == plain_serial(other) != ""
    assert serials_match(PACK, one, other) is True
    assert serials_match(PACK, other, one) is True


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("1184", "1148"),
        ("1184", "11840"),
        ("1184", "A1184"),
        ("184", "1184"),
        ("12-41", "12-4"),
        ("7", "nor 7"),
    ],
)
def test_different_numbers_are_different(one: str, other: str) -> None:
    assert serials_match(PACK, one, other) is False


@pytest.mark.parametrize("nothing", [None, "", "  ", "No.", "serial no: -", "000", "worn off"[:0], "?"])
def test_a_number_that_is_not_there_agrees_and_differs_with_none(nothing: str | None) -> None:
    assert serials_match(PACK, "1184", nothing) is None
    assert serials_match(PACK, nothing, "1184") is None
    assert serials_match(PACK, nothing, nothing) is None


@given(st.integers(1, 10**8), st.sampled_from(["No. ", "S/N:", "ser ", "number ", "  ", "000"]))
def test_what_stands_before_a_number_never_changes_it(number: int, before: str) -> None:
    assert plain_serial(f"{before}{number}") == plain_serial(str(number))


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("Black Wrinkle", "black-wrinkle"),
        ("black-wrinkle", "black-wrinkle"),
        ("BLACK_CRACKLE, chipped", "black-wrinkle"),
        ("a bare front", "bare-metal"),
        ("olive drab over grey", "other-paint"),
        ("threadbare", None),
        ("greyish", None),
        ("gold leaf", None),
        ("", None),
        (None, None),
    ],
)
def test_a_finish_is_known_by_whole_words_and_the_longest_decides(text: str | None, kind: str | None) -> None:
    found = kind_of(text, PACK["finishes"])
    assert (found["id"] if found else None) == kind


def test_every_word_of_the_tables_names_its_own_row() -> None:
    for rows in (PACK["finishes"], PACK["services"]):
        for row in rows:
            for word in (row["id"], row["label"], *row["words"]):
                found = kind_of(f"it is {word.upper()}.", rows)
                assert found is not None
                assert found["id"] == row["id"], word


def service_named(sheet: dict[str, Any], said: dict[str, str], typed: str | None = None) -> str | None:
    found = finish_of({**PACK, "sheet": sheet}, Findings(service=typed), said).service
    return found["id"] if found else None


def test_the_service_is_the_one_typed_else_answered_else_that_of_the_sheet() -> None:
    sheet, said = {"service": "naval service"}, {"service": "land-service"}
    assert service_named(sheet, said, "air force") == "land-service"
    assert service_named({}, said, "navy") == "naval-service"
    assert service_named(sheet, said) == "land-service"
    assert service_named(sheet, {}) == "naval-service"
    assert service_named({}, {}) is None


def test_no_mark_to_be_found_leaves_the_service_of_the_sheet_and_a_strange_word_does_not() -> None:
    sheet = {"service": "naval service"}
    assert service_named(sheet, {"service": "no-mark"}) == "naval-service"
    assert service_named({}, {"service": "no-mark"}) is None
    assert service_named(sheet, {}, "a lighthouse") is None


def test_a_place_of_a_string_adds_the_currents_of_its_heaters_and_takes_one_voltage() -> None:
    single, half = Heater(12.6, 0.3), Heater(12.6, 0.15)
    found = heating(2, [(single,), (half, half), (half,)])
    assert found.string == 2
    assert found.volts == pytest.approx(37.8)
    assert (found.least, found.most) == (0.15, 0.3)
