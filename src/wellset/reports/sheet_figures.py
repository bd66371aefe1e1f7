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
_SEEN: Final = {Side.FRONT: "from the front", Side.BEHIND: "from behind, looking at the target"}


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
    front = bool(measure) and view_of(measure) is View.FACE_ON
    side = Side.FRONT if front else Side.BEHIND
    places = [points, {name: np.array(place) for name, place in plan.points.items()}]
    drawn = [
        _drawn(title, np.array([each[name] for name in LANDMARKS]), side=side, hand=hand)
        for title, each in zip(TITLES, places, strict=True)
    ]
    wide, high = (max(size) for size in zip(*((d.width, d.height) for d in drawn), strict=True))
    return tuple(_on_ground(each, width=wide, height=high) for each in drawn)


def _drawn(title: str, places: Array, *, side: Side, hand: Hand) -> Drawn:
    figure = Figure(
        points=places,
        scalars=np.zeros(len(BUILD_SCALARS)),
        mass_weights=np.full(len(LANDMARKS), 1 / len(LANDMARKS)),
    )
    alt = f"{title}: the whole body with club and ball, drawn {_SEEN[side]}."
    svg = figure_svg(figure, side, hand=hand, words=alt)
    _, _, width, height = _box(svg)
    return Drawn(title=title, svg=svg, width=width, height=height, alt=alt)


def _box(svg: str) -> tuple[float, float, float, float]:
    found = _VIEW_BOX.search(svg)
    if found is None:
        raise ValueError("the drawing has no view box")
    left, top, width, height = map(float, found.groups())
    return left, top, width, height


def _on_ground(drawn: Drawn, *, width: float, height: float) -> Drawn:
    """The same drawing in a larger box, its ground at the bottom: so two have one scale."""
    left, top, wide, high = _box(drawn.svg)
    x, y = left - (width - wide) / 2, top - (height - high)
    box = f'viewBox="{x:.1f} {y:.1f} {width:.1f} {height:.1f}"'
    svg = Markup(_VIEW_BOX.sub(box, drawn.svg, count=1))  # noqa: S704  # numbers only
    return evolve(drawn, svg=svg, width=width, height=height)
