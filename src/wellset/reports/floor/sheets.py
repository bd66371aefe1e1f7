"""The floor plan as a PDF: how to use it, then the ground, sheet by sheet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from attrs import evolve, frozen

from wellset.errors import InputError
from wellset.reports.floor import words as w
from wellset.reports.floor.amounts import apart, on_tape, tall
from wellset.reports.floor.ladder import whole_bag
from wellset.reports.floor.listing import Listing, listing, rooms
from wellset.reports.floor.marks import (
    Drawn,
    Mark,
    Path,
    Pen,
    Words,
    bounds,
    circle,
    part_svg,
)
from wellset.reports.floor.one import one_club
from wellset.reports.floor.stance import Shoe, Stance, stances_of
from wellset.reports.floor.tiles import BAND_MM, MARGIN_MM, OVERLAP_MM, Tile, Tiling, cut
from wellset.reports.plan_contract import ClubPlan, PlanDocument
from wellset.reports.sheet import Paper
from wellset.reports.typesetting import typeset
from wellset.units import UnitSystem, format_length

RULER_MM: Final = 100.0
MOST_MISFITS: Final = 4
_MAP_LINE_MM: Final = 5.0
"""How bold lines are on the ground, where the small map shows them."""


@frozen(kw_only=True, eq=False)
class FloorPlan:
    """What is printed, before it is set.

    Parameters
    ----------
    document : PlanDocument
    stances : tuple of Stance
        One for a club, several for a ladder.
    marks : tuple of Mark
        The drawing, millimetre.
    tiling : Tiling
    listing : Listing
        The same without paper.
    units : UnitSystem
    """

    document: PlanDocument
    stances: tuple[Stance, ...]
    marks: tuple[Mark, ...]
    tiling: Tiling
    listing: Listing
    units: UnitSystem

    @property
    def what(self) -> str:
        """Club, or how many of them."""
        if len(self.stances) == 1:
            return self.stances[0].club
        return f"{len(self.stances)} clubs"


def floor_plan(
    document: PlanDocument,
    /,
    *,
    paper: Paper,
    club: str | None = None,
    units: UnitSystem = UnitSystem.CENTIMETRES,
) -> FloorPlan:
    """The floor plan of one club of a plan, or the ladder of them all.

    Parameters
    ----------
    document : PlanDocument
    paper : Paper
    club : str or None
        Its name in the plan; all clubs without.
    units : UnitSystem

    Raises
    ------
    InputError
        When the plan has no such club.
    """
    stances = stances_of(document)
    if club is not None:
        stances = tuple(stance for stance in stances if stance.club == club)
    if not stances:
        names = ", ".join(each.club for each in document.clubs)
        raise InputError(
            "This club is not in the plan", why=f"it has {names}.", fix="Name one of them."
        )
    marks = one_club(stances[0], units=units) if len(stances) == 1 else whole_bag(stances)
    return FloorPlan(
        document=document,
        stances=stances,
        marks=marks,
        tiling=cut(Drawn.of(marks), paper=paper),
        listing=listing(stances, units=units),
        units=units,
    )


def floor_pdf(plan: FloorPlan, /) -> bytes:
    """The plan as a tagged PDF (PDF/UA-1), the same bytes each time."""
    drawn = Drawn.of((*plan.marks, *plan.tiling.joins()))
    parts = {
        tile.name: drawn.within(plan.tiling.low(tile), plan.tiling.high(tile))
        for tile in plan.tiling.tiles
    }
    files = {
        f"{tile.name}.svg": part_svg(
            parts[tile.name], low=plan.tiling.low(tile), high=plan.tiling.high(tile)
        ).encode()
        for tile in plan.tiling.tiles
    }
    files["map.svg"] = _map(plan).encode()
    if len(plan.stances) == 1:
        files["tees.svg"] = _tees(plan).encode()
    return typeset("floor.typ", given=_given(plan, parts), files=files)


def _bold(plan: FloorPlan) -> list[Mark]:
    """The main lines, as bold as a small drawing needs them."""
    return [
        evolve(mark, pen=Pen(colour=mark.pen.colour, width=_MAP_LINE_MM, fill=mark.pen.fill))
        for mark in plan.marks
        if isinstance(mark, Path) and mark.shows
    ]


def _map(plan: FloorPlan) -> str:
    """The whole ground under the grid of sheets."""
    tiling = plan.tiling
    high = tiling.origin + tiling.step * [tiling.columns, tiling.rows] + OVERLAP_MM
    return part_svg(_bold(plan), low=tiling.origin, high=high)


def _tees(plan: FloorPlan) -> str:
    """Where the tees of the list go, by name."""
    stance = plan.stances[0]
    marks = _bold(plan)
    sides = {"lead": stance.target, "trail": -stance.target}
    for foot, side in sides.items():
        shoe: Shoe = getattr(stance, foot)
        for end, at in (("toe", shoe.toe), ("heel", shoe.heel)):
            marks.append(Path(points=circle(at, 9.0), pen=Pen(fill="#000000"), closed=True))
            beside = at + np.array(
                [side * (55 if end == "heel" else 80), -18 if end == "toe" else 30]
            )
            marks.append(Words(text=f"{foot} {end}", at=beside, size=30,
                               anchor="start" if side > 0 else "end"))  # fmt: skip
    marks.append(Path(points=circle(stance.ball, 9.0), pen=Pen(fill="#000000"), closed=True))
    marks.append(Words(text="ball", at=[-stance.target * 60, 12], size=30,
                       anchor="end" if stance.target > 0 else "start"))  # fmt: skip
    low, high = bounds(marks)
    return part_svg(marks, low=low - 6, high=high + 6)


def _given(plan: FloorPlan, parts: dict[str, list[Mark]]) -> dict[str, object]:
    tiling, document = plan.tiling, plan.document
    one = len(plan.stances) == 1
    student = document.student
    who = apart(student.name or "A student")
    facts = [
        f"{tall(student.stature_m, plan.units)} tall",
        f"{document.hand}-handed",
        f"shoes {format_length(student.shoe_length_m, system=plan.units)}",
        *_place(document),
    ]
    misfits = [club for club in document.clubs if club.conflicts and club.club in _clubs(plan)]
    return {
        "title": w.TITLE,
        "who": who,
        "what": plan.what,
        "facts": facts,
        "paper": {"width": tiling.paper.width_mm, "height": tiling.paper.height_mm},
        "sheet": {
            "width": tiling.width_mm,
            "height": tiling.height_mm,
            "margin": MARGIN_MM,
            "band": BAND_MM,
            "overlap": OVERLAP_MM,
            "step": tiling.step.tolist(),
        },
        "grid": {"rows": tiling.rows, "columns": tiling.columns},
        "ruler": RULER_MM,
        "target": plan.stances[0].target,
        "print": _steps(plan),
        "marks": w.MARKS_ONE if one else w.MARKS_BAG[: None if misfits else -1],
        "rooms": rooms(plan.stances[0], plan.units) if one else (),
        "cautions": w.CAUTIONS,
        "misfits": _told(misfits),
        "notes": [note.message for note in document.notes],
        "listing": {
            "before": plan.listing.before,
            "heads": plan.listing.table.heads,
            "rows": plan.listing.table.rows,
            "after": plan.listing.after,
            "figure": one,
        },
        "sheets": [_sheet(plan, tile, marks=parts[tile.name]) for tile in tiling.tiles],
        "made": f"Wellset {document.versions.program}, standards {document.versions.standards}",
    }


def _told(misfits: Sequence[ClubPlan]) -> list[str]:
    """What doesn't fit, the first few in full."""
    told = [f"{club.club}: {club.conflicts[0].message}" for club in misfits[:MOST_MISFITS]]
    more = len(misfits) - MOST_MISFITS
    return [*told, f"{more} more: see the plan."] if more > 0 else told


