"""A description tells every finding once, all that was not checked, and nothing that nobody found."""

import random
import re
from collections import Counter
from collections.abc import Callable, Sequence
from typing import Any

import pytest

from tests.parity.cases import random_cases
from tests.support.packs import prepared_for
from webapp.appraisal.appraise import appraise
from webapp.appraisal.describing.describe import LARGEST, Wishes, describe
from webapp.appraisal.describing.seen import option_words
from webapp.appraisal.findings import read_findings
from webapp.appraisal.prepared import Prepared

Json = dict[str, Any]

Described = tuple[Prepared, Json, Json, Json]


@pytest.fixture(scope="module")
def described() -> list[Described]:
    """Random findings of all families and sheets: pack, findings, appraisal, description with its price."""
    rows = []
    for case in random_cases(range(60)):
        prepared = prepared_for(case.findings.get("model_sheet"), case.family)
        findings = read_findings(case.findings, prepared)
        appraisal = appraise(prepared, findings, case.digits, str)
        rows.append(
            (prepared, case.findings, appraisal, describe(prepared, findings, Wishes("range", 100.0)))
        )
    return rows


def sentences(document: Json) -> list[Json]:
    return [
        sentence
        for section in document["sections"]
        for paragraph in section["paragraphs"]
        for sentence in paragraph
    ]


def moving(appraisal: Json) -> list[str]:
    """The findings with an effect, the largest first."""
    return [
        row["what"] for row in appraisal["reasons"] if row["log_effect"] != 0 and row["what"] != "not checked"
    ]


def test_every_finding_with_an_effect_is_told_exactly_once(described: list[Described]) -> None:
    for _, findings, appraisal, document in described:
        told = Counter(name for sentence in sentences(document) for name in sentence["of"])
        assert {name: told[name] for name in moving(appraisal)} == dict.fromkeys(moving(appraisal), 1), (
            findings
        )
        assert set(told.values()) <= {1}, findings


def test_nothing_is_told_that_was_not_found(described: list[Described]) -> None:
    for _, findings, appraisal, document in described:
        found = {row["what"] for row in appraisal["reasons"]}
        assert {name for sentence in sentences(document) for name in sentence["of"]} <= found, findings


def test_every_hole_is_told_once_with_its_place_size_and_state(described: list[Described]) -> None:
    for prepared, findings, _, document in described:
        places = {row["id"]: row["label"] for row in prepared.pack["holes"]["places"]}
        told = [s for s in sentences(document) if any(name.startswith("hole/") for name in s["about"])]
        indices = sorted(int(name[5:]) for sentence in told for name in sentence["about"])
        assert indices == list(range(len(findings["holes"]))), findings
        for sentence in told:
            for name in sentence["about"]:
                hole = findings["holes"][int(name[5:])]
                assert sentence["blanks"]["place"]["value"] == places[hole["place"]]
                assert sentence["blanks"]["size"]["value"] == hole["diameter_mm"]
                words = prepared.pack["words"]
                one = f"tell-hole-{hole['as_found']}", f"tell-holes-{hole['as_found']}"
                assert sentence["words"] in {words[key] for key in one}


def test_all_that_was_not_checked_is_listed_once_and_nothing_else_is(described: list[Described]) -> None:
    for prepared, findings, appraisal, document in described:
        labels = {check["id"]: check["label"] for check in prepared.pack["checks"]}
        section = next(one for one in document["sections"] if one["id"] == "not-checked")
        listed = [
            (name, label)
            for sentence in sentences({"sections": [section]})
            if "checks" in sentence["blanks"]
            for name, label in zip(sentence["about"], sentence["blanks"]["checks"]["value"], strict=True)
        ]
        assert sorted(listed) == sorted((name, labels[name]) for name in appraisal["not_checked"]), findings


def test_a_sentence_of_a_finding_says_what_its_option_says_and_no_more(described: list[Described]) -> None:
    for prepared, findings, _, document in described:
        checks = {check["id"]: check for check in prepared.pack["checks"]}
        words = set(prepared.pack["words"].values())
        answers = dict(findings["answers"])
        if findings["holes"]:
            answers[prepared.checks[prepared.hole_check].id] = "some"
        for sentence in [*sentences(document), *document["short"]]:
            answered = [checks[name] for name in sentence["about"] if name in answers and name in checks]
            own = {
                option_words(prepared.pack, check, option)
                for check in answered
                for option in check["options"]
                if option["id"] == answers[check["id"]]
            }
            assert sentence["words"] in words | own, findings


def test_the_blanks_of_a_sentence_are_those_that_are_filled(described: list[Described]) -> None:
    for _, findings, _, document in described:
        for sentence in [document["title"], *sentences(document), *document["short"]]:
            assert set(re.findall(r"{(\w+)}", sentence["words"])) == set(sentence["blanks"]), findings
            assert sentence["about"], sentence


def test_the_short_form_tells_the_three_largest_how_many_more_and_how_many_were_not_checked(
    described: list[Described],
) -> None:
    for prepared, findings, appraisal, document in described:
        largest = moving(appraisal)[:LARGEST]
        assert [name for sentence in document["short"] for name in sentence["of"]] == largest, findings
        words = prepared.pack["words"]
        by_words = {sentence["words"]: sentence for sentence in document["short"]}
        rest = len(moving(appraisal)) - len(largest)
        if rest > 1:
            assert by_words[words["tell-more"]]["blanks"]["count"]["value"] == rest
        assert (words["tell-more-one"] in by_words) == (rest == 1)
        left = len(appraisal["not_checked"])
        if left:
            assert by_words[words["tell-open"]]["blanks"]["count"]["value"] == left
        assert (words["tell-all-checked"] in by_words) == (left == 0)


def test_the_price_is_told_only_where_the_seller_wants_it(sweep: Callable[[int], Sequence[int]]) -> None:
    for case in random_cases(sweep(200)):
        prepared = prepared_for(case.findings.get("model_sheet"), case.family)
        findings = read_findings(case.findings, prepared)
        words = prepared.pack["words"]
        said = {
            price: {s["words"] for s in sentences(describe(prepared, findings, Wishes(price, 80.0)))}
            for price in ("none", "asked", "range")
        }
        asked, market = words["tell-asked"], words["tell-range"]
        assert not {asked, market} & said["none"]
        assert asked in said["asked"]
        assert market not in said["asked"]
        assert {asked, market} <= said["range"]


def test_any_order_of_answers_gives_the_same_description(sweep: Callable[[int], Sequence[int]]) -> None:
    for case in random_cases(sweep(200)):
        prepared = prepared_for(case.findings.get("model_sheet"), case.family)
        answers = list(case.findings["answers"].items())
        random.Random(case.name).shuffle(answers)
        first = describe(prepared, read_findings(case.findings, prepared), Wishes())
        again = read_findings(case.findings | {"answers": dict(answers)}, prepared)
        assert describe(prepared, again, Wishes()) == first
