"""Measuring in photos: engine and twin find the same outlines and rims, to 1e-9."""

import base64
import json
import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from tests.support.comparing import differences
from tests.support.drawn_photos import drawn_photo
from tests.support.measuring import HAND_PX, SETTINGS, by_hand, reference_in
from tests.support.phone import Phone
from tests.support.server import LiveServer, free_port
from tests.support.table import Table
from webapp.paths import static_folder
from webapp.photos.grey import Grey
from webapp.photos.measure import Measured, Unmeasured, measure_near, measure_rim
from webapp.photos.reference import Reference, four_cornered, round_coin

Json = dict[str, Any]
DEMO = Path(__file__).resolve().parents[2] / "demo_photos"

MEASURE = """
const folder = `${document.documentElement.dataset.base}js/${args[1]}/photos/`;
const { fourCornered, roundCoin } = await import(`${folder}reference.js`);
const { measureNear, measureRim } = await import(`${folder}measure.js`);
const given = JSON.parse(args[0]);
const { settings, width, height, pixels, kind, outline, size, thick, asGiven, taps, rims } = given;
const photo = { width, height, pixels: Uint8Array.from(atob(pixels), (letter) => letter.charCodeAt(0)) };
const reference = kind === 'coin'
  ? roundCoin(photo, outline, size[0], thick, asGiven, settings)
  : fourCornered(photo, kind, outline, size, thick, asGiven, settings);
return JSON.stringify({
  reference,
  near: taps.map((tap) => measureNear(photo, reference, tap, settings)),
  rim: rims.map((rim) => measureRim(photo, reference, rim, settings)),
});
"""


def engine_says(photo: Grey, reference: Reference, taps: list[Any], rims: list[Any]) -> Json:
    coin = reference.coin
    return {
        "reference": {
            "kind": reference.kind,
            "outline": [list(point) for point in reference.outline],
            "coin": coin and {"x": coin.x, "y": coin.y, "a": coin.a, "b": coin.b, "angle": coin.angle},
            "size_mm": list(reference.size_mm),
            "sides_found": reference.sides_found,
            "as_given": reference.as_given,
            "noise_px": reference.noise_px,
            "share": reference.share,
            "thick_mm": reference.thick_mm,
        },
        "near": [said(measure_near(photo, reference, tuple(tap), SETTINGS)) for tap in taps],
        "rim": [said(measure_rim(photo, reference, [tuple(p) for p in rim], SETTINGS)) for rim in rims],
    }


def said(found: Measured | Unmeasured) -> Json:
    if isinstance(found, Unmeasured):
        return {"why": found.why}
    return {
        "diameter_mm": found.diameter_mm,
        "uncertainty_mm": found.uncertainty_mm,
        "tilt_deg": found.tilt_deg,
        "rim": [list(point) for point in found.rim],
        "outline": [list(point) for point in found.outline],
        "notes": found.notes,
    }


def given(photo: Grey, reference: Reference, outline: list[Any], taps: list[Any], rims: list[Any]) -> Json:
    return {
        "settings": SETTINGS,
        "width": photo.width,
        "height": photo.height,
        "pixels": base64.b64encode(photo.pixels).decode(),
        "kind": reference.kind,
        "outline": outline,
        "size": reference.size_mm,
        "thick": reference.thick_mm,
        "asGiven": reference.as_given,
        "taps": taps,
        "rims": rims,
    }


def drawn_case(seed: int, kind: str) -> tuple[Json, Json]:
    """What goes to the twin for a drawn photo, and what the engine says of it."""
    drawn = drawn_photo(seed, kind)
    as_given = seed % 4 == 0
    outline = by_hand(seed, drawn.outline, HAND_PX[kind])
    reference = reference_in(drawn, kind, outline, as_given)
    taps = [hole.middle for hole in drawn.holes[:2]] + [(12.0, 9.0)]
    rims = [hole.rim[: 3 + 3 * (seed % 4)] for hole in drawn.holes] + [[(5.0, 5.0), (6.0, 6.0)]]
    sent = given(drawn.photo, reference, outline, taps, rims)
    return sent, engine_says(drawn.photo, reference, taps, rims)


def demo_case(name: str) -> tuple[Json, Json]:
    """The same for a demo photo."""
    truth = json.loads((DEMO / f"{name}.json").read_text(encoding="utf-8"))
    grey = Image.open(DEMO / f"{name}.jpg").convert("L")
    photo = Grey(grey.width, grey.height, grey.tobytes())
    found = truth["reference"]
    outline = [tuple(point) for point in found.get("corners") or found["rim"]]
    if found["kind"] == "coin":
        reference = round_coin(photo, outline, found["coin_mm"], 1.8, False, SETTINGS)
        assert reference is not None
    else:
        size = (85.6, 53.98) if found["kind"] == "card" else (found["side_mm"],) * 2
        reference = four_cornered(photo, found["kind"], outline, size, 0.5, False, SETTINGS)
    taps = [tuple(hole["tap"]) for hole in truth["holes"]]
    return given(photo, reference, outline, taps, []), engine_says(photo, reference, taps, [])


