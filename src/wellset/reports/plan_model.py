"""A bag of plans as words and drawings: what every page of a plan shows."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from attrs import frozen
from markupsafe import Markup

from wellset.figure.views import Hand
from wellset.measures import MEASURES
from wellset.prescribe import Break, Conflict, Plan, Planned, Remedy, ladder_breaks
from wellset.reports.arc_words import ArcTable, arc_of_plan, arc_table
from wellset.reports.cautions import PLAN_CAUTIONS
from wellset.reports.figure_svg import Side, figure_svg
from wellset.reports.ladder_svg import ladder_svg
from wellset.reports.mends import said_once
from wellset.reports.plan_floor import FloorLine, floor_lines, quantity, tolerance
from wellset.services.plan_bag import BagPlan
from wellset.units import UnitSystem, degrees, format_height, format_length

_SIDES: Final = (
    (Side.FRONT, "From the front"),
    (Side.BEHIND, "From behind, looking at the target"),
    (Side.ABOVE, "From above, target to the {way}"),
)


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
    arc : ArcTable or None
        What a small change does to the strike.
    notes : tuple of str
    """

    name: str
    facts: str
    fits: bool
    floor: tuple[FloorLine, ...]
    measures: tuple[MeasureLine, ...]
    conflicts: tuple[ConflictWords, ...]
    drawings: tuple[tuple[str, Markup], ...]
    arc: ArcTable | None
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
    misfits : frozenset of str
        Names of the clubs that have a conflict.
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
    misfits: frozenset[str]
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
            ("Height", format_height(student.build.stature, system=units)),
            ("Stands", f"{bag.hand.value}-handed"),
            ("Ground", _ground(bag)),
            ("Wind", bag.wind.value),
        ),
        clubs=tuple(_club(plan, hand=bag.hand, units=units) for plan in bag.plans),
        ladder=ladder_svg(bag.plans, hand=bag.hand),
        heads=("Club", "Gap", "Ball inside lead heel", "Ball to toes", "Handle", "Bend", "Lead"),
        table=tuple(_row(plan, units) for plan in bag.plans),
        misfits=frozenset(plan.club.name for plan in bag.plans if not plan.fits),
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
        floor=floor_lines(plan, units),
        measures=tuple(_measure(each, units) for each in plan.measures.values()),
        conflicts=tuple(_conflict(*each) for each in said_once(plan.conflicts)),
        drawings=tuple(
            (
                title.format(way=way),
                figure_svg(
                    plan.figure,
                    side,
                    hand=hand,
                    ground=plan.scene.ground,
                    words=f"{club.name}, {title.format(way=way).lower()}: the set-up of this plan",
                ),
            )
            for side, title in _SIDES
        ),
        arc=_arc(plan, units),
        notes=tuple(f"{note.message} {note.remedy}" for note in plan.notes),
    )


def _arc(plan: Plan, units: UnitSystem) -> ArcTable | None:
    arc = arc_of_plan(plan)
    return None if arc is None else arc_table(arc, units=units)


def _measure(each: Planned, units: UnitSystem) -> MeasureLine:
    window = each.window
    low = high = None
    if window is not None:
        low, high = window.low, window.high
    words = ""
    if low is not None and high is not None:
        words = (
            f"{quantity(low, each.unit, units=units)} to {quantity(high, each.unit, units=units)}"
        )
    elif low is not None:
        words = f"from {quantity(low, each.unit, units=units)}"
    elif high is not None:
        words = f"to {quantity(high, each.unit, units=units)}"
    return MeasureLine(
        title=MEASURES[each.measure].title,
        value=quantity(each.value, each.unit, units=units),
        tolerance=tolerance(each, units),
        window=words,
    )


def _conflict(each: Conflict, remedies: Sequence[Remedy]) -> ConflictWords:
    return ConflictWords(
        message=each.message,
        facts=each.facts,
        mends=tuple(Mend(message=r.message, enough=r.cures) for r in remedies),
    )
