"""A bag of plans as words and drawings: what every page of a plan shows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from attrs import frozen
from markupsafe import Markup

from wellset.figure.views import Hand
from wellset.measures import MEASURES, Unit
from wellset.prescribe import Break, Conflict, Floor, Plan, Planned, ladder_breaks
from wellset.reports.cautions import PLAN_CAUTIONS
from wellset.reports.figure_svg import Side, figure_svg
from wellset.reports.ladder_svg import ladder_svg
from wellset.services.plan_bag import BagPlan
from wellset.units import UnitSystem, degrees, format_length

_SIDES: Final = (
    (Side.FRONT, "From the front"),
    (Side.BEHIND, "From behind, looking at the target"),
    (Side.ABOVE, "From above, target to the {way}"),
)


@frozen(kw_only=True)
class FloorLine:
    """One thing to lay out: what, how much, and in what a student has at hand."""

    what: str
    value: str
    by_hand: str
    tolerance: str


@frozen(kw_only=True)
class Mend:
    """One thing that would mend a conflict."""

    message: str
    enough: bool


@frozen(kw_only=True)
class ConflictWords:
    """What doesn't fit, and what would mend it."""

    message: str
    facts: tuple[str, ...]
    mends: tuple[Mend, ...]


@frozen(kw_only=True)
class MeasureLine:
    """One measure of a plan with its window."""

    title: str
    value: str
    tolerance: str
    window: str


@frozen(kw_only=True)
class ClubPlan:
    """The plan for one club, in words.

    Parameters
    ----------
    name, facts : str
    fits : bool
    floor : tuple of FloorLine
        The quantities to lay on the ground, in the order one lays them.
    measures : tuple of MeasureLine
    conflicts : tuple of ConflictWords
    drawings : tuple of (title, drawing)
    notes : tuple of str
    """

    name: str
    facts: str
    fits: bool
    floor: tuple[FloorLine, ...]
    measures: tuple[MeasureLine, ...]
    conflicts: tuple[ConflictWords, ...]
    drawings: tuple[tuple[str, Markup], ...]
    notes: tuple[str, ...]


@frozen(kw_only=True)
class PlanReport:
    """A whole plan.

    Parameters
    ----------
    title, subtitle : str
    facts : tuple of (name, value)
    clubs : tuple of ClubPlan
    ladder : Markup
        All clubs in one drawing.
    heads : tuple of str
    table : tuple of rows
        The bag in one table: club, then what is laid on the ground.
    breaks : tuple of str
        Where the ladder breaks.
    notes, cautions : tuple of str
    versions : tuple of (name, value)
    """

    title: str
    subtitle: str
    facts: tuple[tuple[str, str], ...]
    clubs: tuple[ClubPlan, ...]
    ladder: Markup
    heads: tuple[str, ...]
    table: tuple[tuple[str, ...], ...]
    breaks: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
    versions: tuple[tuple[str, str], ...]


def plan_report(bag: BagPlan, /, *, units: UnitSystem = UnitSystem.CENTIMETRES) -> PlanReport:
    """Put a bag of plans into words and drawings."""
    student = bag.student
    return PlanReport(
        title=student.name or "A student",
        subtitle="How to stand with each club" if len(bag.plans) > 1 else "How to stand",
        facts=(
            ("Height", _length(student.build.stature, units)),
            ("Stands", f"{bag.hand.value}-handed"),
            ("Ground", _ground(bag)),
            ("Wind", bag.wind.value),
        ),
        clubs=tuple(_club(plan, hand=bag.hand, units=units) for plan in bag.plans),
        ladder=ladder_svg(bag.plans, hand=bag.hand),
        heads=("Club", "Gap", "Ball inside lead heel", "Ball to toes", "Handle", "Bend", "Lead"),
        table=tuple(_row(plan, units) for plan in bag.plans),
        breaks=tuple(each.message for each in _breaks(bag.plans)),
        notes=tuple(f"{note.message} {note.remedy}" for note in bag.notes),
        cautions=PLAN_CAUTIONS,
        versions=(
            ("Program", f"Wellset {bag.versions.program}"),
            ("Standards", bag.versions.standards),
            ("Tables", "; ".join(bag.versions.tables)),
        ),
    )


def _breaks(plans: Sequence[Plan]) -> tuple[Break, ...]:
    return ladder_breaks(plans) if len(plans) > 1 else ()


def _length(metres: float, units: UnitSystem) -> str:
    return format_length(metres, system=units)


def _ground(bag: BagPlan) -> str:
    up, above = degrees(bag.ground.uphill), degrees(bag.ground.ball_above_feet)
    parts = []
    if up:
        parts.append(f"{'uphill' if up > 0 else 'downhill'} {abs(up):.0f}°")
    if above:
        parts.append(f"ball {'above' if above > 0 else 'below'} the feet {abs(above):.0f}°")
    return ", ".join(parts) or "level"


