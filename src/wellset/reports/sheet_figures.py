"""The student's own figure and that of their plan, side by side at one scale."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

import numpy as np
from attrs import evolve
from markupsafe import Markup
from numpy.typing import NDArray

from wellset.advise import Seen
from wellset.equipment import Club, find_club
from wellset.figure.figure import BUILD_SCALARS, Figure
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import Hand, View
from wellset.reports.contract import AssessmentDocument, ClubPart, MeasuredValue
from wellset.reports.drill_svg import figure_drawing
from wellset.reports.lesson_sheet_model import Drawn
from wellset.reports.moves import view_of
from wellset.reports.plan_contract import ClubPlan
from wellset.units import radians

Array = NDArray[np.float64]
Points = Mapping[str, tuple[float, float, float]]

_VIEW_BOX: Final = re.compile(
    r'width="[-\d.]+" height="[-\d.]+" viewBox="([-\d.]+) ([-\d.]+) ([-\d.]+) ([-\d.]+)"'
)
TITLES: Final = ("You now", "Your plan")
_TOLD: Final = {
    Seen.FRONT: "the whole body with club and ball, from the front",
    Seen.SIDE: "the whole body with club and ball, from behind, looking at the target",
    Seen.ABOVE: "both shoes, the club and the ball, from above",
}
_ON_THE_GROUND: Final = frozenset(
    {
        "stance_width",
        "stance_gap",
        "ball_position",
        "ball_to_toes",
        "lead_foot_flare",
        "trail_foot_flare",
        "foot_line",
    }
)
"""What is seen best from above."""
SHOE_BREADTH_M: Final = 0.10
"""Breadth of a shoe at the ankle where neither set-up tells it (from memory)."""


def figures_of(
    document: AssessmentDocument, plan: ClubPlan | None, /, *, measure: str
) -> tuple[Drawn, ...]:
    """Both figures from the side that shows the first change; nothing without a plan.

    Parameters
    ----------
    document : AssessmentDocument
    plan : ClubPlan or None
    measure : str
        The first change; empty for none.
    """
    if plan is None:
        return ()
    seen, hand = _seen(measure), Hand(document.hand)
    breadth = _shoe_breadth(document)
    own: Points = {name: part.position_m for name, part in document.points.items()}
    drawn = [
        _drawn(
            title, _figure(points, breadth=breadth), seen=seen, hand=hand, held=_club(document.club)
        )
        for title, points in zip(TITLES, (own, plan.points), strict=True)
    ]
    boxes = [_box(each.svg) for each in drawn]
    # one box for both, and so one scale; the ball lies at the same place of it
    left, top = (min(box[i] for box in boxes) for i in (0, 1))
    right, bottom = (max(box[i] + box[i + 2] for box in boxes) for i in (0, 1))
    return tuple(_boxed(each, box=(left, top, right - left, bottom - top)) for each in drawn)


def _seen(measure: str) -> Seen:
    """The side that shows a measure best; the bend where there is none."""
    if measure in _ON_THE_GROUND:
        return Seen.ABOVE
    front = bool(measure) and view_of(measure) is View.FACE_ON
    return Seen.FRONT if front else Seen.SIDE


def _club(kept: ClubPart) -> Club:
    return find_club(
        kept.name, length=kept.length_m, lie=radians(kept.lie_deg), head_length=kept.head_length_m
    )


def _shoe_breadth(document: AssessmentDocument) -> float:
    """By which the gap between the shoes is less than the width of the stance."""
    width, gap = (document.measures.get(name) for name in ("stance_width", "stance_gap"))
    if isinstance(width, MeasuredValue) and isinstance(gap, MeasuredValue):
        return width.value - gap.value
    return SHOE_BREADTH_M


def _figure(points: Points, *, breadth: float) -> Figure:
    scalars = [breadth if name == "shoe_breadth" else 0.0 for name in BUILD_SCALARS]
    return Figure(
        points=np.array([points[name] for name in LANDMARKS]),
        scalars=np.array(scalars),
        mass_weights=np.full(len(LANDMARKS), 1 / len(LANDMARKS)),
    )


def _drawn(title: str, figure: Figure, *, seen: Seen, hand: Hand, held: Club) -> Drawn:
    alt = f"{title}: a drawing of {_TOLD[seen]}."
    svg = figure_drawing(figure, seen, hand=hand, held=held, words=alt)
    _, _, width, height = _box(svg)
    return Drawn(title=title, svg=svg, width=width, height=height, alt=alt)


def _box(svg: str) -> tuple[float, float, float, float]:
    found = _VIEW_BOX.search(svg)
    if found is None:
        raise ValueError("the drawing has no view box")
    left, top, width, height = map(float, found.groups())
    return left, top, width, height


def _boxed(drawn: Drawn, *, box: tuple[float, float, float, float]) -> Drawn:
    """The same drawing in a larger box."""
    words = 'viewBox="{:.1f} {:.1f} {:.1f} {:.1f}"'.format(*box)
    svg = Markup(_VIEW_BOX.sub(words, drawn.svg, count=1))  # noqa: S704  # numbers only
    return evolve(drawn, svg=svg, width=box[2], height=box[3])
