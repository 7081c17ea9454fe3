"""Heater readings against the published rules of American tube numbering. All tube numbers are invented."""

import pytest

from tests.support.reference_tables import tubes
from webapp.appraisal.tube_numbers import heater_of


@pytest.mark.parametrize(
    ("number", "volts"), [("6ZZ9", (6.3,)), ("7ZZ9", (6.3,)), ("14ZZ9", (12.6,)), ("6ZZ9-GT", (6.3,))]
)
def test_the_first_number_of_a_receiving_type_is_its_voltage_and_that_of_a_lock_in_type_nominal(
    number: str, volts: tuple[float, ...]
) -> None:
    """Source: a valve designers' handbook, 4th edition, on American numbers; a valve museum's page."""
    reading = heater_of(tubes(), number)
    assert (reading.system, reading.volts, reading.basis) == ("receiving type", volts, "published")


@pytest.mark.parametrize(
    ("lead", "low", "high"),
    [("1", 0.1, 2.1), ("2", 2.1, 2.9), ("5", 4.6, 5.6), ("6", 5.6, 6.6)],
)
def test_the_volts_lie_within_the_published_limits_of_their_first_number(
    lead: str, low: float, high: float
) -> None:
    """Source: the handbook's limits for 5 and 6, the museum page's for 1 and 2."""
    reading = heater_of(tubes(), f"{lead}ZZ9")
    assert reading.volts
    assert all(low <= volts <= high for volts in reading.volts)


def test_a_first_number_of_nought_is_a_cold_cathode() -> None:
    """Source: both."""
    reading = heater_of(tubes(), "0ZZ9")
    assert (reading.system, reading.volts) == ("receiving type", ())
    assert "cold-cathode" in reading.sentence


@pytest.mark.parametrize("number", ["99", "98", "999"])
def test_a_number_of_two_or_three_figures_is_no_voltage(number: str) -> None:
    """Source: the handbook: the numerical system is the older of the two."""
    reading = heater_of(tubes(), number)
    assert (reading.system, reading.volts) == ("older numerical", ())


@pytest.mark.parametrize(
    ("digit", "power"),
    [
        ("1", "no heater"), ("2", "up to 10 W"), ("3", "10 to 20 W"), ("4", "20 to 50 W"),
        ("5", "50 to 100 W"), ("6", "100 to 200 W"), ("7", "200 to 500 W"), ("8", "500 to 1000 W"),
        ("9", "above 1000 W"),
    ],
)  # fmt: skip
def test_the_first_figure_of_the_numbers_of_1942_to_1944_is_a_power(digit: str, power: str) -> None:
    """Source: an encyclopedia's article and a valve museum's page on special-purpose types."""
    reading = heater_of(tubes(), f"{digit}C99")
    assert (reading.system, reading.volts, reading.basis) == ("power class", (), "published")
    assert f"({power})" in reading.sentence


@pytest.mark.parametrize(
    ("letter", "kind"),
    [
        ("A", "single element"), ("B", "diode"), ("C", "triode"), ("D", "tetrode"), ("E", "pentode"),
        ("F", "hexode"), ("G", "heptode"), ("H", "octode"), ("J", "magnetron"), ("K", "klystron"),
        ("L", "vacuum capacitor"), ("N", "crystal"), ("P", "photo"), ("Q", "cavity"), ("R", "ignitron"),
        ("S", "vacuum switch"), ("T", "storage"), ("V", "flash"), ("W", "travelling-wave"), ("X", "X-ray"),
        ("Y", "thermionic converter"),
    ],
)  # fmt: skip
def test_their_letter_is_the_kind_of_tube(letter: str, kind: str) -> None:
    """Source: the same."""
    assert kind in heater_of(tubes(), f"2{letter}99").sentence


@pytest.mark.parametrize("letter", ["I", "M", "O", "U", "Z"])
def test_a_letter_that_they_do_not_have_is_not_guessed_at(letter: str) -> None:
    """Source: the same lists have no such letters."""
    assert heater_of(tubes(), f"2{letter}99").system == "not known to this table"


def test_serials_begin_at_21_so_that_receiving_types_are_not_mistaken() -> None:
    """Source: the same: serials from 21, to avoid confusion with receiving tubes."""
    assert [heater_of(tubes(), f"2C{n}").system for n in (1, 20, 21, 99)] == [
        "receiving type", "receiving type", "power class", "power class",
    ]  # fmt: skip


@pytest.mark.parametrize("number", ["5500", "5991", "5999"])
def test_numbers_from_5500_describe_nothing(number: str) -> None:
    """Source: the same: from 1944 numbers of four figures from 5500 up, non-descriptive."""
    reading = heater_of(tubes(), number)
    assert (reading.system, reading.volts) == ("industrial, not descriptive", ())


def test_the_letters_i_and_o_are_not_used() -> None:
    """Source: the handbook: letters in sequence from A, without I and O."""
    for letter in "IO":
        assert heater_of(tubes(), f"6{letter}9").system == "not known to this table"
