"""`underchassis measure` as people run it, on the demo photos and on drawn ones; and what is refused."""

import json
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from tests.support.command import refusal_of, run
from tests.support.drawn_photos import Drawn, drawn_photo, jpeg_of
from webapp.cli import main

DEMO = Path(__file__).resolve().parents[2] / "demo_photos"
BESIDE = {  # a hole of 16 mm in a drawn photo, by what lies beside it
    "card": ["--corners"],
    "label": ["--side-mm", "30", "--corners"],
    "coin": ["--coin-mm", "24.26", "--coin-rim"],
}


def numbers(points: Any) -> str:
    return ",".join(f"{value:.2f}" for point in points for value in point)


def measure(*arguments: str) -> dict[str, Any]:
    result = run("measure", *arguments)
    assert result.returncode == 0, result.stderr.decode()
    assert result.stderr == b""
    answer: dict[str, Any] = json.loads(result.stdout)
    return answer


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> dict[str, tuple[Drawn, str]]:
    """By kind a drawn photo, and the name of its file."""
    folder = tmp_path_factory.mktemp("drawn")
    photos = {}
    for kind in BESIDE:
        photo = drawn_photo(21, kind, tilt=25)
        path = folder / f"{kind}.jpg"
        path.write_bytes(jpeg_of(photo))
        photos[kind] = (photo, str(path))
    return photos


@pytest.mark.parametrize("kind", list(BESIDE))
@pytest.mark.parametrize("way", ["near", "rim"])
def test_a_hole_beside_a_card_a_label_or_a_coin_is_measured(
    kind: str, way: str, drawn: dict[str, tuple[Drawn, str]]
) -> None:
    photo, name = drawn[kind]
    hole = photo.holes[0]
    points = [hole.middle] if way == "near" else hole.rim
    found = measure(
        name, "--reference", kind, *BESIDE[kind], numbers(photo.outline), f"--{way}", numbers(points)
    )
    assert abs(found["diameter_mm"] - hole.diameter_mm) <= max(0.6, found["uncertainty_mm"])
    assert abs(found["tilt_deg"] - photo.tilt_deg) < 5
    assert 0 < found["uncertainty_mm"] < 2
    assert all(set(one) == {"id", "label", "distance_mm"} for one in found["candidates"])


def test_a_label_is_found_by_itself_in_a_demo_photo() -> None:
    truth = json.loads((DEMO / "plover-0219-holes-label.json").read_text(encoding="utf-8"))
    hole = truth["holes"][0]
    found = measure(
        str(DEMO / "plover-0219-holes-label.jpg"), "--reference", "label", "--near", numbers([hole["tap"]])
    )
    assert abs(found["diameter_mm"] - hole["diameter_mm"]) <= max(0.6, found["uncertainty_mm"])


def test_as_given_takes_the_corners_as_they_are(drawn: dict[str, tuple[Drawn, str]]) -> None:
    photo, name = drawn["card"]
    hole = photo.holes[0]
    shifted = [(x + 3, y) if k in (1, 2) else (x, y) for k, (x, y) in enumerate(photo.outline)]
    common = [name, "--reference", "card", "--corners", numbers(shifted), "--rim", numbers(hole.rim)]
    refined, given = measure(*common), measure(*common, "--as-given")
    assert abs(refined["diameter_mm"] - hole.diameter_mm) < abs(given["diameter_mm"] - hole.diameter_mm)


def test_coordinates_are_those_of_the_upright_photo(
    drawn: dict[str, tuple[Drawn, str]], tmp_path: Path
) -> None:
    photo, name = drawn["card"]
    hole = photo.holes[0]
    lying = tmp_path / "lying.jpg"
    exif = Image.Exif()
    exif[0x0112] = 6  # to be turned a quarter to the right when shown
    photo.image.rotate(90, expand=True).save(lying, "JPEG", quality=92, exif=exif)
    rest = ["--reference", "card", "--corners", numbers(photo.outline), "--near", numbers([hole.middle])]
    upright, turned = measure(name, *rest), measure(str(lying), *rest)
    assert turned["diameter_mm"] == pytest.approx(upright["diameter_mm"], abs=0.1)


def test_a_large_photo_is_measured_in_its_own_pixels(
    drawn: dict[str, tuple[Drawn, str]], tmp_path: Path
) -> None:
    photo, _ = drawn["card"]
    hole = photo.holes[0]
    large = tmp_path / "large.jpg"
    photo.image.resize((3600, 2700)).save(large, "JPEG", quality=90)
    outline = [(4 * x, 4 * y) for x, y in photo.outline]
    tap = (4 * hole.middle[0], 4 * hole.middle[1])
    found = measure(
        str(large), "--reference", "card", "--corners", numbers(outline), "--near", numbers([tap])
    )
    assert abs(found["diameter_mm"] - hole.diameter_mm) <= max(0.6, found["uncertainty_mm"])
    assert max(x for x, _ in found["rim"]) > 900


