"""Cards and coins against the standard and the laws that fix their sizes."""

import pytest

from tests.support.packs import pack_for

TABLE = pack_for()["scale_objects"]


def test_the_card_has_the_size_of_the_standard() -> None:
    """Source: ISO/IEC 7810, size ID-1: 85.60 by 53.98 by 0.76 mm, corners 3.18 (2.88 to 3.48)."""
    (card,) = TABLE["cards"]
    assert (card["width_mm"], card["height_mm"], card["thick_mm"]) == (85.60, 53.98, 0.76)
    assert 2.88 <= card["corner_mm"] <= 3.48


@pytest.mark.parametrize(
    ("coin", "inches"),
    [
        ("us-1c", 0.750), ("us-5c", 0.835), ("us-10c", 0.705), ("us-25c", 0.955), ("us-50c", 1.205),
        ("us-1d", 1.043),
    ],
)  # fmt: skip
def test_a_coin_of_the_united_states_has_its_size_by_law(coin: str, inches: float) -> None:
    """Source: 31 U.S.C. 5112(a), diameters in inches; 25.4 mm to the inch."""
    row = next(row for row in TABLE["coins"] if row["id"] == coin)
    assert row["diameter_mm"] == pytest.approx(inches * 25.4, abs=0.0051)


@pytest.mark.parametrize(
    ("coin", "mm"),
    [
        ("eur-1c", 16.25), ("eur-2c", 18.75), ("eur-5c", 21.25), ("eur-10c", 19.75), ("eur-20c", 22.25),
        ("eur-50c", 24.25), ("eur-1", 23.25), ("eur-2", 25.75),
    ],
)  # fmt: skip
def test_a_euro_coin_has_its_size_by_regulation(coin: str, mm: float) -> None:
    """Source: Regulation (EU) No 729/2014, Annex I."""
    assert next(row for row in TABLE["coins"] if row["id"] == coin)["diameter_mm"] == mm


def test_only_round_coins_are_offered() -> None:
    """Source: Royal Mint specifications: 20p and 50p have seven sides, the pound of 2017 has twelve."""
    names = {row["id"] for row in TABLE["coins"]}
    assert not names & {"gb-20p", "gb-50p", "gb-1l"}
    assert {"gb-1p", "gb-2p", "gb-5p", "gb-10p", "gb-2l"} <= names
