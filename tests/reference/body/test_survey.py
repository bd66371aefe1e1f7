"""Body dimensions against the printed survey and against a second table.

Source of the numbers: ANSUR II, Gordon et al. 2014, Natick/TR-15/007, computed from its
public data file; Drillis & Contini 1966 as reproduced in Winter 2009, figure 4.1.
"""

from __future__ import annotations

import math

import pytest

from wellset.body import (
    ANSUR_MEN,
    ANSUR_WOMEN,
    LENGTHS,
    STATURE_SHARES,
    TAPE_MEASURES,
    Build,
    Sex,
    Survey,
    ball_of_foot_fraction,
)
from wellset.body.anatomy import tape_row

_SURVEYS = pytest.mark.parametrize("survey", [ANSUR_MEN, ANSUR_WOMEN], ids=["men", "women"])


def _mean_build(survey: Survey) -> Build:
    return Build(stature=survey.stature.mean, sex=survey.sex, stature_sd=1e-6)


@pytest.mark.parametrize(("sex", "percent", "sd"), [(Sex.MEN, 74.1, 1.5), (Sex.WOMEN, 73.9, 1.3)])
def test_the_ball_of_the_foot_lies_where_the_survey_puts_it(
    sex: Sex, percent: float, sd: float
) -> None:
    record = ball_of_foot_fraction(sex)
    assert 100 * record.value == pytest.approx(percent, abs=0.05)
    assert 100 * record.spread == pytest.approx(sd, abs=0.05)
    # The same from two other rows of the survey: heel to ball over foot length, 20.09/27.12
    # and 18.21/24.63 cm.
    survey = ANSUR_MEN if sex is Sex.MEN else ANSUR_WOMEN
    ratio = survey.dimensions["heel_to_ball"].mean / survey.dimensions["foot_length"].mean
    assert record.value == pytest.approx(ratio, abs=0.002)
    build = _mean_build(survey)
    assert build.length("heel_to_ball").value == pytest.approx(
        survey.dimensions["heel_to_ball"].mean, abs=0.001
    )


@pytest.mark.parametrize(
    ("sex", "percent", "sd"), [(Sex.MEN, 48.25, 1.23), (Sex.WOMEN, 48.77, 1.22)]
)
def test_wrist_to_floor_is_the_surveys_share_of_stature(
    sex: Sex, percent: float, sd: float
) -> None:
    survey = ANSUR_MEN if sex is Sex.MEN else ANSUR_WOMEN
    record = survey.fraction("wrist_height")
    assert (100 * record.value, 100 * record.spread) == pytest.approx((percent, sd))
    prior = _mean_build(survey)._prior
    expected = prior.mean[prior.row(tape_row("wrist_height"))] / survey.stature.mean
    # 0.05 points: the regression is printed to four figures.
    assert 100 * expected == pytest.approx(percent, abs=0.05)
    # Drillis & Contini's 0.485 is from memory; it agrees within the survey's spread.
    assert abs(48.5 - percent) < sd


@_SURVEYS
def test_regressions_follow_from_the_printed_spreads_where_both_are_printed(
    survey: Survey,
) -> None:
    for name, fitted in survey.published.items():
        derived = survey.derived_regression(name)
        # 0.02 in r: the spreads of ratios are printed to two or three figures, and the formula
        # is of first order. 4 % of the standard error for the same reason.
        assert derived.correlation == pytest.approx(fitted.correlation, abs=0.02)
        assert derived.see == pytest.approx(fitted.see, rel=0.04)
        assert derived(survey.stature.mean) == pytest.approx(
            fitted(survey.stature.mean), abs=0.0015
        )


