"""The geometry of photos against scikit-image, numpy and worked examples, none of which the engine uses."""

import math
import random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from skimage.measure import CircleModel, EllipseModel
from skimage.transform import ProjectiveTransform

from webapp.photos.circle import circle_through, fitted_circle
from webapp.photos.coin import planes_of_coin
from webapp.photos.ellipse import conic_of, fitted_ellipse, point_on
from webapp.photos.grey import Grey, Point, brightness
from webapp.photos.linear import eigen3, inverse3, least_squares, solved
from webapp.photos.plane import applied, likely_focal, plane_of_corners, tilt_of

CARD = [(0.0, 0.0), (85.60, 0.0), (85.60, 53.98), (0.0, 53.98)]


def seen_by(tilt: float, turn: float, focal: float, width: int, height: int, point: Point) -> Point:
    """A pinhole camera written down once more: 300 mm before the panel, turned about its own axis."""
    x, y = point
    x, y = x * math.cos(turn) - y * math.sin(turn), x * math.sin(turn) + y * math.cos(turn)
    depth = 300.0 + x * math.sin(tilt)
    return (width / 2 + focal * x * math.cos(tilt) / depth, height / 2 + focal * y / depth)


def test_a_worked_example_of_the_direct_linear_transformation() -> None:
    """Source: Hartley and Zisserman, Multiple View Geometry, 2nd ed. 2004, section 4.1; numpy's SVD."""
    px = [(100.0, 200.0), (500.0, 220.0), (480.0, 460.0), (110.0, 440.0)]
    plane = plane_of_corners(CARD, px)
    assert plane is not None
    rows = []
    for (x, y), (u, v) in zip(CARD, px, strict=True):
        rows += [[x, y, 1, 0, 0, 0, -u * x, -u * y, -u], [0, 0, 0, x, y, 1, -v * x, -v * y, -v]]
    h = np.linalg.svd(np.array(rows))[2][-1].reshape(3, 3)
    assert np.allclose(np.array(plane.to_px), h / h[2, 2], rtol=1e-8)
    assert applied(plane.to_px, (42.8, 26.99)) == pytest.approx((296.778, 334.638), abs=0.001)
    near, far = applied(plane.to_mm, (600.0, 300.0)), applied(plane.to_mm, (640.0, 302.0))
    assert math.dist(near, far) == pytest.approx(8.668, abs=0.001)


@given(st.integers(0, 10_000))
def test_the_plane_of_four_corners_is_that_of_scikit_image(seed: int) -> None:
    """Source: scikit-image, ProjectiveTransform."""
    rng = random.Random(seed)
    square = [(100, 100), (700, 120), (680, 500), (90, 480)]
    px = [(x + rng.uniform(-60, 60), y + rng.uniform(-60, 60)) for x, y in square]
    plane = plane_of_corners(CARD, px)
    reference = ProjectiveTransform.from_estimate(np.array(CARD), np.array(px))
    assert plane is not None
    for point in [(10.0, 10.0), (120.0, -30.0), (42.8, 80.0)]:
        assert applied(plane.to_px, point) == pytest.approx(tuple(reference(point)[0]), abs=1e-6)
        back = applied(plane.to_mm, applied(plane.to_px, point))
        assert back == pytest.approx(point, abs=1e-8)


@given(st.integers(0, 10_000))
def test_the_fitted_circle_is_that_of_scikit_image(seed: int) -> None:
    """Source: scikit-image, CircleModel; its fit is algebraic, so they agree to the noise."""
    rng = random.Random(seed)
    points = [
        (40 + 8 * math.cos(k / 5) + rng.gauss(0, 0.05), -20 + 8 * math.sin(k / 5) + rng.gauss(0, 0.05))
        for k in range(32)
    ]
    circle = fitted_circle(points, [1.0] * len(points))
    model = CircleModel.from_estimate(np.array(points))
    assert circle is not None
    assert (circle.x, circle.y) == pytest.approx(tuple(model.center), abs=0.02)
    assert circle.radius == pytest.approx(model.radius, abs=0.02)


@given(st.integers(0, 10_000))
def test_the_fitted_ellipse_is_that_of_scikit_image(seed: int) -> None:
    """Source: scikit-image, EllipseModel (Halir and Flusser 1998)."""
    rng = random.Random(seed)
    a, b, turn = rng.uniform(60, 120), rng.uniform(35, 55), rng.uniform(0, math.pi)
    points = []
    for k in range(40):
        x, y = a * math.cos(k), b * math.sin(k)
        points.append(
            (
                300 + x * math.cos(turn) - y * math.sin(turn) + rng.gauss(0, 0.2),
                200 + x * math.sin(turn) + y * math.cos(turn) + rng.gauss(0, 0.2),
            )
        )
    ellipse = fitted_ellipse(points, [1.0] * len(points))
    model = EllipseModel.from_estimate(np.array(points))
    assert ellipse is not None
    assert (ellipse.x, ellipse.y) == pytest.approx(tuple(model.center), abs=0.15)
    assert (ellipse.a, ellipse.b) == pytest.approx(tuple(sorted(model.axis_lengths)[::-1]), abs=0.3)


