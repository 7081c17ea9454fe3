"""The demo photos and their truths, and the photos at random that measuring is judged by."""

import io
import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image
from skimage.transform import ProjectiveTransform

from demo_photos.at_random import KINDS, LEVELS, random_label_photo, random_photo
from demo_photos.camera import Camera, camera_at
from demo_photos.labels import payload
from demo_photos.lighting import covered
from demo_photos.materials import BLACK
from demo_photos.panel import Panel
from demo_photos.render import listed
from demo_photos.scenes import SHOTS
from demo_photos.shots import Shot
from demo_photos.skin import Canvas
from demo_photos.tracing import FACE, Scene, Tracer, rays_of
from demo_photos.truth import circle
from webapp.notebook.demo import demo_lot, demo_notebook
from webapp.paths import rules_folder
from webapp.photos.labels import read_labels

FOLDER = Path(__file__).parents[2] / "demo_photos"
PHOTOS = sorted(path.name for path in FOLDER.glob("*.jpg"))
LARGEST_IN_ALL = 5_000_000
# Rays cost by the pixel, and nothing that is tested with these photos asks for more.
SMALL = 480
CARD = [(0.0, 0.0), (85.60, 0.0), (85.60, 53.98), (0.0, 53.98)]


def truth_of(name: str) -> dict[str, Any]:
    truth: dict[str, Any] = json.loads((FOLDER / name).with_suffix(".json").read_text("utf-8"))
    return truth


def to_millimetres(reference: dict[str, Any]) -> ProjectiveTransform:
    """Photo to panel, from the reference alone."""
    if reference["kind"] == "coin":
        seen, radius = reference["rim"], reference["coin_mm"] / 2
        angles = [math.tau * i / len(seen) for i in range(len(seen))]
        known = [(radius * math.cos(a), radius * math.sin(a)) for a in angles]
    else:
        seen, side = reference["corners"], reference.get("side_mm")
        known = CARD if side is None else [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)]
    return ProjectiveTransform.from_estimate(np.array(seen), np.array(known))