@pytest.fixture
def twin(table: Table) -> Callable[[Json], Json]:
    """Give a function that measures in the app's page."""

    def measure(sent: Json) -> Json:
        answer: Json = json.loads(table.phone.js(MEASURE, json.dumps(sent), "kernel"))
        return answer

    return measure


@pytest.mark.parametrize("kind", ["card", "label", "coin"])
def test_engine_and_twin_measure_the_same_in_drawn_photos(
    kind: str, twin: Callable[[Json], Json], sweep: Callable[[int], Any]
) -> None:
    found = 0
    # Seed 4 gives three points of a rim, which lie on a circle in both planes of a coin.
    for seed in sorted({4, *sweep(20)}):
        sent, expected = drawn_case(seed, kind)
        answer = twin(sent)
        assert list(differences(expected, answer)) == [], f"seed {seed}"
        found += sum("diameter_mm" in one for one in answer["near"])
    assert found > 0


@pytest.mark.parametrize(
    "name", ["tern-c-0377-front-holes-card", "plover-0219-holes-label", "knot-dynamotor-holes-coin"]
)
def test_engine_and_twin_measure_the_same_in_rendered_photos(name: str, twin: Callable[[Json], Json]) -> None:
    sent, expected = demo_case(name)
    answer = twin(sent)
    assert list(differences(expected, answer)) == []
    assert all("diameter_mm" in one for one in answer["near"])


# What is done to a copy of the twin: the file, one line's words there, and what they become.
SABOTAGES = [
    ("grey.js", "(x - 0.5, 0)", "(x, 0)"),
    ("plane.js", "height / 2 * w", "height / 2.01 * w"),
    ("circle.js", "y - circle.y) - circle.radius)", "y - circle.y) - 1.0001 * circle.radius)"),
    ("sides.js", "0.5 / Math.max(1e-12", "0.6 / Math.max(1e-12"),
    ("rim.js", "48271", "48273"),
    ("wall.js", "settings.directions * fine", "settings.directions * fine * 2"),
    ("burr.js", "middle + shift, blur", "middle + shift + 1, blur"),
    ("coin.js", "[1, -1].map((sign)", "[1].map((sign)"),
    ("measure.js", "settings.lens_share * (1 + farOff", "settings.lens_share * (2 + farOff"),
    ("measure.js", "tilt > settings.oblique_deg", "tilt > -1"),
    ("reference.js", "settings.scatter_share * scatter", "scatter"),
    ("ellipse.js", "Math.atan2(-b, c - a)", "Math.atan2(b, c - a)"),
]


@pytest.fixture
def tried(sweep: Callable[..., Any]) -> list[int]:
    """The places in the list of the sabotages of this run; all with --long."""
    return list(sweep(len(SABOTAGES), one_in=8))


@pytest.fixture
def copies(tmp_path: Path, tried: list[int]) -> Iterator[LiveServer]:
    """The app from a copy of the static folder in which each sabotaged twin has a folder of its own."""
    folder = tmp_path / "sabotage"
    static = folder / "static"
    shutil.copytree(static_folder(), static)
    for index, (file, words, others) in enumerate(SABOTAGES):
        text = (static_folder() / "js" / "kernel" / "photos" / file).read_text(encoding="utf-8")
        assert text.count(words) >= 1, f"{file} no longer holds {words!r}"
        if index in tried:
            kernel = static / "js" / f"kernel-{index}"
            shutil.copytree(static / "js" / "kernel", kernel)
            (kernel / "photos" / file).write_text(text.replace(words, others), encoding="utf-8")
    port = free_port()
    command = [
        sys.executable,
        "-m",
        "tests.support.changed_app",
        str(static),
        str(folder / "data"),
        str(port),
    ]
    server = LiveServer(command, port, folder / "data")
    server.start()
    yield server
    server.stop()


def test_a_twin_that_is_wrong_in_one_line_is_caught(
    copies: LiveServer, tried: list[int], bare_phone: Phone
) -> None:
    phone = bare_phone
    phone.driver.get(copies.url)
    cases = [drawn_case(5, kind) for kind in ("card", "label", "coin")]
    unnoticed = []
    for index in tried:
        file, words, _ = SABOTAGES[index]
        answers = [json.loads(phone.js(MEASURE, json.dumps(sent), f"kernel-{index}")) for sent, _ in cases]
        pairs = zip(cases, answers, strict=True)
        if not any(differences(right, answer) for (_, right), answer in pairs):
            unnoticed.append(f"{file}: {words}")
    assert unnoticed == []
