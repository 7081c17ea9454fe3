"""The photos of the Petrel Street lot: each set as it stood in the yard, with its label."""

from typing import Any

from demo_photos.fronts import Front
from demo_photos.lot_fronts import (
    CURLEW_0052,
    KNOT_0131,
    PLOVER_0304,
    PLOVER_0327,
    TERN_0457,
    TERN_0873,
    TERN_1020,
    TERN_1020_BACK,
    TERN_1311,
)
from demo_photos.shots import Shot, seen_from

LOT = [f"demo-petrel-{number:02}" for number in range(1, 13)]
"""The sets of the lot in the order of their lot numbers."""


def _shot(
    number: int,
    what: str,
    says: str,
    front: Front,
    lies: tuple[Any, ...],
    look: dict[str, Any],
    light: tuple[str, float, float],
    ground: str,
    others: bool = False,
    check: str = "",
) -> Shot:
    kind, where, turn, thing = lies
    return Shot(
        f"petrel-{number:02}-{what}.jpg",
        says,
        front,
        (kind, where, turn, thing or f"K7Q2-{number + 3:03}"),
        look,
        light,
        LOT[number - 1],
        check,
        ground,
        "medium",
        (1280, 960),
        {"quality": 80},
        others,
    )


LOT_SHOTS = [
    _shot(
        1,
        "tern-b-0873-label",
        "Tern B No. 0873 of the Petrel Street lot, black wrinkle with hardly a scratch; label K7Q2-004.",
        TERN_0873,
        ("label", (292, 92), 2, None),
        seen_from(190, 104, 440, 17, 80, 2),
        ("window", 210, 46),
        "dark wood",
    ),
    _shot(
        2,
        "tern-b-1020-label",
        "Tern B No. 1020 in cream brush paint: five holes added, knobs of four kinds; label K7Q2-005.",
        TERN_1020,
        ("label", (290, 92), -3, None),
        seen_from(196, 108, 430, 14, 110, -3),
        ("covered", 230, 60),
        "wood",
    ),
    _shot(
        2,
        "tern-b-1020-back-coin",
        "The back of Tern B No. 1020: its power opening filed out to 30.2 mm, a silver coin beside it.",
        TERN_1020_BACK,
        ("coin", (172, 96), 30, (24.26, "silver")),
        seen_from(140, 102, 220, 20, 260, 3),
        ("covered", 200, 58),
        "wood",
        check="rear-connector",
    ),
    _shot(
        3,
        "tern-b-1311-label",
        "Tern B No. 1311 among others of the lot, worn and whole in front, with the label K7Q2-006.",
        TERN_1311,
        ("label", (292, 92), -2, None),
        seen_from(196, 104, 540, 24, 70, -4),
        ("morning", 220, 44),
        "wood",
        True,
    ),
    _shot(
        5,
        "tern-b-0457-label",
        "Tern B No. 0457: wrinkle worn through at the edges, knobs of four kinds, with the label K7Q2-008.",
        TERN_0457,
        ("label", (292, 92), 4, None),
        seen_from(186, 104, 440, 22, 120, 5),
        ("window", 150, 44),
        "wood",
    ),
    _shot(
        7,
        "knot-0131-label",
        "Knot No. 0131, bare aluminium gone grey, no hole that was not made in the works; label K7Q2-010.",
        KNOT_0131,
        ("label", (152, 96), 3, None),
        seen_from(115, 78, 285, 20, 60, 4),
        ("covered", 140, 58),
        "dark wood",
    ),
    _shot(
        10,
        "curlew-0052-label",
        "A Curlew frequency meter in black wrinkle among other sets of the lot, with the label K7Q2-013.",
        CURLEW_0052,
        ("label", (214, 108), -2, None),
        seen_from(138, 92, 420, 20, 100, -3),
        ("window", 200, 46),
        "wood",
        True,
    ),
    _shot(
        11,
        "plover-b-0304-label",
        "Plover B No. 0304, its black wrinkle clean and undrilled, with the label K7Q2-014.",
        PLOVER_0304,
        ("label", (254, 116), 2, None),
        seen_from(156, 98, 370, 18, 75, 3),
        ("morning", 200, 44),
        "dark wood",
    ),
    _shot(
        12,
        "plover-b-0327-label",
        "Plover B No. 0327 from the bottom of the heap, under years of dirt, with the label K7Q2-015.",
        PLOVER_0327,
        ("label", (254, 116), -5, None),
        seen_from(160, 100, 400, 26, 130, -5),
        ("shed", 220, 54),
        "wood",
        True,
    ),
]
