"""The heater by a tube number: the systems told apart, and what is never guessed. All numbers invented."""

import string

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.reference_tables import tubes
from webapp.appraisal.tube_numbers import (
    EMPTY,
    INDUSTRIAL,
    OLDER,
    POWER,
    RECEIVING,
    UNKNOWN,
    heater_of,
)

SYSTEMS = {EMPTY, INDUSTRIAL, OLDER, POWER, RECEIVING, UNKNOWN}
tube_like = st.text(alphabet=string.digits + "CDGTWZPIOczgt -/", max_size=10)


@given(st.text() | tube_like)
def test_any_text_gives_a_reading_with_a_sentence(text: str) -> None:
    reading = heater_of(tubes(), text)
    assert reading.system in SYSTEMS
    assert reading.sentence.endswith(".")
    assert "{" not in reading.sentence


@given(tube_like)
def test_only_a_receiving_type_has_volts_and_they_are_those_of_its_first_number(text: str) -> None:
    reading = heater_of(tubes(), text)
    if reading.system == RECEIVING:
        assert any(list(reading.volts) == row["volts"] for row in tubes()["leads"])
    else:
        assert reading.volts == ()


@given(tube_like)
def test_lower_case_spaces_and_dashes_change_nothing(text: str) -> None:
    spaced = " " + "- ".join(text.lower()) + " "
    assert heater_of(tubes(), spaced) == heater_of(tubes(), text)


@pytest.mark.parametrize("written", ["6ZZ9", "6zz9", " 6 ZZ 9 ", "6-ZZ-9", "6\u00a0ZZ\u20139"])
def test_a_number_is_read_however_it_is_written(written: str) -> None:
    reading = heater_of(tubes(), written)
    assert (reading.system, reading.volts) == (RECEIVING, (6.3,))
    assert reading.sentence == "6ZZ9: heater 6.3 V by its number."


@pytest.mark.parametrize("suffix", ["G", "-GT", " GT/G", "L", "A", "W", "WA", "WGT", "GTB", "-X", "y"])
def test_a_known_suffix_leaves_the_heater_as_it_is(suffix: str) -> None:
    assert heater_of(tubes(), f"6ZZ9{suffix}").volts == (6.3,)


@pytest.mark.parametrize("suffix", ["Q", "GQ", "AAAAAAA", "9", "é"])
def test_with_an_unknown_suffix_nothing_is_told(suffix: str) -> None:
    reading = heater_of(tubes(), f"6ZZ9{suffix}")
    assert (reading.system, reading.volts) == (UNKNOWN, ())


def test_every_first_number_of_the_table_is_read_with_its_basis() -> None:
    for row in tubes()["leads"]:
        reading = heater_of(tubes(), f"{row['lead']}ZZ9")
        assert reading.system == RECEIVING
        assert list(reading.volts) == row["volts"]
        assert (reading.basis, reading.source) == (row["basis"], row.get("source"))
        assert reading.sentence.endswith(row.get("note", ""))


def test_where_sources_disagree_all_volts_are_told_and_that_the_number_does_not_decide() -> None:
    reading = heater_of(tubes(), "1ZZ9")
    assert reading.volts[0] == 1.4
    assert "1.4 or 1.1 or 1.25 or 2 V" in reading.sentence
    assert "Sources disagree" in reading.sentence


def test_a_first_number_that_is_not_listed_is_not_worked_out() -> None:
    reading = heater_of(tubes(), "13ZZ9")
    assert (reading.system, reading.volts, reading.basis) == (UNKNOWN, (), None)
    assert "first number of 13" in reading.sentence


def test_the_last_number_tells_a_receiving_type_from_a_power_class() -> None:
    assert heater_of(tubes(), "2C20").system == RECEIVING
    assert heater_of(tubes(), "2C21").system == POWER


@pytest.mark.parametrize("number", ["2M99", "2CC99", "12C99", "0C99", "2C99Q"])
def test_a_high_last_number_without_a_known_class_and_letter_is_nothing_known(number: str) -> None:
    assert heater_of(tubes(), number).system == UNKNOWN


def test_each_power_class_and_letter_is_said_in_words() -> None:
    for power in tubes()["power_classes"]:
        for letter in tubes()["letters"]:
            reading = heater_of(tubes(), f"{power['digit']}{letter['letter']}99")
            assert reading.system == POWER
            assert power["label"] in reading.sentence
            assert letter["label"] in reading.sentence


def test_the_letters_that_are_never_used_are_likely_misread_figures() -> None:
    for number in ("6OZ9", "6ZI9"):
        reading = heater_of(tubes(), number)
        assert reading.system == UNKNOWN
        assert "no I or O" in reading.sentence


def test_the_first_number_of_a_cathode_ray_tube_is_not_taken_for_a_voltage() -> None:
    reading = heater_of(tubes(), "5ZP1")
    assert (reading.system, reading.volts) == (UNKNOWN, ())
    assert "cathode-ray" in reading.sentence
    assert heater_of(tubes(), "6P9").volts == (6.3,)


@pytest.mark.parametrize(
    ("number", "system"),
    [
        ("", EMPTY), (" - / ", EMPTY),
        ("99", OLDER), ("099", OLDER), ("99A", OLDER), ("999", OLDER),
        ("5500", INDUSTRIAL), ("5999WA", INDUSTRIAL), ("9999", INDUSTRIAL),
        ("5499", UNKNOWN), ("0999", UNKNOWN), ("55000", UNKNOWN), ("9" * 5000, UNKNOWN),
        ("9", UNKNOWN), ("9Q", UNKNOWN), ("99AX", UNKNOWN), ("ZZ-99", UNKNOWN), ("6ZZ", UNKNOWN),
        ("6ZZ0", UNKNOWN), ("06ZZ9", UNKNOWN), ("6ZZ9/7ZZ9", UNKNOWN), ("6ZZ٩", UNKNOWN), ("what", UNKNOWN),
    ],
)  # fmt: skip
def test_numbers_of_other_systems_and_no_numbers_at_all_say_nothing_of_volts(
    number: str, system: str
) -> None:
    reading = heater_of(tubes(), number)
    assert (reading.system, reading.volts) == (system, ())
