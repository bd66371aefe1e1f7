"""What a plan must be exactly, whatever the body: bones, soles, lie, hands, balance."""

import math

import numpy as np
import pytest

from tests.support.plans import BAG, bag_tasks, random_builds, task
from wellset.body import Sex
from wellset.measures import MEASURES
from wellset.prescribe import Ground, Plan, Task, solve_bag, solve_plan
from wellset.prescribe.holding import TOE_UP_RANGE

BONES = (("hip", "knee", "thigh"), ("knee", "ankle", "shank"),
         ("shoulder", "elbow", "upper_arm"), ("elbow", "wrist", "forearm"))  # fmt: skip
"""Ends of each bone and its name in a skeleton."""


@pytest.fixture(scope="module")
def plans() -> list[tuple[Task, Plan]]:
    """Thirty bodies, each with five clubs of the bag."""
    found = []
    for i, build in enumerate(random_builds(30, seed=7)):
        tasks = bag_tasks(build, [BAG[(i + step) % len(BAG)] for step in range(0, 14, 3)])
        found += list(zip(tasks, solve_bag(tasks), strict=True))
    return found


def test_every_body_gets_a_plan_or_a_named_conflict(plans: list[tuple[Task, Plan]]) -> None:
    assert len(plans) == 150
    for _, plan in plans:
        assert plan.converged
        outside = [
            p
            for p in plan.measures.values()
            if p.window is not None
            and not (
                (p.window.low is None or p.value >= p.window.low - 1e-3)
                and (p.window.high is None or p.value <= p.window.high + 1e-3)
            )
        ]
        named = {conflict.measure for conflict in plan.conflicts}
        assert {p.measure for p in outside} <= named


def test_bones_keep_their_length_to_a_tenth_of_a_millimetre(
    plans: list[tuple[Task, Plan]],
) -> None:
    for task_, plan in plans:
        for side, i in (("lead", 0), ("trail", 1)):
            for upper, lower, name in BONES:
                ends = plan.figure[f"{side}_{upper}"] - plan.figure[f"{side}_{lower}"]
                wanted = getattr(task_.skeleton, name)[i]
                assert np.linalg.norm(ends) == pytest.approx(wanted, abs=1e-4)
        hips = plan.figure["lead_hip"] - plan.figure["trail_hip"]
        assert np.linalg.norm(hips) == pytest.approx(task_.skeleton.hip_spacing, abs=1e-9)
        middle = (plan.figure["lead_hip"] + plan.figure["trail_hip"]) / 2
        back = np.linalg.norm(plan.figure["c7"] - middle)
        assert back == pytest.approx(task_.skeleton.hip_to_neck, abs=1e-9)


def test_the_club_is_soled_at_its_lie_less_the_toe_up_it_says(
    plans: list[tuple[Task, Plan]],
) -> None:
    for task_, plan in plans:
        shaft = plan.figure["grip_end"] - plan.figure["shaft_end"]
        assert np.linalg.norm(shaft) == pytest.approx(task_.club.length_m, abs=1e-9)
        assert plan.figure["shaft_end"][2] == pytest.approx(0, abs=1e-12)
        # the angle between the shaft and the sole's line from heel to toe
        lie = math.acos(shaft[1] / np.linalg.norm(shaft))
        wanted = math.degrees(task_.club.lie) - plan.floor.toe_up_deg
        assert math.degrees(lie) == pytest.approx(wanted, abs=0.01)
        assert abs(math.radians(plan.floor.toe_up_deg) - task_.held.toe_up) <= TOE_UP_RANGE + 1e-9


@pytest.mark.parametrize("asked_deg", [0.0, 2.5, 9.0])
def test_a_toe_up_that_is_asked_for_is_kept_exactly(asked_deg: float) -> None:
    plan = solve_plan(task("7-iron", toe_up=math.radians(asked_deg)))
    assert plan.floor.toe_up_deg == pytest.approx(asked_deg, abs=1e-6)


def test_hands_are_on_the_grip_one_below_the_other(plans: list[tuple[Task, Plan]]) -> None:
    for task_, plan in plans:
        shaft = plan.figure["shaft_end"] - plan.figure["grip_end"]
        down = shaft / np.linalg.norm(shaft)
        places = task_.scene.hands_along_grip
        assert 0.05 < places[0] < places[1] < 0.20
        for side, along, length in zip(
            ("lead", "trail"), places, task_.skeleton.wrist_to_grip, strict=True
        ):
            hand = plan.figure["grip_end"] + along * down
            away = np.linalg.norm(plan.figure[f"{side}_wrist"] - hand)
            assert away == pytest.approx(length, abs=1e-9)


def test_feet_are_flat_and_balance_is_inside_its_windows(
    plans: list[tuple[Task, Plan]],
) -> None:
    for task_, plan in plans:
        for side in ("lead", "trail"):
            assert plan.figure[f"{side}_ankle"][2] == pytest.approx(task_.skeleton.ankle_height)
            assert plan.figure[f"{side}_shoe_toe"][2] == plan.figure[f"{side}_shoe_heel"][2]
        for name in ("heel_toe_balance", "lead_share"):
            one = plan.measures[name]
            assert one.window is not None
            assert one.window.low is not None
            assert one.window.high is not None
            assert one.window.low <= one.value <= one.window.high


def test_the_bend_of_the_side_view_is_that_of_the_trunk() -> None:
    plan = solve_plan(task())
    assert 30 < plan.measures["forward_bend"].value < 46
    assert set(plan.measures) == set(MEASURES)


def test_on_a_slope_the_feet_stand_on_the_plane_and_gravity_stays_vertical() -> None:
    ground = Ground(uphill=math.radians(6), ball_above_feet=math.radians(-5))
    plan = solve_plan(task(ground=ground, sex=Sex.WOMEN, stature=1.66))
    normal = ground.world_from_ground[:, 2]
    for side in ("lead", "trail"):
        # both ends of a flat shoe are equally far from the plane
        ends = [plan.figure[f"{side}_shoe_{end}"] @ normal for end in ("heel", "toe")]
        assert ends[0] == pytest.approx(ends[1], abs=1e-12)
    assert plan.figure["shaft_end"] @ normal == pytest.approx(0, abs=1e-9)
    assert plan.figure["ball"][0] == pytest.approx(0)
    # uphill the ground rises to the target, and a ball below the feet lies lower than they
    assert plan.figure["lead_ankle"][2] > plan.figure["trail_ankle"][2]
    assert plan.figure["lead_shoe_toe"][2] > 0
