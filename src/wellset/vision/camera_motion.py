"""How the camera moved between two samples of a clip, so that it isn't taken for the golfer.

A camera in the hand turns, comes nearer, and is carried along. Turning moves everything in
the picture alike and is found from the background. Being carried moves what is near more than
what is far; but the ground at the golfer's feet is as far away as the golfer is, and it stands
still. So the background gives turn and scale, and the ground at the feet gives the shift.
"""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from attrs import field, frozen

from wellset.vision.values import Array, Mask, Pixels, affine

MOST_FEATURES: Final = 160
FEATURE_QUALITY: Final = 0.01
FEATURE_APART_PX: Final = 9
"""Corners that are followed: how many, how clear against the clearest, how far apart."""

LEAST_FOLLOWED: Final = 14
LEAST_AGREEING: Final = 0.35
"""With fewer corners followed, or a smaller share of them moving alike, nothing is known of the
camera and it is taken to be at rest."""

AGREE_WITHIN_PX: Final = 0.8
"""How far a corner may be off what most share."""

AT_REST_PX: Final = 0.06
"""Corners that move by less (median) belong to a camera on a stand; nothing is warped then."""

LEAST_AT_FEET: Final = 5
LEAST_SHIFT_PX: Final = 0.15
"""Corners at the feet needed, and the shift there beyond which it is more than their own error."""

WINDOW_PX: Final = (17, 17)
LEVELS: Final = 3

IDENTITY: Final = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])


@frozen(kw_only=True, eq=False)
class CameraMotion:
    """Where what stands still went between two samples.

    Parameters
    ----------
    later_from_earlier : (2, 3) array
        Map of points of the earlier sample to points of the later one, pixels.
    known : bool
        Whether there was enough to follow.
    """

    later_from_earlier: Array = field(converter=affine)
    known: bool = True

    @property
    def at_rest(self) -> bool:
        """Whether nothing moved."""
        return bool(np.array_equal(self.later_from_earlier, IDENTITY))

    def forth(self, points: Array) -> Array:
        """Points ``(N, 2)`` of the earlier sample as points of the later one."""
        return np.asarray(points @ self.later_from_earlier[:, :2].T + self.later_from_earlier[:, 2])

    def back(self, points: Array) -> Array:
        """Points ``(N, 2)`` of the later sample as points of the earlier one."""
        inverse = np.linalg.inv(self.later_from_earlier[:, :2])
        return np.asarray((points - self.later_from_earlier[:, 2]) @ inverse.T)


def corners(grey: Pixels, *, where: Mask) -> Array:
    """Corners worth following, ``(N, 2)``, pixel.

    Parameters
    ----------
    grey : (h, w) uint8 array
    where : (h, w) bool array
        Where they may lie.
    """
    found = cv2.goodFeaturesToTrack(
        grey, MOST_FEATURES, FEATURE_QUALITY, FEATURE_APART_PX, mask=where.astype(np.uint8)
    )
    # On a plain picture there is none, which the library's types don't tell.
    return np.array([] if found is None else found, dtype=np.float64).reshape(-1, 2)


def camera_motion(
    earlier: Pixels, later: Pixels, *, followed: Array, at_feet: Mask
) -> CameraMotion:
    """The camera's motion from what is followed.

    Parameters
    ----------
    earlier, later : (h, w) uint8 arrays
    followed : (N, 2) array, pixel
        Corners of the earlier sample, on what should stand still.
    at_feet : (h, w) bool array
        The ground at the golfer's feet, and the feet.
    """
    if len(followed) < LEAST_FOLLOWED:
        return CameraMotion(later_from_earlier=IDENTITY, known=False)
    start = followed.astype(np.float32).reshape(-1, 1, 2)
    moved, status, _ = cv2.calcOpticalFlowPyrLK(
        earlier, later, start, start.copy(), winSize=WINDOW_PX, maxLevel=LEVELS
    )
    kept = status.ravel() > 0
    a, b = start[kept, 0].astype(np.float64), moved[kept, 0].astype(np.float64)
    if len(a) < LEAST_FOLLOWED:
        return CameraMotion(later_from_earlier=IDENTITY, known=False)
    if float(np.median(np.hypot(*(b - a).T))) < AT_REST_PX:
        return CameraMotion(later_from_earlier=IDENTITY)
    matrix, inliers = cv2.estimateAffinePartial2D(
        a, b, method=cv2.RANSAC, ransacReprojThreshold=AGREE_WITHIN_PX
    )
    if matrix is None or inliers.mean() < LEAST_AGREEING:
        return CameraMotion(later_from_earlier=IDENTITY, known=False)
    return CameraMotion(later_from_earlier=_with_feet(np.array(matrix), a=a, b=b, at_feet=at_feet))


def _with_feet(fit: Array, *, a: Array, b: Array, at_feet: Mask) -> Array:
    """The fit from corners `a` to `b`, shifted so that the ground at the feet is at rest."""
    matrix = fit.copy()
    columns, rows = np.round(a).astype(int).T
    height, width = at_feet.shape
    near = at_feet[np.clip(rows, 0, height - 1), np.clip(columns, 0, width - 1)]
    if near.sum() >= LEAST_AT_FEET:
        off = b[near] - (a[near] @ matrix[:, :2].T + matrix[:, 2])
        shift = np.median(off, axis=0)
        unsure = 1.5 * np.median(np.abs(off - shift), axis=0) / np.sqrt(near.sum())
        if float(np.hypot(*shift)) > max(3.0 * float(np.hypot(*unsure)), LEAST_SHIFT_PX):
            matrix[:, 2] += shift
    return matrix
