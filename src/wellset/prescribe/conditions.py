"""What a slope or the wind asks for: records that move a coach's windows, with their reasons.

On a slope gravity stays vertical and the ground turns under it (:mod:`wellset.prescribe.ground`).
Measures read against the plumb line therefore change by geometry alone, and windows written
for level ground have to follow before they mean the same; the rest is common practice. Every
number is our judgement of how far, per degree of slope; no source gives any.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from attrs import evolve, frozen

from wellset.measures import MEASURES, Unit
from wellset.prescribe.ground import Ground
from wellset.standards import Window


class Wind(StrEnum):
    """Where a wind that one feels comes from."""

    NONE = "none"
    AGAINST = "against"
    WITH = "with"


@frozen(kw_only=True)
class Shift:
    """How far a window moves.

    Parameters
    ----------
    measure : str
    by : float
        Published unit, per degree of slope or at once for the wind.
    reason : str
        In plain words.
    source : str
        ``geometry`` or ``common practice, no source``.
    """

    measure: str
    by: float
    reason: str
    source: str = "common practice, no source"


_TURNS: Final = "geometry"
_PARALLEL: Final = "The body stands square to the slope as far as balance allows."

UPHILL: Final = (
    Shift(measure="shoulder_tilt", by=1.0, reason="Shoulders lie parallel to the slope."),
    Shift(measure="side_bend", by=0.8, reason=_PARALLEL),
    Shift(measure="shaft_lean", by=-1.0, source=_TURNS, reason="The club is soled on the slope."),
    Shift(measure="chest_shift", by=-0.005, reason=_PARALLEL),
    Shift(measure="head_behind_ball", by=0.006, reason=_PARALLEL),
    Shift(measure="lead_share", by=-1.0, reason="More weight rests on the lower foot."),
    Shift(measure="ball_position", by=0.6, reason="The ball is played slightly toward the higher "
          "foot, where the club meets the ground."),
    Shift(measure="lead_knee_flex", by=0.6, reason="The higher leg bends more."),
    Shift(measure="trail_knee_flex", by=-0.4, reason="The lower leg bends less."),
)  # fmt: skip
"""Per degree uphill; downhill is the same turned round: weight on the lead foot, ball back."""

BALL_ABOVE: Final = (
    Shift(measure="shaft_angle", by=-1.0, source=_TURNS, reason="The club is soled on the slope, "
          "which turns the shaft flatter against the plumb line."),
    Shift(measure="handle_height", by=-0.008, source=_TURNS, reason="A flatter shaft carries its "
          "butt lower above the ball."),
    Shift(measure="ball_to_toes", by=0.004, reason="Stand a little farther away."),
    Shift(measure="forward_bend", by=-0.6, reason="Stand taller to a ball above the feet."),
    Shift(measure="lead_knee_flex", by=-0.3, reason="Stand taller to a ball above the feet."),
    Shift(measure="trail_knee_flex", by=-0.3, reason="Stand taller to a ball above the feet."),
    Shift(measure="arm_hang", by=0.5, source=_TURNS, reason="Hands lie higher against the feet and "
          "so reach out more."),
    Shift(measure="hand_gap", by=0.003, source=_TURNS, reason="Hands lie higher against the "
          "thighs."),
    Shift(measure="heel_toe_balance", by=0.3, reason="Keep off the heels, where the slope pulls."),
)  # fmt: skip
"""Per degree that the ball lies above the feet; below is the same turned round: more bend of
hips and knees, closer."""

STANCE_BELOW_M: Final = 0.005
"""Wider stance per degree that the ball lies below the feet, metre: common practice."""
GRIP_DOWN_PER_DEG_M: Final = 0.003
"""Grip down per degree that the ball lies above the feet, metre: common practice."""
GRIP_DOWN_AGAINST_M: Final = 0.015
"""Grip down against the wind, metre: common practice."""

_STEADY: Final = "A wider stance stands firmer in the wind."
WIND: Final[Mapping[Wind, tuple[Shift, ...]]] = MappingProxyType(
    {
        Wind.NONE: (),
        Wind.AGAINST: (
            Shift(measure="ball_position", by=-4.0, reason="Slightly back, for a lower flight."),
            Shift(measure="lead_share", by=3.0, reason="A little more weight toward the target."),
            Shift(measure="stance_width", by=0.03, reason=_STEADY),
            Shift(measure="stance_gap", by=0.03, reason=_STEADY),
        ),
        Wind.WITH: (
            Shift(measure="ball_position", by=4.0, reason="Slightly forward, for a higher flight."),
        ),
    }
)


def shifts(ground: Ground, wind: Wind, /) -> tuple[Shift, ...]:
    """Every shift that a place asks for, whole."""
    found = [
        evolve(one, by=one.by * math.degrees(slope))
        for slope, table in ((ground.uphill, UPHILL), (ground.ball_above_feet, BALL_ABOVE))
        for one in table
        if slope != 0
    ]
    below = -math.degrees(ground.ball_above_feet)
    if below > 0:
        why = "A wider stance brings the hips lower to a ball below the feet."
        found += [
            Shift(measure=measure, by=STANCE_BELOW_M * below, reason=why)
            for measure in ("stance_width", "stance_gap")
        ]
    return (*found, *WIND[wind])


def grip_down(ground: Ground, wind: Wind, /) -> float:
    """How far down the grip the hands go, metre."""
    above = max(math.degrees(ground.ball_above_feet), 0.0)
    return GRIP_DOWN_PER_DEG_M * above + (GRIP_DOWN_AGAINST_M if wind is Wind.AGAINST else 0.0)


def moved(windows: Iterable[Window], by: Iterable[Shift], /) -> tuple[Window, ...]:
    """The windows with every shift added and its reason said."""
    shifted = {window.measure: window for window in windows}
    for one in by:
        window = shifted.get(one.measure)
        if window is not None:
            shifted[one.measure] = _one_moved(window, one)
    return tuple(shifted.values())


def _one_moved(window: Window, shift: Shift) -> Window:
    def plus(value: float | None) -> float | None:
        return None if value is None else value + shift.by

    unit, size = MEASURES[shift.measure].unit, shift.by
    said = (
        f"{100 * size:+.1f} cm"
        if unit is Unit.METRE
        else f"{size:+.1f}{'°' if unit is Unit.DEGREE else ' %'}"
    )
    return evolve(
        window,
        low=plus(window.low),
        high=plus(window.high),
        target=plus(window.target),
        as_written="",
        reason=f"{window.reason} Moved by {said}: {shift.reason} ({shift.source})",
    )
