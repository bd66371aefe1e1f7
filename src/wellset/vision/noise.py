"""How far to trust the landmark network: its own spread, calibrated.

The network gives every point a Laplace spread *b* along x and y. On pictures it never
saw, that spread is honest to within a third; this table corrects it by landmark and
view. It speaks of rendered golfers only: the gap to real people is a separate term.
"""

from __future__ import annotations

from typing import Final

import numpy as np

from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import View
from wellset.vision.reading import Reading
from wellset.vision.values import Array

EDITION: Final = "2026-11-25"

SD_FACTORS: Final[dict[View, dict[str, float]]] = {
    View.FACE_ON: {
        "nose": 0.80, "eye": 0.79, "ear": 0.96, "shoulder": 0.77, "elbow": 0.78, "wrist": 0.87,
        "hip": 0.86, "knee": 0.89, "ankle": 0.87, "shoe_heel": 0.82, "shoe_toe": 0.82,
        "foot_ball": 0.79, "armpit": 1.10, "c7": 0.80, "t8": 0.86, "t12": 1.01, "l3": 0.96,
        "s1": 0.87, "sternum": 0.79, "grip_mid": 0.78, "grip_end": 0.77, "shaft_end": 0.81,
        "club_head": 0.89, "ball": 0.78,
    },
    View.DOWN_THE_LINE: {
        "nose": 0.75, "eye": 0.93, "ear": 1.07, "shoulder": 0.94, "elbow": 0.86, "wrist": 0.68,
        "hip": 0.89, "knee": 0.84, "ankle": 0.82, "shoe_heel": 0.82, "shoe_toe": 0.77,
        "foot_ball": 0.79, "armpit": 0.97, "c7": 0.83, "t8": 0.78, "t12": 0.90, "l3": 0.85,
        "s1": 0.87, "sternum": 0.79, "grip_mid": 0.75, "grip_end": 0.75, "shaft_end": 0.89,
        "club_head": 0.82, "ball": 0.90,
    },
}  # fmt: skip
"""Factor on the standard deviation, the same for lead and trail.

How obtained: five cut-outs each of the seven tuned-on scenes (name's SHA-256 starts with
an even hexadecimal digit), both views; the factor brings the mean squared Mahalanobis
distance to 2, shrunk towards a variance factor of 0.75 worth 14 observations, because 14
to 7 observations stand behind each number. Share of errors inside the 95 % ellipse, by
five cut-outs and by one: tuned-on 96 and 94 %, held-out (17 scenes) 95 and 94 %; without
the factors 98 %, so intervals would be a quarter too wide."""

SCATTER_OF_ONE: Final = 0.45
"""A single cut-out scatters about the mean of many by this share of b (root mean square over
the scenes 0.40 to 0.47); used where only one was read."""


def covariances_px2(reading: Reading, *, view: View) -> Array:
    """Covariance of every landmark's position, ``(36, 2, 2)``, pixel squared.

    A Laplace spread *b* has the variance ``2 b²``. The scatter between cut-outs is
    added in full, not divided by their number: where the cut-outs disagree, what they
    have in common is in doubt too. The sum is scaled by the table. The golfer's sway over
    the frames of a video is no error of reading; it is added as it is.

    Parameters
    ----------
    reading : Reading
    view : View
    """
    factors = np.array([SD_FACTORS[view][_stem(name)] for name in LANDMARKS])
    spread = reading.spread_px**2
    own = 2.0 * spread[:, :, None] * np.eye(2)
    scatter = reading.scatter_px2
    if reading.crops == 1:
        scatter = SCATTER_OF_ONE**2 * spread[:, :, None] * np.eye(2)
    return np.asarray(factors[:, None, None] ** 2 * (own + scatter) + reading.sway_px2)


def _stem(name: str) -> str:
    side, _, stem = name.partition("_")
    return stem if side in {"lead", "trail"} else name
