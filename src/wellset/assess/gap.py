"""The step from rendered to real people.

Our landmark network learnt from rendered golfers and was measured on rendered golfers.
No picture of a real golfer with true joint positions was available, so how much worse it
does on real people is not known. It would be dishonest to leave that at nothing. The
figures below are therefore *stated*, not measured; each is the standard uncertainty, per
coordinate and picture, that we add to the network's own. Their size: a general landmark
model's points differ from ours by 1.5-3.5 cm after its constant offsets are removed, which
bounds the gap from above; joints hidden under clothing deserve more than the edges one can
see. Edition 2026-11.
"""

from __future__ import annotations

from typing import Final

EDITION: Final = "2026-11"

_BY_STEM_M: Final = {
    "hip": 0.008,
    "shoulder": 0.006,
    "armpit": 0.006,
    "knee": 0.005,
    "elbow": 0.005,
    "t8": 0.004,
    "t12": 0.004,
    "l3": 0.004,
    "s1": 0.005,
    "c7": 0.004,
    "sternum": 0.005,
    "ankle": 0.004,
    "wrist": 0.004,
    "foot_ball": 0.004,
    "ear": 0.004,
    "shoe_heel": 0.003,
    "shoe_toe": 0.003,
    "eye": 0.003,
    "nose": 0.003,
    "grip_mid": 0.003,
    "grip_end": 0.003,
    "shaft_end": 0.003,
    "club_head": 0.003,
    "ball": 0.0015,
}


def gap_m(landmark: str, /) -> float:
    """Standard uncertainty of a landmark from the rendered-to-real gap, metre."""
    return _BY_STEM_M[landmark.removeprefix("lead_").removeprefix("trail_")]