def diameter_mm(reference: dict[str, Any], hole: dict[str, Any]) -> float:
    rim = to_millimetres(reference)(np.array(hole["rim"]))
    return float(np.linalg.norm(rim - np.roll(rim, len(rim) // 2, axis=0), axis=1).mean())


def test_every_photo_is_listed_with_words_and_has_its_truth() -> None:
    photos = json.loads((FOLDER / "photos.json").read_text("utf-8"))
    assert photos == listed()
    assert sorted(photo["file"] for photo in photos) == PHOTOS
    assert all(20 < len(photo["says"]) < 150 for photo in photos)
    assert len(PHOTOS) >= 14


@pytest.mark.parametrize("name", PHOTOS)
def test_a_photo_has_the_size_that_its_truth_says_and_no_metadata(name: str) -> None:
    truth = truth_of(name)
    with Image.open(FOLDER / name) as photo:
        assert photo.format == "JPEG"
        assert photo.size == (truth["width"], truth["height"])
        assert max(photo.size) <= 1600
        assert not photo.getexif()


def test_all_photos_together_stay_small() -> None:
    assert sum((FOLDER / name).stat().st_size for name in PHOTOS) <= LARGEST_IN_ALL


@pytest.mark.parametrize("name", [name for name in PHOTOS if truth_of(name)["holes"]])
def test_a_holes_diameter_follows_from_the_reference_by_a_homography(name: str) -> None:
    """Source: scikit-image, ProjectiveTransform; ISO/IEC 7810 for the card's size."""
    truth = truth_of(name)
    for hole in truth["holes"]:
        assert diameter_mm(truth["reference"], hole) == pytest.approx(hole["diameter_mm"], rel=0.015)


@pytest.mark.parametrize("name", PHOTOS)
def test_all_that_a_truth_names_lies_in_the_photo(name: str) -> None:
    truth = truth_of(name)
    points = list(truth["reference"].get("corners") or truth["reference"]["rim"])
    for hole in truth["holes"]:
        points += [*hole["rim"], hole["centre"], hole["tap"]]
    assert all(4 < x < truth["width"] - 4 and 4 < y < truth["height"] - 4 for x, y in points)


@pytest.mark.parametrize("shot", SHOTS, ids=lambda shot: shot.file)
def test_nothing_hides_the_reference_or_the_rim_of_a_hole(shot: Shot) -> None:
    """The ways from the camera to the rims and corners, followed through the fittings."""
    rng, camera, blank = np.random.default_rng(1), shot.camera(), Canvas(2, 2, 1, BLACK).bake((0.0, 0.0))
    things, _ = shot.front.fitted(rng, 3.0)
    reference = shot.reference(rng, 3.0)
    panel = Panel(shot.front.size, blank, 2.2, BLACK, BLACK, blank, holes=shot.front.holes)
    lamps, around = covered(camera, 0.0)
    tracer = Tracer(Scene(panel, [*things, reference.thing], blank, lamps, around))
    rims = [p for hole in shot.front.holes for p in circle(hole.centre, hole.radius + 0.3, 0.0, 24)]
    assert set(met(tracer, camera, rims)) <= {FACE}
    assert set(met(tracer, camera, inwards(reference.points()))) == {len(things) + 1}


def met(tracer: Tracer, camera: Camera, points: list[tuple[float, float, float]]) -> list[int]:
    """What the rays to some points meet first, in the numbers of the tracer."""
    if not points:
        return []
    u, v = np.array(camera.project(points), dtype=np.float32).T
    return [int(what) for what in tracer.meet(rays_of(camera, u, v))[0]]


def inwards(points: list[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    """The same points, a little nearer to their middle: the corners of a card are round."""
    middle = np.mean(points, axis=0)
    return [tuple(middle + 0.93 * (np.array(p) - middle)) for p in points]


def demo_sets() -> list[dict[str, Any]]:
    return [*demo_notebook()["found_sets"], *demo_lot()["found_sets"]]


def test_each_demo_set_has_a_photo_whose_label_is_its_own_and_can_be_read() -> None:
    labels = {found["id"]: found["label"] for found in demo_sets()}
    shown = {truth["set"]: name for name in PHOTOS if (truth := truth_of(name))["label"] and truth["set"]}
    assert set(shown) == set(labels)
    for found, name in shown.items():
        with Image.open(FOLDER / name) as photo:
            assert [label.text for label in read_labels(photo)] == [labels[found]], name


def test_the_holes_in_photos_of_a_demo_set_are_those_of_its_findings() -> None:
    sets = {found["id"]: found["findings"] for found in demo_sets()}
    for name in PHOTOS:
        truth = truth_of(name)
        if truth["set"] is None:
            continue
        found = {
            (hole["place"], hole["diameter_mm"])
            for hole in sets[truth["set"]]["holes"]
            if hole["as_found"] != "plugged"
        }
        assert {(hole["place"], hole["diameter_mm"]) for hole in truth["holes"]} <= found


def test_a_photo_that_proves_a_check_names_one_that_exists() -> None:
    tables = "\n".join(path.read_text("utf-8") for path in rules_folder().rglob("*.toml"))
    checks = {truth_of(name)["check"] for name in PHOTOS} - {""}
    assert checks
    assert all(f'id = "{check}"' in tables for check in checks)


def test_each_kind_of_reference_has_a_photo_with_a_hole_beside_it() -> None:
    truths = [truth_of(name) for name in PHOTOS]
    assert {truth["reference"]["kind"] for truth in truths if truth["holes"]} == set(KINDS)
    labels = [truth["label"] for truth in truths if truth["label"]]
    assert len(labels) >= 6
    assert all(payload(text).startswith("UC:K7Q2:") for text in labels)


@pytest.mark.parametrize(("level", "kind"), [("easy", "coin"), ("medium", "card"), ("hard", "label")])
def test_a_seed_gives_the_same_photo_twice(level: str, kind: str) -> None:
    photo, truth = random_photo(7, level, kind, SMALL)
    assert random_photo(7, level, kind, SMALL) == (photo, truth)
    with Image.open(io.BytesIO(photo)) as image:
        assert image.size == (truth["width"], truth["height"])
    assert truth["reference"]["kind"] == kind
    # A curled label is not flat, so its corners do not carry the panel's plane far.
    tolerance = 0.02 if kind != "label" else 0.08
    for hole in truth["holes"]:
        assert diameter_mm(truth["reference"], hole) == pytest.approx(hole["diameter_mm"], rel=tolerance)


def test_label_photos_get_harder_by_level_and_repeat_by_seed() -> None:
    photo, truth = random_label_photo(3, LEVELS[0], SMALL)
    assert random_label_photo(3, LEVELS[0], SMALL) == (photo, truth)
    assert truth["label"]
    assert truth["holes"] == []
    corners = np.array(truth["reference"]["corners"])
    assert np.linalg.norm(corners[1] - corners[0]) / 21 > 2.5


def test_the_lens_takes_a_point_of_the_panel_back_to_itself() -> None:
    camera = camera_at((1600, 1200), (50, 40), 300, 35, 120, 20, bend=(0.03, -0.01), middle=(0.49, 0.51))
    (u, v), *_ = camera.project([(120.0, 75.0, 0.0)])
    dx, dy, dh = camera.rays(np.array([u], dtype=np.float32), np.array([v], dtype=np.float32))
    t = -camera.stand[2] / dh
    assert camera.stand[0] + t * dx == pytest.approx(120, abs=0.01)
    assert camera.stand[1] + t * dy == pytest.approx(75, abs=0.01)
    assert camera.tilt_deg == pytest.approx(35)
    assert camera.distance_mm == pytest.approx(300)
