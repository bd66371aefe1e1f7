"""What is known about the body and the club, in the form the estimate takes it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.figure.landmarks import INDEX, LANDMARKS

Array = NDArray[np.float64]


@frozen(kw_only=True)
class Known:
    """A length with its standard uncertainty, metre."""

    value: float
    sd: float


@frozen(kw_only=True, eq=False)
class BodyKnowledge:
    """Lengths of one student's body, in metre, with standard uncertainties.

    Parameters
    ----------
    stature : float
    lengths : mapping of name to Known
        Names of :data:`SEGMENTS`.
    heights : mapping of name to Known
        Height above the ground of ``ankle`` and ``foot_ball`` in shoes.
    scalars : mapping of name to Known
        Means and spreads of :data:`wellset.figure.figure.BUILD_SCALARS`.
    scale_sd : float
        Relative spread common to all lengths: the joint centres of one definition lie a
        little outside or inside those of another.
    mass_weights : (N,) array
    """

    stature: float
    lengths: Mapping[str, Known]
    heights: Mapping[str, Known]
    scalars: Mapping[str, Known]
    scale_sd: float
    mass_weights: Array


@frozen(kw_only=True)
class ClubKnowledge:
    """The club and ball as the estimate needs them."""

    length: Known
    ball_height: Known
    """Height of the ball's centre above the ground, metre."""


SEGMENTS: Final[Mapping[str, tuple[tuple[str, str], ...]]] = {
    "thigh": (("lead_hip", "lead_knee"), ("trail_hip", "trail_knee")),
    "shank": (("lead_knee", "lead_ankle"), ("trail_knee", "trail_ankle")),
    "upper_arm": (("lead_shoulder", "lead_elbow"), ("trail_shoulder", "trail_elbow")),
    "forearm": (("lead_elbow", "lead_wrist"), ("trail_elbow", "trail_wrist")),
    "shoe_length": (("lead_shoe_heel", "lead_shoe_toe"), ("trail_shoe_heel", "trail_shoe_toe")),
    "heel_to_ball": (("lead_shoe_heel", "lead_foot_ball"), ("trail_shoe_heel", "trail_foot_ball")),
    "heel_to_ankle": (("lead_shoe_heel", "lead_ankle"), ("trail_shoe_heel", "trail_ankle")),
    "hip_spacing": (("lead_hip", "trail_hip"),),
    "shoulder_spacing": (("lead_shoulder", "trail_shoulder"),),
    "trunk": (("mid_hip", "mid_shoulder"),),
    "hip_to_c7": (("mid_hip", "c7"),),
    "c7_to_ear": (("c7", "mid_ear"),),
    "ear_spacing": (("lead_ear", "trail_ear"),),
    "nose_to_ear": (("nose", "mid_ear"),),
    "eye_spacing": (("lead_eye", "trail_eye"),),
    "nose_to_eye": (("nose", "mid_eye"),),
}
"""Which pairs of points each length joins; ``mid_*`` is the midpoint of both sides."""

SYMMETRIC: Final = ("thigh", "shank", "upper_arm", "forearm", "shoe_length", "heel_to_ball")
"""Segments whose two sides are alike."""


def point_row(name: str, /) -> Array:
    """Weights over the landmarks that give a point, or the midpoint of two, shape (N,)."""
    row = np.zeros(len(LANDMARKS))
    if name.startswith("mid_"):
        row[INDEX["lead_" + name[4:]]] = row[INDEX["trail_" + name[4:]]] = 0.5
    else:
        row[INDEX[name]] = 1.0
    return row


def combinations(pairs: Sequence[tuple[str, str]], /) -> Array:
    """Rows that turn the points into the vectors between each pair, shape (m, N)."""
    return np.array([point_row(a) - point_row(b) for a, b in pairs])
