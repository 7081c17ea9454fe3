"""Findings documents that are refused, each in one sentence; and that nothing else ever comes out."""

import json
import math
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import strategies as st

from tests.support.examples import examples
from tests.support.packs import FAMILY, appraised_by_the_app, pack_for
from tests.support.strategies import any_json
from webapp.errors import BadFindings, NotKnown, UnderchassisError

HOLE = {"place": "front-panel", "diameter_mm": 16}
HEATER = {"volts": 12.6, "amps": 0.45, "tube": "12ZZ9"}
NAN, INF = float("nan"), float("inf")
DEEP: list[Any] = []
for _ in range(3000):
    DEEP = [DEEP]

# What is laid over a findings document that holds only the family, and words the refusal must contain.
REFUSED: list[tuple[Any, list[str]]] = [
    # answers
    ({"answers": {"loading-koil": "there"}}, ['"loading-koil"', 'Did you mean "loading-coil"?']),
    ({"answers": {"loading-coil": "their"}}, ['"loading-coil" has no option', "'their'", '"there"']),
    ({"answers": {"loading-coil": None}}, ['"loading-coil" has no option', "None"]),
    ({"answers": {"loading-coil": ["there"]}}, ['"loading-coil" has no option']),
    ({"answers": {"": "there"}}, ['the check ""', "does not have"]),
    ({"answers": [["loading-coil", "there"]]}, ['"answers"', "named values"]),
    ({"answers": "there"}, ['"answers"', "named values"]),
    ({"answers": 0}, ['"answers"', "named values"]),
    ({"answers": False}, ['"answers"', "named values"]),
    ({"answers": []}, ['"answers"', "named values"]),
    # unseen
    ({"unseen": ["loading-koil"]}, ['"unseen"', 'Did you mean "loading-coil"?']),
    ({"unseen": "loading-coil"}, ['"unseen"', "a list of check ids"]),
    ({"unseen": {}}, ['"unseen"', "a list of check ids"]),
    ({"unseen": ""}, ['"unseen"', "a list of check ids"]),
    ({"unseen": [7]}, ['"unseen"', "7"]),
    ({"unseen": ["case"], "answers": {"case": "sound"}}, ["both answered", "Keep one of the two"]),
    # holes
    ({"holes": [HOLE], "answers": {"added-holes": "none"}}, ["lists 1", '"none"', 'Answer it "some"']),
    ({"holes": [{**HOLE, "place": "front-pannel"}]}, ["Hole 1", 'Did you mean "front-panel"?']),
    ({"holes": [HOLE, {"diameter_mm": 3}]}, ["Hole 2", "place", "None"]),
    ({"holes": [{"place": "back"}]}, ["diameter_mm of hole 1", "a plain number"]),
    ({"holes": [{**HOLE, "diameter_mm": 0}]}, ["diameter_mm of hole 1", "between 0.1 and 500 mm"]),
    ({"holes": [{**HOLE, "diameter_mm": -16}]}, ["-16", "between 0.1 and 500 mm"]),
    ({"holes": [{**HOLE, "diameter_mm": 5000}]}, ["5000", "between 0.1 and 500 mm"]),
    ({"holes": [{**HOLE, "diameter_mm": "16"}]}, ["'16'", "a plain number"]),
    ({"holes": [{**HOLE, "diameter_mm": True}]}, ["True", "a plain number"]),
    ({"holes": [{**HOLE, "diameter_mm": NAN}]}, ["nan", "a plain number"]),
    ({"holes": [{**HOLE, "diameter_mm": 10**400}]}, ["diameter_mm of hole 1", "between"]),
    ({"holes": [{**HOLE, "as_found": "opened"}]}, ["Hole 1", "'opened'", '"plugged"']),
    ({"holes": [{**HOLE, "as_found": None}]}, ["Hole 1", "None", '"plugged"']),
    ({"holes": [{**HOLE, "as_found": ["open"]}]}, ["Hole 1", '"plugged"']),
    ({"holes": [{**HOLE, "diametre_mm": 3}]}, ["Hole 1", 'Did you mean "diameter_mm"?']),
    ({"holes": [16]}, ["Hole 1", "named values"]),
    ({"holes": {"place": "back"}}, ['"holes"', "list"]),
    ({"holes": {}}, ['"holes"', "list"]),
    ({"holes": False}, ['"holes"', "list"]),
    ({"holes": [HOLE] * 501}, ['"holes"', "at most 500"]),
    # frequencies
    ({"coverage_khz": [5000, 3300]}, ['"coverage_khz"', "the lower frequency comes first"]),
    ({"coverage_khz": [5000, 5000]}, ['"coverage_khz"', "the lower frequency comes first"]),
    ({"coverage_khz": [3300]}, ['"coverage_khz"', "two numbers"]),
    ({"coverage_khz": []}, ['"coverage_khz"', "two numbers"]),
    ({"coverage_khz": "3300-5000"}, ['"coverage_khz"', "two numbers"]),
    ({"coverage_khz": 3300}, ['"coverage_khz"', "two numbers"]),
    ({"coverage_khz": [0, 5000]}, ['"coverage_khz"', "between 1 and 1e+07 kHz"]),
    ({"coverage_khz": [3300, INF]}, ['"coverage_khz"', "inf", "a plain number"]),
    ({"coverage_khz": [True, 5000]}, ['"coverage_khz"', "True", "a plain number"]),
    ({"crystal_khz": 0}, ['"crystal_khz"', "between 1 and 1e+07 kHz"]),
    ({"crystal_khz": "4120 kHz"}, ['"crystal_khz"', "a plain number"]),
    ({"crystal_khz": 10**400}, ['"crystal_khz"', "between 1 and 1e+07 kHz"]),
    # money
    ({"asking": -1}, ['"asking" is -1', "between 0 and 1e+12"]),
    ({"asking": 1e13}, ['"asking" is 1', "between 0 and 1e+12"]),
    ({"asking": NAN}, ['"asking" is nan', "a plain number"]),
    ({"asking": INF}, ['"asking" is inf', "a plain number"]),
    ({"asking": -INF}, ['"asking" is -inf', "a plain number"]),
    ({"asking": True}, ['"asking" is True', "a plain number"]),
    ({"asking": "60"}, ["\"asking\" is '60'", "a plain number"]),
    ({"asking": [60]}, ['"asking" is [60]', "a plain number"]),
    ({"asking": DEEP}, ['"asking" is', "a plain number"]),
    ({"asking": 10**400}, ['"asking" is', "between 0 and 1e+12"]),
    ({"asking": "x" * 100_000}, ['"asking" is', "a plain number"]),
    ({"hour_rate": -2}, ['"hour_rate" is -2', "between 0"]),
    ({"hour_rate": False}, ['"hour_rate" is False', "a plain number"]),
    ({"currency": "usd"}, ['"currency"', "three capitals"]),
    ({"currency": ""}, ['"currency"', "three capitals"]),
    ({"currency": 840}, ['"currency"', "three capitals"]),
    ({"currency": False}, ['"currency"', "three capitals"]),
    ({"currency": "EUR"}, ["in USD", "wanted in EUR", 'Give "rate"']),
    ({"currency": "EUR", "rate": 0}, ['"rate" is 0', "between 1e-09 and 1e+09"]),
    ({"currency": "EUR", "rate": -0.9}, ['"rate" is -0.9', "between"]),
    ({"currency": "EUR", "rate": NAN}, ['"rate" is nan', "a plain number"]),
    ({"currency": "EUR", "rate": "0.9"}, ['"rate" is', "a plain number"]),
    ({"currency": "USD", "rate": 0.9}, ['"rate" is 0.9', "in USD already"]),
    ({"rate": 2}, ['"rate" is 2', "in USD already"]),
    ({"currency": "QQQ", "rate": 2}, ['"QQQ" is not a currency code']),
    ({"currency": "EUT", "rate": 2}, ['"EUT" is not a currency code', "Did you mean"]),
    # choices, dates, notes, and keys
    ({"aim": "onair"}, ['"aim"', 'Did you mean "on-air"?']),
    ({"aim": 3}, ['"aim"', "not known"]),
    ({"aim": ["on-air"]}, ['"aim"', "not known"]),
    ({"region": 4}, ['"region" is 4', "1, 2 and 3"]),
    ({"region": True}, ['"region" is True', "1, 2 and 3"]),
    ({"region": "2"}, ['"region"', "1, 2 and 3"]),
    ({"region": [2]}, ['"region"', "1, 2 and 3"]),
    ({"today": "25.11.2026"}, ['"today"', '"2026-11-25"']),
    ({"today": "2026-02-30"}, ['"today"', '"2026-11-25"']),
    ({"today": 20261125}, ['"today"', '"2026-11-25"']),
    ({"serial": 1184}, ['"serial" is 1184', "a text is expected"]),
    ({"nameplate": ["TERN A"]}, ['"nameplate"', "a text is expected"]),
    ({"comparables": "none"}, ['"comparables"', "a list"]),
    ({"comparables": 0}, ['"comparables"', "a list"]),
    ({"book_serial": 1184}, ['"book_serial" is 1184', "a text is expected"]),
    ({"finish": ["black"]}, ['"finish"', "a text is expected"]),
    ({"service": False}, ['"service" is False', "a text is expected"]),
    # heaters
    ({"heater_strings": {}}, ['"heater_strings"', "a list"]),
    ({"heater_strings": [[]]}, ["Heater string 1", "a list of heaters", '"volts": 12.6']),
    ({"heater_strings": [[HEATER], HEATER]}, ["Heater string 2", "a list of heaters"]),
    ({"heater_strings": [[12.6]]}, ["Each heater of string 1", "named values"]),
    ({"heater_strings": [[HEATER, []]]}, ["string 1 has a place without a heater"]),
    ({"heater_strings": [[[HEATER, [HEATER]]]]}, ["Each heater of string 1", "named values"]),
    ({"heater_strings": [[{"volts": 12.6}]]}, ["amps of a heater of string 1", "a plain number"]),
    ({"heater_strings": [[{**HEATER, "volts": 0}]]}, ["volts of a heater", "between 0.1 and 1000 V"]),
    ({"heater_strings": [[{**HEATER, "amps": NAN}]]}, ["amps of a heater", "nan", "a plain number"]),
    ({"heater_strings": [[{**HEATER, "watts": 5}]]}, ["string 1", 'unknown key "watts"', '"volts"']),
    ({"heater_strings": [[HEATER] * 101]}, ["Heater string 1", "a list of heaters"]),
    ({"heater_strings": [[HEATER]] * 101}, ['"heater_strings" lists 101', "at most 100"]),
    ({"two\nlines": 60}, ['Unknown key "two\\nlines"']),
    ({"x" * 100_000: 60}, ['Unknown key "xxx']),
    ({"answers": {"x" * 100_000: "there"}}, ['"answers" names the check "xxx']),
    ({"holes": [{**HOLE, "x" * 100_000: 60}]}, ['Hole 1 has the unknown key "xxx']),
    ({"askin": 60}, ['Unknown key "askin"', 'Did you mean "asking"?']),
    ({"Family": FAMILY}, ['Unknown key "Family"', 'Did you mean "family"?']),
    ({"family": None}, ['no "family"', FAMILY]),
    ({"family": 5}, ['no "family"', FAMILY]),
    ({"model_sheet": 5}, ['"model_sheet"', "the id of a model sheet"]),
]  # fmt: skip


