"""Where feet and ball belong, drawn on the ground of a picture in perspective.

The shoes as they should stand, the line of the toes, the ball's own line, and rulers between
them; round each shoe the edge within which its mark lies 95 times in 100, since the pictures
know the ground only so well.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.assess import Projection
from wellset.figure.figure import BUILD_SCALARS, Figure
from wellset.reports.features import ALONG, ELLIPSE_SCALE, NEAR_M, SAMPLES
from wellset.reports.ghost import round_outline
from wellset.reports.marks import Area, Line, Mark, Role
from wellset.reports.shoe import shoe_outline
from wellset.services.assessment import AssessedPicture

Array = NDArray[np.float64]

PAST_M: Final = 0.12
"""How far the line of the toes goes on past the shoes."""
_TICK_M: Final = 0.03
_BALL_M: Final = 0.035
_TURN: Final = np.linspace(0, 2 * np.pi, SAMPLES + 1)
_CIRCLE: Final = np.stack([np.cos(_TURN), np.sin(_TURN)], axis=1)


@frozen(kw_only=True, eq=False)
class FloorMarks:
    """What is drawn on the ground.

    Parameters
    ----------
    marks : tuple of Mark
    rulers : mapping of name to (2,) array
        The middle of each ruler, pixel: ``gap``, ``ball_from_heel``, ``ball_to_toes``.
    feet_px : (n, 2) array
        Every point of both shoes.
    """

    marks: tuple[Mark, ...]
    rulers: Mapping[str, Array]
    feet_px: Array


@frozen(kw_only=True, eq=False)
class _Ground:
    """One picture's ground."""

    picture: AssessedPicture

    def pixels(self, flat: Sequence[Array] | Array) -> Array:
        """Places on the ground, (n, 2) metre, as pixels of the picture as taken."""
        points = _on_the_ground(np.asarray(flat, dtype=np.float64))
        points = points[self.picture.camera.depth(points) > NEAR_M]
        return self.picture.project(points) if len(points) else np.empty((0, 2))

    def line(self, role: Role, start: Array, *, end: Array) -> Line:
        """A straight line as the lens bends it."""
        return Line(role=role, points_px=self.pixels(start + ALONG * (end - start)))

    def ruler(self, start: Array, *, end: Array) -> list[Mark]:
        """A line with a tick across each end."""
        along = (end - start) / max(float(np.hypot(*(end - start))), 1e-9)
        across = _TICK_M * np.array([-along[1], along[0]])
        return [
            self.line(Role.FLOOR_RULER, start, end=end),
            *(self.line(Role.FLOOR_RULER, at - across, end=at + across) for at in (start, end)),
        ]


def _on_the_ground(flat: Array) -> Array:
    points: Array = np.column_stack([flat, np.zeros(len(flat))])
    return points


def floor_marks(
    figure: Figure, picture: AssessedPicture, *, projection: Projection, rulers: Sequence[str]
) -> FloorMarks | None:
    """Marks for the feet and the ball of a figure; ``None`` when the lens is too near.

    Parameters
    ----------
    figure : Figure
        In the world of the picture's camera.
    picture : AssessedPicture
    projection : Projection
        The same camera with its covariance.
    rulers : sequence of str
        Which rulers to draw: those that this picture doesn't look along.
    """
    ground = _Ground(picture=picture)
    shoes = {foot: shoe_outline(figure, foot) for foot in ("trail", "lead")}
    outline = np.concatenate(list(shoes.values()))
    if picture.camera.depth(_on_the_ground(outline)).min() < NEAR_M:
        return None
    marks: list[Mark] = [
        Area(role=role, points_px=ground.pixels(shoes[foot]))
        for foot, role in (("trail", Role.FLOOR_TRAIL), ("lead", Role.FLOOR_LEAD))
    ]
    marks += [
        Line(role=Role.FLOOR_RANGE, points_px=_edge(shoe, picture, projection=projection))
        for shoe in shoes.values()
    ]
    every = _rulers(figure)
    marks += _lines(figure, ground, ball_line=_ball_line(every))
    marks.append(_round_the_ball(figure, picture))
    for name in rulers:
        marks += ground.ruler(every[name][0], end=every[name][1])
    return FloorMarks(
        marks=tuple(m for m in marks if not isinstance(m, Line) or len(m.points_px) > 1),
        rulers={name: ground.pixels([(every[name][0] + every[name][1]) / 2])[0] for name in rulers},
        feet_px=ground.pixels(outline),
    )


def _lines(figure: Figure, ground: _Ground, *, ball_line: tuple[Array, Array]) -> list[Mark]:
    """The line of the toes, and the ball's own line."""
    toes = [figure[f"{foot}_shoe_toe"][:2] for foot in ("trail", "lead")]
    past = PAST_M * (toes[1] - toes[0]) / np.hypot(*(toes[1] - toes[0]))
    return [
        ground.line(Role.FLOOR, toes[0] - past, end=toes[1] + past),
        ground.line(Role.FLOOR, ball_line[0], end=ball_line[1]),
    ]


def _round_the_ball(figure: Figure, picture: AssessedPicture) -> Line:
    """A ring round the ball, as the picture's plane sees it."""
    right, _, up = picture.camera.axes
    ring = figure["ball"] + _BALL_M * (_CIRCLE[:, :1] * right + _CIRCLE[:, 1:] * up)
    return Line(role=Role.FLOOR_RULER, points_px=picture.project(ring))


def _ball_line(rulers: Mapping[str, tuple[Array, Array]]) -> tuple[Array, Array]:
    """From the ball straight back to the height of the lead heel."""
    return rulers["ball_to_toes"][0], rulers["ball_from_heel"][0]


def _rulers(figure: Figure) -> dict[str, tuple[Array, Array]]:
    """Ends of what is measured on the ground, metre."""
    half = float(figure.scalars[BUILD_SCALARS.index("shoe_breadth")]) / 2
    lead, trail = (figure[f"{foot}_ankle"][:2] for foot in ("lead", "trail"))
    middle = (lead[1] + trail[1]) / 2
    toes = [figure[f"{foot}_shoe_toe"][:2] for foot in ("trail", "lead")]
    ball, back = figure["ball"][:2], float(figure["lead_shoe_heel"][1])
    share = (ball[0] - toes[0][0]) / (toes[1][0] - toes[0][0])
    on_toes = np.array([ball[0], toes[0][1] + share * (toes[1][1] - toes[0][1])])
    return {
        "gap": (np.array([trail[0] + half, middle]), np.array([lead[0] - half, middle])),
        "ball_from_heel": (np.array([ball[0], back]), np.array([lead[0] - half, back])),
        "ball_to_toes": (ball, on_toes),
    }


def _edge(shoe: Array, picture: AssessedPicture, *, projection: Projection) -> Array:
    """The edge within which a shoe's mark lies 95 times in 100, closed, pixel."""
    points = _on_the_ground(shoe)
    spreads = ELLIPSE_SCALE**2 * (projection.spread_px(points) + 1e-9 * np.eye(2))
    edge = round_outline(picture.camera.project(points), spreads)
    return picture.to_picture(np.vstack([edge, edge[:1]]))
