"""How a golfer sets up: numbers drawn around usual ones, often with a fault or two."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from attrs import evolve, fields_dict, frozen

from training.golfers.clubs import Club


@frozen(kw_only=True)
class SetUp:
    """A golfer's set-up as the pose solver needs it.

    Parameters
    ----------
    stance_m : float
        Ankle to ankle.
    ball_percent : float
        Ball between the trail ankle (0) and the lead ankle (100).
    trunk_bend_deg, knee_flex_deg : float
        Middle of the hips to C7 from plumb in the side view; mean of both knees.
    arm_hang_deg : float
        Line from the middle of the shoulders to the hands, ahead of plumb.
    shaft_lean_deg : float
        Handle toward the target, face-on.
    weight_toe_percent : float
        Centre of mass from heel (0) to the tip of the toes (100).
    pelvis_shift_m, chest_shift_m : float
        Pelvis from the middle of the feet toward the target; breastbone from the pelvis
        away from it.
    shoulder_tilt_deg : float
        Trail shoulder lower.
    foot_line_deg, hip_line_deg, shoulder_line_deg : float
        Open positive.
    lead_flare_deg, trail_flare_deg : float
        Toes out.
    round_upper_deg, arch_lower_deg : float
        More than the model's rest.
    head_down_deg, head_turn_deg : float
    shoulder_drop_deg, shoulders_forward_deg : float
        Collar-bones: trail side lower; both forward.
    arm_extension : float
        Shoulder to wrist over the length of the arm, of the straighter arm.
    lead_over_trail : float or None
        How much more the lead arm is stretched than the trail arm; the shoulders' tilt
        then follows from it. ``None`` lets the tilt decide.
    elbow_out : float
        How far the elbows point outward, against backward.
    grip_down_m, grip_turn_deg : float
        Choked down; hands turned away from the target on the handle (strong).
    """

    stance_m: float
    ball_percent: float
    trunk_bend_deg: float
    knee_flex_deg: float
    arm_hang_deg: float
    shaft_lean_deg: float
    chest_shift_m: float
    shoulder_tilt_deg: float
    pelvis_shift_m: float = 0.01
    weight_toe_percent: float = 54.0
    foot_line_deg: float = 0.0
    hip_line_deg: float = 0.0
    shoulder_line_deg: float = 0.0
    lead_flare_deg: float = 20.0
    trail_flare_deg: float = 8.0
    round_upper_deg: float = 0.0
    arch_lower_deg: float = 0.0
    head_down_deg: float = 12.0
    head_turn_deg: float = 0.0
    shoulder_drop_deg: float = 2.0
    shoulders_forward_deg: float = 10.0
    arm_extension: float = 0.968
    lead_over_trail: float | None = None
    elbow_out: float = 0.25
    grip_down_m: float = 0.015
    grip_turn_deg: float = 19.0


_NEUTRAL_NAMES = (
    "shoulder_tilt_deg", "stance_m", "ball_percent", "trunk_bend_deg", "knee_flex_deg",
    "arm_hang_deg", "shaft_lean_deg", "chest_shift_m",
)  # fmt: skip
_NEUTRAL = {
    # usual set-ups of a 1.75 m golfer: common practice, no single source
    "wedge": (10, 0.30, 50, 39.0, 23, 2, 5, 0.010),
    "short_iron": (11, 0.34, 54, 35.5, 21, 3, 4, 0.015),
    "mid_iron": (12, 0.38, 58, 37.0, 22, 4, 3, 0.020),
    "long_iron": (13, 0.42, 66, 35.5, 21, 6, 2, 0.030),
    "fairway_wood": (15, 0.45, 74, 34.0, 21, 8, -1, 0.045),
    "driver": (17, 0.52, 83, 31.0, 20, 10, -7, 0.055),
    "putter": (8, 0.28, 60, 42.0, 14, 0, 1, 0.0),
}


def neutral(kind: str, *, height_m: float) -> SetUp:
    """The usual set-up with a kind of club."""
    values = dict(zip(_NEUTRAL_NAMES, map(float, _NEUTRAL[kind]), strict=True))
    values["stance_m"] *= height_m / 1.75
    extension = 0.93 if kind == "putter" else 0.968
    return SetUp(**values, arm_extension=extension)


_SPREAD: Mapping[str, float] = {
    "ball_percent": 3.0, "trunk_bend_deg": 2.0, "knee_flex_deg": 3.0, "arm_hang_deg": 1.3,
    "shaft_lean_deg": 1.3, "chest_shift_m": 0.008, "pelvis_shift_m": 0.010,
    "weight_toe_percent": 3.0, "round_upper_deg": 4.0, "arch_lower_deg": 3.5,
    "head_down_deg": 5.0, "head_turn_deg": 5.0, "foot_line_deg": 2.5, "hip_line_deg": 2.0,
    "shoulder_line_deg": 2.0, "shoulder_tilt_deg": 2.0, "shoulder_drop_deg": 1.5,
    "shoulders_forward_deg": 4.0, "elbow_out": 0.2, "grip_down_m": 0.010, "grip_turn_deg": 9.0,
}  # fmt: skip
"""Standard spreads of set-ups that aim at neutral: chosen."""

FAULTS: Mapping[str, Mapping[str, float]] = {
    # what each fault adds at full strength; stance_factor multiplies
    "rounded_upper_back": {"round_upper_deg": 26},
    "arched_lower_back": {"arch_lower_deg": 24, "round_upper_deg": -4},
    "weight_in_toes": {"weight_toe_percent": 17},
    "weight_in_heels": {"weight_toe_percent": -17},
    "ball_too_far_back": {"ball_percent": -22, "shaft_lean_deg": 5},
    "ball_too_far_forward": {"ball_percent": 20, "shaft_lean_deg": -5},
    "stance_too_narrow": {"stance_factor": 0.6},
    "stance_too_wide": {"stance_factor": 1.34, "knee_flex_deg": 3},
    "leaning_ahead": {"pelvis_shift_m": 0.045, "chest_shift_m": -0.04, "shaft_lean_deg": 3},
    "hanging_back": {"pelvis_shift_m": -0.05, "chest_shift_m": 0.03},
    "reaching_arms": {"arm_hang_deg": 13, "trunk_bend_deg": 6, "weight_toe_percent": 6},
    "crowded_hands": {"arm_hang_deg": -5, "trunk_bend_deg": 2, "arm_extension": -0.02},
    "low_handle": {"trunk_bend_deg": 6, "knee_flex_deg": 10, "arm_hang_deg": 2},
    "high_handle": {"trunk_bend_deg": -6, "knee_flex_deg": -6, "arm_extension": -0.065},
    "open_alignment": {"foot_line_deg": 13, "hip_line_deg": 11, "shoulder_line_deg": 12},
    "closed_alignment": {"foot_line_deg": -11, "hip_line_deg": -10, "shoulder_line_deg": -10},
    "shoulders_open": {"shoulder_line_deg": 12, "hip_line_deg": 2},
    "too_upright": {"trunk_bend_deg": -12, "arm_hang_deg": 4},
    "too_bent": {"trunk_bend_deg": 13, "arm_hang_deg": -3},
    "knees_straight": {"knee_flex_deg": -16},
    "knees_too_bent": {"knee_flex_deg": 20},
    "weak_grip": {"grip_turn_deg": -22},
    "strong_grip": {"grip_turn_deg": 25},
    "bent_elbows": {"arm_extension": -0.05, "elbow_out": 0.5},
}

_LIMITS: Mapping[str, tuple[float, float]] = {
    "knee_flex_deg": (3, 60), "weight_toe_percent": (32, 76), "arm_extension": (0.86, 0.998),
    "grip_down_m": (0.003, 0.06), "stance_m": (0.12, 0.9), "elbow_out": (-0.2, 1.2),
    "ball_percent": (0, 130), "trunk_bend_deg": (8, 62),
}  # fmt: skip


def random_setup(rng: np.random.Generator, *, club: Club, height_m: float) -> SetUp:
    """Draw a set-up: more or less tidy, with none to two faults."""
    usual = neutral(club.kind, height_m=height_m)
    tidy = float(rng.choice([0.6, 1.2, 2.0]))
    values = {name: getattr(usual, name) for name in fields_dict(SetUp)}
    for name, spread in _SPREAD.items():
        values[name] += tidy * spread * rng.normal()
    values["stance_m"] *= np.clip(1 + 0.05 * tidy * rng.normal(), 0.6, 1.4)
    values["lead_flare_deg"], values["trail_flare_deg"] = _flares(rng)
    if club.kind != "putter":
        _arms(values, rng)
    count = rng.choice([0, 1, 2], p=[0.35, 0.45, 0.2])
    for fault in rng.choice(list(FAULTS), size=count, replace=False):
        strength = float(rng.uniform(0.4, 1.2))
        for name, amount in FAULTS[fault].items():
            if name == "stance_factor":
                values["stance_m"] *= 1 + (amount - 1) * strength
            else:
                values[name] += amount * strength
    for name, (low, high) in _LIMITS.items():
        values[name] = np.clip(values[name], low, high)
    numbers: dict[str, Any] = {k: v if v is None else float(v) for k, v in values.items()}
    return evolve(usual, **numbers)


def _arms(values: dict[str, float], rng: np.random.Generator) -> None:
    """Three in five with a straight lead arm and a softer trail arm, as taught."""
    values["arm_extension"] = float(rng.uniform(0.955, 0.997))
    if rng.random() < 0.6:
        # 0.985 is an elbow bent by 20°
        values["arm_extension"] = float(rng.uniform(0.975, 0.998))
        values["lead_over_trail"] = float(rng.uniform(0.0, 0.04))
        values["grip_turn_deg"] -= rng.uniform(0, 12)


def _flares(rng: np.random.Generator) -> tuple[float, float]:
    """Lead and trail foot: as coaches teach, both out, both square, or anything."""
    style = rng.choice(["taught", "both_out", "square", "any"], p=[0.42, 0.18, 0.15, 0.25])
    if style == "taught":
        return float(rng.uniform(15, 30)), float(rng.uniform(0, 15))
    if style == "both_out":
        return float(rng.uniform(10, 35)), float(rng.uniform(10, 35))
    if style == "square":
        return float(rng.normal(0, 3)), float(rng.normal(0, 3))
    return float(rng.normal(13, 10)), float(rng.normal(0, 10))
