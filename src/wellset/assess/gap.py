"""The step from rendered to real people.

Our landmark network learnt from rendered golfers and was measured on rendered golfers.
No picture of a real golfer with true joint positions was available, so how much worse it
does on real people is not known. It would be dishonest to leave that at nothing. The
figures below are therefore *stated*, not measured; each is the standard uncertainty, per
coordinate and picture, that we add to the network's own. Their size: a general landmark
model's points differ from ours by 1.5-3.5 cm after its constant offsets are removed, which
bounds the gap from above. Joints hidden under clothing deserve about as much again as the
network's own error (0.3-0.9 cm); outlines, shoes and the club, which one can see, less.
Edition 2026-11.
"""

from __future__ import annotations

from typing import Final

EDITION: Final = "2026-11"

_BY_STEM_M: Final = {
    "hip": 0.005,
    "shoulder": 0.003,
    "armpit": 0.003,
    "knee": 0.0025,
    "elbow": 0.0025,
    "sternum": 0.0025,
    "s1": 0.0025,
    "ear": 0.002,
    "ankle": 0.002,
    "wrist": 0.002,
    "foot_ball": 0.002,
    "c7": 0.0015,
    "t8": 0.0015,
    "t12": 0.0015,
    "l3": 0.0015,
    "eye": 0.0015,
    "nose": 0.0015,
    "shoe_heel": 0.0015,
    "shoe_toe": 0.0015,
    "grip_mid": 0.0015,
    "grip_end": 0.0015,
    "shaft_end": 0.0015,
    "club_head": 0.0015,
    "ball": 0.001,
}


def gap_m(landmark: str, /) -> float:
    """Standard uncertainty of a landmark from the rendered-to-real gap, metre."""
    return _BY_STEM_M[landmark.removeprefix("lead_").removeprefix("trail_")]
