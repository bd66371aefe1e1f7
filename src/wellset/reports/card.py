"""The bag card: every club of a student on one page, to fold into the bag."""

from __future__ import annotations

from typing import Final

import numpy as np

from wellset.equipment import ClubKind
from wellset.figure.figure import BUILD_SCALARS, Figure
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import Hand
from wellset.measures import MEASURES
from wellset.reports.figure_svg import FAR, INK, PINE, Side, figure_svg
from wellset.reports.floor.amounts import apart, counted, tall
from wellset.reports.plan_contract import ClubPlan, PlanDocument
from wellset.reports.plan_terminal import LAID_OUT_SD_M
from wellset.reports.sheet import Paper
from wellset.reports.typesetting import typeset
from wellset.standards import shot_for
from wellset.units import UnitSystem, format_length

TITLE: Final = "Bag card"
HEADS: Final = (
    ("Club", ""),
    ("Gap", "between the heels, and in heads of the club"),
    ("Ball", "from the inner edge of the lead heel"),
    ("Ball to toes", "to their line, and in your shoes"),
    ("Handle", "end of the grip against the thigh"),
    ("Bend", "from the hips"),
    ("Lead", "your weight on it"),
)
EXPLAINED: Final = (
    "Lead is the side nearer the target, trail the other. Heads: of that club, laid side by side. "
    "Shoes: your own, heel to toe. Handle: the dot shows how far up from knee to hip."
)
CAUTION: Final = (
    "A place to start from; try it with your coach. If a position hurts, stop, and see a doctor or "
    "a physiotherapist."
)
MISFIT: Final = "! doesn’t fit this body: the best that could be found, not a target."
MOST_NOTES: Final = 3
_UP_THE_THIGH: Final = (
    (-0.08, "below the knee"),
    (0.08, "at the knee"),
    (0.29, "¼ up"),
    (0.42, "⅓ up"),
    (0.58, "½ up"),
    (0.71, "⅔ up"),
    (0.92, "¾ up"),
    (1.08, "at the hip"),
)
"""Up to which share of the way from knee to hip each is said."""


def card_pdf(
    document: PlanDocument, paper: Paper, /, *, units: UnitSystem = UnitSystem.CENTIMETRES
) -> bytes:
    """The bag card as a tagged PDF (PDF/UA-1) of one page, the same bytes each time.

    Parameters
    ----------
    document : PlanDocument
    paper : Paper
    units : UnitSystem
    """
    files: dict[str, bytes] = {}
    for i, club in enumerate(document.clubs):
        files[f"bend-{i}.svg"] = _bend(document, club).encode()
        files[f"thigh-{i}.svg"] = _thigh_bar(club.floor.handle_up_thigh).encode()
    return typeset("card.typ", given=_given(document, paper, units=units), files=files)


def up_the_thigh(share: float, /) -> str:
    """Where a height falls between knee and hip, in words."""
    return next((words for most, words in _UP_THE_THIGH if share <= most), "above the hip")


def _given(document: PlanDocument, paper: Paper, *, units: UnitSystem) -> dict[str, object]:
    student = document.student
    place = document.place
    facts = [f"{tall(student.stature_m, units)} tall", f"{document.hand}-handed"]
    if place.uphill_deg:
        way = "uphill" if place.uphill_deg > 0 else "downhill"
        facts.append(f"{way} {abs(place.uphill_deg):.0f}°")
    if place.ball_above_feet_deg:
        side = "above" if place.ball_above_feet_deg > 0 else "below"
        facts.append(f"ball {side} the feet {abs(place.ball_above_feet_deg):.0f}°")
    if place.wind != "none":
        facts.append(f"wind {place.wind}")
    return {
        "title": TITLE,
        "who": apart(student.name or "A student"),
        "facts": facts,
        "paper": {"width": paper.width_mm, "height": paper.height_mm},
        "heads": HEADS,
        "explained": EXPLAINED,
        "caution": CAUTION,
        "rows": [_row(club, units) for club in document.clubs],
        "notes": _notes(document),
        "made": f"Wellset {document.versions.program}, standards {document.versions.standards}",
    }


def _row(club: ClubPlan, units: UnitSystem) -> dict[str, object]:
    floor = club.floor
    side = "inside" if floor.ball_from_lead_heel_m >= 0 else "outside"
    return {
        "club": club.club + (" !" if club.conflicts else ""),
        "shot": "" if club.shot == shot_for(ClubKind(club.kind)).value else club.shot,
        "cells": (
            (_length(floor.gap_m, units), counted(floor.gap_club_heads, "head")),
            (_length(abs(floor.ball_from_lead_heel_m), units), side),
            (_length(floor.ball_from_toes_m, units), counted(floor.ball_from_toes_shoes, "shoe")),
            (_length(floor.handle_height_m, units), up_the_thigh(floor.handle_up_thigh)),
            (f"{floor.forward_bend_deg:.0f}°", ""),
            (f"{floor.lead_share_percent:.0f} %", ""),
        ),
        "alt": f"{club.club} from behind: bent {floor.forward_bend_deg:.0f} degrees from the hips",
    }


def _length(metres: float, units: UnitSystem) -> str:
    return format_length(metres, system=units, sd=LAID_OUT_SD_M)


def _notes(document: PlanDocument) -> list[str]:
    """What doesn't fit and where the ladder breaks, briefly."""
    misfits: dict[str, list[str]] = {}
    for club in document.clubs:
        for conflict in club.conflicts:
            misfits.setdefault(conflict.measure, []).append(club.club)
    told = []
    for measure, clubs in misfits.items():
        names = list(dict.fromkeys(clubs))
        every = len(names) == len(document.clubs) > 1
        told.append(
            f"{_title(measure)} out of its window: {'all clubs' if every else ', '.join(names)}."
        )
    told += [each.message for each in document.breaks]
    notes = told[:MOST_NOTES]
    if len(told) > MOST_NOTES:
        notes.append(f"And {len(told) - MOST_NOTES} more: see the plan.")
    return [*([MISFIT] if misfits else []), *notes]


def _title(quantity: str) -> str:
    """A measure's or a joint's name."""
    if quantity in MEASURES:
        return MEASURES[quantity].title
    return quantity.replace("_", " ").capitalize()


def _bend(document: PlanDocument, club: ClubPlan) -> str:
    """The set-up from behind, small."""
    scalars = np.zeros(len(BUILD_SCALARS))
    scalars[BUILD_SCALARS.index("shoe_breadth")] = document.student.shoe_breadth_m
    figure = Figure(
        points=np.array([club.points[name] for name in LANDMARKS]),
        scalars=scalars,
        mass_weights=np.zeros(len(LANDMARKS)),
    )
    return str(figure_svg(figure, Side.BEHIND, hand=Hand(document.hand), words="", scale=0.1))


def _thigh_bar(share: float) -> str:
    """From knee (below) to hip (above), with a dot where the handle ends."""
    at = 36 - 32 * float(np.clip(share, -0.06, 1.06))
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 12 40">'
        f'<path d="M6 4V36" stroke="{FAR}" stroke-width="3.4" stroke-linecap="round"/>'
        f'<path d="M2 4H10M2 36H10" stroke="{PINE}" stroke-width="1.2"/>'
        f'<circle cx="6" cy="{at:.2f}" r="4" fill="{INK}"/></svg>'
    )
