"""One demo photo: what it shows, from where, in what light, and how it is taken."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from demo_photos.camera import Camera, camera_at
from demo_photos.cards import card
from demo_photos.coins import coin
from demo_photos.film import Film, develop
from demo_photos.fronts import (
    Front,
)
from demo_photos.labels import label
from demo_photos.layout import in_frame
from demo_photos.light import Lamp, Surroundings
from demo_photos.lighting import covered, morning, shed, window
from demo_photos.random_surroundings import neighbours
from demo_photos.shapes import Point
from demo_photos.skin import Material, Skin
from demo_photos.textures import Rng, cloth, wood
from demo_photos.tracing import Scene, trace
from demo_photos.truth import Reference, circle, hole_truth

Lighting = Callable[[Camera, float, float], tuple[list[Lamp], Surroundings]]
LIGHTS: dict[str, Lighting] = {"morning": morning, "covered": covered, "window": window, "shed": shed}


def seen_from(
    x: float, y: float, distance: float, tilt: float, towards: float, roll: float = 0.0
) -> dict[str, Any]:
    """Where the camera stands before the point (x, y) of the front that it looks at."""
    return {
        "target": (x, y),
        "distance": distance,
        "tilt_deg": tilt,
        "towards_deg": towards,
        "roll_deg": roll,
        "focal": 0.78,
    }


@dataclass(frozen=True)
class Shot:
    """One photo. `lies` is the reference: kind, where, turn in degrees, and colours, size or text."""

    file: str
    says: str
    front: Front
    lies: tuple[str, Point, float, Any]
    look: dict[str, Any]
    light: tuple[str, float, float]
    set: str | None = None
    check: str = ""
    ground: str = "wood"
    level: str = "easy"
    size: tuple[int, int] = (1600, 1200)
    film: dict[str, Any] = field(default_factory=dict)
    others: bool = False

    def taken(self, seed: int) -> tuple[bytes, dict[str, Any]]:
        """The photo (JPEG) and its truth."""
        rng = np.random.default_rng(seed)
        camera = self.camera()
        panel, things = self.front.built(camera.per_mm)
        reference = self.reference(rng, camera.per_mm)
        lamps, around = LIGHTS[self.light[0]](camera, self.light[1], self.light[2])
        others = neighbours(rng, panel.size, panel.depth) if self.others else []
        scene = Scene(
            panel, [*things, reference.thing, *others], ground(rng, self.ground, camera.per_mm), lamps, around
        )
        film = Film(
            **{"noise": 0.011, "blur": 0.55, "defocus": 0.9, "quality": 84, "sharpen": 0.45} | self.film
        )
        return develop(trace(scene, camera), camera, film, rng), self._truth(rng, camera, reference)

    def camera(self) -> Camera:
        """The phone's camera, where it stands."""
        return camera_at(self.size, bend=(0.011, -0.004), middle=(0.502, 0.497), **self.look)

    def reference(self, rng: Rng, per_mm: float) -> Reference:
        """What lies beside the holes, as fine as a photo of `per_mm` pixels to a millimetre shows."""
        kind, where, degrees, what = self.lies
        turn = float(np.radians(degrees))
        if kind == "card":
            return Reference(kind, card(rng, where, turn, per_mm, what))
        if kind == "coin":
            return Reference(kind, coin(rng, where, what[0], turn, per_mm, what[1]))
        return Reference(kind, label(rng, what, where, turn, per_mm, dirt=0.12))

    def _truth(self, rng: Rng, camera: Camera, reference: Reference) -> dict[str, Any]:
        holes = [h for h in self.front.holes if in_frame(camera, circle(h.centre, h.radius, 0.0, 24), 6)]
        asides = rng.uniform(-0.3, 0.3, (len(holes), 2))
        return {
            "file": self.file,
            "set": self.set,
            "check": self.check,
            "width": camera.width,
            "height": camera.height,
            "reference": reference.told(camera),
            "tilt_deg": round(camera.tilt_deg, 2),
            "distance_mm": round(camera.distance_mm, 1),
            "holes": [
                hole_truth(camera, h, (float(a), float(b))) for h, (a, b) in zip(holes, asides, strict=True)
            ],
            "label": self.lies[3] if reference.kind == "label" else None,
            "level": self.level,
        }


def ground(rng: Rng, kind: str, per_mm: float) -> Skin:
    """What the set stands on: a blue, red or olive blanket, or a table of light or dark wood."""
    if kind in ("wood", "dark wood"):
        return wood(rng, per_mm, (0.30, 0.22, 0.14) if kind == "wood" else (0.17, 0.10, 0.06))
    base, stripe = {
        "blue": ((0.035, 0.055, 0.11), (0.27, 0.25, 0.21)),
        "red": ((0.13, 0.035, 0.03), (0.04, 0.045, 0.03)),
        "olive": ((0.075, 0.085, 0.06), (0.22, 0.17, 0.09)),
    }[kind]
    return cloth(rng, per_mm, Material(base, rough=0.95), Material(stripe, rough=0.95))
