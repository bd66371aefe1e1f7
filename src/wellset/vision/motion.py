"""How fast anything on the golfer or the club moves, sample by sample.

Two samples a tenth of a second apart are laid over each other with the camera's motion taken
off. Where brightness changed, the change is divided by how steep the picture is there: that is
how far the picture's content was displaced, in pixels, whatever its contrast. The largest
displacements on golfer and club, less what the background shows in the same way (noise, coding,
leaves), are the motion.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from typing import Final

import cv2
import numpy as np
from attrs import field, frozen

from wellset.vision.camera_motion import CameraMotion, camera_motion, corners
from wellset.vision.clips import Samples
from wellset.vision.general import Detection
from wellset.vision.values import Array, Float32, Mask, Pixels, mask

LAG_S: Final = 0.1
"""Time between the samples compared. A club head that starts back passes 1 cm in it early on;
breathing and swaying at address move the head by about 1 mm."""

REACH_M: Final = 1.03
"""The detector's reach (hips to the end of a body) of a golfer at address, metre: from the two
clips with truth (1.09 down the line, 0.98 face-on)."""

GOLFER: Final = (-1.5, -1.05, 1.5, 1.25)
BODY: Final = (-0.75, -1.05, 0.75, 0.62)
FEET: Final = (-0.9, 0.62, 0.9, 1.2)
"""Left, top, right, bottom from the hips, in reaches: golfer with club and ball; the body down
to the shins; the ground around the feet."""

CELL_PX: Final = 7
STRIDE_PX: Final = 4
LEAST_STEEP: Final = 4.0
"""Steepness (grey values a pixel) added to the picture's own, so that noise on a plain surface
doesn't count as motion."""

SOFTENED_PX: Final = 1.0
"""Both samples are softened by this (standard deviation), or the one that was shifted by a part of
a pixel would differ from the other in sharpness alone."""

SHADING_PX: Final = 41
"""Brightness is taken against its mean over this width, so that a cloud or the camera's
exposure is no motion."""

EDGE_PX: Final = SHADING_PX // 2 + 2
"""Room kept to the edge of samples that are shifted against each other: the mean brightness
around a point is taken over different content there."""

LARGEST_CELLS: Final = 5
"""The motion is that of the cell of this rank: a club head covers more, a speck of noise less."""

BACKGROUND_SHARE: Final = 0.98
"""Share of the background's cells that lie below what is called its unrest."""


@frozen(kw_only=True, eq=False)
class Stage:
    """Where in the samples the golfer stands, what may be followed, and the scale there.

    Parameters
    ----------
    hips_px : (float, float)
    reach_px : float
        The detector's reach, pixels of the samples.
    golfer, body, feet : (h, w) bool arrays
        The three parts, see :data:`GOLFER`.
    """

    hips_px: tuple[float, float]
    reach_px: float
    golfer: Mask = field(converter=mask)
    body: Mask = field(converter=mask)
    feet: Mask = field(converter=mask)

    @property
    def mm_per_px(self) -> float:
        """Millimetres at the golfer per pixel of the samples."""
        return 1000.0 * REACH_M / self.reach_px

    @property
    def still(self) -> Mask:
        """What may be followed for the camera's motion."""
        return np.asarray(~self.body)


def stage_of(detection: Detection, *, shape: tuple[int, int]) -> Stage:
    """Where a detected golfer stands.

    Parameters
    ----------
    detection : Detection
        In pixels of the samples.
    shape : (int, int)
        Height and width of the samples.
    """
    x, y = (float(v) for v in detection.hips_px)
    return Stage(
        hips_px=(x, y),
        reach_px=float(detection.reach_px),
        golfer=_box(GOLFER, hips=(x, y), reach=detection.reach_px, shape=shape),
        body=_box(BODY, hips=(x, y), reach=detection.reach_px, shape=shape),
        feet=_box(FEET, hips=(x, y), reach=detection.reach_px, shape=shape),
    )


@frozen(kw_only=True, eq=False)
class Compared:
    """Two samples laid over each other.

    Parameters
    ----------
    moved_px : (h', w') float32 array
        How far the content was displaced, a value for every fourth pixel both ways, less the
        background's unrest.
    camera : CameraMotion
    """

    moved_px: Float32
    camera: CameraMotion

    def largest(self, where: Mask) -> float:
        """Displacement of the fifth most displaced cell in a part of the picture, pixel."""
        values = self.moved_px[where[::STRIDE_PX, ::STRIDE_PX]]
        if values.size < LARGEST_CELLS:
            return 0.0
        return float(np.partition(values, -LARGEST_CELLS)[-LARGEST_CELLS])

    def share(self, where: Mask, *, above_px: float) -> float:
        """Share of a part of the picture that was displaced by more than a limit."""
        values = self.moved_px[where[::STRIDE_PX, ::STRIDE_PX]]
        return float((values > above_px).mean()) if values.size else 0.0


@frozen(kw_only=True, eq=False)
class Prepared:
    """A sample made ready for comparing.

    Parameters
    ----------
    grey : (h, w) uint8 array
    detail : (h, w) float32 array
        Brightness against its surroundings.
    slope : (h, w) float32 array
        Squared slope of the brightness.
    steep : (h', w') float32 array
        Its mean in each cell.
    """

    grey: Pixels
    detail: Float32
    slope: Float32
    steep: Float32


