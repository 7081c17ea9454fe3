"""The fronts of the Petrel Street lot that no other photo shows."""

from demo_photos.ageing import Years
from demo_photos.fronts import WORKS, Front, back, curlew, knot, plover, tern
from demo_photos.panel import Hole

SKIRTED = ("skirted", "skirted", "skirted", "skirted")


def _tern_b(
    number: str,
    kind: str,
    years: Years,
    knobs: tuple[str, ...] = SKIRTED,
    holes: list[Hole] | None = None,
    soft: float = 0.0,
) -> Front:
    plate = ["TERN B", *WORKS, "ORDER CIS-2207-53", f"No. {number}"]
    fit = tern(["33", "37", "41", "45", "50"], "TERN B", plate, knobs)
    return Front(int(number), (380, 200), kind, years, fit, holes or [], soft)


def _plover_b(number: str, years: Years) -> Front:
    fit = plover(["33", "37", "41", "45", "50"], "PLOVER B", number)
    return Front(int(number), (310, 190), "wrinkle", years, fit)


TERN_0873 = _tern_b("0873", "wrinkle", Years(0.2, 0.2, 0.2, 0.2))
TERN_1020 = _tern_b(
    "1020",
    "cream",
    Years(0.3, 0.55, 0.6, 0.9, 0.9),
    ("metal", "bar", "round", "skirted"),
    [
        Hole((346, 96), 38.1, burr=0.2),
        Hole((244, 88), 25.4, burr=0.15),
        Hole((148, 180), 16, burr=0.12),
        Hole((84, 178), 12.5),
        Hole((312, 178), 9.7),
    ],
    0.85,
)
TERN_1020_BACK = Front(
    1021,
    (380, 200),
    "cream",
    Years(0.5, 0.7, 0.6, 1.0, 0.7),
    back,
    [Hole((120, 104), 30.2, "back", 0.2)],
    soft=0.6,
)
TERN_1311 = _tern_b("1311", "wrinkle", Years(0.45, 0.4, 0.45, 0.4))
TERN_0457 = _tern_b("0457", "wrinkle", Years(0.7, 0.6, 0.6, 0.7), ("skirted", "bar", "metal", "round"))
PLOVER_0304 = _plover_b("0304", Years(0.3, 0.3, 0.3, 0.3))
PLOVER_0327 = _plover_b("0327", Years(0.4, 0.95, 0.4, 0.4))
KNOT_0131 = Front(131, (230, 150), "bare", Years(0.5, 0.8, 0.6, 0.3), knot("0131"))
CURLEW_0052 = Front(52, (270, 180), "wrinkle", Years(0.3, 0.3, 0.3, 0.3), curlew)
