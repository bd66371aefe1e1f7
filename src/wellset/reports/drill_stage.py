"""What a drill's drawing is put together from: the posed target, and strokes to draw props with."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final, Literal

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.figure.figure import Figure
from wellset.prescribe import Plan
from wellset.reports.body_shape import Sheet

Array = NDArray[np.float64]

INK: Final = "#10261f"
WOOD: Final = "#c98a00"
"""Whatever is laid, leant on or held."""
CHALK_LINE: Final = "#8f2d0c"
"""Lines one only thinks of: plumb lines, levels."""
STONE: Final = "#8c8a7c"
PAPER: Final = "#ffffff"
SKIN: Final = "#e9d3b4"
TOUCH: Final = "#8f2d0c"

Where = Literal["left", "right", "over", "under"]


@frozen(kw_only=True, eq=False)
class Label:
    """Words beside a drawing.

    Parameters
    ----------
    words : str
    at : (2,) array, centimetre
        What they speak of.
    where : str
        On which side they stand; "over" and "under" stand at the place itself.
    """

    words: str
    at: Array
    where: Where


@frozen(kw_only=True, eq=False)
class Placed:
    """One prop on the drawing.

    Parameters
    ----------
    behind, before : str
        SVG that lies behind the figure, and before it.
    labels : tuple of Label
    reach : (k, 2) array, centimetre
        Points that must lie within the drawing.
    """

    behind: str = ""
    before: str = ""
    labels: tuple[Label, ...] = ()
    reach: Array = field(factory=lambda: np.empty((0, 2)))


@frozen(kw_only=True, eq=False)
class Stage:
    """A target, posed for a drill, on its sheet.

    Parameters
    ----------
    plan : Plan
    figure : Figure
        The plan's, its arms as the drill asks.
    sheet : Sheet
    """

    plan: Plan
    figure: Figure
    sheet: Sheet

    @property
    def rear(self) -> float:
        """From the side: the sign of x behind the student."""
        return -self.sheet.way


def path(points: Array, /, *, closed: bool = False) -> str:
    """Points as the text of a path; hundredths of a centimetre."""
    text = "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in points)
    return text + ("Z" if closed else "")


def stroke(
    points: Sequence[Array] | Array,
    /,
    *,
    name: str = "",
    colour: str = WOOD,
    width: float = 2.0,
    dash: str = "",
    cap: str = "round",
) -> str:
    """A line."""
    dashes = f' stroke-dasharray="{dash}"' if dash else ""
    named = f' class="{name}"' if name else ""
    return (
        f'<path{named} d="{path(np.asarray(points))}" fill="none" stroke="{colour}" '
        f'stroke-width="{width:.2f}" stroke-linecap="{cap}" stroke-linejoin="round"{dashes}/>'
    )


def filled(
    points: Array, /, *, name: str = "", fill: str, edge: str = "none", width: float = 0.8
) -> str:
    """A filled shape."""
    named = f' class="{name}"' if name else ""
    return (
        f'<path{named} d="{path(points, closed=True)}" fill="{fill}" stroke="{edge}" '
        f'stroke-width="{width:.2f}" stroke-linejoin="round"/>'
    )


def dot(at: Array, /, *, radius: float = 1.7, fill: str = TOUCH, name: str = "touch") -> str:
    """A round mark, as where something touches."""
    return (
        f'<circle class="{name}" cx="{at[0]:.2f}" cy="{at[1]:.2f}" r="{radius:.2f}" '
        f'fill="{fill}" stroke="{PAPER}" stroke-width="0.7"/>'
    )


def hanging(
    name: str, top: Array, /, *, bottom: float = -1.0, words: str, where: Where, bob: bool = True
) -> Placed:
    """A string with a weight, from a point straight down."""
    low = np.array([top[0], bottom])
    weight = ""
    if bob:
        shape = [[0, -3.4], [1.6, -1.6], [0, 2.2], [-1.6, -1.6]]
        weight = filled(low + np.array(shape) + [0, -2.2], fill=CHALK_LINE, name="bob")
    line = stroke([top, low], name=f"prop {name}", colour=CHALK_LINE, width=0.9)
    return Placed(
        before=line + weight + dot(top, radius=1.4),
        labels=labels(words, top + 0.45 * (low - top), where=where),
        reach=np.array([top, low]),
    )


def labels(words: str, at: Array, /, *, where: Where) -> tuple[Label, ...]:
    """A label, or none without words."""
    return (Label(words=words, at=at, where=where),) if words else ()
