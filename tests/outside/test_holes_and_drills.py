"""Holes, screws and drills against published tables and the length of the inch."""

import pytest

from tests.support.reference_tables import holes
from webapp.appraisal.hole_candidates import hole_candidates, tolerance_of

# Thread: fine H12, medium H13, coarse H14, in mm.
ISO_273 = {
    "M1.6": (1.7, 1.8, 2.0), "M2": (2.2, 2.4, 2.6), "M2.5": (2.7, 2.9, 3.1), "M3": (3.2, 3.4, 3.6),
    "M3.5": (3.7, 3.9, 4.2), "M4": (4.3, 4.5, 4.8), "M5": (5.3, 5.5, 5.8), "M6": (6.4, 6.6, 7.0),
    "M7": (7.4, 7.6, 8.0), "M8": (8.4, 9.0, 10.0), "M10": (10.5, 11.0, 12.0), "M12": (13.0, 13.5, 14.5),
}  # fmt: skip
# Screw: close, normal, loose, in mm.
B18_2_8 = {
    "#2": (2.4, 2.6, 2.9), "#3": (2.7, 2.9, 3.3), "#4": (3.0, 3.3, 3.7), "#5": (3.6, 4.0, 4.4),
    "#6": (3.9, 4.3, 4.7), "#8": (4.6, 5.0, 5.4), "#10": (5.2, 5.6, 6.0), "1/4": (6.7, 7.1, 7.5),
}  # fmt: skip
# Screw: the drill for the normal fit of the same standard, in thousandths of an inch.
NORMAL_DRILLS = {
    "#2": 101.5, "#3": 116, "#4": 128.5, "#5": 156.25, "#6": 169.5, "#8": 196, "#10": 221, "1/4": 281.25,
}  # fmt: skip
# Screw: close drill, free drill.
SHOP_CHART = {
    "#2": ("43", "41"), "#3": ("37", "35"), "#4": ("32", "30"), "#5": ("30", "29"), "#6": ("27", "25"),
    "#8": ("18", "16"), "#10": ("9", "7"), "#12": ("2", "1"), "1/4": ("F", "H"),
}  # fmt: skip
# Drill: ten-thousandths of an inch.
B94_11M = {
    "1": 2280, "2": 2210, "3": 2130, "4": 2090, "5": 2055, "6": 2040, "7": 2010, "8": 1990, "9": 1960,
    "10": 1935, "11": 1910, "12": 1890, "13": 1850, "14": 1820, "15": 1800, "16": 1770, "17": 1730,
    "18": 1695, "19": 1660, "20": 1610, "21": 1590, "22": 1570, "23": 1540, "24": 1520, "25": 1495,
    "26": 1470, "27": 1440, "28": 1405, "29": 1360, "30": 1285, "31": 1200, "32": 1160, "33": 1130,
    "34": 1110, "35": 1100, "36": 1065, "37": 1040, "38": 1015, "39": 995, "40": 980, "41": 960, "42": 935,
    "43": 890, "44": 860, "45": 820, "46": 810, "47": 785, "48": 760, "49": 730, "50": 700, "51": 670,
    "52": 635, "53": 595, "54": 550, "55": 520, "56": 465, "57": 430, "58": 420, "59": 410, "60": 400,
    "79": 145, "80": 135,
    "A": 2340, "B": 2380, "C": 2420, "D": 2460, "E": 2500, "F": 2570, "G": 2610, "H": 2660, "I": 2720,
    "J": 2770, "K": 2810, "L": 2900, "M": 2950, "N": 3020, "O": 3160, "P": 3230, "Q": 3320, "R": 3390,
    "S": 3480, "T": 3580, "U": 3680, "V": 3770, "W": 3860, "X": 3970, "Y": 4040, "Z": 4130,
}  # fmt: skip


def kinds(diameter: float, way: str = "tape") -> set[str]:
    table = holes()
    kind = {row["id"]: row["kind"] for row in table["components"]}
    found = hole_candidates(table, diameter, tolerance_of(table, way))
    return {kind[candidate.id] for candidate in found}


def ids(diameter: float, way: str = "tape") -> set[str]:
    table = holes()
    return {one.id for one in hole_candidates(table, diameter, tolerance_of(table, way))}


