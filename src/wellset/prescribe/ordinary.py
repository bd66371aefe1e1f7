"""An ordinary set-up for a body and a club, to start from and to hold what nothing else does."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from wellset.prescribe.pose import LAYOUT, SIDES, Scene, place, point

Array = NDArray[np.float64]


def ordinary(
    scene: Scene, /, *, stance: float = 0.43, ball: float = 0.55, bend: float = 0.6
) -> Array:
    """Parameters of a set-up drawn by rule from the body and the club, shape (n,).

    Parameters
    ----------
    scene : Scene
    stance : float
        Between the ankles for a golfer of ordinary size, metre.
    ball : float
        Place of the ball from trail (0) to lead ankle (1).
    bend : float
        Forward bend, radian.
    """
    body, club = scene.skeleton, scene.club
    q = np.zeros(LAYOUT.size)
    q[LAYOUT["toe_up"]] = club.toe_up
    width = stance * body.size
    hands = club.head_reach + club.length * np.cos(club.lie - club.toe_up)
    # the toe joints lie a little behind the butt's plumb line
    ankle = hands + 0.10 * body.size
    for side, sign, _ in SIDES:
        x = (1 - ball) * width if sign > 0 else -ball * width
        q[LAYOUT[f"{side}_foot"]] = (x, ankle, 0.35 if sign > 0 else 0.12)
        knee = (x * 0.8, ankle - 0.10 * body.size, 0.5 * body.leg_length + 0.05 * body.size)
        q[LAYOUT[f"{side}_knee"]] = knee
    middle = (0.5 - ball) * width
    q[LAYOUT["mid_hip"]] = (middle, ankle + 0.10 * body.size, 0.97 * body.leg_length)
    q[LAYOUT["trunk"]] = (bend, 0.08, 0.0)
    values = place(q, scene)
    for side, _, _ in SIDES:
        shoulder, wrist = point(values, f"{side}_shoulder"), point(values, f"{side}_wrist")
        q[LAYOUT[f"{side}_elbow"]] = (shoulder + wrist) / 2 + np.array(
            [0.0, 0.04, -0.02]
        ) * body.size
    return q
