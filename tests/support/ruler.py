"""What a person does to measure a hole in a photo, by finger and by keys, for the browser tests."""

import json
import random
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from selenium.webdriver.common.action_chains import ActionChains
from selenium.webdriver.common.keys import Keys

from tests.support import album
from tests.support.table import Table

DEMO_PHOTOS = Path(__file__).resolve().parents[2] / "demo_photos"

Spot = tuple[float, float]

# Where a pixel of the photo is on the screen.
_ON_SCREEN = """
const to = document.querySelector('.measure-photo').getScreenCTM();
const { x, y } = new DOMPoint(args[0], args[1]).matrixTransform(to);
return [x, y];
"""
_HANDLES = """
return [...document.querySelectorAll('.handle')].map((handle) => {
  const hit = handle.querySelector('.handle-hit');
  return [hit.cx.baseVal.value, hit.cy.baseVal.value];
});
"""


@dataclass(frozen=True)
class Truth:
    """A demo photo and what is known of it, in pixels of the upright photo."""

    file: Path
    known: dict[str, Any]

    @property
    def corners(self) -> list[Spot]:
        """The corners of its card or label."""
        return [(x, y) for x, y in self.known["reference"]["corners"]]

    def hole(self, diameter_mm: float) -> dict[str, Any]:
        """The hole of that diameter."""
        return next(hole for hole in self.known["holes"] if hole["diameter_mm"] == diameter_mm)

    def middle(self, diameter_mm: float) -> Spot:
        """The middle of the hole of that diameter."""
        x, y = self.hole(diameter_mm)["centre"]
        return x, y


def truth(name: str) -> Truth:
    """A demo photo by its name without ending."""
    known = json.loads((DEMO_PHOTOS / f"{name}.json").read_text(encoding="utf-8"))
    return Truth(DEMO_PHOTOS / f"{name}.jpg", known)


def missed(spots: list[Spot], by: float, seed: int = 1) -> list[Spot]:
    """The spots as a finger hits them, off by up to so many pixels each way."""
    dice = random.Random(seed)
    return [(x + dice.uniform(-by, by), y + dice.uniform(-by, by)) for x, y in spots]


def on_screen(table: Table, spot: Spot) -> Spot:
    """Where a pixel of the photo is on the screen."""
    x, y = table.phone.js(_ON_SCREEN, *spot)
    return x, y


def touch(table: Table, kind: str, *points: Spot) -> None:
    """A touch event at points of the screen."""
    given = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(points)]
    event = {"type": kind, "touchPoints": given}
    table.phone.driver.execute_cdp_cmd("Input.dispatchTouchEvent", event)  # type: ignore[attr-defined]


def tap(table: Table, spot: Spot) -> None:
    """Tap a pixel of the photo."""
    touch(table, "touchStart", on_screen(table, spot))
    touch(table, "touchEnd")


def drag(table: Table, start: Spot, end: Spot, hold: bool = False) -> None:
    """Drag from one pixel of the photo to another; `hold` leaves the finger there."""
    (ax, ay), (bx, by) = on_screen(table, start), on_screen(table, end)
    touch(table, "touchStart", (ax, ay))
    for part in (0.5, 1.0):
        touch(table, "touchMove", (ax + part * (bx - ax), ay + part * (by - ay)))
    if not hold:
        touch(table, "touchEnd")


def press(table: Table, *keys: str) -> None:
    """Press keys one after the other."""
    ActionChains(table.phone.driver).send_keys(*keys).perform()


def tab_to(table: Table, text: str) -> None:
    """Press the Tab key until a control with that text is reached; AssertionError when it is not near."""
    for _ in range(8):
        press(table, Keys.TAB)
        if text in table.phone.driver.switch_to.active_element.text:
            return
    raise AssertionError(f"the keys do not come to {text!r}")


def handles(table: Table) -> list[Spot]:
    """Where the handles are in the photo."""
    return [(x, y) for x, y in table.phone.js(_HANDLES)]


def take(table: Table, walk: str, photo: Path) -> None:
    """Choose a photo to measure in, for the set at this address."""
    table.open(f"#/measure/new/{walk.rpartition('/')[2]}")
    album.choose(table, ".measure-new .photo-pick", [photo])
    table.find("main[data-page='measure'] .measure-panel .options", "Bank card")


def choose(table: Table, what: str, next_step: str) -> None:
    """Say what lies beside the hole."""
    table.tap(".measure-panel .option", what)
    table.tap(".measure-panel .strong", next_step)


def outline_card(table: Table, known: Truth, by: float = 6) -> None:
    """Tap the corners of a card, off by a few pixels, and go on to the hole."""
    choose(table, "Bank card", "Mark its corners")
    for corner in missed(known.corners, by):
        tap(table, corner)
    table.find(".measure-said", "All four edges were found")
    to_the_hole(table)


def to_the_hole(table: Table) -> None:
    """Go on from the outline to the hole."""
    table.tap(".measure-panel .strong", "Next: the hole")
    table.find(".measure-said", "Tap inside the hole")


def measured(table: Table) -> tuple[float, float]:
    """The diameter on the screen and its plus or minus, once they are there."""
    words = table.find(".measured-size strong").text
    size, doubt = words.replace("mm", "").split("±")
    return float(size), float(doubt)


def holes(table: Table, walk: str) -> list[dict[str, Any]]:
    """The list of added holes as it is stored."""
    script = (
        "const row = (await (await load('store/database')).openDatabase())"
        ".get('findings', [args[0], 'check/added-holes']);"
        "return JSON.stringify((await row)?.value.holes ?? []);"
    )
    rows: list[dict[str, Any]] = json.loads(album.script(table, script, walk.rpartition("/")[2]))
    return rows