@given(st.integers(0, 10_000))
def test_small_systems_and_matrices_are_solved_as_by_numpy(seed: int) -> None:
    """Source: numpy.linalg (LAPACK): solve, lstsq, inv, eigh."""
    rng = np.random.default_rng(seed)
    matrix, right = rng.normal(size=(8, 8)), rng.normal(size=8)
    assert solved(matrix.tolist(), right.tolist()) == pytest.approx(np.linalg.solve(matrix, right), rel=1e-6)
    tall, many = rng.normal(size=(20, 3)), rng.normal(size=20)
    expected = np.linalg.lstsq(tall, many, rcond=None)[0]
    assert least_squares(tall.tolist(), many.tolist(), [1.0] * 20) == pytest.approx(expected, rel=1e-6)
    small = rng.normal(size=(3, 3))
    assert np.allclose(inverse3(small.tolist()), np.linalg.inv(small), rtol=1e-8)
    even = small + small.T
    values, vectors = eigen3(even.tolist())
    assert values == pytest.approx(np.linalg.eigvalsh(even)[::-1], abs=1e-9)
    for value, vector in zip(values, vectors, strict=True):
        assert np.allclose(even @ np.array(vector), value * np.array(vector), atol=1e-9)


@pytest.mark.parametrize("tilt", [3.0, 12.0, 25.0, 40.0])
@pytest.mark.parametrize("turn", [0.3, 1.4, 2.8])
def test_a_coin_gives_the_true_plane_among_its_two(tilt: float, turn: float) -> None:
    """Source: the definition of the pinhole camera, by which the rim is projected."""
    angle, focal, width, height = math.radians(tilt), 1200.0, 1600, 1200
    rim = [
        seen_by(angle, turn, focal, width, height, (12.13 * math.cos(k / 4), 12.13 * math.sin(k / 4)))
        for k in range(25)
    ]
    hole = [
        seen_by(angle, turn, focal, width, height, (40 + 8 * math.cos(k / 4), 15 + 8 * math.sin(k / 4)))
        for k in range(25)
    ]
    coin = fitted_ellipse(rim, [1.0] * len(rim))
    assert coin is not None
    diameters = []
    for plane in planes_of_coin(coin, 24.26, width, height, focal):
        circle = fitted_circle([applied(plane.to_mm, point) for point in hole], [1.0] * len(hole))
        assert circle is not None
        diameters.append((abs(2 * circle.radius - 16), abs(tilt_of(plane, width, height, focal) - tilt)))
    off, slant = min(diameters)
    assert off < 1e-6
    assert slant < 1e-5


@pytest.mark.parametrize("tilt", [0.0, 10.0, 25.0, 40.0])
@pytest.mark.parametrize("focal", [0.7, 0.8, 0.9])
def test_the_tilt_of_a_card_is_that_of_the_camera(tilt: float, focal: float) -> None:
    """Source: the definition of the pinhole camera; else the card tells the focal length."""
    width, height = 1600, 1200
    corners = [
        seen_by(math.radians(tilt), 0.7, focal * width, width, height, (x - 42.8, y - 27)) for x, y in CARD
    ]
    plane = plane_of_corners(CARD, corners)
    assert plane is not None
    assert tilt_of(plane, width, height, focal * width) == pytest.approx(tilt, abs=0.01)
    likely = likely_focal(plane, width, height, 0.78, 0.2, 0.004)
    assert tilt_of(plane, width, height, likely) == pytest.approx(tilt, abs=2.0)


def test_three_points_give_their_circle() -> None:
    """Source: Euclid, Elements IV.5: the circle about the triangle 3, 4, 5 has the radius 2.5."""
    circle = circle_through((0.0, 0.0), (3.0, 0.0), (0.0, 4.0))
    assert circle is not None
    assert (circle.x, circle.y, circle.radius) == pytest.approx((1.5, 2.0, 2.5))
    assert circle_through((0.0, 0.0), (1.0, 1.0), (2.0, 2.0)) is None


def test_points_of_an_ellipse_lie_on_its_conic_and_their_normals_stand_square_to_it() -> None:
    """Source: analytic geometry: the gradient of p Q p is the normal."""
    ellipse = fitted_ellipse(
        [point for k in range(9) for point in [(5 * math.cos(k), 3 * math.sin(k))]], [1.0] * 9
    )
    assert ellipse is not None
    conic = np.array(conic_of(ellipse))
    for k in range(12):
        (x, y), (nx, ny) = point_on(ellipse, k / 2)
        assert abs(np.array([x, y, 1]) @ conic @ np.array([x, y, 1])) < 1e-9
        slope = 2 * (conic @ np.array([x, y, 1]))[:2]
        assert nx * slope[1] - ny * slope[0] == pytest.approx(0, abs=1e-9)
        assert nx * slope[0] + ny * slope[1] > 0


def test_brightness_between_pixel_centres_is_bilinear() -> None:
    """Source: the definition; pixel centres lie at halves."""
    photo = Grey(2, 2, bytes([0, 100, 200, 40]))
    assert brightness(photo, 0.5, 0.5) == 0
    assert brightness(photo, 1.5, 1.5) == 40
    assert brightness(photo, 1.0, 1.0) == 85
    assert brightness(photo, -5.0, 0.5) == 0
