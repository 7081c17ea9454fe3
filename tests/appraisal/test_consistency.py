"""Findings that ought to agree (contract §6): coverage, crystal, heaters, serials, designation, finish."""

import random
from collections.abc import Callable, Sequence
from copy import deepcopy
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.examples import examples
from tests.support.packs import FAMILY, appraised, families, kinds, pack_for
from tests.support.random_findings import random_findings
from webapp.appraisal.appraise import appraise
from webapp.appraisal.findings import read_findings
from webapp.appraisal.prepared import prepare
from webapp.rulebook.sheets import apply_sheet

Json = dict[str, Any]

METER = "frequency-meter"
EFFECTS = pack_for()["effects"]
FINE, MISFIT, UNKNOWN = "fine", "does not fit", "cannot tell yet"
CHECKS = ("designation", "coverage", "crystal", "serial", "heaters", "finish")


def results(document: Json, pack: Json | None = None) -> list[Json]:
    """The comparisons of a findings document, on the shipped pack that it names or on another."""
    document = {"family": FAMILY, **document}
    rows: list[Json] = (appraised(document) if pack is None else appraised_on(pack, document))["consistency"]
    return rows


def appraised_on(pack: Json, document: Json) -> Json:
    prepared = prepare(pack)
    return appraise(prepared, read_findings(document, prepared), 2, str)


def result(document: Json, check: str, pack: Json | None = None) -> Json:
    return next(row for row in results(document, pack) if row["check"] == check)


def heater(volts: float, amps: float = 0.45) -> Json:
    return {"volts": volts, "amps": amps}


# ---- coverage


@pytest.mark.parametrize(
    ("coverage", "region", "found"),
    [
        ([3300, 5000], 2, FINE),
        ([3300, 3525], 2, FINE),
        ([3300, 3524.99], 2, MISFIT),
        ([3975, 5000], 2, FINE),
        ([3975.01, 5000], 2, MISFIT),
        ([3975, 5000], 1, MISFIT),
        ([5350, 5370], 2, MISFIT),
        ([200, 400], 2, MISFIT),
        ([3300, 5000], None, UNKNOWN),
        (None, 2, UNKNOWN),
    ],
)
def test_a_coverage_fits_from_25_khz_of_one_band_of_the_region_on(
    coverage: list[float] | None, region: int | None, found: str
) -> None:
    row = result({"coverage_khz": coverage, "region": region}, "coverage")
    effect = {FINE: "coverage_in_band", MISFIT: "coverage_out_of_band"}.get(found)
    assert row["result"] == found
    assert row["log_effect"] == (EFFECTS[effect][0] if effect else 0)
    assert "{" not in row["sentence"]


def test_overlaps_with_two_bands_do_not_add_up() -> None:
    """15 kHz of 60 m and 20 kHz of 40 m make no 25 kHz of one band."""
    assert result({"coverage_khz": [5300, 7020], "region": 2}, "coverage")["result"] == MISFIT


def test_the_sentence_names_the_figures_and_the_region() -> None:
    fine = result({"coverage_khz": [3300, 5000], "region": 2, "crystal_khz": 2000}, "coverage")["sentence"]
    assert all(word in fine for word in ("3 300", "5 000", "500", "2"))
    crystal = result({"coverage_khz": [3300, 5000], "crystal_khz": 2000}, "crystal")["sentence"]
    assert all(word in crystal for word in ("2 000", "4 000"))


# ---- crystal


