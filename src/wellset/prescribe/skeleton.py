"""A student's body as a chain of segments of fixed length, with points that ride on them.

Lengths come from the build. Where a point rides on the trunk (the outline of the back, the
breastbone, the face) is a share of hip to neck, the mean over two dozen rendered golfers;
the spread behind each is about 0.02 of that length, a centimetre.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import evolve, field, fields, frozen
from numpy.typing import NDArray

from wellset.body import Build, mass_model
from wellset.figure import dress
from wellset.figure.figure import BUILD_SCALARS
from wellset.figure.mass import mass_weights

Array = NDArray[np.float64]

REFERENCE_STATURE_M: Final = 1.75
"""Spreads of soft knowledge are written for a golfer of this height and grow with the body."""

TRUNK_POINTS: Final = {
    "s1": (0.0, -0.149, 0.149),
    "l3": (0.0, -0.123, 0.300),
    "t12": (0.0, -0.120, 0.436),
    "t8": (0.0, -0.130, 0.667),
    "c7": (0.0, 0.0, 1.0),
    "sternum": (0.0, 0.245, 0.764),
    "ear": (0.128, 0.180, 1.183),
    "eye": (0.053, 0.335, 1.162),
    "nose": (0.0, 0.386, 1.072),
}
"""Lead, forward and up the trunk from mid-hip, as shares of hip to neck; paired points are
given for the lead side. Mean over 24 rendered golfers at address; lead and trail averaged."""
ARMPIT_FROM_SHOULDER: Final = (-0.077, -0.006, -0.081)
"""The same, from the shoulder's centre."""
SHOULDER_FORWARD: Final = 0.125
"""How far in front of the line from hips to neck the middle of the shoulders is at rest at
address, same golfers (spread 0.02). How far up it lies follows from the trunk's length, which
decides it well; the other way round a hundredth of that length would be half of this."""
COLLARBONE_FOOT_M: Final = 0.025
"""Half the distance between the two joints where the collarbones meet the breastbone, out to
about the notch's edge (from memory; anatomy texts give 2 to 3 cm)."""


@frozen(kw_only=True, eq=False)
class Skeleton:
    """Lengths of one student in shoes, metre, and what rides on them.

    Parameters
    ----------
    size : float
        Stature over :data:`REFERENCE_STATURE_M`; soft spreads of length grow with it.
    thigh, shank, upper_arm, forearm, wrist_to_grip : (2,) arrays
        Lead and trail.
    hip_spacing, hip_to_neck : float
    shoulder : (3,) array
        Lead shoulder at rest, in the trunk: lead, forward, up.
    collarbone_foot : (3,) array
        Where the lead collarbone turns, likewise; the shoulder moves about it.
    heel_to_ankle, heel_to_ball, shoe_length : float
        Along the shoe from its visible heel.
    ankle_height, foot_ball_height, shoe_end_height : float
        Above the ground.
    hand_breadth : float
        What one hand takes of the grip.
    scalars : (5,) array
        In the order of :data:`wellset.figure.figure.BUILD_SCALARS`.
    mass_weights : (N,) array
    """

    size: float
    thigh: Array
    shank: Array
    upper_arm: Array
    forearm: Array
    wrist_to_grip: Array
    hip_spacing: float
    hip_to_neck: float
    shoulder: Array
    collarbone_foot: Array
    heel_to_ankle: float
    heel_to_ball: float
    shoe_length: float
    ankle_height: float
    foot_ball_height: float
    shoe_end_height: float
    hand_breadth: float
    scalars: Array
    mass_weights: Array = field(repr=False)

    def scaled(self, factor: float, /) -> Skeleton:
        """The same body, every length times the factor."""
        lengths = {
            one.name: getattr(self, one.name) * factor
            for one in fields(Skeleton)
            if one.name != "mass_weights"
        }
        return evolve(self, **lengths)

    @property
    def leg_length(self) -> float:
        """Ground to hip joint, standing in shoes, metre."""
        return float(self.thigh.mean() + self.shank.mean() + self.ankle_height)


def _both(value: float) -> Array:
    return np.array([value, value])


HAND_BREADTH_OF_LENGTH: Final = 0.37
"""Length of grip between the middles of both hands, overlapping by a finger, as a share of
hand length: 7.1 cm apart on 24 rendered golfers with hands of about 19 cm."""


def skeleton_of(build: Build, /) -> Skeleton:
    """The skeleton of a build: its best lengths, both sides alike."""
    known = {name: build.length(name).value for name in build.lengths().names}
    spacing = known["shoulder_joint_spacing"] / 2
    forward = SHOULDER_FORWARD * known["hip_to_c7"]
    up = float(np.sqrt(known["trunk"] ** 2 - forward**2))
    # the shoe sticks out as far behind the heel as in front of the toes
    inside = (known["shoe_length"] - known["foot_length"]) / 2
    scalars = {
        "shoe_breadth": known["shoe_heel_breadth"],
        "thigh_half_depth": known["half_thigh_depth"] + dress.THIGH_FRONT_M[0],
        "nape_cloth": dress.NAPE_CLOTH_M[0],
        "mass_offset_x": 0.0,
        "mass_offset_y": 0.0,
    }
    return Skeleton(
        size=build.stature / REFERENCE_STATURE_M,
        thigh=_both(known["thigh"]),
        shank=_both(known["shank"]),
        upper_arm=_both(known["upper_arm"]),
        forearm=_both(known["forearm"]),
        wrist_to_grip=_both(known["wrist_to_grip"]),
        hip_spacing=known["hip_joint_spacing"],
        hip_to_neck=known["hip_to_c7"],
        shoulder=np.array([spacing, forward, up]),
        collarbone_foot=np.array([COLLARBONE_FOOT_M, forward, up]),
        heel_to_ankle=known["heel_to_ankle"] + inside,
        heel_to_ball=known["heel_to_ball"] + inside,
        shoe_length=known["shoe_length"],
        ankle_height=known["ankle_height"] + known["sole_thickness"],
        foot_ball_height=known["sole_thickness"] + dress.FOOT_BALL_OVER_SOLE_M[0],
        shoe_end_height=dress.SHOE_END_HEIGHT_M[0],
        hand_breadth=HAND_BREADTH_OF_LENGTH * known["hand_length"],
        scalars=np.array([scalars[name] for name in BUILD_SCALARS]),
        mass_weights=mass_weights(mass_model(build.sex).with_row("trunk, mid-shoulder")),
    )
