"""How to stand with one club, for a student: the floor quantities of a plan in hand measures."""

from __future__ import annotations

from typing import Final

from wellset.reports.hand_measures import by_hand, clock, halves, tape
from wellset.reports.lesson_sheet_model import Stand, StandLine
from wellset.reports.plan_contract import ClubPlan, FloorPart
from wellset.units import UnitSystem

EXPLAINED: Final = (
    "Club heads, shoes and fists are your own. A club head is laid from heel to toe. On the "
    "clock, twelve is straight in front of you. The grip is measured at its end."
)
DOUBT: Final = (
    "This is the best try for your body and this club. Not all of it fits yet. Ask your coach "
    "about it."
)
_LEVEL_M: Final = 0.015
"""Nearer than this to the heel's edge the ball counts as level with it: less than its radius."""
_WORTH_GRIPPING_DOWN_M: Final = 0.008


def stand_of(plan: ClubPlan, /, *, units: UnitSystem) -> Stand:
    """How to stand with the club of a plan.

    Parameters
    ----------
    plan : ClubPlan
        As published.
    units : UnitSystem
    """
    floor = plan.floor
    return Stand(
        title=f"How to stand with your {plan.club}",
        club=plan.club,
        lines=(
            StandLine(
                what="Between your shoes",
                by_hand=halves(floor.gap_club_heads, one="club head", many="club heads"),
                tape=tape(floor.gap_m, units=units),
            ),
            _ball(floor, units=units),
            StandLine(
                what="Ball to toes",
                by_hand=halves(floor.ball_from_toes_shoes, one="shoe", many="shoes"),
                tape=tape(floor.ball_from_toes_m, units=units),
            ),
            StandLine(what="Lead foot", by_hand=clock(floor.lead_foot_flare_deg), tape=""),
            StandLine(what="Trail foot", by_hand=clock(floor.trail_foot_flare_deg), tape=""),
            StandLine(
                what="Grip to your legs",
                by_hand=halves(floor.hand_gap_fists, one="fist", many="fists"),
                tape=tape(floor.hand_gap_m, units=units),
            ),
            StandLine(
                what="Height of the grip",
                by_hand=up_the_leg(floor.handle_up_thigh),
                tape=tape(floor.handle_height_m, units=units),
            ),
            *_grip(floor, units=units),
        ),
        explained=EXPLAINED,
        doubt=DOUBT if plan.conflicts else "",
    )


def _ball(floor: FloorPart, *, units: UnitSystem) -> StandLine:
    """The ball against the lead heel, in heads of the same club."""
    off = floor.ball_from_lead_heel_m
    what = "The ball"
    if abs(off) < _LEVEL_M:
        return StandLine(what=what, by_hand="level with the inside of your lead heel", tape="")
    side = "inside" if off > 0 else "outside"
    head = floor.gap_m / floor.gap_club_heads if floor.gap_club_heads else 0.0
    size = abs(off)
    amount = (
        halves(size / head, one="club head", many="club heads")
        if head > 0 and size >= head / 3
        else by_hand(size)
    )
    return StandLine(
        what=what, by_hand=f"{amount} {side} your lead heel", tape=tape(size, units=units)
    )


def up_the_leg(share: float, /) -> str:
    """A height on the thigh, 0 at the knee and 1 at the hip joint."""
    if share < 0.15:
        return "level with your knee" if share > -0.15 else "below your knee"
    if share > 0.85:
        return "level with your hip" if share < 1.15 else "above your hip"
    if 0.42 <= share <= 0.58:
        return "half way from knee to hip"
    third = "a third" if share < 0.42 else "two thirds"
    return f"{third} of the way from knee to hip"


def _grip(floor: FloorPart, *, units: UnitSystem) -> tuple[StandLine, ...]:
    if floor.grip_down_m < _WORTH_GRIPPING_DOWN_M:
        return ()
    return (
        StandLine(
            what="Hands down the grip",
            by_hand=by_hand(floor.grip_down_m),
            tape=tape(floor.grip_down_m, units=units),
        ),
    )
