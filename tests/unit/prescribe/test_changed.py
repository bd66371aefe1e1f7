"""The set-up after one change."""

from __future__ import annotations

import numpy as np
import pytest

from tests.support.plans import task
from wellset.figure.figure import Figure
from wellset.measures import evaluate_all
from wellset.prescribe import changed, solve_plan, what_if

BONES = (
    ("lead_hip", "lead_knee"),
    ("trail_knee", "trail_ankle"),
    ("lead_shoulder", "lead_elbow"),
    ("trail_elbow", "trail_wrist"),
    ("grip_end", "shaft_end"),
)


def moved(measure: str, amount: float) -> tuple[Figure, Figure | None]:
    one = task()
    figure = solve_plan(one).figure
    answer = what_if(figure, skeleton=one.scene.skeleton, club=one.club)
    assert answer is not None
    assert answer.stance is not None
    return figure, changed(figure, answer.stance, measure=measure, amount=amount)


def test_nothing_moves_where_nothing_is_changed() -> None:
    before, after = moved("forward_bend", 0.0)
    assert after is not None
    np.testing.assert_allclose(after.points, before.points, atol=1e-6)


@pytest.mark.parametrize(
    ("measure", "amount"),
    [("forward_bend", 12.0), ("arm_hang", 10.0), ("stance_width", 0.12), ("lead_knee_flex", 15.0)],
)
def test_a_large_change_is_met_and_every_bone_stays_as_long(measure: str, amount: float) -> None:
    before, after = moved(measure, amount)
    assert after is not None
    values = [evaluate_all(figure)[measure].value for figure in (before, after)]
    assert values[1] - values[0] == pytest.approx(amount, rel=0.1)
    for first, second in BONES:
        lengths = [np.linalg.norm(f[first] - f[second]) for f in (before, after)]
        assert lengths[1] == pytest.approx(lengths[0], abs=0.004)


def test_feet_stay_on_the_ground_and_the_club_keeps_its_length() -> None:
    before, after = moved("stance_width", 0.10)
    assert after is not None
    for side in ("lead", "trail"):
        assert after[f"{side}_shoe_toe"][2] == pytest.approx(before[f"{side}_shoe_toe"][2])


def test_a_small_change_follows_the_straight_line() -> None:
    one = task()
    figure = solve_plan(one).figure
    line = what_if(figure, skeleton=one.scene.skeleton, club=one.club)
    assert line is not None
    _, after = moved("forward_bend", 0.5)
    assert after is not None
    before, now = evaluate_all(figure), evaluate_all(after)
    follow = line.follow("forward_bend", 0.5)
    for name in ("arm_hang", "heel_toe_balance", "ball_to_toes", "lead_knee_flex"):
        # the straight line of half a degree bends by far less than this
        assert now[name].value - before[name].value == pytest.approx(follow[name], abs=0.05)


def test_a_change_that_no_body_can_follow_is_not_shown() -> None:
    assert moved("forward_bend", 170.0)[1] is None
