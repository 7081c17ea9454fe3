"""The five words of the verdict, at and beside their borders (contract §4, §10)."""

import pytest

from tests.support.packs import FAMILY, appraised, pack_for
from webapp.appraisal.appraise import sentence_id
from webapp.appraisal.verdict import Stakes, Verdict, verdict


def judged(
    asking: float | None, worth: float = 100, fair: tuple[float, float, float] = (60, 90, 130)
) -> Verdict:
    return verdict(Stakes(worth, *fair, asking), 0.0, 1.0, 0.02, 2)


@pytest.mark.parametrize(
    ("asking", "worth", "word", "offer"),
    [
        (None, 100, "no price yet", None),
        (0, 100, "pay it", None),
        (100, 100, "pay it", None),
        (100.01, 100, "offer less", 90),
        (130, 100, "offer less", 90),
        (130.01, 100, "leave it", None),
        (120, 50, "offer less", 50),
        (130.01, 50, "leave it", None),
        (130, 200, "pay it", None),
        (130.01, 200, "offer less", 90),
        (200, 200, "offer less", 90),
        (200.01, 200, "leave it", None),
    ],
)
def test_the_word_follows_from_asking_price_worth_and_fair_range(
    asking: float | None, worth: float, word: str, offer: float | None
) -> None:
    assert judged(asking, worth) == Verdict(word, offer)


@pytest.mark.parametrize("asking", [0.0, 50.0, 110.0, 500.0])
def test_looking_first_goes_before_every_other_word_from_the_threshold_on(asking: float) -> None:
    stakes = Stakes(100, 60, 90, 130, asking)
    assert verdict(stakes, 1.0, 1.0, 0.02, 2).word == "look first"
    assert verdict(stakes, 0.999, 1.0, 0.02, 2).word != "look first"


def test_without_a_price_there_is_nothing_to_look_first_for() -> None:
    assert verdict(Stakes(100, 60, 90, 130, None), 5.0, 1.0, 0.02, 2).word == "no price yet"


def test_an_offer_that_would_show_as_the_asking_price_is_not_made() -> None:
    """Worth 100.4 and asked 100.6: both show as 100 in steps of 2."""
    near = judged(100.6, 100.4, (60, 101, 130))
    assert near == Verdict("offer less", None)
    assert sentence_id(near, 100.6) == "verdict-no-offer"


def test_an_offer_that_would_show_as_nothing_is_not_made() -> None:
    assert judged(1.0, 0.004, (0.001, 0.002, 2.0)) == Verdict("offer less", None)


@pytest.mark.parametrize(
    ("word", "offer", "asking", "sentence"),
    [
        ("no price yet", None, None, "verdict-no-price"),
        ("look first", None, 50.0, "verdict-look-first"),
        ("leave it", None, 50.0, "verdict-leave-it"),
        ("offer less", 40.0, 50.0, "verdict-offer-less"),
        ("offer less", None, 50.0, "verdict-no-offer"),
        ("pay it", None, 50.0, "verdict-pay-it"),
        ("pay it", None, 0.0, "verdict-gift"),
    ],
)
def test_every_outcome_has_a_sentence_of_its_own(
    word: str, offer: float | None, asking: float | None, sentence: str
) -> None:
    assert sentence_id(Verdict(word, offer), asking) == sentence
    assert pack_for()["words"][sentence]


def test_the_sentence_speaks_in_rounded_money_of_the_appraisal() -> None:
    said = appraised({"family": FAMILY, "currency": "EUR", "rate": 0.87})["verdict"]["sentence"]
    assert "€" in said
    assert "$" not in said
    assert "." not in said.replace(". ", " ").rstrip(".")