@pytest.mark.parametrize(("laid_over", "words"), REFUSED, ids=[" ".join(words) for _, words in REFUSED])
def test_wrong_findings_are_refused_in_words_that_name_the_mistake(laid_over: Any, words: list[str]) -> None:
    with pytest.raises(BadFindings) as refusal:
        appraised_by_the_app({"family": FAMILY, **laid_over})
    assert [word for word in words if word not in str(refusal.value)] == []
    assert len(str(refusal.value)) < 400
    assert len(str(refusal.value).splitlines()) == 1


@pytest.mark.parametrize("document", [None, 5, "found", [], [{"family": FAMILY}], True, NAN])
def test_what_is_no_object_of_named_values_is_refused(document: Any) -> None:
    with pytest.raises(BadFindings, match="JSON object with named values"):
        appraised_by_the_app(document)


@pytest.mark.parametrize(
    ("document", "words"),
    [
        ({"family": "aircraft-hf-transmiter"}, f'Did you mean "{FAMILY}"?'),
        ({"family": ""}, 'There is no family ""'),
        ({"family": FAMILY, "model_sheet": "tern-d"}, 'There is no model sheet "tern-d".'),
        ({"family": FAMILY, "model_sheet": ""}, 'There is no model sheet ""'),
        ({"family": FAMILY, "model_sheet": "../tern-a"}, "There is no model sheet"),
    ],
)
def test_an_unknown_family_or_sheet_is_named(document: Any, words: str) -> None:
    with pytest.raises(NotKnown) as refusal:
        appraised_by_the_app(document)
    assert words in str(refusal.value)


