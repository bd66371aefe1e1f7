"""Legs and feet as linear forms."""

from __future__ import annotations

import math

from wellset.body import conventions as known
from wellset.body.forms import STATURE, LinearForm, convention, source
from wellset.body.survey import Regression, Survey
from wellset.units import Record

Forms = dict[str, LinearForm]


def from_stature(fit: Regression, *residuals: LinearForm) -> LinearForm:
    """A dimension's regression on stature plus what it shares with others."""
    form = LinearForm(constant=fit.intercept, loads={STATURE: fit.slope})
    for residual in residuals:
        form = form + residual
    return form


def step(name: str, record: Record) -> LinearForm:
    """The step from a bony landmark to what lies beside it, as a convention."""
    return convention(name, value=record.value, sd=record.spread)


def rest(total_sd: float, *parts: LinearForm) -> float:
    """The spread still missing when `parts` already explain some of `total_sd`.

    Raises
    ------
    ValueError
        If the parts explain more than there is: the assumed spreads contradict the survey.
    """
    explained = sum((part.variance() for part in parts), 0.0)
    if explained > total_sd**2:
        raise ValueError(f"parts explain {explained:.6f} m² of {total_sd**2:.6f} m²")
    return math.sqrt(total_sd**2 - explained)


def leg_forms(survey: Survey) -> tuple[Forms, Forms]:
    """Lengths of the leg, and what a tape reads on it.

    Returns
    -------
    (lengths, readings) : dicts of LinearForm, metres

    Notes
    -----
    Bones are stacked: ankle height, shank and thigh differ between people independently,
    so knee and hip height share what lies below them. Trochanter, crotch and sitting
    height each see the same hip height plus a spread of their own, chosen so that each
    keeps the survey's standard error of estimate. That hip height itself spreads 1.9 cm at
    equal stature is assumed (:data:`~wellset.body.conventions.LEG_HEIGHT_SPREAD`).
    """
    fit = {
        name: survey.regression(f"{name}_height")
        for name in ("ankle", "knee", "trochanterion", "crotch", "sitting")
    }
    below = source("ankle height", sd=fit["ankle"].see)
    shin = source("shank length", sd=rest(fit["knee"].see, below))
    femur = source("thigh length", sd=rest(known.LEG_HEIGHT_SPREAD.value, below, shin))
    leg = below + shin + femur

    def own(name: str) -> LinearForm:
        return source(f"{name} height, its own spread", sd=rest(fit[name].see, leg))

    ankle = from_stature(fit["ankle"], below)
    knee = from_stature(fit["knee"], below, shin)
    hip = from_stature(fit["trochanterion"], leg)
    ankle_joint = ankle + step("ankle centre", known.ANKLE_ABOVE_MALLEOLUS)
    knee_joint = knee + step("knee centre", known.KNEE_ABOVE_EPICONDYLE)
    hip_joint = hip + step("hip centre", known.HIP_ABOVE_TROCHANTERION)
    crotch = from_stature(fit["crotch"], leg, own("crotch"))
    inseam = known.INSEAM_BELOW_CROTCH
    lengths = {
        "thigh": hip_joint - knee_joint,
        "shank": knee_joint - ankle_joint,
        "ankle_height": ankle_joint,
        "hip_height": hip_joint,
    }
    readings = {
        "knee_height": knee,
        "trochanter_height": hip + own("trochanterion"),
        "crotch_height": crotch,
        "inseam": crotch - inseam.value + source("trouser leg", sd=inseam.spread),
        "sitting_height": from_stature(fit["sitting"], -1.0 * leg, own("sitting")),
    }
    return lengths, readings


def foot_forms(survey: Survey) -> tuple[Forms, Forms]:
    """Lengths of the foot and shoe, and what a tape reads on them.

    Notes
    -----
    Heel to ball is the survey's share of foot length with its spread per person. Heel
    breadth is taken as proportional to foot length (the survey's correlation was not
    computed), which explains about 40 % of its variance.
    """
    fit = survey.regression("foot_length")
    foot = from_stature(fit, source("foot length", sd=fit.see))
    mean = survey.dimensions["foot_length"]
    heel = survey.dimensions["heel_breadth"]
    share = heel.mean / mean.mean
    heel_own = math.sqrt(heel.sd**2 - (share * mean.sd) ** 2)
    ball = known.ball_of_foot_fraction(survey.sex)
    along = known.ANKLE_ALONG_FOOT
    longer, broader, sole = (
        known.SHOE_LONGER,
        known.SHOE_BROADER_AT_HEEL,
        known.SOLE_UNDER_HEEL,
    )
    shoe = foot + longer.value + source("shoe length over foot", sd=longer.spread)
    lengths = {
        "foot_length": foot,
        "heel_to_ball": ball.value * foot + source("ball of foot", sd=ball.spread * mean.mean),
        "heel_to_ankle": along.value * foot
        + convention("ankle along the foot", value=0.0, sd=along.spread * mean.mean),
        "shoe_length": shoe,
        "shoe_heel_breadth": share * foot
        + source("heel breadth", sd=heel_own)
        + broader.value
        + source("shoe breadth over heel", sd=broader.spread),
        "sole_thickness": LinearForm(constant=sole.value)
        + source("sole of the shoe", sd=sole.spread),
    }
    return lengths, {"foot_length": foot, "shoe_length": shoe}


def thigh_depth_forms(survey: Survey) -> tuple[Forms, Forms]:
    """Half the depth of the thigh at its middle, and the girth a tape reads at its top."""
    girth_record = known.THIGH_GIRTH[survey.sex]
    r = known.THIGH_GIRTH_CORRELATION.value
    slope = r * girth_record.spread / survey.stature.sd
    girth = LinearForm(
        constant=girth_record.value - slope * survey.stature.mean, loads={STATURE: slope}
    ) + source("thigh girth", sd=girth_record.spread * math.sqrt(1 - r**2))
    share = known.MID_THIGH_SHARE
    taper = source("taper of the thigh", sd=share.spread * girth_record.value / (2 * math.pi))
    return (
        {"half_thigh_depth": (share.value / (2 * math.pi)) * girth + taper},
        {"thigh_girth": girth},
    )
