"""Measures in a coach's words: short names for the pictures, a line of explanation each."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

SHORT: Final[Mapping[str, str]] = MappingProxyType(
    {
        "stance_width": "Stance",
        "stance_gap": "Gap",
        "ball_position": "Ball",
        "ball_to_toes": "Ball to toes",
        "lead_foot_flare": "Lead foot",
        "trail_foot_flare": "Trail foot",
        "foot_line": "Feet",
        "hip_line": "Hips",
        "shoulder_line": "Shoulders",
        "forward_bend": "Bend",
        "upper_back_curve": "Upper back",
        "low_back_curve": "Low back",
        "lead_knee_flex": "Lead knee",
        "trail_knee_flex": "Trail knee",
        "arm_hang": "Arms",
        "hand_gap": "Hands",
        "heel_toe_balance": "Balance",
        "lead_share": "Lead foot",
        "armpit_plumb": "Armpits",
        "knee_plumb": "Knees",
        "pelvis_shift": "Pelvis",
        "chest_shift": "Chest",
        "head_behind_ball": "Head",
        "side_bend": "Side bend",
        "shoulder_tilt": "Shoulders",
        "shaft_lean": "Shaft",
        "shaft_angle": "Shaft",
        "handle_height": "Handle",
    }
)

EXPLAINED: Final[Mapping[str, str]] = MappingProxyType(
    {
        "stance_width": "from ankle joint to ankle joint, along the target line",
        "stance_gap": "clear gap between the shoes at the ankles",
        "ball_position": "0 is level with the trail ankle, 100 with the lead ankle",
        "ball_to_toes": "from the ball to the line across both toes",
        "lead_foot_flare": "seen from above, against pointing straight across the target line",
        "trail_foot_flare": "seen from above, against pointing straight across the target line",
        "foot_line": "line across both toes, against the target line",
        "hip_line": "line through both hips, against the target line",
        "shoulder_line": "line through both shoulders, against the target line",
        "forward_bend": "hips to the base of the neck, against the vertical",
        "upper_back_curve": "bend in the outline of the upper back, clothing included",
        "low_back_curve": "bend in the outline of the lower back, clothing included",
        "lead_knee_flex": "0 is a straight leg",
        "trail_knee_flex": "0 is a straight leg",
        "arm_hang": "shoulders to hands, against the vertical",
        "hand_gap": "level gap from the end of the grip to the front of the thighs",
        "heel_toe_balance": "where the weight falls along the feet: heel 0, toe 100",
        "lead_share": "share of the weight on the lead foot, from where the body's mass is",
        "armpit_plumb": "armpits, seen from the side, against the balls of the feet",
        "knee_plumb": "knees, seen from the side, against the balls of the feet",
        "pelvis_shift": "middle of the hips, seen from the front, against the middle of the ankles",
        "chest_shift": "breastbone, seen from the front, against the middle of the ankles",
        "head_behind_ball": "nose, seen from the front, against the ball",
        "side_bend": "hips to breastbone, seen from the front, against the vertical",
        "shoulder_tilt": "line through both shoulders, seen from the front, against level",
        "shaft_lean": "shaft, seen from the front, against the vertical",
        "shaft_angle": "shaft, seen from the side, against the ground",
        "handle_height": "end of the grip above the ground",
    }
)
