"""An ordinary set-up to start the search from.

A person of 1.75 m with a mid-iron, drawn by hand from segment proportions; only a start
and a very weak prior (:data:`START_SD_M`), it never decides a measure that a picture can.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.figure.landmarks import LANDMARKS

Array = NDArray[np.float64]

START_SD_M: Final = 1.0
"""Spread of each coordinate around the ordinary set-up. Forty points that are all held a
little hold the body as a whole far more: at 0.3 m the place of the ball against the feet was
known to 5 cm from nothing, every ball position was drawn toward the middle of the stance by
half a standard uncertainty, and 95 % intervals covered 93 % of simulated truths. At 1 m they
cover 95 %, and nothing changes beyond."""
_STATURE_M: Final = 1.75
_TYPICAL: Final = {
    "nose": (-0.05, 0.22, 1.36),
    "eye": (0.032, 0.22, 1.40),
    "ear": (0.078, 0.29, 1.44),
    "shoulder": (0.18, 0.44, 1.28),
    "elbow": (0.15, 0.47, 1.01),
    "wrist": (0.02, 0.38, 0.80),
    "hip": (0.09, 0.77, 0.92),
    "knee": (0.15, 0.65, 0.51),
    "ankle": (0.20, 0.69, 0.10),
    "shoe_heel": (0.195, 0.77, 0.012),
    "shoe_toe": (0.23, 0.47, 0.012),
    "foot_ball": (0.22, 0.55, 0.05),
    "armpit": (0.14, 0.49, 1.23),
    "c7": (-0.03, 0.45, 1.42),
    "t8": (-0.02, 0.62, 1.29),
    "t12": (-0.01, 0.70, 1.17),
    "l3": (0.0, 0.75, 1.09),
    "s1": (0.0, 0.80, 1.02),
    "sternum": (-0.02, 0.40, 1.23),
    "grip_mid": (0.0, 0.40, 0.73),
    "grip_end": (0.01, 0.45, 0.83),
    "shaft_end": (-0.03, 0.04, 0.0),
    "club_head": (-0.03, 0.02, 0.025),
    "ball": (0.0, 0.0, 0.0213),
}
_TILT_M: Final = {"shoulder": 0.03, "armpit": 0.03, "wrist": 0.03, "elbow": 0.02}
"""The lead side stands this much higher than drawn, the trail side lower."""


def typical_points(*, stature: float, ball_height: float) -> Array:
    """Points of an ordinary set-up, shape (N, 3), world frame, metre."""
    points = np.empty((len(LANDMARKS), 3))
    for i, name in enumerate(LANDMARKS):
        side, _, stem = name.partition("_")
        if side in ("lead", "trail"):
            sign = 1.0 if side == "lead" else -1.0
            x, y, z = _TYPICAL[stem]
            points[i] = (sign * x, y, z + sign * _TILT_M.get(stem, 0.0))
        else:
            points[i] = _TYPICAL[name]
    points *= stature / _STATURE_M
    points[LANDMARKS.index("ball"), 2] = ball_height
    return points
