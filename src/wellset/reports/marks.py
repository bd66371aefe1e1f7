"""What is drawn over a picture, as values: one list for every way of drawing it.

All coordinates are pixels of the upright picture as taken. Sizes are in *units*: one
unit is a four-hundredth of the frame's width, about a pixel on a phone.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from types import MappingProxyType
from typing import Final

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

Array = NDArray[np.float64]

UNITS_ACROSS: Final = 400.0
"""Units in the width of a frame."""


class Role(StrEnum):
    """What a mark stands for; its look follows from it."""

    LEAD = "lead"
    TRAIL = "trail"
    OUTLINE = "outline"
    CLUB = "club"
    PLUMB = "plumb"
    REFERENCE = "reference"
    TARGET = "target"
    STICK = "stick"
    RULER = "ruler"
    TICK = "tick"
    ANGLE = "angle"
    BAND = "band"
    ELLIPSE = "ellipse"
    MODEL = "model"
    COACH = "coach"
    LEADER = "leader"
    FLOOR = "floor"
    FLOOR_LEAD = "floor_lead"
    FLOOR_TRAIL = "floor_trail"
    FLOOR_RANGE = "floor_range"
    FLOOR_RULER = "floor_ruler"


@frozen(kw_only=True)
class Style:
    """Colour, width in units, dashes in units (empty for a whole line), opacity."""

    colour: str
    width: float
    dash: tuple[float, ...] = ()
    opacity: float = 1.0


INK: Final = "#10261f"
"""Dark casing under every light line, so that it shows on sky and turf alike."""
CHALK: Final = "#fffdf4"
AMBER: Final = "#ffb81c"
SKY: Final = "#7fd4ff"
ROSE: Final = "#ff9ecb"
PINE: Final = "#1c6446"
FAR: Final = "#8fb3a1"
"""Lead and trail side of a planned body, as in the drawings of a plan."""
GHOST: Final = 0.5
"""Opacity of a body drawn over the student: both have to be seen."""
EDGES: Final = ((INK, 2.6), (CHALK, 1.6))
"""Colours round such a body, and how far out each reaches, in units."""

STYLES: Final[Mapping[Role, Style]] = MappingProxyType(
    {
        Role.LEAD: Style(colour=CHALK, width=1.5, opacity=0.9),
        Role.TRAIL: Style(colour=CHALK, width=1.5, dash=(4, 2.2), opacity=0.9),
        Role.OUTLINE: Style(colour=CHALK, width=1.5, opacity=0.9),
        Role.CLUB: Style(colour=CHALK, width=1.1, opacity=0.8),
        Role.PLUMB: Style(colour=AMBER, width=1.7),
        Role.REFERENCE: Style(colour=SKY, width=1.5, dash=(5, 3)),
        Role.TARGET: Style(colour=CHALK, width=1.1, dash=(1.2, 3.4)),
        Role.STICK: Style(colour=ROSE, width=1.4, dash=(8, 2, 2, 2)),
        Role.RULER: Style(colour=SKY, width=1.7),
        Role.TICK: Style(colour=AMBER, width=2.4),
        Role.ANGLE: Style(colour=AMBER, width=1.7),
        Role.BAND: Style(colour=AMBER, width=0.0, opacity=0.38),
        Role.ELLIPSE: Style(colour=CHALK, width=0.5, opacity=0.6),
        Role.MODEL: Style(colour=CHALK, width=0.9),
        Role.COACH: Style(colour=ROSE, width=1.2),
        Role.LEADER: Style(colour=CHALK, width=0.9),
        Role.FLOOR: Style(colour=AMBER, width=1.1, dash=(4, 3)),
        Role.FLOOR_LEAD: Style(colour=PINE, width=1.3, opacity=0.8),
        Role.FLOOR_TRAIL: Style(colour=FAR, width=1.3, opacity=0.8),
        Role.FLOOR_RANGE: Style(colour=CHALK, width=0.9, dash=(2, 2)),
        Role.FLOOR_RULER: Style(colour=AMBER, width=2.0),
    }
)


def _pixels(value: object) -> Array:
    array = np.array(value, dtype=np.float64).reshape(-1, 2)
    array.setflags(write=False)
    return array


@frozen(kw_only=True, eq=False)
class Line:
    """A line through points, shape (n, 2)."""

    role: Role
    points_px: Array = field(converter=_pixels)


@frozen(kw_only=True, eq=False)
class Area:
    """A filled outline, shape (n, 2)."""

    role: Role
    points_px: Array = field(converter=_pixels)


@frozen(kw_only=True, eq=False)
class Spot:
    """A landmark: a round dot from the model, a square one from the coach."""

    role: Role
    landmark: str
    centre_px: tuple[float, float]


@frozen(kw_only=True, eq=False)
class Part:
    """One part of a body: a filled outline, shape (n, 2)."""

    colour: str
    points_px: Array = field(converter=_pixels)


@frozen(kw_only=True, eq=False)
class Body:
    """A whole body over the student, half seen through: its parts, farthest first."""

    parts: tuple[Part, ...]


Mark = Line | Area | Spot | Body


@frozen(kw_only=True)
class Box:
    """An upright rectangle: left, top, width, height."""

    x: float
    y: float
    width: float
    height: float

    def contains(self, points_px: Array, /) -> NDArray[np.bool_]:
        """Which points lie inside, shape (n,)."""
        low = np.array([self.x, self.y])
        high = low + np.array([self.width, self.height])
        return np.asarray(((points_px >= low) & (points_px <= high)).all(axis=1))

    def around(self, other: Box, /) -> Box:
        """The smallest box that holds both."""
        x, y = min(self.x, other.x), min(self.y, other.y)
        return Box(
            x=x,
            y=y,
            width=max(self.x + self.width, other.x + other.width) - x,
            height=max(self.y + self.height, other.y + other.height) - y,
        )

    def overlap(self, other: Box, /) -> float:
        """Common area."""
        wide = min(self.x + self.width, other.x + other.width) - max(self.x, other.x)
        high = min(self.y + self.height, other.y + other.height) - max(self.y, other.y)
        return max(wide, 0.0) * max(high, 0.0)


@frozen(kw_only=True)
class Label:
    """A plate with text, tied to a place in the picture by a thin line."""

    text: str
    verdict: str
    measure: str
    box: Box
    anchor_px: tuple[float, float]
    size_px: float
    """Height of the letters' body (the font size)."""


@frozen(kw_only=True, eq=False)
class Drawing:
    """Everything drawn over one picture, and the part of the picture that is shown."""

    frame: Box
    marks: tuple[Mark, ...]
    labels: tuple[Label, ...]

    @property
    def unit_px(self) -> float:
        """One unit in picture pixels."""
        return self.frame.width / UNITS_ACROSS
