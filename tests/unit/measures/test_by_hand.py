"""Each measure on a figure that can be solved by hand (3-4-5 and 5-12-13 triangles)."""

from __future__ import annotations

import numpy as np
import pytest

from tests.support.truth import state
from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.measures import MEASURES, value_and_gradient

SMALL = float(np.degrees(np.arctan2(3, 4)))  # 36.87 degrees
LARGE = 90 - SMALL
FLAT = float(np.degrees(np.arctan2(5, 12)))  # 22.62 degrees

# measure, expected value in its published unit, the points that decide it (metre), scalars
CASES = [
    ("stance_width", 0.4, {"lead_ankle": (0.3, 0.7, 0.1), "trail_ankle": (-0.1, 0.6, 0.1)}, {}),
    (
        "stance_gap",
        0.3,
        {"lead_ankle": (0.3, 0.7, 0.1), "trail_ankle": (-0.1, 0.6, 0.1)},
        {"shoe_breadth": 0.1},
    ),
    (
        "ball_position",
        75.0,
        {
            "lead_ankle": (0.1, 0.7, 0.1),
            "trail_ankle": (-0.3, 0.6, 0.1),
            "ball": (0.0, 0.0, 0.02),
        },
        {},
    ),
    (
        # the line through the toes rises 3 in 4: from (-0.2, 0.4) it meets x = 0 at y = 0.55
        "ball_to_toes",
        0.55,
        {
            "trail_shoe_toe": (-0.2, 0.4, 0.0),
            "lead_shoe_toe": (0.2, 0.7, 0.0),
            "ball": (0.0, 0.0, 0.02),
        },
        {},
    ),
    (
        "lead_foot_flare",
        SMALL,
        {"lead_shoe_heel": (0.2, 0.7, 0.01), "lead_shoe_toe": (0.35, 0.5, 0.02)},
        {},
    ),
    (
        "trail_foot_flare",
        SMALL,
        {"trail_shoe_heel": (-0.2, 0.7, 0.01), "trail_shoe_toe": (-0.35, 0.5, 0.02)},
        {},
    ),
    (
        "foot_line",
        SMALL,
        {"trail_shoe_toe": (-0.2, 0.4, 0.0), "lead_shoe_toe": (0.2, 0.7, 0.1)},
        {},
    ),
    ("hip_line", -FLAT, {"trail_hip": (-0.12, 0.85, 0.9), "lead_hip": (0.12, 0.75, 0.9)}, {}),
    (
        "shoulder_line",
        FLAT,
        {"trail_shoulder": (-0.12, 0.4, 1.3), "lead_shoulder": (0.12, 0.5, 1.4)},
        {},
    ),
    (
        # the back from T8 to C7 runs along (-0.8, 0.6) in y and z, so that inward, square to
        # it, is (-0.6, -0.8): a collar of 5 cm puts C7 at y 0.4 - 0.03 and z 1.3 - 0.04
        "forward_bend",
        float(np.degrees(np.arctan2(0.4 + 0.03, 0.4 - 0.04))),
        {
            "lead_hip": (0.1, 0.8, 0.9),
            "trail_hip": (-0.1, 0.8, 0.9),
            "c7": (0.0, 0.4, 1.3),
            "t8": (0.1, 0.56, 1.18),
        },
        {"nape_cloth": 0.05},
    ),
    (
        "forward_bend",
        SMALL,
        {
            "lead_hip": (0.1, 0.8, 0.9),
            "trail_hip": (-0.1, 0.8, 0.9),
            "c7": (0.0, 0.5, 1.3),
            "t8": (0.0, 0.6, 1.2),
        },
        {"nape_cloth": 0.0},
    ),
    (
        "upper_back_curve",
        LARGE - SMALL,
        {"t12": (0, 0.8, 1.0), "t8": (0, 0.65, 1.2), "c7": (0, 0.45, 1.35)},
        {},
    ),
    (
        "low_back_curve",
        LARGE - SMALL,
        {"s1": (0, 0.8, 1.0), "l3": (0, 0.6, 1.15), "t12": (0, 0.45, 1.35)},
        {},
    ),
    (
        "lead_knee_flex",
        SMALL,
        {"lead_hip": (0, 0.6, 0.9), "lead_knee": (0, 0.6, 0.5), "lead_ankle": (0, 0.9, 0.1)},
        {},
    ),
    (
        "trail_knee_flex",
        SMALL,
        {"trail_hip": (0, 0.6, 0.9), "trail_knee": (0, 0.6, 0.5), "trail_ankle": (0.3, 0.6, 0.1)},
        {},
    ),
    (
        "arm_hang",
        SMALL,
        {
            "lead_shoulder": (0.2, 0.5, 1.3),
            "trail_shoulder": (-0.2, 0.5, 1.1),
            "grip_mid": (0, 0.2, 0.8),
        },
        {},
    ),
    (
        # half-way from hip (y 0.8) to knee (y 0.6) the trail thigh's axis is at 0.7, the lead
        # one's at 0.75; the nearer front is 0.7 - 0.1
        "hand_gap",
        0.15,
        {
            "lead_hip": (0.1, 0.85, 0.9),
            "lead_knee": (0.1, 0.65, 0.5),
            "trail_hip": (-0.1, 0.8, 0.9),
            "trail_knee": (-0.1, 0.6, 0.5),
            "grip_end": (0, 0.45, 0.7),
        },
        {"thigh_half_depth": 0.1},
    ),
    (
        # heels at y 0.8, toes at 0.5, centre of mass at 0.71: three tenths of the way
        "heel_toe_balance",
        30.0,
        {
            "lead_shoe_heel": (0.2, 0.8, 0),
            "trail_shoe_heel": (-0.2, 0.8, 0),
            "lead_shoe_toe": (0.2, 0.5, 0),
            "trail_shoe_toe": (-0.2, 0.5, 0),
            "lead_ankle": (0.2, 0.7, 0.1),
            "trail_ankle": (-0.2, 0.7, 0.1),
        },
        {"mass_offset_x": 0.05, "mass_offset_y": 0.71},
    ),
    (
        "lead_share",
        60.0,
        {"lead_ankle": (0.2, 0.7, 0.1), "trail_ankle": (-0.2, 0.7, 0.1)},
        {"mass_offset_x": 0.04},
    ),
    (
        "armpit_plumb",
        -0.05,
        {
            "lead_armpit": (0.1, 0.52, 1.2),
            "trail_armpit": (-0.1, 0.48, 1.2),
            "lead_foot_ball": (0.2, 0.56, 0),
            "trail_foot_ball": (-0.2, 0.54, 0),
        },
        {},
    ),
    (
        "knee_plumb",
        0.1,
        {
            "lead_knee": (0.1, 0.66, 0.5),
            "trail_knee": (-0.1, 0.64, 0.5),
            "lead_foot_ball": (0.2, 0.56, 0),
            "trail_foot_ball": (-0.2, 0.54, 0),
        },
        {},
    ),
    (
        "pelvis_shift",
        0.03,
        {
            "lead_hip": (0.13, 0.8, 0.9),
            "trail_hip": (-0.05, 0.8, 0.9),
            "lead_ankle": (0.21, 0.7, 0.1),
            "trail_ankle": (-0.19, 0.7, 0.1),
        },
        {},
    ),
    (
        "chest_shift",
        -0.04,
        {
            "sternum": (-0.03, 0.4, 1.2),
            "lead_ankle": (0.21, 0.7, 0.1),
            "trail_ankle": (-0.19, 0.7, 0.1),
        },
        {},
    ),
    ("head_behind_ball", 0.06, {"ball": (0.01, 0, 0.02), "nose": (-0.05, 0.2, 1.4)}, {}),
    (
        "side_bend",
        FLAT,
        {
            "lead_hip": (0.1, 0.8, 0.96),
            "trail_hip": (-0.1, 0.8, 0.96),
            "sternum": (-0.1, 0.4, 1.2),
        },
        {},
    ),
    (
        "shoulder_tilt",
        FLAT,
        {"trail_shoulder": (-0.12, 0.4, 1.3), "lead_shoulder": (0.12, 0.5, 1.4)},
        {},
    ),
    ("shaft_lean", SMALL, {"grip_end": (0.3, 0.4, 0.4), "shaft_end": (0.0, 0.0, 0.0)}, {}),
    ("shaft_angle", LARGE, {"grip_end": (0.1, 0.6, 0.8), "shaft_end": (0.0, 0.0, 0.0)}, {}),
    ("handle_height", 0.8, {"grip_end": (0.1, 0.6, 0.8)}, {}),
]


@pytest.mark.parametrize(
    ("measure", "expected", "placed", "scalars"), CASES, ids=[f"{c[0]} {c[1]:.3g}" for c in CASES]
)
def test_a_figure_solved_by_hand_gives_the_measure(
    measure: str,
    expected: float,
    placed: dict[str, tuple[float, float, float]],
    scalars: dict[str, float],
) -> None:
    at = np.random.default_rng(0).normal(size=(len(LANDMARKS), 3))  # the rest must not matter
    for name, place in placed.items():
        at[INDEX[name]] = place
    found, _ = value_and_gradient(MEASURES[measure], state(at, **scalars))
    assert found == pytest.approx(expected, abs=1e-12)


def test_every_measure_is_solved_by_hand_at_least_once() -> None:
    assert {case[0] for case in CASES} == set(MEASURES)