def test_listed_holes_answer_their_check_even_when_it_was_set_out_of_reach() -> None:
    drilled = {"family": FAMILY, "holes": [HOLE]}
    unreachable = appraised_by_the_app({**drilled, "unseen": ["added-holes"]})
    assert unreachable["price"] == appraised_by_the_app(drilled)["price"]


def test_a_document_with_only_a_family_is_enough() -> None:
    assert appraised_by_the_app({"family": FAMILY})["verdict"]["word"] == "no price yet"


@pytest.mark.parametrize(
    "key",
    [
        "model_sheet", "answers", "unseen", "holes", "coverage_khz", "crystal_khz", "asking", "currency",
        "rate", "hour_rate", "aim", "region", "comparables", "nameplate", "serial", "book_serial",
        "heater_strings", "finish", "service", "today",
    ],
)  # fmt: skip
def test_null_says_the_same_as_leaving_a_key_out(key: str) -> None:
    assert appraised_by_the_app({"family": FAMILY, key: None}) == appraised_by_the_app({"family": FAMILY})


@examples(250, suppress_health_check=[HealthCheck.too_slow])
@given(
    any_json()
    | st.dictionaries(
        st.sampled_from(
            ["answers", "unseen", "holes", "coverage_khz", "crystal_khz", "asking", "currency", "rate", "aim",
             "hour_rate", "region", "today", "model_sheet", "serial", "book_serial", "comparables",
             "nameplate", "heater_strings", "finish", "service"]
        ),
        any_json(),
        max_size=3,
    ).map(lambda inner: {"family": FAMILY, **inner})
    | st.dictionaries(
        st.sampled_from([check["id"] for check in pack_for()["checks"]]), any_json(), max_size=3
    ).map(lambda inner: {"family": FAMILY, "answers": inner})
    | any_json().map(lambda inner: {"family": FAMILY, "holes": [{**HOLE, "diameter_mm": inner}]})
    | any_json().map(lambda inner: {"family": FAMILY, "holes": [inner]})
    | any_json().map(lambda inner: {"family": FAMILY, "heater_strings": [[inner, HEATER]]})
)  # fmt: skip
def test_any_json_is_appraised_or_refused_and_never_breaks_the_engine(document: Any) -> None:
    try:
        outcome: Any = appraised_by_the_app(document)
    except UnderchassisError as refusal:
        outcome = {"refused": str(refusal)}
    assert outcome.get("refused") or math.isfinite(outcome["price"]["fair"]["mid"])
    assert json.loads(json.dumps(outcome, allow_nan=False)) == outcome
