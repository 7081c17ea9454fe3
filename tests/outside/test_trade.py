"""Facts of the trade that a person at the table would hold the shipped tables against.

Most of them are common practice and stand in no publication that was seen; each test says so. What has a
source names it.
"""

from typing import Any

import pytest

from tests.support.packs import FAMILY, appraised, families, numbers_of, pack_for, prepared_for
from webapp.appraisal.findings import Heater
from webapp.appraisal.matching import harmonics_inside, heaters_fit
from webapp.appraisal.price import misfits
from webapp.appraisal.standing import overlap_khz

Json = dict[str, Any]

# In kHz, three neighbouring coverages of aircraft transmitters.
LOW, MIDDLE, HIGH = (3000.0, 4000.0), (4000.0, 5300.0), (5300.0, 7000.0)
USABLE_KHZ = 25.0


@pytest.mark.parametrize("family", ["aircraft-hf-transmitter", "aircraft-receiver"])
def test_two_heaters_of_12_6_v_in_series_suit_an_aircraft_supply_of_24_to_28_v(family: str) -> None:
    """Source: none, common practice; the sum is 25.2 V, which lies between 24 and 28 V."""
    pack, heater = pack_for(family=family), Heater(12.6, 0.45)
    assert pack["supply_volts"] == [24, 28]
    assert heaters_fit(pack, [[(heater,), (heater,)]]) is True
    assert heaters_fit(pack, [[(heater,)]]) is False
    assert heaters_fit(pack, [[(heater,), (heater,), (heater,)]]) is False


@pytest.mark.parametrize(("coverage", "points"), [(LOW, [1]), (MIDDLE, []), (HIGH, [2])])
def test_a_check_crystal_of_3265_khz_calibrates_the_3_to_4_mhz_dial_by_its_fundamental_and_no_other(
    coverage: tuple[float, float], points: list[int]
) -> None:
    """Source: none, common practice; the multiples are 3265, 6530 and 9795 kHz."""
    assert harmonics_inside(pack_for(), coverage, 3265) == points


@pytest.mark.parametrize(("coverage", "shared"), [(LOW, 500.0), (MIDDLE, 0.0), (HIGH, 15.0)])
def test_of_three_neighbouring_coverages_only_the_lowest_covers_an_amateur_band_in_region_2(
    coverage: tuple[float, float], shared: float
) -> None:
    """Source: 47 CFR 97.301, 3500 to 4000 kHz; 5351.5 to 5366.5 kHz (15 kHz, from 2026-02-13); 7000 kHz up.

    A piece of 15 kHz is too narrow to count: at least 25 kHz of one band are asked for.
    """
    assert overlap_khz(pack_for(), coverage, 2) == pytest.approx(shared)
    effect = numbers_of({"family": FAMILY, "coverage_khz": list(coverage), "region": 2}).market.log_median
    inside = numbers_of({"family": FAMILY, "coverage_khz": [3000, 4000], "region": 2}).market.log_median
    assert (effect == inside) == (shared >= USABLE_KHZ)


# The kinds that send or receive. A communications receiver covers nearly everything, so that one beside all
# bands is rare; where it is, the same rule of thumb holds, so it is no exception here.
COVERING = (
    "aircraft-hf-transmitter", "aircraft-receiver", "communications-receiver", "pack-transmitter-receiver",
    "vehicle-transmitter-receiver",
)  # fmt: skip


@pytest.mark.parametrize("family", families())
def test_a_dial_over_an_amateur_band_fetches_about_five_thirds_of_one_beside_it(family: str) -> None:
    """Source: none, a rule of thumb of the trade; a factor of 1.25 is left on either side."""
    inside = numbers_of({"family": family, "coverage_khz": [3000, 4000], "region": 2}).market.quantile(0)
    beside = numbers_of({"family": family, "coverage_khz": [4000, 5300], "region": 2}).market.quantile(0)
    if family in COVERING:
        assert 5 / 3 / 1.25 <= inside / beside <= 5 / 3 * 1.25
    else:
        assert inside == beside


def cautions(family: str, check: str, option: str) -> list[Json]:
    rows: list[Json] = appraised({"family": family, "answers": {check: option}})["cautions"]
    return rows


@pytest.mark.parametrize(
    ("family", "check"),
    [
        ("aircraft-hf-transmitter", "power-amplifier-tubes"),
        ("aircraft-hf-transmitter", "loading-coil"),
        ("vehicle-transmitter-receiver", "transmitting-tubes"),
        ("vehicle-transmitter-receiver", "variometer"),
    ],
)
def test_plate_caps_of_transmitting_tubes_bring_the_caution_on_high_voltage_and_burns(
    family: str, check: str
) -> None:
    """Source: none, common practice: 500 to 600 V on the caps, radio-frequency burns from aerial parts."""
    row = next(row for row in pack_for(family=family)["checks"] if row["id"] == check)
    whole = next(option["id"] for option in row["options"] if option["state"] == 1)
    texts = [caution["text"] for caution in cautions(family, check, whole)]
    assert any("500 to 600 V" in text and "radio-frequency burns" in text for text in texts)
    standing = [caution["text"] for caution in appraised({"family": family})["cautions"]]
    assert not any("500 to 600 V" in text for text in standing)


@pytest.mark.parametrize("family", families())
@pytest.mark.parametrize(
    ("service", "finish", "fits"),
    [
        ("land service", "bare metal", True),
        ("naval service", "black wrinkle", True),
        ("land service", "black wrinkle", False),
        ("naval service", "bare metal", False),
    ],
)
def test_land_services_left_sets_bare_and_naval_ones_had_them_in_black_wrinkle(
    family: str, service: str, finish: str, fits: bool
) -> None:
    """Source: none, common practice, and weak evidence: it takes off at most a twentieth of the logarithm."""
    found = numbers_of({"family": family, "service": service, "finish": finish}).standing
    effects = [effect.mean for name, _, effect in misfits(prepared_for(family=family), found)]
    assert found.matches.finish is fits
    assert all(-0.05 <= effect < 0 for effect in effects)
    assert len(effects) == (not fits)


def test_a_set_without_check_crystal_and_indicator_tube_is_worth_less_and_remains_a_set() -> None:
    """Source: none, common practice: it works without its calibration parts; the hunt for them is long."""
    answers = {check["id"]: as_made(check) for check in pack_for()["checks"] if check["shown_if"] is None}
    gone = answers | {"check-crystal": "gone", "indicator-tube": "gone"}
    whole, without = (
        appraised({"family": FAMILY, "answers": given, "aim": "display"}) for given in (answers, gone)
    )
    assert whole["calibration"]["likely"] == 100
    assert 0 < without["calibration"]["likely"] < 100
    assert 0.7 < without["price"]["as_is"]["p50"] / whole["price"]["as_is"]["p50"] < 0.95
    assert without["price"]["as_is"]["p50"] > 2 * without["price"]["parts"]["p90"]
    assert without["worth"]["way"] == "as_is"
    assert tasks(without) == tasks(whole)


def as_made(check: Json) -> str:
    """The answer as it left the works, or where none is (plate, holes, coverage) the best one."""
    made = [option["id"] for option in check["options"] if option["as_made"]]
    best = max(check["options"], key=lambda option: (option["state"] or 0, option["log_effect"][0]))
    return str(made[0] if made else best["id"])


def tasks(appraisal: Json) -> list[str]:
    return [task["task"] for task in appraisal["effort"]["tasks"]]
