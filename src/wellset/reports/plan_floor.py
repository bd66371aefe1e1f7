"""What one lays out for a plan, in words: the same lines on every page."""

from __future__ import annotations

from attrs import frozen

from wellset.measures import Unit
from wellset.prescribe import Floor, Plan, Planned
from wellset.units import UnitSystem, format_length


@frozen(kw_only=True)
class FloorLine:
    """One thing to lay out: what, how much, and in what a student has at hand."""

    what: str
    value: str
    by_hand: str
    tolerance: str


def length(metres: float, units: UnitSystem) -> str:
    """A length as the pages of a plan write it."""
    return format_length(metres, system=units)


def floor_lines(
    plan: Plan, units: UnitSystem, *, only_ground: bool = False
) -> tuple[FloorLine, ...]:
    """What one lays out, the ground first; room in the unit of the value beside it."""
    room = {name: tolerance(each, units) for name, each in plan.measures.items()}
    place, stance = plan.measures["ball_position"], plan.measures["stance_width"]
    along = place.tolerance / 100 * stance.value
    room["ball_position"] = f"± {length(along, units)}" if along > 0 else ""
    knees = (plan.measures[f"{side}_knee_flex"] for side in ("lead", "trail"))
    room["lead_knee_flex"] = tolerance(min(knees, key=lambda knee: knee.tolerance), units)
    lines = _on_the_ground(plan.floor, units)
    if not only_ground:
        lines += _in_the_body(plan.floor, units)
    return tuple(
        FloorLine(what=what, value=value, by_hand=by_hand, tolerance=room.get(measure, ""))
        for measure, what, value, by_hand in lines
    )


_Line = tuple[str, str, str, str]
"""Measure, what it is, its value, and the same in what a student has at hand."""


def _on_the_ground(f: Floor, units: UnitSystem) -> tuple[_Line, ...]:
    side = "inside" if f.ball_from_lead_heel >= 0 else "outside"
    heel = length(abs(f.ball_from_lead_heel), units)
    heads = f"{f.gap_club_heads:.1f} heads of this club"
    shoes = f"{f.ball_from_toes_shoes:.1f} of your shoes"
    return (
        ("stance_gap", "Gap between the shoes", length(f.gap, units), heads),
        ("ball_position", f"Ball {side} the lead heel", heel, ""),
        ("ball_to_toes", "Ball to the line of the toes", length(f.ball_from_toes, units), shoes),
        ("lead_foot_flare", "Lead foot turned out", f"{f.lead_foot_flare_deg:.0f}°", ""),
        ("trail_foot_flare", "Trail foot turned out", f"{f.trail_foot_flare_deg:.0f}°", ""),
    )


def _in_the_body(f: Floor, units: UnitSystem) -> tuple[_Line, ...]:
    knees = f"{f.lead_knee_flex_deg:.0f}° and {f.trail_knee_flex_deg:.0f}°"
    butt, thigh = "Butt of the grip above the ground", _thigh(f.handle_up_thigh)
    fists = f"{f.hand_gap_fists:.1f} fists"
    return (
        ("forward_bend", "Bend from the hips", f"{f.forward_bend_deg:.0f}°", ""),
        ("lead_knee_flex", "Knees", knees, ""),
        ("handle_height", butt, length(f.handle_height, units), thigh),
        ("hand_gap", "Butt of the grip to the thigh", length(f.hand_gap, units), fists),
        ("lead_share", "Weight on the lead foot", f"{f.lead_share_percent:.0f} %", ""),
    )


def _thigh(share: float) -> str:
    if share > 1.0:
        return "above the hip joint"
    if share < 0.0:
        return "below the knee"
    return f"{share:.0%} of the way from knee to hip".replace("%", " %")


def tolerance(each: Planned, units: UnitSystem) -> str:
    """How far a measure may go either way; empty where the club fixes it."""
    if each.tolerance <= 0:
        return ""
    return f"± {quantity(each.tolerance, each.unit, units=units)}"


def quantity(value: float, unit: Unit, *, units: UnitSystem) -> str:
    """A value of a measure, in the coach's unit."""
    if unit is Unit.METRE:
        return length(value, units)
    return f"{round(value)}{'°' if unit is Unit.DEGREE else ' %'}"
