"""What is drawn on the ground, in millimetres, and its drawing for any part of the ground."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from attrs import field, frozen
from markupsafe import escape
from numpy.typing import ArrayLike, NDArray

from wellset.reports.figure_svg import AMBER, INK, PINE

Array = NDArray[np.float64]

SOFT: Final = "#5b6b63"
TINT: Final = "#dfece5"
PALE: Final = "#f1f5f2"
LETTER_BREADTH: Final = 0.58
"""Mean breadth of our letters as a share of their size, a little generous."""
FINE_MM: Final = 4.0
"""Marks are sampled as finely when asking which sheets they touch."""


def _point(value: object) -> Array:
    """One point, shape (2,)."""
    point: Array = _points(value)[0]
    return point


def _points(value: object) -> Array:
    array = np.array(value, dtype=np.float64).reshape(-1, 2)
    array.setflags(write=False)
    return array


@frozen(kw_only=True)
class Pen:
    """How a line or an area is drawn, millimetre."""

    colour: str = INK
    width: float = 0.4
    dash: tuple[float, ...] = ()
    fill: str = "none"


OUTLINE: Final = Pen(width=0.9)
LEAD: Final = Pen(width=0.9, fill=TINT)
TRAIL: Final = Pen(width=0.9, fill=PALE)
THIN: Final = Pen(colour=SOFT, width=0.3)
DASHED: Final = Pen(colour=SOFT, width=0.35, dash=(3.0, 2.0))
STICK: Final = Pen(colour=SOFT, width=0.3, fill="#f7f4e8")
TOE_LINE: Final = Pen(colour=INK, width=0.8)
TARGET: Final = Pen(colour=INK, width=0.8)
BALL_LINE: Final = Pen(colour=AMBER, width=0.8, dash=(7.0, 3.0))
ROOM: Final = Pen(colour=AMBER, width=0.5, dash=(0.2, 1.4))
HEAD: Final = Pen(colour=PINE, width=0.4, fill="#ffffff")


@frozen(kw_only=True, eq=False)
class Path:
    """A line through points, or the area inside them.

    Parameters
    ----------
    points : (N, 2) array
    pen : Pen
    closed : bool
    shows : str
        What it is, for those who cannot see it; nothing for what only goes with another.
    """

    points: Array = field(converter=_points)
    pen: Pen
    closed: bool = False
    shows: str = ""

    @property
    def reach(self) -> Array:
        """Points that every sheet on which some of it lies holds at least one of."""
        points = np.vstack([self.points, self.points[:1]]) if self.closed else self.points
        steps = np.hypot(*np.diff(points, axis=0).T)
        pieces = [
            a + np.linspace(0, 1, max(2, int(step / FINE_MM) + 1))[:, None] * (b - a)
            for a, b, step in zip(points[:-1], points[1:], steps, strict=True)
        ]
        return np.vstack(pieces)

    def svg(self) -> str:
        """As a part of a drawing."""
        path = "M" + "L".join(f"{x:.3f} {y:.3f}" for x, y in self.points)
        dash = (
            f' stroke-dasharray="{" ".join(f"{d:g}" for d in self.pen.dash)}"'
            if self.pen.dash
            else ""
        )
        return (
            f'<path d="{path}{"Z" if self.closed else ""}" fill="{self.pen.fill}" '
            f'stroke="{self.pen.colour}" stroke-width="{self.pen.width:g}" '
            f'stroke-linejoin="round" stroke-linecap="round"{dash}/>'
        )


@frozen(kw_only=True, eq=False)
class Words:
    """A line of text.

    Parameters
    ----------
    text : str
    at : (2,) array
        Where its baseline begins, is halved or ends, as `anchor` says.
    size : float
        Of the letters, millimetre.
    anchor : str
        ``start``, ``middle`` or ``end``.
    upright : bool
        Written up the page.
    bold : bool
    colour : str
    needed : bool
        Whether a sheet is printed for its sake.
    """

    text: str
    at: Array = field(converter=_point)
    size: float = 6.0
    anchor: str = "start"
    upright: bool = False
    bold: bool = True
    colour: str = INK
    needed: bool = True
    shows: str = ""

    @property
    def reach(self) -> Array:
        """Its corners and some points between them."""
        long = LETTER_BREADTH * self.size * len(self.text)
        begin = {"start": 0.0, "middle": -long / 2, "end": -long}[self.anchor]
        along = np.linspace(begin, begin + long, max(2, int(long / 20) + 1))
        box = np.array([[a, up] for a in along for up in (-0.8 * self.size, 0.25 * self.size)])
        if self.upright:
            box = np.column_stack([box[:, 1], -box[:, 0]])
        return box + self.at

    def svg(self) -> str:
        """As a part of a drawing."""
        x, y = self.at
        turn = f' transform="rotate(-90 {x:.2f} {y:.2f})"' if self.upright else ""
        return (
            f'<text x="{x:.2f}" y="{y:.2f}" font-family="Noto Sans" font-size="{self.size:g}" '
            f'font-weight="{700 if self.bold else 400}" text-anchor="{self.anchor}" '
            f'fill="{self.colour}"{turn}>{escape(self.text)}</text>'
        )


Mark = Path | Words


def circle(centre: Array, radius: float, /) -> Array:
    """Points round a centre, shape (72, 2)."""
    turn = np.linspace(0, 2 * np.pi, 72, endpoint=False)
    return np.asarray(centre + radius * np.column_stack([np.cos(turn), np.sin(turn)]))


def box(low: ArrayLike, high: ArrayLike, /) -> Array:
    """Corners of an upright rectangle, shape (4, 2)."""
    (x0, y0), (x1, y1) = _point(low), _point(high)
    return np.array([[x0, y0], [x1, y0], [x1, y1], [x0, y1]])


def arrow(begin: Sequence[float], end: Sequence[float], *, head: float = 7.0) -> Array:
    """A line with an arrow's head at its end, shape (6, 2)."""
    a, b = np.array(begin, dtype=np.float64), np.array(end, dtype=np.float64)
    along = (b - a) / np.hypot(*(b - a))
    across = np.array([-along[1], along[0]])
    wing = b - head * along
    return np.array([a, b, wing + 0.4 * head * across, b, wing - 0.4 * head * across, b])


