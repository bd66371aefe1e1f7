"""A known marker laid over a picture: corners to a small part of a pixel, and how sure.

All edges of the pattern speak, not its four corners alone: the marker is drawn as the
picture would show it, and its corners are moved until drawing and picture agree
(Lucas & Kanade 1981, with the whole pattern for a template). So a marker two pixels a
cell wide, or somewhat blurred, still gives corners.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.equipment.sheet import Bits

Array = NDArray[np.float64]
Grey = NDArray[np.float32]

MARGIN: Final = 0.6
"""Cells of white paper around the square that are drawn with it."""
CELL_PX: Final = 12
"""Size of a cell in the drawing that is laid over the picture."""
SMALL_CELL_PX: Final = 4
"""The same in the small drawing for a first comparison."""
FINER: Final = 2
"""The drawing is made this much finer than the picture, then averaged as a sensor does."""
BLURS_PX: Final = (0.5, 0.8, 1.3, 2.1)
"""Blurs tried: standard deviations of a Gaussian."""
FIRST_STEPS, MOST_STEPS = 5, 6
ENOUGH_PX: Final = 0.03
"""Where the search stops: steps before and after the blur is found, and a step this small."""
FEWEST_PIXELS: Final = 60
WORST_CONDITION: Final = 1e8
LIKE_NEIGHBOURS: Final = 2.0
"""What is left over after a fit is alike in neighbouring pixels (blur, compression, uneven
light), so that fewer pixels speak than there are: factor on the variance."""


@frozen(kw_only=True, eq=False)
class Laid:
    """A marker laid over a patch.

    Parameters
    ----------
    corners : (4, 2) array
        Top left, top right, bottom right, bottom left of the marker, in patch pixels with
        whole numbers at pixel centres.
    likeness : float
        Correlation of drawing and picture, -1 to 1.
    contrast : float
        Grey levels from black to white.
    covariance : (8, 8) array
        Of the corners' coordinates, from what the drawing leaves over.
    """

    corners: Array
    likeness: float
    contrast: float
    covariance: Array


@lru_cache(maxsize=8)
def drawing(bits: Bits) -> Grey:
    """The marker, white 1, with its margin, :data:`CELL_PX` a cell."""
    inner = np.array(bits, dtype=np.float32)
    rim = round(MARGIN * CELL_PX)
    cells = np.kron(np.pad(inner, 1), np.ones((CELL_PX, CELL_PX), np.float32))
    return np.asarray(np.pad(cells, rim, constant_values=1.0), dtype=np.float32)


def _corners_in_drawing(bits: Bits) -> Array:
    """Corners of the square, whole numbers at pixel centres."""
    low = round(MARGIN * CELL_PX) - 0.5
    high = low + (len(bits) + 2) * CELL_PX
    return np.array([[low, low], [high, low], [high, high], [low, high]])


def _homography(start: Array, end: Array) -> Array:
    found = cv2.getPerspectiveTransform(start.astype(np.float32), end.astype(np.float32))
    return np.asarray(found, dtype=np.float64)


@lru_cache(maxsize=8)
def _small(bits: Bits) -> tuple[Array, Array]:
    """The marker's corners in a small drawing, and the drawing in four turns, flat, unit."""
    size = len(bits) + 2
    edge = SMALL_CELL_PX * size
    cells = np.kron(np.pad(np.array(bits, dtype=np.float64), 1), np.ones((SMALL_CELL_PX,) * 2))
    rim = SMALL_CELL_PX // 2
    drawn = cv2.GaussianBlur(np.pad(cells, rim, constant_values=1.0), (0, 0), SMALL_CELL_PX / 4)
    turned = np.stack([np.rot90(drawn, -turns).ravel() for turns in range(4)])
    turned -= turned.mean(axis=1, keepdims=True)
    low, high = rim - 0.5, rim + edge - 0.5
    corners = np.array([[low, low], [high, low], [high, high], [low, high]])
    return corners, turned / np.linalg.norm(turned, axis=1, keepdims=True)


def likeness_of_quad(grey: NDArray[np.uint8], quad: Array, *, bits: Bits) -> tuple[float, int]:
    """How like the marker a four-sided figure is at best, and after how many quarter turns.

    ``quad`` lists corners clockwise; entry ``turns`` of it is the marker's top left.
    """
    corners, turned = _small(bits)
    side = round(float(np.sqrt(turned.shape[1])))
    matrix = _homography(quad, corners)
    flat = cv2.warpPerspective(grey, matrix, (side, side), borderMode=cv2.BORDER_REPLICATE)
    seen = flat.ravel().astype(np.float64)
    seen -= seen.mean()
    size = float(np.linalg.norm(seen))
    if size == 0:
        return 0.0, 0
    scores = turned @ seen / size
    best = int(np.argmax(scores))
    return float(scores[best]), best


def _correlation(a: Array, b: Array) -> float:
    a, b = a - a.mean(), b - b.mean()
    size = float(np.sqrt((a * a).sum() * (b * b).sum()))
    return float((a * b).sum()) / size if size > 0 else 0.0


