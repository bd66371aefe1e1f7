"""Trunk, head and arms as linear forms."""

from __future__ import annotations

import math

from wellset.body import conventions as known
from wellset.body.forms import STATURE, LinearForm, convention, source
from wellset.body.legs import Forms, from_stature, rest
from wellset.body.survey import Survey


def arm_forms(survey: Survey) -> tuple[Forms, Forms]:
    """Lengths of the arm, and what a tape reads on it.

    Notes
    -----
    Upper arm and forearm differ between people independently at equal stature (their
    correlation was not computed). The survey's spread of acromion height minus wrist
    height fixes what a hanging arm adds to its two bones, and its standard errors of both
    heights fix how far a high acromion goes with a long upper arm: both are derived, none
    assumed. In a span both arms, both hands and the shoulders count.
    """
    fit = {
        name: survey.regression(name)
        for name in ("acromial_height", "wrist_height", "acromion_radiale", "radiale_stylion",
                     "hand_length", "biacromial_breadth", "span")
    }  # fmt: skip
    upper, lower = fit["acromion_radiale"].see, fit["radiale_stylion"].see
    shared, slack_sd = _hanging_arm(survey)
    acromion_residual = acromion_source(survey)
    humerus = (shared / fit["acromial_height"].see ** 2) * acromion_residual
    humerus = humerus + source("upper arm length", sd=rest(upper, humerus))
    radius = source("forearm length", sd=lower)
    hand_residual = source("hand length", sd=fit["hand_length"].see)
    slack = source("hang of the arm", sd=slack_sd)
    breadth = source("shoulder breadth", sd=fit["biacromial_breadth"].see)
    reach = breadth + 2.0 * (humerus + radius + hand_residual)

    upper_arm = from_stature(fit["acromion_radiale"], humerus)
    forearm = from_stature(fit["radiale_stylion"], radius)
    hand = from_stature(fit["hand_length"], hand_residual)
    biacromial = from_stature(fit["biacromial_breadth"], breadth)
    drop, inside = shoulder_drop(), known.SHOULDER_INSIDE_ACROMION
    elbow = convention(
        "elbow centre",
        value=known.ELBOW_FROM_RADIALE.value,
        sd=known.ELBOW_FROM_RADIALE.spread,
    )
    wrist = known.WRIST_FROM_STYLION
    lengths = {
        "upper_arm": upper_arm - drop + elbow,
        "forearm": forearm - elbow + convention("wrist centre", value=wrist.value, sd=wrist.spread),
        "wrist_to_grip": _wrist_to_grip(survey, hand=hand),
        "hand_length": hand,
        "shoulder_joint_spacing": biacromial
        - convention("shoulder centres, inward", value=2 * inside.value, sd=2 * inside.spread),
    }
    readings = {
        "wrist_height": from_stature(
            fit["wrist_height"], acromion_residual, -1.0 * (humerus + radius), slack
        ),
        "arm_length": upper_arm + forearm,
        "hand_length": hand,
        "shoulder_breadth": biacromial,
        "span": from_stature(fit["span"], reach, source("span", sd=rest(fit["span"].see, reach))),
    }
    return lengths, readings


def trunk_forms(survey: Survey, *, hip_height: LinearForm) -> tuple[Forms, Forms]:
    """Lengths of trunk, neck and head, and what a tape reads on them.

    Notes
    -----
    Neck height, acromion height and hip height differ between people independently at
    equal stature (their correlations were not computed). At address the back rounds, which
    shortens hip to neck and hip to shoulder alike.
    """
    neck_fit = survey.regression("c7_height")
    c7 = from_stature(neck_fit, source("neck height", sd=neck_fit.see))
    acromion = from_stature(survey.regression("acromial_height"), acromion_source(survey))
    rounded = LinearForm(constant=known.BACK_ROUNDED_AT_ADDRESS.value) + source(
        "rounding of the back", sd=known.BACK_ROUNDED_AT_ADDRESS.spread
    )
    stature = LinearForm(loads={STATURE: 1.0})
    shoulder = acromion - shoulder_drop()
    eye_share = survey.dimensions["eye_height"].mean / survey.stature.mean
    ear = known.C7_TO_EAR
    lengths = {
        "trunk": shoulder - hip_height + rounded,
        "hip_to_c7": c7 - hip_height + rounded,
        "c7_to_vertex": stature - c7,
        "c7_to_ear": ear.value * stature
        + source("neck to ear", sd=ear.spread * survey.stature.mean),
        "eye_height": eye_share * stature + source("eye height", sd=known.EYE_BELOW_TOP.spread),
        "shoulder_height": shoulder,
    }
    return lengths, {"acromial_height": acromion, "c7_height": c7}