def bounds(marks: Sequence[Mark], /) -> tuple[Array, Array]:
    """Lowest and highest x and y of everything."""
    points = np.vstack([mark.reach for mark in marks])
    return points.min(axis=0), points.max(axis=0)


@frozen(kw_only=True, eq=False)
class Drawn:
    """Marks with where each of them reaches, so that parts are drawn quickly."""

    marks: tuple[Mark, ...]
    low: Array
    high: Array

    @classmethod
    def of(cls, marks: Sequence[Mark], /) -> Drawn:
        """The marks in the order in which they are drawn."""
        reach = [mark.reach for mark in marks]
        return cls(
            marks=tuple(marks),
            low=np.array([r.min(axis=0) for r in reach]),
            high=np.array([r.max(axis=0) for r in reach]),
        )

    def within(self, low: Array, high: Array, /) -> list[Mark]:
        """Marks that reach into a rectangle."""
        touch = np.all((self.high + 1 >= low) & (self.low - 1 <= high), axis=1)
        return [self.marks[i] for i in np.flatnonzero(touch)]


def part_svg(marks: Sequence[Mark], *, low: Array, high: Array) -> str:
    """A part of the ground as a drawing of its own, one millimetre a unit."""
    (x, y), (width, height) = low, high - low
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width:.3f}mm" height="{height:.3f}mm" '
        f'viewBox="{x:.3f} {y:.3f} {width:.3f} {height:.3f}">'
        + "".join(mark.svg() for mark in marks)
        + "</svg>"
    )
