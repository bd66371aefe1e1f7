"""The named points of a body, a club and a ball.

Lead is nearer to the target, trail farther from it. The order of
:data:`LANDMARKS` is the order of every array of points in the project.
"""

from __future__ import annotations

from typing import Final


def _pairs(*stems: str) -> tuple[str, ...]:
    return tuple(f"{side}_{stem}" for stem in stems for side in ("lead", "trail"))


BODY_LANDMARKS: Final = (
    "nose",
    *_pairs("eye", "ear", "shoulder", "elbow", "wrist", "hip", "knee", "ankle"),
    *_pairs("shoe_heel", "shoe_toe", "foot_ball", "armpit"),
    "c7",
    "t8",
    "t12",
    "l3",
    "s1",
    "sternum",
)
CLUB_LANDMARKS: Final = ("grip_mid", "grip_end", "shaft_end", "club_head")
BALL: Final = "ball"
LANDMARKS: Final = (*BODY_LANDMARKS, *CLUB_LANDMARKS, BALL)
"""All points, in the order of every ``(N, 3)`` array. ``c7 … s1`` and ``sternum``
lie on the outline, clothing included; ``shoe_*`` are the visible ends of the shoe;
``foot_ball`` is the line of the toe-base joints; ``grip_end`` is the butt."""

INDEX: Final = {name: i for i, name in enumerate(LANDMARKS)}


def other_side(name: str) -> str:
    """The landmark on the other side of the body: lead and trail exchanged."""
    if name.startswith("lead_"):
        return "trail_" + name[5:]
    if name.startswith("trail_"):
        return "lead_" + name[6:]
    return name
