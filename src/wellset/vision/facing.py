"""What the general model's points say about where the camera stood and what the body does."""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import frozen

from wellset.figure.views import View
from wellset.vision.general import GENERAL_POINTS, Body
from wellset.vision.values import Array

FACE_ON_LIMIT_DEG: Final = 42.0
ALONG_LIMITS_DEG: Final = (55.0, 118.0)
BEHIND_LIMIT_DEG: Final = 150.0
"""Turn of shoulders and hips against the camera: face-on up to the first, along the target
line between the second pair, from behind beyond the last; anything else is a view from a
corner. Scenes: at most 18 face-on, 74 to 98 along the line. Drawn golfers seen from
30 degrees off face-on give 32 to 42, from 45 degrees 42 to 67, from 120 degrees 99 to 114."""

LYING_DEG: Final = 50.0
"""Lean of ankles to shoulders beyond which the picture, not the golfer, lies: at address it is
at most 20 degrees."""

OBLIQUE_FACE_ON_DEG: Final = 25.0
OBLIQUE_ALONG_DEG: Final = (68.0, 106.0)
"""Beyond these the view is used, with a remark: the camera stood about 20 degrees off."""

BOUNDARY_DEG: Final = 48.0
BOUNDARY_SCALE_DEG: Final = 4.0
"""Where face-on and down-the-line are equally likely, and how fast that changes: turns of
golfers drawn from 45 degrees spread about this much (sd 7 degrees in all)."""


@frozen(kw_only=True)
class Facing:
    """How a body stands to the camera and what its arms do.

    Parameters
    ----------
    turn : float
        Turn of shoulder and hip line against the picture plane, radian: 0 facing the
        camera, positive facing to the right of the picture, pi with the back to it.
    hands_across, hands_below : float
        Middle of the wrists from the middle of the hips, right and down, in body heights.
    hands_apart : float
        Distance of the wrists, in body heights.
    bend_to_camera : float
        Lean of hip centre to shoulder centre towards the camera, from the model's guess in
        space, radian.
    lean : float
        Clockwise turn of the line from ankles to shoulders from upright in the picture,
        radian.
    """

    turn: float
    hands_across: float
    hands_below: float
    hands_apart: float
    bend_to_camera: float
    lean: float

    @property
    def view(self) -> View | None:
        """The view, or ``None`` when the camera stood behind or at a corner."""
        turn = abs(np.degrees(self.turn))
        if turn <= FACE_ON_LIMIT_DEG:
            return View.FACE_ON
        if ALONG_LIMITS_DEG[0] <= turn <= ALONG_LIMITS_DEG[1]:
            return View.DOWN_THE_LINE
        return None

    @property
    def confidence(self) -> float:
        """Probability of the view named, 0.5 to 1, from how far the turn is from its limit."""
        away = abs(abs(np.degrees(self.turn)) - BOUNDARY_DEG)
        return float(1.0 / (1.0 + np.exp(-away / BOUNDARY_SCALE_DEG)))

    @property
    def is_oblique(self) -> bool:
        """Whether the camera stood far off square."""
        turn = abs(np.degrees(self.turn))
        if self.view is View.FACE_ON:
            return bool(turn > OBLIQUE_FACE_ON_DEG)
        return not OBLIQUE_ALONG_DEG[0] <= turn <= OBLIQUE_ALONG_DEG[1]

    @property
    def is_lying(self) -> bool:
        """Whether the body does not stand upright in the picture."""
        return bool(abs(np.degrees(self.lean)) > LYING_DEG)

    @property
    def from_behind(self) -> bool:
        """Whether the golfer's back is to the camera."""
        return bool(abs(np.degrees(self.turn)) >= BEHIND_LIMIT_DEG)

    @property
    def to_the_right(self) -> bool:
        """Whether the golfer faces the right side of the picture."""
        return self.turn >= 0.0


def facing_of(body: Body) -> Facing:
    """Read a body's stand to the camera off the general model's points.

    Parameters
    ----------
    body : Body

    Returns
    -------
    Facing
    """
    shoulders = _across(body.points_m, "shoulder")
    hips = _across(body.points_m, "hip")
    line = shoulders / np.linalg.norm(shoulders) + hips / np.linalg.norm(hips)
    height = float(np.ptp(body.points_px[:, 1]))
    wrists = _both(body.points_px, "wrist")
    hands = (wrists.mean(axis=0) - _both(body.points_px, "hip").mean(axis=0)) / height
    standing = (_both(body.points_px, "shoulder") - _both(body.points_px, "ankle")).mean(axis=0)
    trunk_m = _both(body.points_m, "shoulder").mean(axis=0) - _both(body.points_m, "hip").mean(
        axis=0
    )
    return Facing(
        turn=float(np.arctan2(line[2], line[0])),
        hands_across=float(hands[0]),
        hands_below=float(hands[1]),
        hands_apart=float(np.hypot(*(wrists[0] - wrists[1]))) / height,
        bend_to_camera=float(np.arctan2(-trunk_m[2], -trunk_m[1])),
        lean=float(np.arctan2(standing[0], -standing[1])),
    )


def _both(points: Array, stem: str) -> Array:
    return points[[GENERAL_POINTS[f"left_{stem}"], GENERAL_POINTS[f"right_{stem}"]]]


def _across(points: Array, stem: str) -> Array:
    """From the right to the left of the body; a body facing the camera gives +x."""
    left, right = _both(points, stem)
    return np.asarray(left - right)
