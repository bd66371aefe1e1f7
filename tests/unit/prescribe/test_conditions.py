"""Slope and wind move windows by stated amounts, and the solved set-up follows."""

import math

import pytest

from tests.support.plans import task
from wellset.errors import InputError
from wellset.measures import MEASURES
from wellset.prescribe import Ground, Task, Wind, grip_down, moved, shifts, solve_plan
from wellset.prescribe.conditions import BALL_ABOVE, UPHILL, WIND


def on(slope_deg: float, *, across: bool = False) -> Task:
    angle = math.radians(slope_deg)
    ground = Ground(ball_above_feet=angle) if across else Ground(uphill=angle)
    return task(ground=ground)


def test_every_shift_is_of_a_measure_and_has_a_reason() -> None:
    for one in (*UPHILL, *BALL_ABOVE, *(s for w in WIND.values() for s in w)):
        assert one.measure in MEASURES
        assert one.reason.endswith(".")
        assert one.source in ("geometry", "common practice, no source")


def test_uphill_rests_more_on_the_trail_foot_and_tilts_the_trunk_with_the_slope() -> None:
    # common practice, no source
    up, level, down = (solve_plan(on(slope)) for slope in (6, 0, -6))
    assert up.fits
    assert down.fits
    share = [p.measures["lead_share"].value for p in (up, level, down)]
    tilt = [p.measures["side_bend"].value for p in (up, level, down)]
    ball = [p.measures["ball_position"].value for p in (up, level, down)]
    assert share == sorted(share)
    assert tilt == sorted(tilt, reverse=True)
    assert ball == sorted(ball, reverse=True)


def test_a_ball_above_the_feet_is_met_taller_and_from_farther_away() -> None:
    # common practice, no source
    above, level, below = (solve_plan(on(slope, across=True)) for slope in (6, 0, -6))
    bend = [p.measures["forward_bend"].value for p in (above, level, below)]
    away = [p.measures["ball_to_toes"].value for p in (above, level, below)]
    assert bend == sorted(bend)
    assert away == sorted(away, reverse=True)


def test_the_balance_is_that_of_gravity_not_of_the_slope() -> None:
    plan = solve_plan(on(8, across=True))
    one = plan.measures["heel_toe_balance"]
    centre = plan.figure.state.centre_of_mass
    heel = (plan.figure["lead_shoe_heel"] + plan.figure["trail_shoe_heel"])[1] / 2
    toe = (plan.figure["lead_shoe_toe"] + plan.figure["trail_shoe_toe"])[1] / 2
    # straight down along z, whatever the slope; the feet stand square to within a degree
    share = 100 * (centre[1] - heel) / (toe - heel)
    assert share == pytest.approx(one.value, abs=1.5)


def test_wind_against_moves_the_ball_back_and_the_hands_down_the_grip() -> None:
    level = Ground()
    windows = task().windows
    ball = {w.measure: w for w in moved(windows, shifts(level, Wind.AGAINST))}["ball_position"]
    assert ball.target == pytest.approx(55 - 4)
    assert "lower flight" in ball.reason
    assert grip_down(level, Wind.AGAINST) > 0 == grip_down(level, Wind.WITH)


def test_level_ground_in_still_air_changes_nothing() -> None:
    windows = task().windows
    assert shifts(Ground(), Wind.NONE) == ()
    assert moved(windows, ()) == windows


def test_too_steep_a_slope_is_refused_with_its_number() -> None:
    with pytest.raises(InputError, match="40° is steeper than the 25°"):
        Ground(uphill=math.radians(40))
