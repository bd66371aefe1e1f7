"""What a test knows of a golfer's build and club: ordinary shares of stature."""

from __future__ import annotations

from typing import Final

from wellset.assess import BodyKnowledge, ClubKnowledge, Known, Setting
from wellset.body.deleva import de_leva
from wellset.body.sex import Sex
from wellset.figure.mass import mass_weights

SHARES: Final = {
    "thigh": (0.245, 0.05),
    "shank": (0.246, 0.05),
    "upper_arm": (0.172, 0.05),
    "forearm": (0.146, 0.05),
    "shoe_length": (0.165, 0.05),
    "hip_spacing": (0.10, 0.10),
    "shoulder_spacing": (0.20, 0.08),
    "trunk": (0.275, 0.06),
    "hip_to_c7": (0.33, 0.06),
}
"""Share of stature and relative spread; round figures near Drillis & Contini 1966 and
ANSUR II, and the joint centres of the rendered scenes."""


def build(stature: float) -> BodyKnowledge:
    """A body of ordinary proportions."""
    lengths = {
        name: Known(value=share * stature, sd=spread * share * stature)
        for name, (share, spread) in SHARES.items()
    }
    lengths |= {
        "heel_to_ball": Known(value=0.125 * stature, sd=0.012),
        "heel_to_ankle": Known(value=0.11, sd=0.02),
        "c7_to_ear": Known(value=0.105 * stature, sd=0.02),
        "ear_spacing": Known(value=0.15, sd=0.02),
        "nose_to_ear": Known(value=0.12, sd=0.02),
        "eye_spacing": Known(value=0.063, sd=0.006),
        "nose_to_eye": Known(value=0.055, sd=0.012),
    }
    return BodyKnowledge(
        stature=stature,
        lengths=lengths,
        heights={
            "ankle": Known(value=0.039 * stature + 0.03, sd=0.012),
            "foot_ball": Known(value=0.05, sd=0.015),
            "shoe_heel": Known(value=0.012, sd=0.006),
            "shoe_toe": Known(value=0.012, sd=0.006),
        },
        scalars={
            "shoe_breadth": Known(value=0.083, sd=0.010),
            "thigh_half_depth": Known(value=0.072 * stature, sd=0.014),
            "nape_cloth": Known(value=0.008, sd=0.004),
            "mass_offset_x": Known(value=0.0, sd=0.008),
            "mass_offset_y": Known(value=0.0, sd=0.012),
        },
        scale_sd=0.02,
        mass_weights=mass_weights(de_leva(Sex.POOLED)),
    )


def setting(*, stature: float, club_length: float, teed: bool = False) -> Setting:
    """Body and club of an assessment."""
    height = Known(value=0.0613, sd=0.012) if teed else Known(value=0.0213, sd=0.003)
    return Setting(
        body=build(stature),
        club=ClubKnowledge(length=Known(value=club_length, sd=0.003), ball_height=height),
    )