@pytest.mark.parametrize(
    ("coverage", "crystal", "found"),
    [
        ([3300, 5000], 4120, FINE),
        ([5000, 7600], 2750, FINE),
        ([3300, 5000], 2600, MISFIT),
        ([3300, 5000], 250, FINE),
        ([3300, 5000], 5000.1, MISFIT),
        ([3300, 5000], None, UNKNOWN),
        (None, 4120, UNKNOWN),
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
    assert result({"model_sheet": "tern-b"}, "crystal")["result"] == UNKNOWN


# ---- heaters


@pytest.mark.parametrize(
    ("strings", "found", "said"),
    [
        ([[heater(12.6), heater(12.6)]], FINE, "24 to 28 V"),
        ([[heater(12.6), heater(12.6)]] * 3, FINE, "24 to 28 V"),
        ([[heater(6.3)] * 4], FINE, ""),
        ([[heater(28)], [heater(26.5, 1.2)]], FINE, ""),
        # A tenth off the supply and a twentieth between currents are still right; the next digit is not.
        ([[heater(10.8), heater(10.8)]], FINE, ""),
        ([[heater(10.8), heater(10.79)]], MISFIT, "string 1 adds up to 21.59 V"),
        ([[heater(15.4), heater(15.4)]], FINE, ""),
        ([[heater(15.4), heater(15.41)]], MISFIT, "30.81 V"),
        ([[heater(12.6, 0.6), heater(12.6, 0.63)]], FINE, ""),
        ([[heater(12.6, 0.6), heater(12.6, 0.631)]], MISFIT, "0.6 to 0.631 A"),
        # What the supply asks of a string it asks of each.
        ([[heater(12.6), heater(12.6)], [heater(12.6)]], MISFIT, "string 2 adds up to 12.6 V"),
        # Shunted heaters count together: one place, one voltage, the sum of their currents.
        ([[heater(12.6, 0.3), [heater(12.6, 0.15), heater(12.6, 0.15)]]], FINE, ""),
        ([[heater(12.6, 0.3), [heater(12.6, 0.3), heater(12.6, 0.15)]]], MISFIT, "0.3 to 0.45 A"),
        ([[heater(12.6, 0.3), heater(12.6, 0.15), heater(12.6, 0.15)]], MISFIT, "37.8 V"),
        ([], UNKNOWN, "not noted yet"),
    ],
)
def test_heaters_suit_a_supply_and_one_another(strings: list[Any], found: str, said: str) -> None:
    row = result({"heater_strings": strings}, "heaters")
    assert row["result"] == found
    assert row["log_effect"] == (EFFECTS["heaters_misfit"][0] if found == MISFIT else 0)
    assert said in row["sentence"]
    assert "{" not in row["sentence"]


def test_without_a_known_supply_no_string_is_judged() -> None:
    strings = [[heater(6.3), heater(12.6, 0.15)]]
    row = result({"family": "communications-receiver", "heater_strings": strings}, "heaters")
    assert (row["result"], row["log_effect"]) == (UNKNOWN, 0)
    assert [row["check"] for row in results({"family": "communications-receiver"})].count("heaters") == 0


def test_a_supply_that_only_a_sheet_knows_is_judged_and_moves_no_price() -> None:
    """The family says nothing of what such a string does to the price."""
    ground = {"basis": "invented", "why": "Made for a test."}
    overrides = {
        "name": "Own", "about": "Own", "sheet": {"id": "own", "supply_volts": [6, 6.3], **ground},
        "reference": {}, "absent": [], "parts": [], "extra": [],
    }  # fmt: skip
    pack = apply_sheet(pack_for(family="communications-receiver"), overrides)
    document = {"family": "communications-receiver", "heater_strings": [[heater(12.6)]]}
    row = result(document, "heaters", pack)
    assert (row["result"], row["log_effect"]) == (MISFIT, 0)
    reasons = appraised_on(pack, document)["reasons"]
    assert "heaters_misfit" not in {reason["what"] for reason in reasons}


# ---- serials of radio and book


@pytest.mark.parametrize(
    ("serial", "book", "found"),
    [
        ("1184", "1184", FINE),
        ("No. 1184", "ser. no. 01184", FINE),
        ("1184", "1148", MISFIT),
        ("1184", None, UNKNOWN),
        (None, "1184", UNKNOWN),
        (None, None, UNKNOWN),
        ("", "-", UNKNOWN),
    ],
)
def test_radio_and_book_carry_one_number(serial: str | None, book: str | None, found: str) -> None:
    document = {"family": METER, "serial": serial, "book_serial": book}
    row = result({**document, "answers": {"calibration-book": "there"}}, "serial")
    assert row["result"] == found
    effect = pack_for(family=METER)["effects"]["book_foreign"][0]
    assert row["log_effect"] == (effect if found == MISFIT else 0)
    assert "{" not in row["sentence"]
    assert found != MISFIT or ("1184" in row["sentence"] and "1148" in row["sentence"])


def test_a_book_of_another_radio_counts_as_missing_only_while_there_is_a_book() -> None:
    pack = pack_for(family=METER)
    check = next(row for row in pack["checks"] if row["part"] == pack["effects"]["book_part"])
    weights = {part["id"]: part["weight"] for part in pack["parts"] if part["calibration"]}
    share = 100 * weights[check["part"]] / sum(weights.values())
    foreign = {"family": METER, "serial": "1184", "book_serial": "1148"}
    for answers in ({}, *({check["id"]: option["id"]} for option in check["options"])):
        found = appraised({**foreign, "answers": answers})
        plain = appraised({"family": METER, "answers": answers})
        there = any(option["state"] == 1 and option["id"] in answers.values() for option in check["options"])
        lost = share if there else 0
        assert found["calibration"]["likely"] == pytest.approx(plain["calibration"]["likely"] - lost)
        assert found["completeness"] == plain["completeness"]
        assert (found["price"] == plain["price"]) == (not there)


@pytest.mark.parametrize("serial", [None, "1184", "No. 1184"])
@pytest.mark.parametrize("book", [None, "1184", "1148", "?"])
def test_a_book_that_served_all_of_a_model_is_never_a_misfit(serial: str | None, book: str | None) -> None:
    pack = deepcopy(pack_for("curlew"))
    pack["sheet"]["book"] = "by model"
    document = {"family": METER, "serial": serial, "book_serial": book}
    row = result({**document, "answers": {"calibration-book": "there"}}, "serial", pack)
    assert (row["result"], row["log_effect"]) == (FINE, 0)


def test_serials_are_compared_where_a_book_belongs_to_the_set_or_its_number_was_noted() -> None:
    assert "serial" in [row["check"] for row in results({"family": METER})]
    assert "serial" not in [row["check"] for row in results({"serial": "12"})]
    assert result({"serial": "12", "book_serial": "13"}, "serial")["log_effect"] == 0


# ---- designation on the plate


@pytest.mark.parametrize("family", families())
def test_a_plate_fits_the_families_that_go_by_its_letters_and_no_other(family: str) -> None:
    named = pack_for(family=family)["nomenclature"]["families"]
    effect = pack_for(family=family)["effects"]["designation_misfit"][0]
    for other in named:
        for letters in (letters.replace("?", "G") for letters in named[other]["sets"]):
            plate = f"RADIO SET\nan/{letters.lower()}-991A\nSERIAL 12"
            row = result({"family": family, "nameplate": plate}, "designation")
            fits = any(
                letters in (own, f"G{own[1:]}" if own[0] == "?" else own) for own in named[family]["sets"]
            )
            assert row["result"] == (FINE if fits else MISFIT), (letters, other)
            assert row["log_effect"] == (0 if fits else effect)
            assert f"AN/{letters}-991A" in row["sentence"]
            assert "{" not in row["sentence"]


@pytest.mark.parametrize(
    "plate", [None, "", " \n", "Marrow & Teal Instrument Works", "AN/?RT-991", "AN/XQZ-991"]
)
def test_a_plate_without_a_designation_that_names_a_kind_tells_nothing(plate: str | None) -> None:
    row = result({"nameplate": plate}, "designation")
    assert (row["result"], row["log_effect"]) == (UNKNOWN, 0)
    assert "{" not in row["sentence"]


# ---- finish and service


@pytest.mark.parametrize(
    ("service", "finish", "found"),
    [
        ("land service", "bare metal", FINE),
        ("Army", "clear lacquer over metal", FINE),
        ("navy", "Black crackle", FINE),
        ("air force", "black wrinkle", MISFIT),
        ("naval service", "grey paint", MISFIT),
        ("navy", "gold leaf", UNKNOWN),
        ("a lighthouse", "black wrinkle", UNKNOWN),
        ("navy", None, UNKNOWN),
        (None, "black wrinkle", UNKNOWN),
        (None, None, UNKNOWN),
    ],
)
def test_a_finish_is_held_against_what_the_service_ordered(
    service: str | None, finish: str | None, found: str
) -> None:
    row = result({"service": service, "finish": finish}, "finish")
    assert row["result"] == found
    assert row["log_effect"] == (EFFECTS["finish_misfit"][0] if found == MISFIT else 0)
    assert "{" not in row["sentence"]


@pytest.mark.parametrize(
    ("sheet", "service", "finish", "found"),
    [
        ("tern-a", None, "bare metal", FINE),
        ("tern-a", "navy", "bare metal", FINE),
        ("tern-a", "navy", "black wrinkle", MISFIT),
        ("tern-a", "army", "clear lacquer", MISFIT),
        ("tern-b", None, "black wrinkle", FINE),
        ("tern-b", "army", "bare metal", MISFIT),
        ("tern-b", "navy", None, UNKNOWN),
    ],
)
def test_the_finish_of_the_type_goes_before_that_of_the_service(
    sheet: str, service: str | None, finish: str | None, found: str
) -> None:
    row = result({"model_sheet": sheet, "service": service, "finish": finish}, "finish")
    assert row["result"] == found
    assert found == UNKNOWN or "type" in row["sentence"]


def test_answers_on_finish_and_service_count_like_typed_words() -> None:
    for service in pack_for()["services"]:
        for finish in pack_for()["finishes"]:
            answers = {"ordering-service": service["id"], "finish-kind": finish["id"]}
            answered = result({"answers": answers}, "finish")
            assert answered == result({"service": service["label"], "finish": finish["label"]}, "finish")
            assert answered["result"] == (FINE if finish["id"] in service["finishes"] else MISFIT)


# ---- all of them


def test_every_comparison_comes_to_each_of_its_results_in_words_without_blanks(
    sweep: Callable[[int], Sequence[int]],
) -> None:
    met = set()
    for seed in sweep(6000):
        rng = random.Random(seed)
        family, sheet = kinds()[seed % len(kinds())]
        document = random_findings(pack_for(sheet, family), rng)
        for row in results(document):
            met.add((row["check"], row["result"]))
            assert set("{}") & set(row["sentence"]) == set(), row
            assert row["result"] == MISFIT or row["log_effect"] == 0 or row["check"] == "coverage"
    assert met == {(check, found) for check in CHECKS for found in (FINE, MISFIT, UNKNOWN)}


@examples(150)
@given(st.sampled_from(kinds()), st.fixed_dictionaries({}, optional={
    key: st.text(max_size=60) for key in ("nameplate", "serial", "book_serial", "finish", "service")
}))  # fmt: skip
def test_any_text_is_compared_and_breaks_nothing(kind: tuple[str, str | None], texts: Json) -> None:
    document = {"family": kind[0], "model_sheet": kind[1], **texts}
    for row in results(document):
        assert row["result"] in (FINE, MISFIT, UNKNOWN)
        assert row["log_effect"] <= 0


def test_the_order_of_findings_does_not_matter(sweep: Callable[[int], Sequence[int]]) -> None:
    for seed in sweep(1500):
        rng = random.Random(seed)
        family, sheet = kinds()[seed % len(kinds())]
        document = random_findings(pack_for(sheet, family), rng)
        shuffled = shuffle(document, rng)
        for key in ("answers", "holes", "unseen"):
            shuffled[key] = shuffle(document[key], rng)
        if "heater_strings" in document:
            strings = [shuffle(string, rng) for string in document["heater_strings"]]
            shuffled["heater_strings"] = shuffle(strings, rng)
        now, then = appraised(document), appraised(shuffled)
        assert told(now) == told(then), seed
        assert now["price"]["as_is"]["p50"] == pytest.approx(then["price"]["as_is"]["p50"], rel=1e-12)
        assert now["calibration"] == then["calibration"]


def shuffle(listed: Any, rng: random.Random) -> Any:
    rows = list(listed.items() if isinstance(listed, dict) else listed)
    rng.shuffle(rows)
    return dict(rows) if isinstance(listed, dict) else rows


def told(appraisal: Json) -> list[tuple[str, str, float]]:
    return [(row["check"], row["result"], row["log_effect"]) for row in appraisal["consistency"]]
