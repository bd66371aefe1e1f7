"""A club as outlines, soled as the figure holds it.

Shapes of heads are our drawing: depth from face to back for each kind from memory of ordinary
clubs.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.equipment import ClubKind
from wellset.reports.body_shape import Part, Sheet, hull

Array = NDArray[np.float64]

DEPTH_M: Final = {
    ClubKind.DRIVER: 0.112,
    ClubKind.FAIRWAY_WOOD: 0.085,
    ClubKind.HYBRID: 0.058,
    ClubKind.PUTTER: 0.026,
}
"""Face to back; an iron's sole is :data:`IRON_DEPTH_M` deep."""
IRON_DEPTH_M: Final = 0.024
HEIGHTS_M: Final = {
    ClubKind.DRIVER: (0.045, 0.062),
    ClubKind.FAIRWAY_WOOD: (0.032, 0.040),
    ClubKind.HYBRID: (0.030, 0.036),
    ClubKind.PUTTER: (0.026, 0.026),
}
"""Height of the face at heel and toe."""
IRON_HEIGHTS_M: Final = (0.028, 0.058)
GRIP_M: Final = 0.27


def shaft(sheet: Sheet, /) -> tuple[Part, Part]:
    """Shaft and grip, thicker toward the butt."""
    butt, tip = sheet.point("grip_end"), sheet.point("shaft_end")
    length = float(np.linalg.norm(sheet.figure["grip_end"] - sheet.figure["shaft_end"]))
    low = butt + (tip - butt) * GRIP_M / length
    return (
        Part(name="shaft", outline=_bar(low, tip, halves=(0.75, 0.55))),
        Part(name="grip", outline=_bar(butt, low, halves=(1.5, 1.15))),
    )


def _bar(first: Array, second: Array, *, halves: tuple[float, float]) -> Array:
    """A straight bar, centimetre."""
    along = second - first
    aside = np.array([-along[1], along[0]]) / max(float(np.linalg.norm(along)), 1e-9)
    return np.vstack(
        [
            first + halves[0] * aside,
            second + halves[1] * aside,
            second - halves[1] * aside,
            first - halves[0] * aside,
        ]
    )


def club_head(sheet: Sheet, /, *, kind: ClubKind, length: float) -> Part:
    """The head.

    Parameters
    ----------
    kind : ClubKind
    length : float
        Heel to toe, metre.
    """
    figure = sheet.figure
    end = figure["shaft_end"]
    out = np.array([0.0, -1.0, 0.0])
    heights = HEIGHTS_M.get(kind, IRON_HEIGHTS_M)
    depth = DEPTH_M.get(kind, IRON_DEPTH_M)
    heel, toe = end - 0.012 * out, end + (length - 0.012) * out
    face = np.array([0.012, 0.0, 0.0])
    back = np.array([-depth, 0.0, 0.0])
    up = np.array([0.0, 0.0, 1.0])
    # from above a wood is round behind: its back is shorter than its face
    inset = 0.22 * length if kind.is_wood else 0.0
    corners = [
        heel + face,
        toe + face,
        heel + face + heights[0] * up,
        toe + face + heights[1] * up - 0.1 * length * out,
        heel + inset * out + back + 0.6 * heights[0] * up,
        toe - inset * out + back + 0.6 * heights[1] * up,
        heel + inset * out + back,
        toe - inset * out + back,
    ]
    rounded = np.vstack(
        [sheet.at(np.array(corner)) + 0.5 * turn for corner in corners for turn in _TURNS]
    )
    return Part(name="club head", outline=hull(rounded))


_TURNS: Final = [np.array([np.cos(t), np.sin(t)]) for t in np.linspace(0, 2 * np.pi, 12)]
