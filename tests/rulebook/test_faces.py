"""The faces that holes are drawn on: every hole place has one, whole and in proportion; mistakes are told."""

from functools import partial
from itertools import combinations
from pathlib import Path
from typing import Any

import pytest

from tests.support.broken import EVERY_SET, FAM, Mistake, check_told
from tests.support.own_rules import GROUNDS, NEW_FAMILY, laid, problems_laying
from tests.support.packs import FAMILY, families, pack_for
from webapp.rulebook.compiling import compile_family
from webapp.rulebook.delivery import phone_documents

Json = dict[str, Any]
FRONT = 'id = "front-panel"\nwidth_mm = 300\n'
DIAL = '{label = "tuning dial", at_mm = [150, 96], round_mm = 104}'


def drawn(family: str) -> dict[str, Json]:
    return {face["id"]: face for face in pack_for(None, family)["faces"]["drawn"]}


def at(header: str, old: str, new: str, *words: str, file: str = FAM) -> Mistake:
    """A mistake in the row below a header."""
    return Mistake(old, new, header, words, file)


face = partial(at, "[[face]]")
# A feature stands in its face, so the line told is that of no row of its own.
feature = partial(at, "")


@pytest.mark.parametrize("family", families())
def test_every_hole_place_of_a_family_has_a_face_of_its_own_in_the_same_order(family: str) -> None:
    assert list(drawn(family)) == [place["id"] for place in pack_for(None, family)["holes"]["places"]]
    for found in drawn(family).values():
        assert found["basis"] in ("from memory", "invented")
        assert found["why"]
        assert found["features"]


@pytest.mark.parametrize("family", families())
def test_the_faces_of_a_family_are_those_of_one_box(family: str) -> None:
    """Front, back and top are about as wide as one another, and the cover as long as the sides, or nearly."""
    faces = drawn(family)
    assert faces["back"]["width_mm"] == pytest.approx(faces["front-panel"]["width_mm"], rel=0.1)
    assert faces["top-cover"]["width_mm"] == pytest.approx(faces["front-panel"]["width_mm"], rel=0.1)
    assert faces["chassis"]["width_mm"] < 1.01 * faces["front-panel"]["width_mm"]
    assert faces["side"]["twice"] == ["left side", "right side"]


def test_no_two_families_have_the_same_front() -> None:
    fronts = [drawn(family)["front-panel"] for family in families()]
    for one, other in combinations(fronts, 2):
        assert one["features"] != other["features"]
        assert (one["width_mm"], one["height_mm"]) != (other["width_mm"], other["height_mm"])


def test_an_aircraft_receiver_is_narrow_and_a_rack_receiver_wide() -> None:
    shape = {
        name: face["width_mm"] / face["height_mm"]
        for name in families()
        for face in [drawn(name)["front-panel"]]
    }
    assert shape["aircraft-receiver"] < 0.8
    assert shape["communications-receiver"] > 1.7
    assert shape["aircraft-hf-transmitter"] > 1.3


def test_faces_travel_behind_the_first_screen() -> None:
    documents = phone_documents({family: pack_for(None, family) for family in families()})
    for family in families():
        assert documents[f"packs/{family}.json"]["faces"] == {}
        behind = documents["packs/reasons.json"]["families"][family]["faces"]
        assert behind == {"drawn": pack_for(None, family)["faces"]["drawn"]}


MISTAKES = [
    face(FRONT, 'id = "front-panel"\nwidth_mm = 0\n', '"width_mm" is 0', "above 0 to 3000"),
    face(FRONT, 'id = "front-panel"\nwidth_mm = 5000\n', '"width_mm" is 5000', "above 0 to 3000"),
    face(FRONT, 'id = "front-panel"\nwide_mm = 300\n', 'unknown key "wide_mm"', 'Did you mean "width_mm"'),
    face(FRONT, 'id = "front-panel"\nwidth_mm = 300\ntwice = ["left"]\n', '"twice" is', "side by side"),
    feature(DIAL, DIAL.replace("150, 96", "250, 96"), 'face "front-panel", feature 1',
        '"tuning dial" reaches over the edge of its face of 300 by 205 mm'),
    feature(DIAL, DIAL.replace(", round_mm = 104", ""), "feature 1",
        "either round (round_mm) or a box (box_mm)"),
    feature(DIAL, DIAL.replace("104}", "104, box_mm = [2, 2]}"), "feature 1", "either round"),
    feature(DIAL, DIAL.replace("at_mm", "middle_mm"), "feature 1", 'unknown key "middle_mm"'),
    feature(DIAL, DIAL.replace("[150, 96]", "[150]"), "feature 1", '"at_mm" is [150]'),
    feature(DIAL, DIAL.replace("tuning dial", "t" * 25), "feature 1", "at most 24 letters"),
    feature('id = "front-panel"\nwidth_mm = 300', 'id = "frnt-panel"\nwidth_mm = 300', 'face "frnt-panel"',
        'no hole place "frnt-panel"', 'Did you mean "front-panel"?'),
]  # fmt: skip


@pytest.mark.parametrize("mistake", MISTAKES, ids=[" ".join(m.words)[:60] for m in MISTAKES])
def test_a_face_that_cannot_be_drawn_is_told_with_what_would_be_right(
    mistake: Mistake, tmp_path: Path
) -> None:
    check_told(tmp_path, mistake)


def test_a_hole_place_without_a_face_is_told(tmp_path: Path) -> None:
    place = f"""[[hole_place]]
id = "lid-inside"
label = "inside of the lid"

  [[hole_place.size]]
  label = "any size"
  severity = 0.1
  severity_plugged = 0.05
  fixable = 0
  {GROUNDS}"""
    (told,) = problems_laying(tmp_path, {FAM: place})
    assert 'hole_place "lid-inside"' in told
    assert 'add a [[face]] row with id = "lid-inside"' in told


def test_own_features_replace_the_shipped_ones_whole_and_say_what_they_rest_on(tmp_path: Path) -> None:
    own = '[[face]]\nid = "back"\nfeature = [{label = "cord", at_mm = [20, 20], round_mm = 12}]\n'
    (told,) = problems_laying(tmp_path, {FAM: own})
    assert 'it changes "feature", so it needs a basis and a why of its own' in told


def test_own_features_with_their_ground_are_drawn_on_a_face_of_the_shipped_size(tmp_path: Path) -> None:
    own = f'[[face]]\nid = "back"\nfeature = [{{label = "cord", at_mm = [20, 20], round_mm = 12}}]\n{GROUNDS}'
    back = next(
        f for f in compile_family(laid(tmp_path, {FAM: own}), FAMILY)["faces"]["drawn"] if f["id"] == "back"
    )
    assert [feature["label"] for feature in back["features"]] == ["cord"]
    assert (back["width_mm"], back["why"]) == (drawn(FAMILY)["back"]["width_mm"], "Seen at two sales.")


def test_a_new_family_has_the_common_faces(tmp_path: Path) -> None:
    book = laid(tmp_path, {"families/signal-lamp.toml": NEW_FAMILY})
    faces = compile_family(book, "signal-lamp")["faces"]["drawn"]
    assert [found["id"] for found in faces] == ["front-panel", "side", "top-cover", "chassis", "back"]
    common = next(file for file in book.families["signal-lamp"].file.files if file.name.endswith(EVERY_SET))
    assert [found["width_mm"] for found in faces] == [row["width_mm"] for row in common.tables["face"]]
