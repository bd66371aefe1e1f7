"""A person finder made of our own landmark network alone, to set beside the general model.

The network is slid over a picture at several sizes. Where it is sure of most points it has
found somebody. It learnt golfers at address only, so the question is how far that carries.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from wellset.figure.landmarks import BODY_LANDMARKS, INDEX
from wellset.vision.crops import Box
from wellset.vision.network import LandmarkNetwork

Pixels = NDArray[np.uint8]

HEIGHTS: Final = (0.95, 0.7, 0.5, 0.36)
"""Heights of people looked for, as shares of the picture's height."""
STRIDE: Final = 0.35
"""Step between windows, as a share of that height."""
SIDE: Final = 1.42
SIZE: Final = 320
SURE_PX: Final = 2.3
"""Median spread of the body's points, cut-out pixels, up to which somebody is found."""
OVERLAP: Final = 0.5
_BODY: Final = [INDEX[name] for name in BODY_LANDMARKS]
_BATCH: Final = 8


@cache
def _network() -> LandmarkNetwork:
    return LandmarkNetwork(threads=1)


def own_finder(picture: Pixels) -> list[Box]:
    """Boxes of people as the landmark network alone finds them, surest first."""
    found: list[tuple[float, Box]] = []
    windows = list(_windows(*picture.shape[:2]))
    for i in range(0, len(windows), _BATCH):
        some = windows[i : i + _BATCH]
        crops = np.stack([_crop(picture, x, y=y, side=side) for x, y, side in some])
        answer = _network().answer(crops)
        for (x, y, side), points, spread in zip(some, answer.points, answer.spread, strict=True):
            doubt = float(np.median(spread[_BODY]))
            if doubt <= SURE_PX:
                body = points[_BODY] * side / SIZE + [x - side / 2, y - side / 2]
                found.append((doubt, _box(body)))
    return _apart([box for _, box in sorted(found, key=lambda each: each[0])])


def _windows(height: int, width: int) -> Iterator[tuple[float, float, float]]:
    """Middle and side of every window, picture pixels."""
    for share in HEIGHTS:
        tall = share * height
        for y in np.arange(tall / 2, height - tall / 2 + 1, STRIDE * tall):
            for x in np.arange(
                0.25 * tall, max(width - 0.25 * tall, 0.25 * tall) + 1, STRIDE * tall
            ):
                yield float(x), float(y), SIDE * tall


def _crop(picture: Pixels, x: float, *, y: float, side: float) -> NDArray[np.float32]:
    scale = SIZE / side
    place = np.array([[scale, 0, SIZE / 2 - scale * x], [0, scale, SIZE / 2 - scale * y]])
    cut = cv2.warpAffine(
        picture, place, (SIZE, SIZE), flags=cv2.INTER_AREA, borderMode=cv2.BORDER_REPLICATE
    )
    ready: NDArray[np.float32] = np.moveaxis(cut, 2, 0).astype(np.float32) / 255.0
    return ready


def _box(body: NDArray[np.float64]) -> Box:
    (left, top), (right, bottom) = body.min(axis=0), body.max(axis=0)
    return Box(left=float(left), top=float(top), right=float(right), bottom=float(bottom))


def _apart(boxes: Sequence[Box]) -> list[Box]:
    """The surest of boxes that overlap."""
    kept: list[Box] = []
    for box in boxes:
        if all(box.overlap(other) < OVERLAP for other in kept):
            kept.append(box)
    return kept
