"""The command `underchassis measure`: the diameter of a hole in a photo, from what lies beside it."""

import argparse
import math
from pathlib import Path
from typing import Any

from PIL import Image

from webapp.appraisal.hole_candidates import hole_candidates
from webapp.errors import BadFile, BadInput, NotKnown
from webapp.photos.grey import Grey, Point
from webapp.photos.intake import read_photo
from webapp.photos.labels import read_labels
from webapp.photos.measure import Settings, Unmeasured, measure_near, measure_rim
from webapp.photos.reference import Reference, four_cornered, round_coin

Json = dict[str, Any]

LONGEST_SIDE = 2000
"""A larger photo is looked at in a smaller size; the coordinates stay those of the photo."""
_LARGEST_FILE = 20_000_000
_LABEL_THICKNESS_MM = 0.1


def add_options(parser: argparse.ArgumentParser) -> None:
    """The photo, the reference in it and the hole."""
    parser.add_argument("photo", metavar="PHOTO", type=Path, help="a photo: JPEG, PNG, WebP or HEIC")
    parser.add_argument(
        "--reference", required=True, choices=("card", "label", "coin"), help="what lies in the panel's plane"
    )
    corners = "x,y of the four corners: top left, top right, bottom right, bottom left as the thing is read"
    parser.add_argument("--corners", metavar="X,Y,…", help=corners + "; a label is found without them")
    parser.add_argument(
        "--side-mm", type=float, default=30.0, metavar="MM", help="side of a label's symbol (30)"
    )
    parser.add_argument("--coin-mm", type=float, metavar="MM", help="diameter of the coin")
    parser.add_argument("--coin-rim", metavar="X,Y,…", help="five points of the coin's rim or more")
    parser.add_argument(
        "--as-given", action="store_true", help="take the corners or the coin's rim as they are"
    )
    hole = parser.add_mutually_exclusive_group(required=True)
    hole.add_argument("--near", metavar="X,Y", help="a point inside the hole; its rim is looked for")
    hole.add_argument("--rim", metavar="X,Y,…", help="three points of the hole's rim or more")


def measured(options: argparse.Namespace, pack: Json) -> Json:
    """The answer document. Raises BadInput, BadFile, BadPhoto, and NotKnown when nothing can be measured."""
    image = read_photo(_bytes(options.photo), f'The photo "{options.photo.name}"').image
    times = max(1, math.ceil(max(image.size) / LONGEST_SIDE))
    photo = _grey(image, times)
    table = pack["measuring"]
    settings: Settings = table["settings"]
    hole = _points(options.near or options.rim, "--near" if options.near else "--rim", image, times)
    if options.near and len(hole) != 1:
        raise BadInput("--near takes one point.", "Give it as x,y in pixels.")
    reference = _reference(options, image, photo, times, hole, pack)
    if options.near:
        found = measure_near(photo, reference, hole[0], settings)
    else:
        found = measure_rim(photo, reference, hole, settings)
    if isinstance(found, Unmeasured):
        raise NotKnown(table["words"][found.why])
    candidates = hole_candidates(pack["component_holes"], found.diameter_mm, found.uncertainty_mm)
    return {
        "diameter_mm": found.diameter_mm,
        "uncertainty_mm": found.uncertainty_mm,
        "tilt_deg": found.tilt_deg,
        "candidates": [
            {"id": one.id, "label": one.label, "distance_mm": one.distance_mm} for one in candidates
        ],
        "notes": [table["words"][note] for note in found.notes],
        "rim": [[x * times, y * times] for x, y in found.outline],
    }


def _bytes(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(_LARGEST_FILE + 1)
    except OSError as error:
        raise BadFile(f'"{path}" cannot be read: {error.strerror}.', "Check the name.") from error


def _grey(image: Image.Image, times: int) -> Grey:
    shades = image.convert("L")
    if times > 1:
        shades = shades.reduce(times)
    return Grey(shades.width, shades.height, shades.tobytes())


def _points(text: str, option: str, image: Image.Image, times: int) -> list[Point]:
    """Points of an option, in pixels of the photo as it is looked at."""
    try:
        figures = [float(word) for word in text.split(",")]
    except ValueError:
        figures = []
    if not figures or len(figures) % 2 or not all(math.isfinite(figure) for figure in figures):
        raise BadInput(
            f"{option} is not a list of points.", "Write it as x,y,x,y in pixels, such as 812,640.5."
        )
    points = list(zip(figures[::2], figures[1::2], strict=True))
    for x, y in points:
        if not (0 <= x <= image.width and 0 <= y <= image.height):
            raise BadInput(
                f"{option}: the point {x:g},{y:g} lies outside the photo, which is {image.width} by "
                f"{image.height} pixels once upright.",
                "Pixels are counted from its top left corner.",
            )
    return [(x / times, y / times) for x, y in points]


def _reference(
    options: argparse.Namespace, image: Image.Image, photo: Grey, times: int, hole: list[Point], pack: Json
) -> Reference:
    _only_its_own(options)
    settings: Settings = pack["measuring"]["settings"]
    if options.reference == "coin":
        diameter = _length(options.coin_mm, "--coin-mm")
        rim = _points(options.coin_rim or "", "--coin-rim", image, times)
        coin = round_coin(photo, rim, diameter, settings["coin_thick_mm"], options.as_given, settings)
        if coin is None:
            raise NotKnown(pack["measuring"]["words"]["no-coin"])
        return coin
    if options.reference == "card":
        card = pack["scale_objects"]["cards"][0]
        size, thick = (card["width_mm"], card["height_mm"]), card["thick_mm"]
        if not options.corners:
            raise BadInput("A card needs --corners.", "Give its four corners as x,y,x,y,x,y,x,y in pixels.")
    else:
        side = _length(options.side_mm, "--side-mm")
        size, thick = (side, side), _LABEL_THICKNESS_MM
    if options.corners:
        corners = _points(options.corners, "--corners", image, times)
        if len(corners) != 4:
            raise BadInput(f"--corners has {len(corners)} points; four are needed.", "Write x,y four times.")
    else:
        corners = [(x / times, y / times) for x, y in _label_corners(image, times, hole)]
    return four_cornered(photo, options.reference, corners, size, thick, options.as_given, settings)


def _only_its_own(options: argparse.Namespace) -> None:
    """Refuses options that belong to another reference, since they would be passed over in silence."""
    strange = [
        ("--coin-mm", options.coin_mm, "coin"), ("--coin-rim", options.coin_rim, "coin"),
    ]  # fmt: skip
    for name, value, kind in strange:
        if value is not None and options.reference != kind:
            raise BadInput(f"{name} belongs to --reference {kind}, not to {options.reference}.")
    if options.corners and options.reference == "coin":
        raise BadInput("A coin has no corners.", "Give points of its rim with --coin-rim.")


def _length(value: float | None, option: str) -> float:
    if value is None or not 1 <= value <= 500:
        raise BadInput(
            f"{option} must be a length from 1 to 500 mm.", "Measure it and give it in millimetres."
        )
    return value


def _label_corners(image: Image.Image, times: int, hole: list[Point]) -> tuple[Point, ...]:
    """The corners of the label nearest to the hole, in pixels of the photo."""
    labels = read_labels(image)
    if not labels:
        raise NotKnown("No label was found in the photo.", "Give its corners with --corners, or go nearer.")
    x, y = hole[0][0] * times, hole[0][1] * times

    def away(corners: tuple[Point, ...]) -> float:
        return math.hypot(sum(c[0] for c in corners) / 4 - x, sum(c[1] for c in corners) / 4 - y)

    return min((label.corners for label in labels), key=away)