def _steps(plan: FloorPlan) -> tuple[str, ...]:
    """How to print, tape, check and lay it."""
    if len(plan.tiling.tiles) == 1:
        return w.PRINT_ONE
    first = plan.stances[0]
    taped = w.TAPED.format(
        which="" if len(plan.stances) == 1 else f" for the {first.club}",
        length=on_tape(first.ball_to_toes, plan.units),
    )
    return (*w.PRINT[:-1], taped, w.PRINT[-1])


def _clubs(plan: FloorPlan) -> set[str]:
    return {stance.club for stance in plan.stances}


def _place(document: PlanDocument) -> list[str]:
    place, words = document.place, []
    if place.uphill_deg:
        words.append(
            f"{'uphill' if place.uphill_deg > 0 else 'downhill'} {abs(place.uphill_deg):.0f}°"
        )
    if place.ball_above_feet_deg:
        side = "above" if place.ball_above_feet_deg > 0 else "below"
        words.append(f"ball {side} the feet {abs(place.ball_above_feet_deg):.0f}°")
    return words


def _sheet(plan: FloorPlan, tile: Tile, *, marks: Sequence[Mark]) -> dict[str, object]:
    tiles = set(plan.tiling.tiles)

    def beside(row: int, column: int) -> str:
        other = Tile(row=tile.row + row, column=tile.column + column)
        return other.name if other in tiles else ""

    low, high = plan.tiling.low(tile), plan.tiling.high(tile)
    shown = [
        mark.shows
        for mark in marks
        if mark.shows and bool(((mark.reach >= low) & (mark.reach <= high)).all(axis=1).any())
    ]
    return {
        "name": tile.name,
        "letter": tile.letter,
        "row": tile.row,
        "column": tile.column,
        "left": beside(0, -1),
        "right": beside(0, 1),
        "above": beside(-1, 0),
        "below": beside(1, 0),
        "shows": ", ".join(dict.fromkeys(shown)) or "writing only",
    }
