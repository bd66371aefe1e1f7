"""A solved figure as a drawing: from the front, from behind, from above.

Our own manner: one calm body of rounded limbs in pine, the lead side darker, club and ball
in ink, the plumb line dashed in amber. Units of the drawing are centimetres.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from enum import StrEnum
from typing import Final

import numpy as np
from attrs import frozen
from markupsafe import Markup, escape
from numpy.typing import NDArray

from wellset.figure.figure import Figure
from wellset.figure.views import Hand
from wellset.prescribe import Ground
from wellset.reports.shoe import shoe_outline

Array = NDArray[np.float64]

INK: Final = "#10261f"
PINE: Final = "#1c6446"
FAR: Final = "#8fb3a1"
AMBER: Final = "#b87f00"
GROUND: Final = "#b9b6a6"
_LIMBS: Final = (
    ("hip", "knee", 15.0),
    ("knee", "ankle", 11.0),
    ("shoulder", "elbow", 9.0),
    ("elbow", "wrist", 7.0),
)
"""Limbs by their ends, and how thick they are drawn, centimetres."""


GROUND_BELOW_CM: Final = 1.5
"""How far under the ground its line is drawn, half the line's breadth and a little."""
BELOW_CM: Final = 8.0
"""Room under the lowest point."""


class Side(StrEnum):
    """From where the figure is seen."""

    FRONT = "front"
    BEHIND = "behind"
    ABOVE = "above"


@frozen(kw_only=True, eq=False)
class _Sheet:
    """Where points of the world fall on the drawing, centimetres, y down."""

    figure: Figure
    side: Side
    mirrored: bool

    def at(self, points: Array) -> Array:
        x = points[..., 0] * (-1 if self.mirrored else 1)
        y, z = points[..., 1], points[..., 2]
        if self.side is Side.FRONT:
            flat = (x, -z)
        elif self.side is Side.BEHIND:
            flat = ((y if self.mirrored else -y), -z)
        else:
            # seen from above with the golfer below, a right-hander's target lies to the left
            flat = (-x, y)
        return 100 * np.stack(flat, axis=-1)

    def point(self, name: str) -> Array:
        return self.at(self.figure[name])

    def middle(self, stem: str) -> Array:
        return (self.point(f"lead_{stem}") + self.point(f"trail_{stem}")) / 2


def _line(points: Sequence[Array], *, colour: str, width: float, extra: str = "") -> str:
    path = "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in points)
    return (
        f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="{width:.1f}" '
        f'stroke-linecap="round" stroke-linejoin="round"{extra}/>'
    )


def _limbs(sheet: _Sheet, lead: str) -> str:
    colour = PINE if lead == "lead" else FAR
    return "".join(
        _line(
            [sheet.point(f"{lead}_{first}"), sheet.point(f"{lead}_{second}")],
            colour=colour,
            width=width,
        )
        for first, second, width in _LIMBS
    )


def _shoes(sheet: _Sheet) -> str:
    if sheet.side is not Side.ABOVE:
        return "".join(
            _line(
                [sheet.point(f"{lead}_shoe_heel"), sheet.point(f"{lead}_shoe_toe")],
                colour=PINE if lead == "lead" else FAR,
                width=7,
            )
            for lead in ("trail", "lead")
        )
    shapes = []
    for lead in ("trail", "lead"):
        outline = shoe_outline(sheet.figure, lead)
        flat = sheet.at(np.column_stack([outline, np.zeros(len(outline))]))
        path = "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in flat) + "Z"
        colour = PINE if lead == "lead" else FAR
        shapes.append(f'<path d="{path}" fill="{colour}" stroke="{INK}" stroke-width="0.6"/>')
    return "".join(shapes)


def _trunk(sheet: _Sheet) -> str:
    if sheet.side is Side.FRONT:
        corners = ["lead_shoulder", "lead_hip", "trail_hip", "trail_shoulder"]
        path = "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in (sheet.point(c) for c in corners))
        return (
            f'<path d="{path}Z" fill="{PINE}" stroke="{PINE}" stroke-width="11" '
            'stroke-linejoin="round"/>'
        )
    back = [sheet.middle("hip"), sheet.middle("shoulder")]
    return _line(back, colour=PINE, width=24)


def _head(sheet: _Sheet) -> str:
    x, y = (sheet.middle("ear") * 2 + sheet.point("nose")) / 3
    return f'<circle cx="{x:.2f}" cy="{y:.2f}" r="10.5" fill="{PINE}"/>'


