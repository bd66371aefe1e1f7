"""A bag of plans as plain text: one table, club under club, then what doesn't fit."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Final

from wellset.prescribe import Plan, ladder_breaks
from wellset.reports.mends import said_once
from wellset.services.plan_bag import BagPlan
from wellset.units import UnitSystem, degrees, format_length

_HEADS: Final = (
    "Club",
    "Gap, heads",
    "Ball in",
    "Ball-toes",
    "Shoes",
    "Handle",
    "Fists",
    "Bend",
    "Knees",
    "Lead",
)
_EXPLAINED: Final = (
    "Gap: clear between the shoes, and in heads of that club in all. Ball in: inside the lead "
    "heel. Ball-toes: ball to the line of the toes, and in shoe lengths. Handle: height of the "
    "butt. Fists: between butt and thigh. Bend: hips to neck. Knees: lead/trail. Lead: weight on "
    "the lead foot."
)


LAID_OUT_SD_M: Final = 0.01
"""How exactly a coach lays things on the ground, metre; decides the decimals."""
WIDTH: Final = 80


def _length(metres: float, units: UnitSystem) -> str:
    shown = format_length(metres, system=units, sd=LAID_OUT_SD_M)
    return shown.replace("\N{NO-BREAK SPACE}", " ")


def _bare(metres: float, units: UnitSystem) -> str:
    """A length without its unit, which stands above the table."""
    return _length(metres, units).rsplit(" ", maxsplit=1)[0]


def _row(plan: Plan, units: UnitSystem) -> tuple[str, ...]:
    f = plan.floor
    return (
        plan.club.name + ("" if plan.fits else " !"),
        f"{_bare(f.gap, units)}, {f.gap_club_heads:.1f}",
        _bare(f.ball_from_lead_heel, units),
        _bare(f.ball_from_toes, units),
        f"{f.ball_from_toes_shoes:.1f}",
        _bare(f.handle_height, units),
        f"{f.hand_gap_fists:.1f}",
        f"{f.forward_bend_deg:.0f}°",
        f"{f.lead_knee_flex_deg:.0f}/{f.trail_knee_flex_deg:.0f}°",
        f"{f.lead_share_percent:.0f} %",
    )


def _table(rows: Sequence[tuple[str, ...]]) -> list[str]:
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]


def _place(bag: BagPlan) -> str:
    parts = []
    up, above = degrees(bag.ground.uphill), degrees(bag.ground.ball_above_feet)
    if up:
        parts.append(f"{'uphill' if up > 0 else 'downhill'} {abs(up):.0f}°")
    if above:
        parts.append(f"ball {'above' if above > 0 else 'below'} the feet {abs(above):.0f}°")
    if bag.wind.value != "none":
        parts.append(f"wind {bag.wind.value}")
    return ", ".join(parts)


def _misfits(bag: BagPlan) -> list[str]:
    """What doesn't fit, club by club, and what would mend it."""
    if bag.fits:
        return []
    lines = ["", "Doesn't fit (marked !)", "----------------------"]
    for plan in bag.plans:
        for conflict, remedies in said_once(plan.conflicts):
            lines += textwrap.wrap(
                f"{plan.club.name}: {conflict.message}", WIDTH, subsequent_indent="  "
            )
            for remedy in remedies:
                cure = "" if remedy.cures else " (helps, but is not enough)"
                lines += textwrap.wrap(
                    f"- {remedy.message}{cure}",
                    WIDTH,
                    initial_indent="  ",
                    subsequent_indent="    ",
                )
    return lines


def _notes(bag: BagPlan) -> list[str]:
    """Each note once, with the clubs that it is about."""
    about: dict[str, list[str]] = {f"{note.message} {note.remedy}": [] for note in bag.notes}
    for plan in bag.plans:
        for note in plan.notes:
            clubs = about.setdefault(f"{note.message} {note.remedy}", [])
            if plan.club.name not in note.message:
                clubs.append(plan.club.name)
    return [f"{', '.join(clubs)}: {said}" if clubs else said for said, clubs in about.items()]


def plan_text(
    bag: BagPlan, /, *, units: UnitSystem = UnitSystem.CENTIMETRES, files: Sequence[str] = ()
) -> str:
    """The plans in plain text.

    Parameters
    ----------
    bag : BagPlan
    units : UnitSystem
    files : sequence of str
        Where files were written.
    """
    who = bag.student.name or "A student"
    place = _place(bag)
    lines = [
        f"{who}, {_length(bag.student.build.stature, units)}, {bag.hand.value}-handed"
        + (f", {place}" if place else "")
        + f"; lengths in {units.value}",
        "",
        *_table([_HEADS, *(_row(plan, units) for plan in bag.plans)]),
        "",
        *textwrap.wrap(_EXPLAINED, WIDTH),
    ]
    lines += _misfits(bag)
    breaks = ladder_breaks(bag.plans)
    if breaks:
        lines += ["", "Where the ladder breaks", "-----------------------"]
        for each in breaks:
            lines += textwrap.wrap(each.message, WIDTH, subsequent_indent="  ")
    notes = _notes(bag)
    if notes:
        lines += ["", "Notes", "-----"]
        for note in notes:
            lines += textwrap.wrap(note, WIDTH, subsequent_indent="  ")
    if files:
        lines += ["", "Files", "-----", *files]
    return "\n".join(lines) + "\n"
