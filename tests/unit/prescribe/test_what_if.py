"""How a body follows when one measure is put right."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from attrs import evolve

from tests.support.plans import task
from wellset.figure.figure import Figure
from wellset.measures import evaluate_all
from wellset.prescribe import Skeleton, WhatIf, solve_plan, what_if
from wellset.prescribe.stance_of import stance_of


@cache
def planned() -> tuple[Figure, Skeleton]:
    one = task()
    return solve_plan(one).figure, one.scene.skeleton


def answer() -> WhatIf:
    figure, skeleton = planned()
    found = what_if(figure, skeleton=skeleton, club=task().club)
    assert found is not None
    return found


def test_a_planned_figure_is_found_again_as_a_pose() -> None:
    figure, skeleton = planned()
    stance = stance_of(figure, skeleton=skeleton, club=task().club)
    assert stance.misfit_m < 0.003
    values = evaluate_all(figure)
    names = list(values)
    again = stance.model.evaluate(stance.parameters).measures
    assert again[names.index("forward_bend")] == pytest.approx(
        values["forward_bend"].value, abs=0.5
    )


def test_what_is_moved_moves_by_just_that_amount() -> None:
    found = answer()
    assert found.follow("forward_bend", 4.0)["forward_bend"] == pytest.approx(4.0)
    assert found.follow("stance_width", -0.03)["stance_width"] == pytest.approx(-0.03)


def test_a_wider_stance_moves_the_ball_within_it_and_leaves_the_club_as_long_as_it_is() -> None:
    follow = answer().follow("stance_width", 0.05)
    assert follow["stance_gap"] == pytest.approx(0.05, abs=0.01)
    assert abs(follow["shaft_angle"]) < 1.0


def test_standing_farther_from_the_ball_carries_the_hands_out() -> None:
    # published direction: farther from the ball the body bends more (Kim 2018); the arms
    # either reach or the trunk goes with the ball
    follow = answer().follow("ball_to_toes", 0.05)
    assert follow["forward_bend"] > 0 or follow["arm_hang"] > 0


def test_a_figure_that_no_pose_comes_near_is_not_moved() -> None:
    figure, skeleton = planned()
    torn = np.array(figure.points)
    torn[8:] *= (1.0, 1.0, 0.4)
    assert what_if(evolve(figure, points=torn), skeleton=skeleton, club=task().club) is None
