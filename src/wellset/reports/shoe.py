"""The sole of a shoe from above, true to the student's own length and breadth."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.figure.figure import BUILD_SCALARS, Figure

Array = NDArray[np.float64]

BALL_BREADTH: Final = 0.36
"""Breadth of a sole at the ball of the foot as a share of its length: 10 to 11 cm at 30 cm
(from memory)."""
_CURVE: Final = (
    (0.42, 0.80, 0.84),
    (0.56, 0.95, 0.93),
    (0.68, 1.08, 1.01),
    (0.80, 1.02, 0.97),
    (0.90, 0.76, 0.78),
    (0.96, 0.45, 0.50),
    (0.99, 0.18, 0.22),
)
"""Along a sole: share of the length; breadth on the outer and the inner side as a share of half
the breadth at the ball of the foot (our drawing, no source)."""
_FINE: Final = 6
"""Points between two of the curve's."""


def sole(heel: Array, toe: Array, *, inner: Array, heel_breadth: float) -> Array:
    """Outline of a sole, closed from heel to heel, shape (N, 2), in the unit given.

    The hindmost point is the heel and the foremost the toe tip, as the figure has them. Round
    the heel and as far as the ankle it is as broad along x as the figure's shoe is, so that
    gaps measured between figures are those between outlines.

    Parameters
    ----------
    heel, toe : (2,) arrays
    inner : (2,) array
        Any direction that points to the other foot.
    heel_breadth : float
        Breadth at the ankle along x, as :data:`BUILD_SCALARS` has it.
    """
    length = float(np.hypot(*(toe - heel)))
    along = (toe - heel) / length
    across = np.array([-along[1], along[0]])
    across = across if across @ inner > 0 else -across
    # breadth is known along x; a foot that is turned is as much narrower across
    radius = heel_breadth / 2 * abs(float(along[1]))
    half = max(BALL_BREADTH * length / 2, radius)
    straight = 0.28 * length
    round_the_heel = np.linspace(-np.pi / 2, np.pi / 2, 17)
    heel_part = np.column_stack(
        [radius * (1 - np.cos(round_the_heel)), radius * np.sin(round_the_heel)]
    )
    outer = _side(((straight, radius), *((s * length, half * o) for s, o, _ in _CURVE)), length)
    inside = _side(((straight, radius), *((s * length, half * i) for s, _, i in _CURVE)), length)
    local = np.vstack([heel_part * [1, 1], inside, (outer * [1, -1])[-2::-1]])
    return np.asarray(heel + local[:, :1] * along + local[:, 1:] * across)


@lru_cache(64)  # the same few shoes stand in every drawing of a student
def _side(points: tuple[tuple[float, float], ...], length: float) -> Array:
    """One side of a sole from the ankle to the toe tip, smooth, shape (N, 2)."""
    knots = np.array([*points, (length, 0.0)])
    # a smooth curve through all knots; centripetal steps keep it from looping at the toe
    padded = np.vstack(
        [knots[0] - (knots[1] - knots[0]) * [1, 0], knots, knots[-1] * 2 - knots[-2]]
    )
    padded[-1] = [knots[-1][0], -knots[-2][1]]
    pieces = [
        _catmull_rom(padded[i : i + 4], np.linspace(0, 1, _FINE, endpoint=False))
        for i in range(len(knots) - 1)
    ]
    curve = np.vstack([*pieces, knots[-1:]])
    curve[:, 0] = np.minimum(curve[:, 0], length)
    curve.setflags(write=False)
    return np.asarray(curve)


def _catmull_rom(four: Array, at: Array) -> Array:
    """Centripetal Catmull–Rom curve between the middle two of four points."""
    step = np.sqrt(np.hypot(*np.diff(four, axis=0).T))
    t0 = 0.0
    t1 = t0 + step[0]
    t2 = t1 + step[1]
    t3 = t2 + step[2]
    t = (t1 + at * step[1])[:, None]
    a1 = (t1 - t) / (t1 - t0) * four[0] + (t - t0) / (t1 - t0) * four[1]
    a2 = (t2 - t) / (t2 - t1) * four[1] + (t - t1) / (t2 - t1) * four[2]
    a3 = (t3 - t) / (t3 - t2) * four[2] + (t - t2) / (t3 - t2) * four[3]
    b1 = (t2 - t) / (t2 - t0) * a1 + (t - t0) / (t2 - t0) * a2
    b2 = (t3 - t) / (t3 - t1) * a2 + (t - t1) / (t3 - t1) * a3
    return np.asarray((t2 - t) / (t2 - t1) * b1 + (t - t1) / (t2 - t1) * b2)


def shoe_outline(figure: Figure, lead: str) -> Array:
    """Outline of a figure's shoe on level ground, shape (N, 2), metre.

    Parameters
    ----------
    figure : Figure
    lead : str
        ``"lead"`` or ``"trail"``.
    """
    return sole(
        figure[f"{lead}_shoe_heel"][:2],
        figure[f"{lead}_shoe_toe"][:2],
        inner=np.array([-1.0 if lead == "lead" else 1.0, 0.0]),
        heel_breadth=float(figure.scalars[BUILD_SCALARS.index("shoe_breadth")]),
    )
