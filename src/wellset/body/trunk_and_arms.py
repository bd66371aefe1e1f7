"""Trunk, head and arms as linear forms."""

from __future__ import annotations

import math

from wellset.body import conventions as known
from wellset.body.forms import STATURE, LinearForm, convention, source
from wellset.body.legs import Forms, from_stature, rest, step
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
    names = ("acromion_radiale", "radiale_stylion", "hand_length", "biacromial_breadth")
    fit = {name: survey.regression(name) for name in names}
    shared, slack_sd = _hanging_arm(survey)
    acromion = acromion_source(survey)
    humerus = (shared / acromion.variance()) * acromion
    humerus = humerus + source("upper arm length", sd=rest(fit["acromion_radiale"].see, humerus))
    radius = source("forearm length", sd=fit["radiale_stylion"].see)
    palm = source("hand length", sd=fit["hand_length"].see)
    breadth = source("shoulder breadth", sd=fit["biacromial_breadth"].see)

    upper_arm = from_stature(fit["acromion_radiale"], humerus)
    forearm = from_stature(fit["radiale_stylion"], radius)
    hand = from_stature(fit["hand_length"], palm)
    biacromial = from_stature(fit["biacromial_breadth"], breadth)
    elbow = step("elbow centre", known.ELBOW_FROM_RADIALE)
    inward = step("shoulder centres, inward", known.SHOULDER_INSIDE_ACROMION)
    lengths = {
        "upper_arm": upper_arm - shoulder_drop() + elbow,
        "forearm": forearm - elbow + step("wrist centre", known.WRIST_FROM_STYLION),
        "wrist_to_grip": _wrist_to_grip(survey, hand=hand),
        "hand_length": hand,
        "shoulder_joint_spacing": biacromial - 2.0 * inward,
    }
    hang = source("hang of the arm", sd=slack_sd)
    readings = {
        "wrist_height": from_stature(
            survey.regression("wrist_height"), acromion - humerus - radius, hang
        ),
        "arm_length": upper_arm + forearm,
        "hand_length": hand,
        "shoulder_breadth": biacromial,
        "span": _span(survey, reach=breadth + 2.0 * (humerus + radius + palm)),
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
    return step("shoulder centre", known.SHOULDER_BELOW_ACROMION)


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


def _span(survey: Survey, *, reach: LinearForm) -> LinearForm:
    """Fingertip to fingertip: shoulders, arms and hands, and how far one stretches."""
    fit = survey.regression("span")
    return from_stature(fit, reach, source("stretch of the span", sd=rest(fit.see, reach)))


def _wrist_to_grip(survey: Survey, *, hand: LinearForm) -> LinearForm:
    """Wrist crease to the centre of the grip: a share of the hand and a spread of its own."""
    grip, length = survey.dimensions["wrist_grip"], survey.dimensions["hand_length"]
    share = grip.mean / length.mean
    own = math.sqrt(grip.sd**2 - (share * length.sd) ** 2)
    return share * hand + source("centre of the grip", sd=own)
