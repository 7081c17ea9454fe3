"""Measuring holes: right with true points, near with a tap, honest about doubt, calm about nonsense."""

import math
from collections.abc import Callable, Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.support.drawn_photos import drawn_photo
from tests.support.examples import examples
from tests.support.measuring import HAND_PX, SETTINGS, TABLE, by_hand, reference_in
from webapp.photos.grey import Grey
from webapp.photos.measure import Measured, Unmeasured, measure_near, measure_rim
from webapp.photos.reference import four_cornered, round_coin
from webapp.rulebook.measuring import NOTES, REFUSALS

KINDS = ("card", "label", "coin")
BLANK = Grey(60, 40, bytes([90]) * 2400)
anywhere = st.tuples(st.floats(-1e4, 1e4), st.floats(-1e4, 1e4))


@pytest.mark.parametrize("kind", KINDS)
def test_with_true_points_the_diameter_is_true_to_a_hundredth_up_to_forty_degrees(
    kind: str, sweep: Callable[[int], Sequence[int]]
) -> None:
    seen = 0
    for seed in sweep(100):
        drawn = drawn_photo(seed, kind)
        reference = reference_in(drawn, kind, drawn.outline, as_given=True)
        for hole in drawn.holes:
            found = measure_rim(drawn.photo, reference, hole.rim, SETTINGS)
            assert isinstance(found, Measured)
            # A coin alone does not tell the focal length, so that of a usual phone is taken.
            limit = 0.05 if kind == "coin" else 1e-6
            assert found.diameter_mm == pytest.approx(hole.diameter_mm, rel=limit), f"seed {seed}"
            seen += 1
    assert seen > 10


