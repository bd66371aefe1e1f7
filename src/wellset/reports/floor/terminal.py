"""The list without paper as plain text."""

from __future__ import annotations

import textwrap
from typing import Final

from wellset.reports.floor.listing import rooms
from wellset.reports.floor.sheets import FloorPlan

WIDTH: Final = 80


def list_text(plan: FloorPlan, /) -> str:
    """How to lay the plan out with sticks and tees, in plain text."""
    who = plan.document.student.name or "A student"
    lines = [f"{who}, {plan.document.hand}-handed: {plan.what}", ""]
    for number, step in enumerate(plan.listing.before, 1):
        lines += textwrap.wrap(step, WIDTH, initial_indent=f"{number}. ", subsequent_indent="   ")
    lines += ["", *_table((plan.listing.table.heads, *plan.listing.table.rows)), ""]
    for step in plan.listing.after:
        lines += textwrap.wrap(step, WIDTH)
    if len(plan.stances) == 1:
        lines += ["", "Room, before anything leaves its window", "-" * 39]
        lines += _table(rooms(plan.stances[0], plan.units))
    for club in plan.document.clubs:
        if club.conflicts and any(club.club == stance.club for stance in plan.stances):
            lines += [
                "",
                *textwrap.wrap(f"{club.club} doesn't fit: {club.conflicts[0].message}", WIDTH),
            ]
    return "\n".join(lines) + "\n"


def _table(rows: tuple[tuple[str, ...], ...]) -> list[str]:
    widths = [max(len(row[i]) for row in rows) for i in range(len(rows[0]))]
    return [
        "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
        for row in rows
    ]