def drills() -> dict[str, float]:
    return {row["name"]: row["inch"] for row in holes()["reference"]["drills"]}


def test_the_clearance_holes_are_those_of_iso_273() -> None:
    """Source: ISO 273, series fine, medium and coarse, as on an engineering reference page."""
    rows = holes()["reference"]["clearances"]
    found = {row["thread"]: (row["fine_mm"], row["medium_mm"], row["coarse_mm"]) for row in rows}
    assert found == ISO_273


def test_the_holes_for_inch_screws_are_those_of_b18_2_8_which_has_no_number_12() -> None:
    """Source: ANSI/ASME B18.2.8-1999 (R2017), table 3a, as in Machinery's Handbook, 31st edition, p. 1743."""
    rows = holes()["reference"]["screws"]
    found = {row["screw"]: (row["close_mm"], row["normal_mm"], row["loose_mm"]) for row in rows}
    assert found == B18_2_8


@pytest.mark.parametrize("screw", NORMAL_DRILLS)
def test_the_normal_hole_in_mm_is_the_inch_drill_of_the_same_standard(screw: str) -> None:
    """Source: the same standard, table 1a (p. 1741); an inch is 25.4 mm, and table 3a rounds to a tenth."""
    (row,) = [row for row in holes()["reference"]["screws"] if row["screw"] == screw]
    assert row["normal_mm"] == pytest.approx(NORMAL_DRILLS[screw] / 1000 * 25.4, abs=0.051)


def test_the_major_diameter_of_a_numbered_screw_follows_the_rule_of_thirteen_thousandths() -> None:
    """Source: ASME B1.1, numbered sizes: 0.060 in and 0.013 in for each number."""
    for row in holes()["reference"]["screws"]:
        if row["screw"].startswith("#"):
            expected = (60 + 13 * int(row["screw"][1:])) / 1000
            assert row["major_inch"] == pytest.approx(expected, abs=1e-9), row["screw"]


def test_the_older_chart_names_these_drills_with_their_diameters() -> None:
    """Source: a tap and clearance hole chart of 2012, columns of close and free fit."""
    rows = holes()["reference"]["shop_screws"]
    assert {row["screw"]: (row["close_drill"], row["free_drill"]) for row in rows} == SHOP_CHART
    for row in rows:
        assert row["close_inch"] == B94_11M[row["close_drill"]] / 10_000, row["screw"]
        assert row["free_inch"] == B94_11M[row["free_drill"]] / 10_000, row["screw"]


def test_the_drills_by_number_and_letter_are_those_of_the_standard() -> None:
    """Source: ASME B94.11M, number and letter sizes."""
    found = {name: inch for name, inch in drills().items() if "/" not in name}
    assert found == {name: size / 10_000 for name, size in B94_11M.items()}


def test_drills_get_smaller_with_their_number_and_larger_with_their_letter() -> None:
    """Source: the order of the standard's own sizes."""
    by_number = [inch for _, inch in sorted((int(n), inch) for n, inch in drills().items() if n.isdigit())]
    by_letter = [inch for _, inch in sorted((n, inch) for n, inch in drills().items() if n.isalpha())]
    assert by_number == sorted(by_number, reverse=True)
    assert by_letter == sorted(by_letter)
    assert len(set(by_number)) == len(by_number)


def test_a_drill_named_by_a_fraction_measures_it_and_letter_e_is_a_quarter_inch() -> None:
    """Source: arithmetic; ASME B94.11M gives letter E as 0.250 in."""
    fractions = {name: inch for name, inch in drills().items() if "/" in name}
    for name, inch in fractions.items():
        above, below = name.split("/")
        assert inch == int(above) / int(below), name
    assert drills()["E"] == fractions["1/4"]


@pytest.mark.parametrize("screw", SHOP_CHART)
def test_a_hole_of_either_fit_of_the_chart_offers_a_screw_of_that_size(screw: str) -> None:
    """Source: the same chart, its inches by 25.4; the screw's own row is told with a calliper's tolerance."""
    named = {"#2": "2-3", "#3": "2-3", "#4": "4-5", "#5": "4-5", "1/4": "quarter-inch"}
    part = f"screw-{named.get(screw, screw[1:])}"
    for drill in SHOP_CHART[screw]:
        assert part in ids(B94_11M[drill] / 10_000 * 25.4, "calliper")


