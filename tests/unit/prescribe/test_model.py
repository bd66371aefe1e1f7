"""The rows of a plan and their derivatives."""

from __future__ import annotations

import math

import numpy as np
import pytest
from attrs import evolve

from tests.support.derivatives import numeric_jacobian
from tests.support.plans import task
from wellset.measures import MEASURES
from wellset.prescribe import Ground
from wellset.prescribe.aims import HINGE, MARGIN, PULL, Aim, AimRows, aim_of
from wellset.prescribe.model import HINGES, RELAXED, SEGMENTS, WINDOWS, BonesTerm
from wellset.prescribe.natural import JOINT_LIMITS_DEG, ROUNDED_M, points_of, smooth_hand_gap
from wellset.prescribe.ordinary import ordinary
from wellset.prescribe.pose import LAYOUT, place, trunk_axes


@pytest.mark.parametrize("source", [SEGMENTS, RELAXED, WINDOWS, HINGES])
def test_the_jacobian_is_that_of_differences(source: str) -> None:
    one = task(ground=Ground(uphill=0.05, ball_above_feet=-0.08))
    model = one.model()
    rng = np.random.default_rng(4)
    at = ordinary(one.scene) + rng.normal(scale=0.01, size=LAYOUT.size)
    _, exact = model.evaluate(at).rows[source]
    rough = numeric_jacobian(lambda q: model.evaluate(q).rows[source][0], at, step=1e-4)
    size = np.abs(exact).max()
    np.testing.assert_allclose(exact / size, rough / size, atol=1e-7)


def test_the_trunk_turns_as_one_rigid_piece() -> None:
    q = np.random.default_rng(2).normal(size=LAYOUT.size)
    axes = trunk_axes(q)
    np.testing.assert_allclose(axes @ axes.T, np.eye(3), atol=1e-12)


def test_the_forward_bend_of_the_parameters_is_that_of_the_side_view() -> None:
    q = np.zeros(LAYOUT.size)
    q[LAYOUT["trunk"]] = (math.radians(35), math.radians(8), math.radians(20))
    up = trunk_axes(q)[2]
    assert math.degrees(math.atan2(-up[1], up[2])) == pytest.approx(35)
    assert up[0] < 0  # away from the target


def test_an_aim_costs_its_pull_inside_and_a_wall_outside() -> None:
    aim = Aim(quantity="forward_bend", low=30.0, high=40.0, target=35.0, half_width=5.0)
    rows = AimRows(aims=(aim,))
    pull, wall = rows(np.array([37.0]))
    assert (pull[0], wall[0]) == (pytest.approx(PULL * 2 / 5), 0.0)
    _, wall = rows(np.array([42.0]))
    assert wall[0] == pytest.approx(HINGE * (2 + MARGIN * 5) / 5)
    _, wall = rows(np.array([30.0]))
    assert wall[0] == pytest.approx(-HINGE * MARGIN)


def test_a_window_open_on_one_side_has_no_wall_there() -> None:
    window = evolve(task().windows[0], low=None, target=None)
    aim = aim_of(window)
    assert window.high is not None
    assert aim.target < window.high
    assert aim.excess(-100.0) == 0
    assert aim.excess(window.high + 0.01) == pytest.approx(0.01)


def test_the_rounded_hand_gap_is_the_measure_but_for_its_corner() -> None:
    one = task()
    q = ordinary(one.scene)
    values = place(q, one.scene)
    exact = one.model().evaluate(q).measures[list(MEASURES).index("hand_gap")]
    assert 0 <= exact - smooth_hand_gap(values) <= ROUNDED_M / 2 + 1e-12


def test_a_pulled_bone_tells_how_it_curves() -> None:
    # an elbow on its sphere about the shoulder: the second derivative of (d² - L²) / 2 L by the
    # elbow's own coordinates is 1 / L
    one = task()
    term = BonesTerm(source=SEGMENTS, model=one.model(), hard=True)
    q = ordinary(one.scene)
    pulls = np.zeros(8)
    pulls[4] = 2.0  # the lead upper arm
    elbow = LAYOUT["lead_elbow"]
    curved = term.curvature(q, pulls)[elbow, elbow]
    np.testing.assert_allclose(curved, 2.0 / one.skeleton.upper_arm[0] * np.eye(3), atol=1e-9)


def test_joint_angles_are_those_of_the_pose() -> None:
    one = task()
    q = ordinary(one.scene)
    q[LAYOUT["trunk"]] = (0.5, math.radians(7), math.radians(-4))
    q[LAYOUT["pelvis"]] = (math.radians(3), math.radians(2))
    q[LAYOUT["lead_girdle"]] = (math.radians(11), math.radians(-6))
    angles = dict(zip(JOINT_LIMITS_DEG, one.model().evaluate(q).angles, strict=True))
    assert angles["spine_side"] == pytest.approx(5)
    assert angles["spine_turn"] == pytest.approx(-7)
    assert angles["lead_shoulder_forward"] == pytest.approx(11)
    assert angles["lead_shoulder_up"] == pytest.approx(-6)
    assert points_of(place(q, one.scene)).shape == (36, 3)