def _row(plan: Plan, units: UnitSystem) -> tuple[str, ...]:
    f = plan.floor
    return (
        plan.club.name,
        f"{_length(f.gap, units)} ({f.gap_club_heads:.1f} heads)",
        _length(f.ball_from_lead_heel, units),
        _length(f.ball_from_toes, units),
        _length(f.handle_height, units),
        f"{f.forward_bend_deg:.0f}°",
        f"{f.lead_share_percent:.0f} %",
    )


def _club(plan: Plan, *, hand: Hand, units: UnitSystem) -> ClubPlan:
    club = plan.club
    way = "right" if hand is Hand.LEFT else "left"
    return ClubPlan(
        name=club.name,
        facts=f"{_length(club.length_m, units)} long, lie {degrees(club.lie):.0f}°, {plan.shot}",
        fits=plan.fits,
        floor=_floor(plan, units),
        measures=tuple(_measure(each, units) for each in plan.measures.values()),
        conflicts=tuple(_conflict(each) for each in plan.conflicts),
        drawings=tuple(
            (
                title.format(way=way),
                figure_svg(
                    plan.figure,
                    side,
                    hand=hand,
                    words=f"{club.name}, {title.format(way=way).lower()}: the set-up of this plan",
                ),
            )
            for side, title in _SIDES
        ),
        notes=tuple(f"{note.message} {note.remedy}" for note in plan.notes),
    )


def _floor(plan: Plan, units: UnitSystem) -> tuple[FloorLine, ...]:
    """What one lays out, the ground first; room in the unit of the value beside it."""
    room = {name: _tolerance(each, units) for name, each in plan.measures.items()}
    place, stance = plan.measures["ball_position"], plan.measures["stance_width"]
    along = place.tolerance / 100 * stance.value
    room["ball_position"] = f"± {_length(along, units)}" if along > 0 else ""
    return tuple(
        FloorLine(what=what, value=value, by_hand=by_hand, tolerance=room.get(measure, ""))
        for measure, what, value, by_hand in (
            *_on_the_ground(plan.floor, units),
            *_in_the_body(plan.floor, units),
        )
    )


_Line = tuple[str, str, str, str]
"""Measure, what it is, its value, and the same in what a student has at hand."""


def _on_the_ground(f: Floor, units: UnitSystem) -> tuple[_Line, ...]:
    side = "inside" if f.ball_from_lead_heel >= 0 else "outside"
    heel = _length(abs(f.ball_from_lead_heel), units)
    heads = f"{f.gap_club_heads:.1f} heads of this club"
    shoes = f"{f.ball_from_toes_shoes:.1f} of your shoes"
    return (
        ("stance_gap", "Gap between the shoes", _length(f.gap, units), heads),
        ("ball_position", f"Ball {side} the lead heel", heel, ""),
        ("ball_to_toes", "Ball to the line of the toes", _length(f.ball_from_toes, units), shoes),
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
        ("handle_height", butt, _length(f.handle_height, units), thigh),
        ("hand_gap", "Butt of the grip to the thigh", _length(f.hand_gap, units), fists),
        ("lead_share", "Weight on the lead foot", f"{f.lead_share_percent:.0f} %", ""),
    )


def _thigh(share: float) -> str:
    if share > 1.0:
        return "above the hip joint"
    if share < 0.0:
        return "below the knee"
    return f"{share:.0%} of the way from knee to hip".replace("%", " %")


def _tolerance(each: Planned, units: UnitSystem) -> str:
    if each.tolerance <= 0:
        return ""
    return f"± {_quantity(each.tolerance, each.unit, units=units)}"


def _quantity(value: float, unit: Unit, *, units: UnitSystem) -> str:
    if unit is Unit.METRE:
        return _length(value, units)
    return f"{value:.0f}{'°' if unit is Unit.DEGREE else ' %'}"


def _measure(each: Planned, units: UnitSystem) -> MeasureLine:
    window = each.window
    low = high = None
    if window is not None:
        low, high = window.low, window.high
    words = ""
    if low is not None and high is not None:
        words = (
            f"{_quantity(low, each.unit, units=units)} to {_quantity(high, each.unit, units=units)}"
        )
    elif low is not None:
        words = f"from {_quantity(low, each.unit, units=units)}"
    elif high is not None:
        words = f"to {_quantity(high, each.unit, units=units)}"
    return MeasureLine(
        title=MEASURES[each.measure].title,
        value=_quantity(each.value, each.unit, units=units),
        tolerance=_tolerance(each, units),
        window=words,
    )


def _conflict(each: Conflict) -> ConflictWords:
    return ConflictWords(
        message=each.message,
        facts=each.facts,
        mends=tuple(Mend(message=r.message, enough=r.cures) for r in each.remedies),
    )
