"""In which order the corners of a label stand: its three finder patterns tell which is the top left."""

from collections.abc import Sequence

from webapp.photos.grey import Grey, Point, brightness
from webapp.photos.label_readers import Corners
from webapp.photos.label_text import MODULES
from webapp.photos.plane import applied, plane_of_corners

_FAR = float(MODULES)
_SYMBOL = ((0.0, 0.0), (_FAR, 0.0), (_FAR, _FAR), (0.0, _FAR))
# ISO/IEC 18004, 6.3.3: a finder pattern is 7 by 7 modules, rings of dark, light and a dark square of 3.
_FINDER = 7
_LIGHT_RING = 2
_LAST = MODULES - _FINDER


def in_reading_order(photo: Grey, corners: Sequence[Point]) -> Corners | None:
    """Corners that go round a label as top left, top right, bottom right, bottom left as it is read.

    None when they go round nothing.
    """
    round_it = _clockwise(corners)
    plane = plane_of_corners(_SYMBOL, round_it)
    if plane is None:
        return None
    contrasts = []
    for x, y in ((0, 0), (_LAST, 0), (_LAST, _LAST), (0, _LAST)):
        sums, counts = [0.0, 0.0], [0, 0]
        for i in range(_FINDER):
            for j in range(_FINDER):
                light = max(abs(i - 3), abs(j - 3)) == _LIGHT_RING
                sums[light] += brightness(photo, *applied(plane.to_px, (x + i + 0.5, y + j + 0.5)))
                counts[light] += 1
        contrasts.append(sums[True] / counts[True] - sums[False] / counts[False])
    # The corner without a finder pattern is the bottom right, two further on is the top left.
    first = contrasts.index(min(contrasts)) + 2
    return tuple(round_it[(first + step) % 4] for step in range(4))  # type: ignore[return-value]


def _clockwise(corners: Sequence[Point]) -> list[Point]:
    doubled = sum(
        corners[i - 1][0] * corners[i][1] - corners[i][0] * corners[i - 1][1] for i in range(len(corners))
    )
    return list(corners) if doubled > 0 else list(reversed(corners))