@pytest.mark.parametrize("kind", KINDS)
def test_a_tap_finds_the_rim_and_the_stated_doubt_holds(
    kind: str, sweep: Callable[[int], Sequence[int]]
) -> None:
    off, held, count = [], 0, 0
    for seed in sweep(40, one_in=13):
        drawn = drawn_photo(seed + 500, kind)
        outline = by_hand(seed, drawn.outline, HAND_PX[kind])
        reference = reference_in(drawn, kind, outline, as_given=False)
        for hole in drawn.holes:
            tap = (hole.middle[0] + 0.3 * (hole.rim[0][0] - hole.middle[0]), hole.middle[1])
            found = measure_near(drawn.photo, reference, tap, SETTINGS)
            assert isinstance(found, Measured), f"seed {seed}"
            off.append(abs(found.diameter_mm - hole.diameter_mm))
            held += off[-1] <= found.uncertainty_mm
            count += 1
            assert off[-1] < 2 * found.uncertainty_mm, f"seed {seed}: {found} for {hole.diameter_mm}"
    assert sorted(off)[len(off) // 2] < 0.3
    assert held / count >= 0.9


@pytest.mark.parametrize("kind", KINDS)
def test_a_tap_where_there_is_no_hole_is_told_from_a_hole(kind: str) -> None:
    found = measure_near(BLANK, _blank_reference(kind), (30.0, 20.0), SETTINGS)
    assert found == Unmeasured("no-rim")


def _blank_reference(kind: str):  # type: ignore[no-untyped-def]
    if kind == "coin":
        rim = [(30 + 12 * math.cos(k), 20 + 9 * math.sin(k)) for k in range(6)]
        coin = round_coin(BLANK, rim, 24.0, 0.0, True, SETTINGS)
        assert coin is not None
        return coin
    corners = [(5.0, 5.0), (50.0, 6.0), (49.0, 33.0), (6.0, 32.0)]
    return four_cornered(BLANK, kind, corners, (85.6, 53.98), 0.0, False, SETTINGS)


def test_corners_that_do_not_go_round_give_no_scale() -> None:
    crossed = [(5.0, 5.0), (50.0, 30.0), (50.0, 5.0), (5.0, 30.0)]
    reference = four_cornered(BLANK, "card", crossed, (85.6, 53.98), 0.76, True, SETTINGS)
    assert measure_near(BLANK, reference, (20.0, 20.0), SETTINGS) == Unmeasured("no-plane")


def test_two_rim_points_are_too_few_and_three_in_a_line_are_no_rim() -> None:
    reference = _blank_reference("card")
    assert measure_rim(BLANK, reference, [(1.0, 1.0), (2.0, 2.0)], SETTINGS) == Unmeasured("rim-too-few")
    line = [(10.0, 10.0), (12.0, 10.0), (14.0, 10.0)]
    flat = four_cornered(
        BLANK,
        "card",
        [(5.0, 5.0), (50.0, 5.0), (50.0, 33.0), (5.0, 33.0)],
        (85.6, 53.98),
        0.0,
        True,
        SETTINGS,
    )
    found = measure_rim(BLANK, flat, line, SETTINGS)
    assert isinstance(found, Unmeasured) or found.diameter_mm > 1e5


def test_five_points_in_a_line_are_no_coin() -> None:
    assert round_coin(BLANK, [(k, k) for k in range(5)], 24.0, 1.8, True, SETTINGS) is None


@examples(60)
@given(
    st.sampled_from(KINDS),
    st.lists(anywhere, min_size=5, max_size=5),
    anywhere,
    st.lists(anywhere, max_size=6),
)
def test_points_anywhere_give_a_figure_or_a_reason_and_never_a_crash(
    kind: str, outline: list[tuple[float, float]], tap: tuple[float, float], rim: list[tuple[float, float]]
) -> None:
    if kind == "coin":
        reference = round_coin(BLANK, outline, 24.0, 1.8, False, SETTINGS)
        if reference is None:
            return
    else:
        reference = four_cornered(BLANK, kind, outline[:4], (85.6, 53.98), 0.76, False, SETTINGS)
    for found in (
        measure_near(BLANK, reference, tap, SETTINGS), measure_rim(BLANK, reference, rim, SETTINGS),
    ):  # fmt: skip
        if isinstance(found, Unmeasured):
            assert found.why in REFUSALS
        else:
            assert found.diameter_mm > 0
            assert found.uncertainty_mm > 0
            assert set(found.notes) <= set(NOTES)


def test_the_same_photo_gives_the_same_figure_again() -> None:
    drawn = drawn_photo(3, "card")
    reference = reference_in(drawn, "card", drawn.outline, as_given=False)
    twice = [measure_near(drawn.photo, reference, drawn.holes[0].middle, SETTINGS) for _ in range(2)]
    assert twice[0] == twice[1]


def test_a_label_read_from_any_side_gives_the_same_figure() -> None:
    drawn = drawn_photo(8, "label")
    hole = drawn.holes[0]
    diameters = []
    for turn in range(4):
        outline = drawn.outline[turn:] + drawn.outline[:turn]
        reference = reference_in(drawn, "label", outline, as_given=True)
        found = measure_rim(drawn.photo, reference, hole.rim, SETTINGS)
        assert isinstance(found, Measured)
        diameters.append(found.diameter_mm)
    assert diameters == pytest.approx([hole.diameter_mm] * 4, rel=1e-6)


def test_more_noise_in_the_corners_never_makes_the_figure_surer() -> None:
    drawn = drawn_photo(11, "card")
    doubts = []
    for noise in (0.2, 0.7, 1.5, 3.0):
        reference = reference_in(drawn, "card", drawn.outline, as_given=True)
        noisy = {**SETTINGS, "given_px": noise}
        reference = four_cornered(drawn.photo, "card", drawn.outline, drawn.size_mm, 0.0, True, noisy)
        found = measure_rim(drawn.photo, reference, drawn.holes[0].rim, noisy)
        assert isinstance(found, Measured)
        doubts.append(found.uncertainty_mm)
    assert doubts == sorted(doubts)


def test_a_slanted_far_or_small_view_says_so() -> None:
    corners = [(5.0, 5.0), (20.0, 5.5), (20.0, 14.0), (5.0, 14.0)]
    reference = four_cornered(BLANK, "card", corners, (85.6, 53.98), 0.76, True, SETTINGS)
    rim = [(57 + 2 * math.cos(k), 37 + 2 * math.sin(k)) for k in range(6)]
    found = measure_rim(BLANK, reference, rim, SETTINGS)
    assert isinstance(found, Measured)
    assert {"small-hole", "small-reference", "far-off", "lens-edge"} <= set(found.notes)


def test_every_note_and_every_reason_has_its_sentence() -> None:
    assert set(TABLE["words"]) == {*NOTES, *REFUSALS}
    assert all(sentence.endswith(".") for sentence in TABLE["words"].values())