@_SURVEYS
def test_what_a_tape_is_expected_to_read_has_the_surveys_mean_and_standard_error(
    survey: Survey,
) -> None:
    prior = _mean_build(survey)._prior
    rows = {
        "wrist_height": "wrist_height",
        "acromial_height": "acromial_height",
        "c7_height": "c7_height",
        "hand_length": "hand_length",
        "span": "span",
        "shoulder_breadth": "biacromial_breadth",
        "hip_breadth": "hip_breadth",
        "pelvis_breadth": "bicristal_breadth",
        "trochanter_height": "trochanterion_height",
        "crotch_height": "crotch_height",
        "knee_height": "knee_height",
        "sitting_height": "sitting_height",
        "foot_length": "foot_length",
    }
    assert set(rows) < set(TAPE_MEASURES)
    for reading, name in rows.items():
        mean = prior.mean[prior.row(tape_row(reading))]
        assert mean == pytest.approx(survey.dimensions[name].mean, abs=0.0015), reading
        assert prior.sd(tape_row(reading)) == pytest.approx(
            survey.regression(name).see, rel=1e-3
        ), reading


@_SURVEYS
def test_a_hanging_arm_spreads_as_the_survey_prints_it(survey: Survey) -> None:
    # Over everyone of the survey, so with its spread of stature: acromion minus wrist height,
    # men 3.17 cm, women 2.98 cm. This fixes how arm, shoulder and wrist go together.
    everyone = Build(
        stature=survey.stature.mean, sex=survey.sex, stature_sd=survey.stature.sd
    )._prior
    a, w = (everyone.row(tape_row(n)) for n in ("acromial_height", "wrist_height"))
    c = everyone.covariance
    spread = math.sqrt(c[a, a] + c[w, w] - 2 * c[a, w])
    assert spread == pytest.approx(survey.dimensions["acromion_to_wrist"].sd, rel=1e-3)


@_SURVEYS
def test_lengths_read_off_the_survey_keep_its_spread_over_everyone(survey: Survey) -> None:
    everyone = Build(stature=survey.stature.mean, sex=survey.sex, stature_sd=survey.stature.sd)
    for length, name in (
        ("foot_length", "foot_length"),
        ("heel_to_ball", "heel_to_ball"),
        ("hand_length", "hand_length"),
        ("wrist_to_grip", "wrist_grip"),
        ("eye_height", "eye_height"),
    ):
        assert everyone.length(length).value == pytest.approx(
            survey.dimensions[name].mean, abs=0.0015
        ), length
        # Three per cent: eye height's own spread is a round number between two derived ones.
        assert everyone.length(length).sd == pytest.approx(survey.dimensions[name].sd, rel=0.03), (
            length
        )


@_SURVEYS
@pytest.mark.parametrize(
    "name", ["ankle_height", "upper_arm", "forearm", "thigh", "shank", "trunk", "hand_length",
             "foot_length", "eye_height", "hip_height", "shoulder_height"]
)  # fmt: skip
def test_the_textbook_figure_lies_within_two_spreads_of_every_length(
    survey: Survey, name: str
) -> None:
    estimate = _mean_build(survey).length(name)
    textbook = STATURE_SHARES[name].value * survey.stature.mean
    assert abs(textbook - estimate.value) < 2 * estimate.sd


@_SURVEYS
def test_bones_stacked_from_the_ground_reach_the_hip(survey: Survey) -> None:
    build = _mean_build(survey)
    stacked = sum(build.length(n).value for n in ("ankle_height", "shank", "thigh"))
    assert stacked == pytest.approx(build.length("hip_height").value, abs=1e-9)
    assert {"ankle_height", "shank", "thigh"} < set(LENGTHS)


def test_crotch_and_sitting_height_go_apart_as_much_as_the_assumption_says() -> None:
    # From memory, an earlier survey of the same army gives about -0.75 at equal stature.
    for survey, expected in ((ANSUR_MEN, -0.67), (ANSUR_WOMEN, -0.72)):
        prior = _mean_build(survey)._prior
        i, j = (prior.row(tape_row(n)) for n in ("crotch_height", "sitting_height"))
        c = prior.covariance
        r = c[i, j] / math.sqrt(c[i, i] * c[j, j])
        assert r == pytest.approx(expected, abs=0.01)
        assert r == pytest.approx(-0.75, abs=0.1)
