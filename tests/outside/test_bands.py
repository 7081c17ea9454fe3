"""The amateur allocations of rules/bands.toml against the published tables, and the harmonics rule."""

import pytest

from tests.support.packs import pack_for
from webapp.appraisal.matching import harmonics_inside
from webapp.appraisal.standing import overlap_khz

# kHz, in Region 1, Region 2, Region 3.
EDGES: dict[str, tuple[tuple[float, float], tuple[float, float], tuple[float, float]]] = {
    "160 m": ((1810, 1850), (1800, 2000), (1800, 2000)),
    "80 m": ((3500, 3800), (3500, 4000), (3500, 3900)),
    "60 m": ((5351.5, 5366.5), (5351.5, 5366.5), (5351.5, 5366.5)),
    "40 m": ((7000, 7200), (7000, 7300), (7000, 7200)),
    "30 m": ((10100, 10150), (10100, 10150), (10100, 10150)),
    "20 m": ((14000, 14350), (14000, 14350), (14000, 14350)),
    "17 m": ((18068, 18168), (18068, 18168), (18068, 18168)),
    "15 m": ((21000, 21450), (21000, 21450), (21000, 21450)),
    "12 m": ((24890, 24990), (24890, 24990), (24890, 24990)),
    "10 m": ((28000, 29700), (28000, 29700), (28000, 29700)),
    "6 m": ((50000, 52000), (50000, 54000), (50000, 54000)),
    "2 m": ((144000, 146000), (144000, 148000), (144000, 148000)),
}
CASES = [(region, name, *edges[region - 1]) for name, edges in EDGES.items() for region in (1, 2, 3)]


@pytest.mark.parametrize(("region", "name", "low", "high"), CASES)
def test_each_allocation_begins_and_ends_at_its_published_edges(
    region: int, name: str, low: float, high: float
) -> None:
    """Source: ITU Radio Regulations, Article 5, and 47 CFR 97.301 for Region 2, both sides of each edge."""
    pack = pack_for()
    assert overlap_khz(pack, (low - 10, low), region) == 0
    assert overlap_khz(pack, (low - 10, low + 0.25), region) == pytest.approx(0.25)
    assert overlap_khz(pack, (high, high + 10), region) == 0
    assert overlap_khz(pack, (high - 0.25, high + 10), region) == pytest.approx(0.25)
    assert overlap_khz(pack, (low - 10, high + 10), region) == pytest.approx(high - low)


@pytest.mark.parametrize("region", [1, 2, 3])
def test_a_region_has_these_allocations_and_no_others_up_to_148_mhz(region: int) -> None:
    """Source: the same."""
    expected = sorted([low, high] for where, _, low, high in CASES if where == region)
    assert [band for band in pack_for()["bands"][str(region)] if band[1] <= 148_000] == expected


def test_40_m_above_7200_khz_is_amateur_in_region_2_only() -> None:
    """Source: ITU Radio Regulations, Article 5, 7 200 to 7 300 kHz."""
    overlaps = [overlap_khz(pack_for(), (7200, 7300), region) for region in (1, 2, 3)]
    assert overlaps == [0, 100, 0]


@pytest.mark.parametrize(
    ("coverage", "crystal", "points"),
    [
        ((3300, 5000), 4120, [1]),
        ((3300, 5000), 1000, [4, 5]),
        ((3300, 5000), 250, [14, 15, 16, 17, 18, 19, 20]),
        ((3300, 5000), 164, []),
        ((3300, 5000), 165, [20]),
        ((3300, 5000), 2600, []),
        ((3300, 5000), 5000, [1]),
        ((3300, 5000), 5001, []),
        ((2000, 4000), 2000, [1, 2]),
    ],
)
def test_a_crystal_gives_check_points_at_its_whole_multiples_up_to_the_twentieth(
    coverage: tuple[float, float], crystal: float, points: list[int]
) -> None:
    """Source: a harmonic is a whole multiple of the fundamental; the multiples are counted by hand."""
    assert harmonics_inside(pack_for(), coverage, crystal) == points


@pytest.mark.parametrize("crystal", [160.0, 163.7, 250.0, 999.5, 1650.0, 2501.0, 4120.0])
def test_whether_a_harmonic_falls_inside_follows_from_division(crystal: float) -> None:
    """Source: n·f in [a, b] has a solution when ceil(a/f) ≤ floor(b/f); counted without a loop."""
    low, high = 3300.0, 5000.0
    first, last = -(-low // crystal), min(20.0, high // crystal)
    found = harmonics_inside(pack_for(), (low, high), crystal)
    assert found == [n for n in range(1, 21) if first <= n <= last]
