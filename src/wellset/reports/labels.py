"""Where the few labels of a picture go: near their mark, off the golfer, apart."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.reports.marks import UNITS_ACROSS, Box, Label

Array = NDArray[np.float64]

FONT_UNITS: Final = 13.5
"""Font size in units: about 12 pixels on a phone 390 pixels wide."""
CHARACTER_WIDTH: Final = 0.57
"""Mean width of a character as a share of the font size, with something to spare (measured
on DejaVu Sans, the widest of the fonts a page is likely to be shown in)."""
SIGN_WIDTH: Final = 1.35
"""Width of the sign of the verdict before the text, in font sizes."""
_DIRECTIONS: Final = np.linspace(0, 2 * np.pi, 32, endpoint=False)
_REACHES: Final = (30.0, 45.0, 60.0, 80.0, 100.0, 125.0, 150.0)


@frozen(kw_only=True, eq=False)
class Wish:
    """A label to be placed."""

    text: str
    verdict: str
    measure: str
    anchor_px: Array


def _size(text: str, font: float) -> tuple[float, float]:
    wide = (len(text) * CHARACTER_WIDTH + SIGN_WIDTH + 0.7) * font
    return wide, 1.75 * font


def _beside_leader(box: Box, anchor: Array, *, busy: Array, near: float) -> int:
    """How many points that should stay visible the line from label to mark runs over."""
    low = np.array([box.x, box.y])
    start = np.clip(anchor, low, low + np.array([box.width, box.height]))
    share = np.linspace(0.25, 1, 6)[:, None]
    path = anchor + share * (start - anchor)
    gaps = np.linalg.norm(busy[:, None] - path[None], axis=2)
    return int((gaps.min(axis=1) < near).sum())


def _cost(box: Box, *, frame: Box, busy: Array, taken: Sequence[Box], reach: float) -> float:
    size = box.width * box.height
    outside = size - box.overlap(frame)
    crowded = 0.8 * float(box.contains(busy).sum())
    clash = sum(box.overlap(other) for other in taken) / size
    return 50 * outside / size + 30 * clash + crowded + reach / 40


def place(wishes: Sequence[Wish], /, *, frame: Box, busy: Array) -> tuple[Label, ...]:
    """Put each label where it hides least.

    Parameters
    ----------
    frame : Box
        The part of the picture that is shown.
    busy : (n, 2) array
        Points of the picture that should stay visible.
    """
    unit = frame.width / UNITS_ACROSS
    font, taken, labels = FONT_UNITS * unit, list[Box](), list[Label]()
    for wish in wishes:
        wide, high = _size(wish.text, font)
        best: tuple[float, Box] | None = None
        for reach in _REACHES:
            for turn in _DIRECTIONS:
                step = unit * reach * np.array([1.6 * np.cos(turn), np.sin(turn)])
                x, y = wish.anchor_px + step - [wide / 2, high / 2]
                box = Box(x=float(x), y=float(y), width=wide, height=high)
                cost = _cost(box, frame=frame, busy=busy, taken=taken, reach=reach)
                if best is not None and cost >= best[0]:
                    continue
                near = 5 * unit
                cost += 0.25 * _beside_leader(box, wish.anchor_px, busy=busy, near=near)
                if best is None or cost < best[0]:
                    best = cost, box
        if best is None:
            continue
        taken.append(best[1])
        labels.append(
            Label(
                text=wish.text,
                verdict=wish.verdict,
                measure=wish.measure,
                box=best[1],
                anchor_px=(float(wish.anchor_px[0]), float(wish.anchor_px[1])),
                size_px=font,
            )
        )
    return tuple(labels)