def prepared(grey: Pixels) -> Prepared:
    """Make a sample ready for comparing."""
    soft = cv2.GaussianBlur(grey, (0, 0), SOFTENED_PX).astype(np.float32)
    detail = soft - cv2.blur(soft, (SHADING_PX, SHADING_PX))
    slope = np.square(cv2.Sobel(detail, cv2.CV_32F, 1, 0, scale=0.125)) + np.square(
        cv2.Sobel(detail, cv2.CV_32F, 0, 1, scale=0.125)
    )
    return Prepared(
        grey=grey,
        detail=np.asarray(detail, dtype=np.float32),
        slope=np.asarray(slope, dtype=np.float32),
        steep=_cells(np.asarray(slope, dtype=np.float32)),
    )


def compare(earlier: Prepared, later: Prepared, *, stage: Stage, followed: Array) -> Compared:
    """Lay the later sample over the earlier one.

    Parameters
    ----------
    earlier, later : Prepared
    stage : Stage
    followed : (N, 2) array, pixel
        Corners of the earlier sample that should stand still.

    Notes
    -----
    For a small shift *u* of the brightness *I*, ``ΔI = ∇I · u``; over a cell
    ``|u| ≈ sqrt(Σ ΔI² / Σ |∇I|²)`` (Lucas and Kanade 1981, with the whole shift along the
    slope).
    """
    camera = camera_motion(earlier.grey, later.grey, followed=followed, at_feet=stage.feet)
    over, steep, inside = later.detail, later.steep, np.ones(later.steep.shape, dtype=np.bool_)
    if not camera.at_rest:
        over = _laid_over(later.detail, camera)
        steep = _cells(_laid_over(later.slope, camera))
        inside = _covered(later.grey.shape, camera)
    change = _cells(np.square(over - earlier.detail))
    squared = inside * change / (0.5 * (earlier.steep + steep) + LEAST_STEEP**2)
    outside = inside & ~stage.golfer[::STRIDE_PX, ::STRIDE_PX]
    if outside.any():
        squared -= np.quantile(squared[outside], BACKGROUND_SHARE)
    return Compared(moved_px=np.sqrt(np.maximum(squared, 0.0)), camera=camera)


def lag_of(samples: Samples) -> int:
    """How many samples lie between two that are compared."""
    return max(1, round(LAG_S / samples.step_s))


def speeds_mm_s(samples: Samples, *, stages: Sequence[Stage]) -> tuple[Array, Array]:
    """How fast golfer and club, and the camera, move from each sample to the one a lag later.

    Parameters
    ----------
    samples : Samples
    stages : sequence of Stage
        One a sample.

    Returns
    -------
    golfer, camera : (N,) arrays, millimetre a second
        The last ones repeat the last that could be computed.
    """
    lag = lag_of(samples)
    count = samples.count - lag
    golfer, shake = np.zeros(samples.count), np.zeros(samples.count)
    followed: Array = np.zeros((0, 2))
    last: Stage | None = None
    moving = False
    ready: deque[Prepared] = deque()
    for row in range(max(count, 0)):
        stage = stages[row]
        if stage is not last or moving:  # a corner is one only where it was found
            followed = corners(samples.grey[row], where=stage.still)
            last = stage
        for ahead in range(row + len(ready), row + lag + 1):
            ready.append(prepared(samples.grey[ahead]))
        found = compare(ready.popleft(), ready[-1], stage=stage, followed=followed)
        moving = not found.camera.at_rest
        took = samples.times_s[row + lag] - samples.times_s[row]
        golfer[row] = found.largest(stage.golfer) * stage.mm_per_px / took
        hips = np.array([stage.hips_px])
        away = found.camera.forth(hips) - hips
        shake[row] = float(np.hypot(*away[0])) * stage.mm_per_px / took
    golfer[count:], shake[count:] = golfer[max(count - 1, 0)], shake[max(count - 1, 0)]
    return golfer, shake


def _cells(values: Float32) -> Float32:
    """Mean over a cell around every fourth pixel, never negative."""
    blurred = cv2.blur(values, (CELL_PX, CELL_PX))[::STRIDE_PX, ::STRIDE_PX]
    return np.asarray(np.maximum(blurred, 0.0), dtype=np.float32)


def _laid_over(values: Float32, camera: CameraMotion) -> Float32:
    """The later sample's values where the earlier one has the same content."""
    drawn = cv2.warpAffine(
        values,
        camera.later_from_earlier,
        (values.shape[1], values.shape[0]),
        flags=cv2.INTER_LINEAR | cv2.WARP_INVERSE_MAP,
        borderMode=cv2.BORDER_REPLICATE,
    )
    return np.asarray(drawn, dtype=np.float32)


def _covered(shape: tuple[int, ...], camera: CameraMotion) -> Mask:
    """Which cells lie well inside both samples."""
    rows, columns = np.mgrid[0 : shape[0] : STRIDE_PX, 0 : shape[1] : STRIDE_PX]
    here = np.column_stack([columns.ravel(), rows.ravel()]).astype(np.float64)
    far = np.array([shape[1], shape[0]]) - 1.0 - EDGE_PX
    there = camera.forth(here)
    held = ((np.minimum(here, there) >= EDGE_PX) & (np.maximum(here, there) <= far)).all(axis=1)
    return np.asarray(held.reshape(rows.shape))


def _box(
    part: tuple[float, float, float, float],
    *,
    hips: tuple[float, float],
    reach: float,
    shape: tuple[int, int],
) -> Mask:
    left, right = (int(np.clip(hips[0] + part[i] * reach, 0, shape[1])) for i in (0, 2))
    top, bottom = (int(np.clip(hips[1] + part[i] * reach, 0, shape[0])) for i in (1, 3))
    inside = np.zeros(shape, dtype=np.bool_)
    inside[top:bottom, left:right] = True
    return inside
