"""What each level of difficulty allows in a photo at random."""

from dataclasses import dataclass

LEVELS = ("easy", "medium", "hard")


@dataclass(frozen=True)
class Hardness:
    """What a level allows; pairs are ranges."""

    tilt: tuple[float, float]
    distance: tuple[float, float]
    finishes: tuple[str, ...]
    lights: tuple[str, ...]
    noise: tuple[float, float]
    blur: tuple[float, float]
    dirt: tuple[float, float]
    exposure: tuple[float, float]
    fittings: tuple[int, int]
    shade: float
    smear: float


HARDNESS = {
    "easy": Hardness(
        (0, 20),
        (180, 330),
        ("bare", "grey", "cream", "green"),
        ("covered", "window", "morning"),
        (0.006, 0.014),
        (0.45, 0.75),
        (0.05, 0.3),
        (0.9, 1.1),
        (3, 8),
        0.0,
        0.0,
    ),
    "medium": Hardness(
        (3, 40),
        (200, 400),
        ("wrinkle", "bare", "wrinkle", "lacquer", "grey"),
        ("morning", "window", "covered"),
        (0.012, 0.028),
        (0.55, 0.95),
        (0.15, 0.55),
        (0.75, 1.2),
        (6, 14),
        0.25,
        0.4,
    ),
    "hard": Hardness(
        (10, 50),
        (260, 450),
        ("wrinkle", "bare", "lacquer", "grey", "cream"),
        ("shed", "window", "morning"),
        (0.028, 0.075),
        (0.8, 1.8),
        (0.3, 0.95),
        (0.45, 1.35),
        (8, 18),
        0.6,
        2.5,
    ),
}
