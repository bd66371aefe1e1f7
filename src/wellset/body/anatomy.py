"""All lengths and all tape readings of a body, jointly distributed."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Final

from wellset.body.ansur import ANSUR_II, ANSUR_MEN, ANSUR_WOMEN
from wellset.body.forms import CONVENTION, LinearForm
from wellset.body.gaussian import NamedGaussian, pooled
from wellset.body.legs import foot_forms, leg_forms, thigh_depth_forms
from wellset.body.sex import Sex
from wellset.body.survey import Survey
from wellset.body.trunk_and_arms import arm_forms, pelvis_forms, trunk_forms

LENGTH_DEFINITIONS: Final[Mapping[str, str]] = MappingProxyType(
    {
        "thigh": "hip joint centre to knee joint centre",
        "shank": "knee joint centre to ankle joint centre",
        "ankle_height": "ankle joint centre above the ground, barefoot",
        "hip_height": "hip joint centres above the ground, standing barefoot",
        "foot_length": "heel to longest toe, bare foot",
        "heel_to_ball": "heel to the line of the toe-base joints, bare foot",
        "heel_to_ankle": "heel to ankle joint centre, along the bare foot",
        "shoe_length": "heel to toe of the shoe, outside",
        "shoe_heel_breadth": "breadth of the shoe at the ankle, outside",
        "sole_thickness": "sole of the shoe under the ankle",
        "half_thigh_depth": "axis of the thigh to its front, half-way down",
        "hip_joint_spacing": "hip joint centre to hip joint centre",
        "trunk": "mid-hip to mid-shoulder joint centres, at address",
        "hip_to_c7": "mid-hip joint centre to the seventh neck bone, at address",
        "c7_to_vertex": "seventh neck bone to the top of the head, height difference standing",
        "c7_to_ear": "seventh neck bone to the middle between the ear holes",
        "eye_height": "eyes above the ground, standing barefoot",
        "shoulder_height": "shoulder joint centres above the ground, standing barefoot",
        "upper_arm": "shoulder joint centre to elbow joint centre",
        "forearm": "elbow joint centre to wrist joint centre",
        "wrist_to_grip": "wrist crease to the centre of a gripped rod",
        "hand_length": "wrist crease to the tip of the middle finger",
        "shoulder_joint_spacing": "shoulder joint centre to shoulder joint centre",
    }
)
"""Every length a build knows, with the two ends it lies between."""

LENGTHS: Final = tuple(LENGTH_DEFINITIONS)

_TAPE: Final = "tape: "
_SURVEYS: Final = {ANSUR_II.name: {Sex.MEN: ANSUR_MEN, Sex.WOMEN: ANSUR_WOMEN}}
LENGTH_EDITIONS: Final = tuple(_SURVEYS)
"""Names of the tables of lengths; the first is the default."""


def tape_row(reading: str) -> str:
    """Name under which a tape reading stands beside the lengths."""
    return _TAPE + reading


def prior(
    sex: Sex, *, stature: float, stature_sd: float, widening: float, edition: str
) -> NamedGaussian:
    """All lengths and tape readings of a person of whom only stature is known.

    Parameters
    ----------
    sex : Sex
    stature, stature_sd : float
        Metres.
    widening : float
        Factor on the differences between people, for statures the survey did not cover.
    edition : str
        One of :data:`LENGTH_EDITIONS`.
    """
    if sex is Sex.POOLED:
        men, women = (
            prior(s, stature=stature, stature_sd=stature_sd, widening=widening, edition=edition)
            for s in (Sex.MEN, Sex.WOMEN)
        )
        return pooled(men, women)
    return NamedGaussian.from_forms(
        _forms(sex, edition=edition), stature=stature, stature_sd=stature_sd, widening=widening
    )


@cache
def convention_sd(name: str, *, sex: Sex, edition: str) -> float:
    """The part of a length's spread that is a choice of definition, metres."""
    if sex is Sex.POOLED:
        return math.sqrt(
            sum(convention_sd(name, sex=s, edition=edition) ** 2 for s in (Sex.MEN, Sex.WOMEN)) / 2
        )
    loads = _forms(sex, edition=edition)[name].loads
    return math.sqrt(sum(x**2 for key, x in loads.items() if key.startswith(CONVENTION)))


@cache
def _forms(sex: Sex, *, edition: str) -> Mapping[str, LinearForm]:
    """Lengths in the order of :data:`LENGTHS`, then tape readings."""
    survey: Survey = _SURVEYS[edition][sex]
    legs = leg_forms(survey)
    groups = (
        legs,
        foot_forms(survey),
        thigh_depth_forms(survey),
        pelvis_forms(survey),
        trunk_forms(survey, hip_height=legs[0]["hip_height"]),
        arm_forms(survey),
    )
    lengths = {name: form for group, _ in groups for name, form in group.items()}
    readings = {tape_row(name): form for _, group in groups for name, form in group.items()}
    return MappingProxyType({**{name: lengths[name] for name in LENGTHS}, **readings})