def _club(sheet: _Sheet) -> str:
    butt, tip = sheet.point("grip_end"), sheet.point("shaft_end")
    x, y = sheet.point("ball")
    return (
        _line([butt, tip], colour=INK, width=1.6)
        + _line([butt, butt + (tip - butt) * 0.25], colour=INK, width=3.2)
        + _line([tip, sheet.point("club_head")], colour=INK, width=3.6)
        + f'<circle cx="{x:.2f}" cy="{y:.2f}" r="2.6" fill="#ffffff" stroke="{INK}" '
        'stroke-width="1"/>'
    )


def _reference(sheet: _Sheet) -> str:
    """What a coach checks by: plumb line of the ball of the foot, or of the ball."""
    dashes = ' stroke-dasharray="4 3"'
    if sheet.side is Side.BEHIND:
        foot = sheet.middle("foot_ball")
        top = sheet.middle("shoulder")[1] - 6
        return _line(
            [np.array([foot[0], 0]), np.array([foot[0], top])],
            colour=AMBER, width=1.1, extra=dashes,
        )  # fmt: skip
    if sheet.side is Side.FRONT:
        x = sheet.point("ball")[0]
        return _line([np.array([x, 0]), np.array([x, -60])], colour=AMBER, width=1.1, extra=dashes)
    y = sheet.point("ball")[1]
    return _line([np.array([-60, y]), np.array([60, y])], colour=AMBER, width=1.1, extra=dashes)


def _ground_lines(sheet: _Sheet, ground: Ground, *, low: float, high: float) -> str:
    """The ground from edge to edge, as steep as it is from this side.

    A line under the ball, and where the ground rises away from who looks a pale strip from there
    to the feet, which then stand higher or lower on the drawing than the ball.
    """
    front = sheet.side is Side.FRONT
    along, away = (ground.uphill, -ground.ball_above_feet)[:: 1 if front else -1]
    # for a right-hander drawn x runs to the target from the front, to the ball from behind
    sign = (1 if sheet.mirrored else -1) * (1 if front else -1)
    feet = [sheet.figure[f"{lead}_shoe_heel"] for lead in ("trail", "lead")]
    depths = [0.0, *(100 * float(foot[1 if front else 0]) for foot in feet)]

    def line(depth: float) -> list[Array]:
        level = GROUND_BELOW_CM - math.tan(away) * depth
        return [np.array([x, level + sign * math.tan(along) * x]) for x in (low, high)]

    strip = ""
    if away:
        path = "L".join(
            f"{x:.2f} {y:.2f}" for x, y in [*line(min(depths)), *line(max(depths))[::-1]]
        )
        strip = f'<path d="M{path}Z" fill="{GROUND}" fill-opacity="0.25"/>'
    return strip + _line(line(0.0), colour=GROUND, width=1.5)


def figure_svg(
    figure: Figure,
    side: Side,
    *,
    hand: Hand,
    words: str,
    scale: float | None = None,
    ground: Ground | None = None,
) -> Markup:
    """One drawing of a solved figure.

    Parameters
    ----------
    figure : Figure
        In the frame of a right-hander.
    side : Side
    hand : Hand
        A left-hander is drawn mirrored.
    words : str
        For those who cannot see it.
    scale : float or None
        Drawn size over true size, for a file of its own: 1 prints as large as life. Without,
        the drawing fills the room that it is given.
    ground : Ground or None
        The slope that it stands on; level without.
    """
    sheet = _Sheet(figure=figure, side=side, mirrored=hand is Hand.LEFT)
    if side is Side.ABOVE:
        body = _shoes(sheet) + _reference(sheet) + _club(sheet)
    else:
        body = (
            _limbs(sheet, "trail") + _shoes(sheet) + _trunk(sheet) + _head(sheet)
            + _reference(sheet) + _club(sheet) + _limbs(sheet, "lead")
        )  # fmt: skip
    points = sheet.at(figure.points)
    low, high = points.min(axis=0) - 14, points.max(axis=0) + 14
    under = ""
    if side is not Side.ABOVE:
        high[1] = max(points[:, 1].max(), 0.0) + BELOW_CM
        under = _ground_lines(sheet, ground or Ground(), low=low[0], high=high[0])
    low, high = np.floor(low), np.ceil(high)  # whole, so that the scale is exact
    width, height = high - low
    size = (
        ""
        if scale is None
        else f'width="{10 * scale * width:g}mm" height="{10 * scale * height:g}mm" '
    )
    return Markup(  # noqa: S704  # numbers, fixed words, and words that are escaped
        f'<svg class="figure" xmlns="http://www.w3.org/2000/svg" {size}'
        f'viewBox="{low[0]:.0f} {low[1]:.0f} {width:.0f} {height:.0f}" role="img" '
        f'aria-label="{escape(words)}">{under}{body}</svg>'
    )
