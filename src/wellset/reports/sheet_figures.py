"""The student's own figure and that of their plan, side by side at one scale."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

import numpy as np
from attrs import evolve
from markupsafe import Markup
from numpy.typing import NDArray

from wellset.figure.figure import BUILD_SCALARS, Figure
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import Hand, View
from wellset.reports.figure_svg import Side, figure_svg
from wellset.reports.lesson_sheet_model import Drawn
from wellset.reports.moves import view_of
from wellset.reports.plan_contract import ClubPlan

Array = NDArray[np.float64]

_VIEW_BOX: Final = re.compile(r'viewBox="([-\d.]+) ([-\d.]+) ([-\d.]+) ([-\d.]+)"')
TITLES: Final = ("You now", "Your plan")
_SEEN: Final = {
    Side.FRONT: "the whole body with club and ball, from the front",
    Side.BEHIND: "the whole body with club and ball, from behind, looking at the target",
    Side.ABOVE: "both shoes, the club and the ball, from above",
}
_FLAT: Final = (
    *(f"{lead}_shoe_{end}" for lead in ("lead", "trail") for end in ("heel", "toe")),
    *("ball", "club_head", "grip_end"),
)
_ROOM_CM: Final = 9.0
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


def figures_of(
    points: Mapping[str, Array], plan: ClubPlan | None, /, *, measure: str, hand: Hand
) -> tuple[Drawn, ...]:
    """Both figures from the side that shows the first change; nothing without a plan.

    Parameters
    ----------
    points : mapping of landmark to (3,) array
        The student's own, metre.
    plan : ClubPlan or None
    measure : str
        The first change; empty for none.
    hand : Hand
    """
    if plan is None:
        return ()
    side = _side(measure)
    places = [points, {name: np.array(place) for name, place in plan.points.items()}]
    drawn = [
        _drawn(title, np.array([each[name] for name in LANDMARKS]), side=side, hand=hand)
        for title, each in zip(TITLES, places, strict=True)
    ]
    boxes = [
        _ground_box(each, mirrored=hand is Hand.LEFT) if side is Side.ABOVE else _box(one.svg)
        for each, one in zip(places, drawn, strict=True)
    ]
    # one box for both, and so one scale; the ball lies at the same place of it
    left, top = (min(box[i] for box in boxes) for i in (0, 1))
    right, bottom = (max(box[i] + box[i + 2] for box in boxes) for i in (0, 1))
    return tuple(_boxed(each, box=(left, top, right - left, bottom - top)) for each in drawn)


def _side(measure: str) -> Side:
    """The side that shows a measure best; the bend where there is none."""
    if measure in _ON_THE_GROUND:
        return Side.ABOVE
    front = bool(measure) and view_of(measure) is View.FACE_ON
    return Side.FRONT if front else Side.BEHIND


def _drawn(title: str, places: Array, *, side: Side, hand: Hand) -> Drawn:
    figure = Figure(
        points=places,
        scalars=np.zeros(len(BUILD_SCALARS)),
        mass_weights=np.full(len(LANDMARKS), 1 / len(LANDMARKS)),
    )
    alt = f"{title}: a drawing of {_SEEN[side]}."
    svg = figure_svg(figure, side, hand=hand, words=alt)
    _, _, width, height = _box(svg)
    return Drawn(title=title, svg=svg, width=width, height=height, alt=alt)


def _box(svg: str) -> tuple[float, float, float, float]:
    found = _VIEW_BOX.search(svg)
    if found is None:
        raise ValueError("the drawing has no view box")
    left, top, width, height = map(float, found.groups())
    return left, top, width, height


def _ground_box(
    points: Mapping[str, Array], *, mirrored: bool
) -> tuple[float, float, float, float]:
    """What lies on the ground, seen from above, with some room round it, centimetres."""
    low = np.array([points[name][:2] for name in _FLAT]) * [-1 if mirrored else 1, 1]
    left, top = 100 * low.min(axis=0) - _ROOM_CM
    right, bottom = 100 * low.max(axis=0) + _ROOM_CM
    return float(left), float(top), float(right - left), float(bottom - top)


def _boxed(drawn: Drawn, *, box: tuple[float, float, float, float]) -> Drawn:
    """The same drawing in a larger box."""
    words = 'viewBox="{:.1f} {:.1f} {:.1f} {:.1f}"'.format(*box)
    svg = Markup(_VIEW_BOX.sub(words, drawn.svg, count=1))  # noqa: S704  # numbers only
    return evolve(drawn, svg=svg, width=box[2], height=box[3])
