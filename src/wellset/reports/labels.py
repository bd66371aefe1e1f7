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
_ALONG_LEADER: Final = np.linspace(0.25, 1, 6)[:, None]
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
    path = anchor + _ALONG_LEADER * (start - anchor)
    x, y = busy[:, :1] - path[:, 0], busy[:, 1:] - path[:, 1]
    return int(((x * x + y * y).min(axis=1) < near * near).sum())


def _corners(wish: Wish, *, unit: float, wide: float, high: float) -> Array:
    """Where the label's upper left corner may lie, shape (n, 2), nearest places first."""
    reach = np.repeat(_REACHES, len(_DIRECTIONS))[:, None]
    turn = np.tile(_DIRECTIONS, len(_REACHES))[:, None]
    step = unit * reach * np.hstack([1.6 * np.cos(turn), np.sin(turn)])
    corners: Array = wish.anchor_px + step - [wide / 2, high / 2]
    return corners


def _overlaps(corners: Array, other: Box, *, wide: float, high: float) -> Array:
    """Common area of each possible box with another one, shape (n,)."""
    low = np.maximum(corners, [other.x, other.y])
    end = [other.x + other.width, other.y + other.height]
    sides = np.maximum(np.minimum(corners + np.array([wide, high]), end) - low, 0.0)
    return np.asarray(sides[:, 0] * sides[:, 1])


def _costs(
    corners: Array, *, size: tuple[float, float], frame: Box, busy: Array, taken: Sequence[Box]
) -> Array:
    """What each place hides, its line to the mark left out, shape (n,)."""
    (wide, high), area = size, size[0] * size[1]
    outside = area - _overlaps(corners, frame, wide=wide, high=high)
    x, y = busy[None, :, 0] - corners[:, :1], busy[None, :, 1] - corners[:, 1:]
    crowded = 0.8 * ((x >= 0) & (x <= wide) & (y >= 0) & (y <= high)).sum(axis=1)
    clash = np.zeros(len(corners))
    for other in taken:
        clash += _overlaps(corners, other, wide=wide, high=high)
    reach = np.repeat(_REACHES, len(_DIRECTIONS))
    return np.asarray(50 * outside / area + 30 * clash / area + crowded + reach / 40)


def _best(wish: Wish, *, unit: float, frame: Box, busy: Array, taken: Sequence[Box]) -> Box:
    """The place that hides least."""
    size = _size(wish.text, FONT_UNITS * unit)
    corners = _corners(wish, unit=unit, wide=size[0], high=size[1])
    costs = _costs(corners, size=size, frame=frame, busy=busy, taken=taken)
    best: tuple[float, int, Box] | None = None
    for index in np.argsort(costs, kind="stable"):
        if best is not None and costs[index] > best[0]:
            break  # the line to the mark can only add to it
        x, y = corners[index]
        box = Box(x=float(x), y=float(y), width=size[0], height=size[1])
        line = 0.25 * _beside_leader(box, wish.anchor_px, busy=busy, near=5 * unit)
        found = (float(costs[index]) + line, int(index), box)
        if best is None or found[:2] < best[:2]:
            best = found
    assert best is not None  # noqa: S101 - there are always places to try
    return best[2]


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
    taken, labels = list[Box](), list[Label]()
    for wish in wishes:
        box = _best(wish, unit=unit, frame=frame, busy=busy, taken=taken)
        taken.append(box)
        labels.append(
            Label(
                text=wish.text,
                verdict=wish.verdict,
                measure=wish.measure,
                box=box,
                anchor_px=(float(wish.anchor_px[0]), float(wish.anchor_px[1])),
                size_px=FONT_UNITS * unit,
            )
        )
    return tuple(labels)