@pytest.mark.parametrize("thread", ["M2", "M2.5", "M3", "M3.5", "M4", "M5", "M6"])
def test_a_medium_clearance_hole_offers_a_screw_of_that_thread(thread: str) -> None:
    """Source: ISO 273, medium series."""
    table = holes()
    found = hole_candidates(table, ISO_273[thread][1], tolerance_of(table, "calliper"))
    assert any(thread in one.label.strip("screw ()").split(" or ") for one in found)


@pytest.mark.parametrize("diameter", [9.5, 9.525, 9.7, 10.0])
def test_three_eighths_of_an_inch_is_a_jack_a_control_or_a_single_hole_coaxial_socket(
    diameter: float,
) -> None:
    """Source: trade practice for 3/8 in bushings; 3/8 × 25.4 = 9.525; a builder's page for controls."""
    assert {"phone-jack", "control", "coaxial-single-hole"} <= ids(diameter)


@pytest.mark.parametrize("diameter", [15.875, 15.9, 16.0])
def test_five_eighths_of_an_inch_is_a_coaxial_or_a_miniature_tube_socket_or_a_grommet(
    diameter: float,
) -> None:
    """Source: trade practice for 5/8 in holes; 5/8 × 25.4 = 15.875."""
    assert {"coaxial-flange", "seven-pin-socket", "large-grommet"} <= ids(diameter)


def test_half_an_inch_is_a_toggle_a_fuse_a_small_lamp_or_a_grommet() -> None:
    """Source: trade practice for 1/2 in holes; 1/2 × 25.4 = 12.7."""
    assert kinds(12.7) == {"switch", "fuse holder", "lamp", "grommet"}


def test_an_inch_and_an_eighth_is_an_octal_socket() -> None:
    """Source: a builder's page that cuts 1-1/8 in for a tube with an octal base; 9/8 × 25.4 = 28.575."""
    assert ids(28.6) == ids(9 / 8 * 25.4) == {"octal-socket"}


def test_seven_eighths_of_an_inch_is_a_nine_pin_socket_and_a_quarter_a_miniature_toggle() -> None:
    """Source: builders' pages: 7/8 in for nine-pin sockets; 1/4 in for miniature toggle switches."""
    assert ids(7 / 8 * 25.4) == {"nine-pin-socket-top"}
    assert "miniature-toggle-switch" in ids(1 / 4 * 25.4)


@pytest.mark.parametrize(
    ("part", "sixteenths"),
    [
        ("phone-jack", 6), ("control", 6), ("small-grommet", 6), ("coaxial-single-hole", 6),
        ("small-phone-jack", 4), ("miniature-toggle-switch", 4), ("small-control", 4),
        ("toggle-switch", 8), ("fuse-holder", 8), ("small-lamp", 8), ("medium-grommet", 8),
        ("coaxial-flange", 10), ("seven-pin-socket", 10), ("medium-lamp", 10), ("large-grommet", 10),
        ("coaxial-small-flange", 7), ("standard-lamp", 11), ("nine-pin-socket", 12),
        ("nine-pin-socket-top", 14), ("large-lamp", 16), ("octal-socket", 17), ("octal-socket", 18),
        ("octal-socket", 19), ("three-inch-meter", 44), ("three-inch-meter", 45),
    ],
)  # fmt: skip
def test_the_millimetres_of_a_part_are_its_inches(part: str, sixteenths: int) -> None:
    """Source: an inch is 25.4 mm; the table rounds to a tenth of a millimetre."""
    (row,) = [row for row in holes()["components"] if row["id"] == part]
    mm = sixteenths / 16 * 25.4
    assert row["from_mm"] - 0.051 <= mm <= row["to_mm"] + 0.051


def test_a_tape_is_trusted_to_no_better_than_eight_tenths_of_a_millimetre() -> None:
    """Source: trade practice for panel holes, which have no single standard."""
    assert tolerance_of(holes(), "tape") >= 0.8