@frozen(kw_only=True, eq=False)
class _Patch:
    """Pixels around a marker, and how each follows the corners.

    Parameters
    ----------
    seen : (n,) array
        Grey levels of the pixels that the marker and its margin cover.
    used : (h, w) bool array
        Which these are.
    shares : (n, 4) array
        How much each corner moves each of them.
    """

    seen: Array
    used: NDArray[np.bool_]
    shares: Array
    bits: Bits

    def shown(self, corners: Array, *, blur: float) -> tuple[Array, Array, Array]:
        """The marker as the patch would show it, and its slopes along x and y."""
        height, width = self.used.shape
        fine = (corners + 0.5) * FINER - 0.5
        matrix = _homography(_corners_in_drawing(self.bits), fine)
        spread = cv2.warpPerspective(
            drawing(self.bits), matrix, (width * FINER, height * FINER), borderValue=(1.0,)
        )
        drawn = cv2.resize(spread, (width, height), interpolation=cv2.INTER_AREA)
        soft: Array = np.asarray(cv2.GaussianBlur(drawn, (0, 0), blur), dtype=np.float64)
        slope_x, slope_y = (np.asarray(np.gradient(soft, axis=axis)) for axis in (1, 0))
        return soft[self.used], slope_x[self.used], slope_y[self.used]


def _patch(grey: Grey, corners: Array, *, bits: Bits) -> _Patch | None:
    """The pixels a marker at these corners covers, with most of its margin."""
    unit = np.array([[0.0, 0.0], [1.0, 0.0], [1.0, 1.0], [0.0, 1.0]])
    matrix = _homography(corners, unit)
    height, width = grey.shape
    x, y = np.meshgrid(np.arange(width), np.arange(height))
    places = matrix @ np.stack([x.ravel(), y.ravel(), np.ones(x.size)])
    u, v = places[:2] / places[2]
    beyond = 0.7 * MARGIN / (len(bits) + 2)
    used = (np.abs(u - 0.5) < 0.5 + beyond) & (np.abs(v - 0.5) < 0.5 + beyond)
    if used.sum() < FEWEST_PIXELS:
        return None
    u, v = u[used], v[used]
    return _Patch(
        seen=grey.ravel()[used].astype(np.float64),
        used=used.reshape(height, width),
        shares=np.stack([(1 - u) * (1 - v), u * (1 - v), u * v, (1 - u) * v], axis=1),
        bits=bits,
    )


@frozen(kw_only=True, eq=False)
class _Compared:
    """Drawing and patch: what is left over, its derivatives, likeness and contrast."""

    left: Array
    moves: Array
    likeness: float
    contrast: float


def _compared(patch: _Patch, corners: Array, *, blur: float) -> _Compared:
    model, slope_x, slope_y = patch.shown(corners, blur=blur)
    model = model - model.mean()
    seen = patch.seen - patch.seen.mean()
    power = max(float(model @ model), 1e-9)
    gain = float(model @ seen) / power
    # moving the marker by d shows at a pixel what was at the pixel minus d
    slopes = -gain * np.stack([slope_x, slope_y], axis=1)
    moves = (patch.shares[:, :, None] * slopes[:, None, :]).reshape(len(model), 8)
    # what light and contrast alone could explain tells nothing of place
    moves -= moves.mean(axis=0)
    moves -= np.outer(model, model @ moves / power)
    return _Compared(
        left=seen - gain * model,
        moves=moves,
        likeness=_correlation(model, seen),
        contrast=gain,
    )


def lay(grey: Grey, corners: Array, *, bits: Bits) -> Laid | None:
    """Move a marker's corners until it agrees with the pixels around.

    Parameters
    ----------
    grey : (h, w) float32 array
        Grey levels around the marker.
    corners : (4, 2) array
        Where they are about, top left first, clockwise on the printed sheet.
    bits : rows of 0 and 1

    Returns
    -------
    Laid or None
        ``None`` where nothing holds the corners, or they ran away.
    """
    patch = _patch(grey, corners, bits=bits)
    rough = _settled(patch, corners, blur=BLURS_PX[1], steps=FIRST_STEPS) if patch else None
    patch = _patch(grey, rough, bits=bits) if rough is not None else None
    if patch is None or rough is None:
        return None
    blur = _best_blur(patch, rough)
    settled = _settled(patch, rough, blur=blur, steps=MOST_STEPS)
    if settled is None:
        return None
    compared = _compared(patch, settled, blur=blur)
    freedom = max(len(compared.left) - 10, 1)
    noise = LIKE_NEIGHBOURS * float(compared.left @ compared.left) / freedom
    normal = compared.moves.T @ compared.moves
    if np.linalg.cond(normal) > WORST_CONDITION:
        return None
    return Laid(
        corners=settled,
        likeness=compared.likeness,
        contrast=compared.contrast,
        covariance=np.asarray(noise * np.linalg.inv(normal), dtype=np.float64),
    )


def _best_blur(patch: _Patch, corners: Array) -> float:
    """The blur with which the drawing is most like the patch."""
    return max(
        BLURS_PX, key=lambda blur: _correlation(patch.shown(corners, blur=blur)[0], patch.seen)
    )


def _settled(patch: _Patch, corners: Array, *, blur: float, steps: int) -> Array | None:
    """Gauss-Newton steps, together no longer than a quarter of the marker's shorter side."""
    shorter = float(np.linalg.norm(np.roll(corners, -1, 0) - corners, axis=1).min())
    origin, limit = corners, max(2.0, 0.25 * shorter)
    for _ in range(steps):
        now = _compared(patch, corners, blur=blur)
        normal = now.moves.T @ now.moves
        step = np.linalg.lstsq(normal, now.moves.T @ now.left, rcond=1e-8)[0].reshape(4, 2)
        corners = corners + step
        if not np.isfinite(corners).all() or np.abs(corners - origin).max() > limit:
            return None
        if np.abs(step).max() < ENOUGH_PX:
            break
    return corners
