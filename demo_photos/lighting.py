"""Ready-made light: morning sun, a covered sky, a window, a lamp in a shed."""

from demo_photos.camera import Camera
from demo_photos.light import Direction, Lamp, Surroundings, direction


def towards_camera(camera: Camera) -> Direction:
    """The direction from the panel to the camera."""
    x, y, h = (-float(d) for d in camera.turn[2])
    return x, y, h


def morning(
    camera: Camera, azimuth: float, elevation: float, strength: float = 1.0
) -> tuple[list[Lamp], Surroundings]:
    """A low sun with a blue sky opposite; `strength` of the sun against the sky."""
    sun = direction(azimuth, elevation)
    glow = Lamp(sun, 0.12, (1.0, 0.82, 0.55))
    around = Surroundings(
        (0.42, 0.56, 0.82),
        (0.80, 0.84, 0.90),
        (0.16, 0.14, 0.11),
        glow,
        towards_camera(camera),
        0.55,
        azimuth,
    )
    return [Lamp(sun, 0.035, (2.6 * strength, 2.15 * strength, 1.55 * strength))], around


def covered(camera: Camera, azimuth: float, elevation: float = 60.0) -> tuple[list[Lamp], Surroundings]:
    """A covered sky, brighter on one side: hardly any shadow but where things touch."""
    bright = direction(azimuth, elevation)
    around = Surroundings(
        (0.95, 0.98, 1.03),
        (0.68, 0.71, 0.76),
        (0.13, 0.13, 0.12),
        Lamp(bright, 0.5, (0.4, 0.4, 0.4)),
        towards_camera(camera),
        0.6,
        azimuth,
    )
    return [Lamp(bright, 0.75, (0.75, 0.76, 0.78))], around


def window(
    camera: Camera, azimuth: float, elevation: float = 38.0, warm: float = 0.0
) -> tuple[list[Lamp], Surroundings]:
    """A room with one window: soft shadows one way, a warm dim rest; `warm` for a second lamp of the room."""
    pane = direction(azimuth, elevation)
    around = Surroundings(
        (0.30, 0.27, 0.23),
        (0.22, 0.20, 0.17),
        (0.09, 0.075, 0.06),
        Lamp(pane, 0.05, (2.2, 2.35, 2.5)),
        towards_camera(camera),
        0.55,
        azimuth,
    )
    lamps = [Lamp(pane, 0.32, (1.5, 1.56, 1.62))]
    if warm:
        lamps.append(Lamp(direction(azimuth + 150, 62), 0.12, (0.9 * warm, 0.66 * warm, 0.38 * warm)))
    return lamps, around


def shed(camera: Camera, azimuth: float, elevation: float = 55.0) -> tuple[list[Lamp], Surroundings]:
    """One warm lamp in the dark, with a little daylight from a door behind."""
    bulb = direction(azimuth, elevation)
    around = Surroundings(
        (0.10, 0.085, 0.065),
        (0.13, 0.12, 0.11),
        (0.05, 0.04, 0.03),
        Lamp(bulb, 0.015, (2.0, 1.5, 0.9)),
        towards_camera(camera),
        0.4,
        azimuth,
    )
    door = Lamp(direction(azimuth + 120, 22), 0.4, (0.16, 0.19, 0.24))
    return [Lamp(bulb, 0.09, (1.2, 0.9, 0.55)), door], around