CORNERS = "100,100,500,110,490,380,110,370"
REFUSED: dict[str, tuple[list[str], list[str]]] = {
    "no corners of a card": (["--reference", "card", "--near", "9,9"], ["--corners", "x,y"]),
    "three corners": (
        ["--reference", "card", "--corners", "1,1,9,1,9,9", "--near", "9,9"], ["3 points", "four"],
    ),
    "an odd count of figures": (
        ["--reference", "card", "--corners", "1,2,3", "--near", "9,9"], ["--corners", "not a list of points"],
    ),
    "words for figures": (
        ["--reference", "card", "--corners", CORNERS, "--near", "left,top"], ["not a list of points"],
    ),
    "not a number": (["--reference", "card", "--corners", CORNERS, "--near", "nan,1"], ["list of points"]),
    "a tap outside the photo": (
        ["--reference", "card", "--corners", CORNERS, "--near", "5000,9"], ["outside", "900 by 675"],
    ),
    "two taps": (["--reference", "card", "--corners", CORNERS, "--near", "9,9,8,8"], ["one point"]),
    "two rim points": (
        ["--reference", "card", "--corners", CORNERS, "--rim", "9,9,8,8"], ["Three points of the rim"],
    ),
    "corners that cross": (
        ["--reference", "card", "--corners", "100,100,500,380,490,110,110,370", "--near", "300,200"],
        ["do not go round"],
    ),
    "nothing there": (
        ["--reference", "card", "--corners", CORNERS, "--as-given", "--near", "880,20"], ["No round rim"],
    ),
    "a coin without its size": (
        ["--reference", "coin", "--coin-rim", "1,1,9,1,9,9,1,9,5,0", "--near", "9,9"], ["1 to 500 mm"],
    ),
    "a coin without its rim": (["--reference", "coin", "--coin-mm", "24", "--near", "9,9"], ["--coin-rim"]),
    "a coin with corners": (
        ["--reference", "coin", "--coin-mm", "24", "--corners", CORNERS, "--near", "9,9"], ["no corners"],
    ),
    "a card with a coin's size": (
        ["--reference", "card", "--coin-mm", "24", "--corners", CORNERS, "--near", "9,9"], ["belongs to"],
    ),
    "a label of no size": (
        ["--reference", "label", "--side-mm", "0", "--corners", CORNERS, "--near", "9,9"], ["--side-mm"],
    ),
    "no label in the photo": (["--reference", "label", "--near", "9,9"], ["No label", "--corners"]),
    "coin points on no ellipse": (
        ["--reference", "coin", "--coin-mm", "24", "--coin-rim", "1,1,2,2,3,3,4,4,5,5", "--near", "9,9"],
        ["no ellipse"],
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", list(REFUSED))
def test_what_cannot_be_measured_is_refused_in_one_sentence(
    case: str, drawn: dict[str, tuple[Drawn, str]], capsys: pytest.CaptureFixture[str]
) -> None:
    arguments, words = REFUSED[case]
    assert main(["measure", drawn["card"][1], *arguments]) == 2
    out, said = capsys.readouterr()
    assert out == ""
    assert [word for word in words if word not in said] == [], said
    assert said.startswith("underchassis: ")
    assert said.removesuffix("\n").isprintable()


@pytest.mark.parametrize("case", ["three corners", "nothing there", "no label in the photo"])
def test_the_command_itself_refuses_with_exit_2_and_one_line(
    case: str, drawn: dict[str, tuple[Drawn, str]]
) -> None:
    arguments, words = REFUSED[case]
    said = refusal_of(run("measure", drawn["card"][1], *arguments))
    assert [word for word in words if word not in said] == [], said


@pytest.mark.parametrize(
    ("content", "word"),
    [
        (b"", "empty"),
        (b"GIF89a" + bytes(40), "GIF"),
        (b"{}", "photo"),
        (b"\xff\xd8\xff\xe0" + bytes(30), "photo"),
    ],
)
def test_a_file_that_is_no_photo_is_refused_in_one_sentence(
    content: bytes, word: str, tmp_path: Path
) -> None:
    path = tmp_path / "found.jpg"
    path.write_bytes(content)
    refusal = refusal_of(
        run("measure", str(path), "--reference", "card", "--corners", CORNERS, "--near", "9,9")
    )
    assert word.lower() in refusal.lower()


def test_a_file_that_is_not_there_is_refused_in_one_sentence(tmp_path: Path) -> None:
    name = str(tmp_path / "gone.jpg")
    refusal = refusal_of(run("measure", name, "--reference", "card", "--corners", CORNERS, "--near", "9,9"))
    assert Path(name).name in refusal