def pelvis_forms(survey: Survey) -> tuple[Forms, Forms]:
    """Spacing of the hip joints, and what a tape reads across the hips.

    Notes
    -----
    The survey has the breadth of the pelvis at its crests, not between its front spines,
    so the regression on the latter gets an assumed ratio. Breadth over the hips goes with
    it by an assumed correlation of a half at equal stature.
    """
    crest_fit = survey.regression("bicristal_breadth")
    hips_fit = survey.regression("hip_breadth")
    r = known.BICRISTAL_HIP_CORRELATION.value
    unit = source("pelvis breadth", sd=1.0)
    crest = from_stature(crest_fit, crest_fit.see * unit)
    hips = from_stature(
        hips_fit,
        (r * hips_fit.see) * unit,
        source("hip breadth", sd=hips_fit.see * math.sqrt(1 - r**2)),
    )
    ratio = known.PELVIC_WIDTH_OF_BICRISTAL
    width = ratio.value * crest + convention(
        "pelvis width",
        value=0.0,
        sd=ratio.spread * survey.dimensions["bicristal_breadth"].mean,
    )
    per_width = known.hip_spacing(1.0) - known.hip_spacing(0.0)
    spacing = (
        per_width * width
        + known.hip_spacing(0.0)
        + convention("hip centres, apart", value=0.0, sd=known.HIP_SPACING_SPREAD.spread)
    )
    return {"hip_joint_spacing": spacing}, {"pelvis_breadth": crest, "hip_breadth": hips}


def acromion_source(survey: Survey) -> LinearForm:
    """What acromion height differs by at equal stature; arms and trunk share it."""
    return source("acromion height", sd=survey.regression("acromial_height").see)


def shoulder_drop() -> LinearForm:
    """From acromion down to the shoulder's centre; arms and trunk share it."""
    record = known.SHOULDER_BELOW_ACROMION
    return convention("shoulder centre", value=record.value, sd=record.spread)


def _hanging_arm(survey: Survey) -> tuple[float, float]:
    """Covariance of acromion height with upper arm, and the spread of a hanging arm.

    With ``d`` the variance of acromion minus wrist height at equal stature and ``c`` the
    covariance sought: ``see_wrist² = see_acromion² + d - 2 c``, and what ``d`` exceeds the
    variances of the two bones by belongs to the hang.
    """
    acromion, wrist = survey.regression("acromial_height"), survey.regression("wrist_height")
    slope = acromion.slope - wrist.slope
    d = survey.dimensions["acromion_to_wrist"].sd ** 2 - (slope * survey.stature.sd) ** 2
    covariance = (acromion.see**2 + d - wrist.see**2) / 2
    bones = sum(
        survey.regression(name).see ** 2 for name in ("acromion_radiale", "radiale_stylion")
    )
    return covariance, math.sqrt(d - bones)


def _wrist_to_grip(survey: Survey, *, hand: LinearForm) -> LinearForm:
    """Wrist crease to the centre of the grip: a share of the hand and a spread of its own."""
    grip, length = survey.dimensions["wrist_grip"], survey.dimensions["hand_length"]
    share = grip.mean / length.mean
    own = math.sqrt(grip.sd**2 - (share * length.sd) ** 2)
    return share * hand + source("centre of the grip", sd=own)
