"""What the shipped tables let a seller tell a stranger: a sentence for every answer, no more than it says."""

import re
from typing import Any

import pytest

from tests.support.packs import families, pack_for

Json = dict[str, Any]


def words_of(text: str) -> frozenset[str]:
    return frozenset(re.findall(r"[a-z]+(?:-[a-z]+)*", text.lower()))


# Words that promise or praise, unless the answer or its check says them.
PROMISING = words_of(
    "absolutely always authentic beautiful best certainly complete completely easily excellent flawless fully"
    " genuine good great guaranteed immaculate like-new lovely mint must never nice original originally"
    " perfect perfectly pristine rare reliable sound superb surely untouched working works"
)
FIRST_PERSON = words_of("i me mine my myself our ours ourselves us we")

every_family = pytest.mark.parametrize("family", families())


def faults(check: Json, option: Json) -> list[str]:
    """What is wrong with the sentence of an option; nothing where it is well."""
    tell = option.get("tell")
    if tell is None:
        return ["no sentence"]
    said = words_of(" ".join((option["label"], check["label"], check["help"])))
    words = words_of(tell)
    found = [f"promises: {word}" for word in sorted(words & PROMISING - said)]
    found += [f"first person: {word}" for word in sorted(words & FIRST_PERSON)]
    found += [f"a figure: {digit}" for digit in re.findall(r"\d", tell) if digit not in option["label"]]
    if not re.fullmatch(r"[A-Z\"“‘].*[.\"”’]", tell):
        found.append("no sentence from its capital letter to its full stop")
    return found


@every_family
def test_every_answer_has_a_sentence_that_says_no_more_than_it(family: str) -> None:
    wrong = {
        (check["id"], option["id"]): found
        for check in pack_for(None, family)["checks"]
        for option in check["options"]
        if (found := faults(check, option))
    }
    assert wrong == {}


@every_family
def test_no_two_answers_of_a_check_are_told_alike(family: str) -> None:
    for check in pack_for(None, family)["checks"]:
        told = [option["tell"] for option in check["options"]]
        assert len(set(told)) == len(told), check["id"]


@pytest.mark.parametrize(
    ("tell", "fault"),
    [
        (None, "no sentence"),
        ("The dial is there", "no sentence from its capital letter to its full stop"),
        ("the dial is there.", "no sentence from its capital letter to its full stop"),
        ("We found the dial there.", "first person: we"),
        ("The dial is there, as far as I can see.", "first person: i"),
        ("The dial is the original one.", "promises: original"),
        ("The dial has 2 scales.", "a figure: 2"),
    ],
)
def test_a_sentence_that_says_more_is_found(tell: str | None, fault: str) -> None:
    check = {"label": "Dial", "help": "Turn it gently."}
    option = {"label": "There, 1 scale"} | ({} if tell is None else {"tell": tell})
    assert faults(check, option) == [fault]


def test_words_and_figures_that_the_answer_has_itself_may_be_told() -> None:
    check = {"label": "Handbook", "help": "For this model? Original print, or a copy?"}
    assert faults(check, {"label": "There, 1 of 2", "tell": "One original of 2 is there."}) == []
