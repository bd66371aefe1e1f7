"""A student's build and club as the estimate takes them.

The lengths of a build follow published definitions of the joint centres. The landmark
network places joints where the skeleton of its training bodies has them, which is one
opinion among several; the spreads are widened by that difference of opinion.
"""

from __future__ import annotations

from math import hypot
from typing import Final

from wellset.assess.knowledge import BodyKnowledge, ClubKnowledge, Known
from wellset.body import Build, mass_model
from wellset.equipment import STANDARD_BALL, Club, tee_height
from wellset.figure import dress
from wellset.figure.mass import mass_weights

JOINT_CONVENTION: Final = 0.04
"""Relative difference between two definitions of the same joint's place, as a share of the
segment: authors differ by 1-2 cm on segments of 25-45 cm (de Leva 1996b; Harrington 2007)."""
HIP_CONVENTION_M: Final = 0.035
"""The same for the spacing of the hips, where definitions differ most: regressions from the
pelvis give 16-19 cm (Harrington 2007), skeletons of body models up to 24 cm."""
COMMON_SCALE: Final = 0.02
"""Relative spread of all joint-to-joint lengths together, for the same reason."""
THIGH_FRONT_M, THIGH_FRONT_SD_M = dress.THIGH_FRONT_M
SHOE_TURN_SD_M: Final = 0.009
"""How far turned feet change the breadth that two shoes take from the gap (geometry of a
30 cm shoe turned by 10 degrees about the ankle; our judgement)."""
NAPE_CLOTH: Final = Known(value=dress.NAPE_CLOTH_M[0], sd=dress.NAPE_CLOTH_M[1])
MASS_OFFSET_SD_M: Final = (0.004, 0.009)
"""Error of a mass table's centre of mass along x and y: two published tables differ by a
centimetre in a bent posture, and bodies differ (de Leva 1996 against Dempster 1955)."""
FACE: Final = {
    "ear_spacing": Known(value=0.150, sd=0.020),
    "nose_to_ear": Known(value=0.120, sd=0.020),
    "eye_spacing": Known(value=0.063, sd=0.006),
    "nose_to_eye": Known(value=0.055, sd=0.012),
}
"""Head breadth 15.1 cm, distance between the pupils 6.3 cm (ANSUR II); the others are our
judgement of an ordinary head."""
SHOE_END_HEIGHT: Final = Known(value=dress.SHOE_END_HEIGHT_M[0], sd=dress.SHOE_END_HEIGHT_M[1])
"""Where the landmark network was taught to place a shoe's visible ends."""


def _known(build: Build, name: str, *, convention: float = 0.0) -> Known:
    found = build.length(name)
    return Known(value=found.value, sd=hypot(found.sd, convention * found.value))


def body_knowledge(build: Build, /) -> BodyKnowledge:
    """Lengths, heights and mass of one student for the estimate."""
    return BodyKnowledge(
        stature=build.stature,
        lengths=_lengths(build),
        heights=_heights(build),
        scalars=_scalars(build),
        scale_sd=COMMON_SCALE,
        mass_weights=mass_weights(mass_model(build.sex).with_row("trunk, mid-shoulder")),
    )


def _lengths(build: Build) -> dict[str, Known]:
    joints = {
        name: _known(build, name, convention=JOINT_CONVENTION)
        for name in ("thigh", "shank", "upper_arm", "forearm", "trunk", "hip_to_c7")
    }
    hip = build.length("hip_joint_spacing")
    shoulder = build.length("shoulder_joint_spacing")
    shoe = build.length("shoe_length")
    # heel and toes of the foot lie a little inside the ends of the shoe
    inside = (shoe.value - build.length("foot_length").value) / 2
    return {
        **joints,
        **FACE,
        "hip_spacing": Known(value=hip.value, sd=hypot(hip.sd, HIP_CONVENTION_M)),
        "shoulder_spacing": Known(value=shoulder.value, sd=hypot(shoulder.sd, 0.02)),
        "shoe_length": Known(value=shoe.value, sd=shoe.sd),
        "heel_to_ball": Known(value=build.length("heel_to_ball").value + inside, sd=0.015),
        "c7_to_ear": _known(build, "c7_to_ear", convention=0.1),
    }


def _heights(build: Build) -> dict[str, Known]:
    """Heights above the ground, in shoes."""
    sole = build.length("sole_thickness")
    ankle = build.length("ankle_height")
    ball, ball_sd = dress.FOOT_BALL_OVER_SOLE_M
    return {
        "ankle": Known(value=ankle.value + sole.value, sd=hypot(ankle.sd, sole.sd)),
        "foot_ball": Known(value=sole.value + ball, sd=hypot(sole.sd, ball_sd)),
        "shoe_heel": SHOE_END_HEIGHT,
        "shoe_toe": SHOE_END_HEIGHT,
    }


def _scalars(build: Build) -> dict[str, Known]:
    thigh = build.length("half_thigh_depth")
    breadth = build.length("shoe_heel_breadth")
    return {
        "shoe_breadth": Known(value=breadth.value, sd=hypot(breadth.sd, SHOE_TURN_SD_M)),
        "thigh_half_depth": Known(
            value=thigh.value + THIGH_FRONT_M, sd=hypot(thigh.sd, THIGH_FRONT_SD_M)
        ),
        "nape_cloth": NAPE_CLOTH,
        "mass_offset_x": Known(value=0.0, sd=MASS_OFFSET_SD_M[0]),
        "mass_offset_y": Known(value=0.0, sd=MASS_OFFSET_SD_M[1]),
    }


def club_knowledge(club: Club, /) -> ClubKnowledge:
    """Length of the club and height of the ball for the estimate."""
    tee = tee_height(club.kind)
    return ClubKnowledge(
        length=Known(value=club.length_m, sd=club.length_sd_m),
        ball_height=Known(
            value=STANDARD_BALL.diameter_m / 2 + tee.value, sd=max(tee.sd or 0.0, 0.002)
        ),
    )
