"""Candidate lines: thin ridges of any colour that line up."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from wellset.vision.stick_area import WorkArea

Array = NDArray[np.float64]
Image = NDArray[np.float32]

SEARCH_SCALE_PX_PER_M: Final = 185.0
"""Size at which candidates are looked for: a 7 mm stick is 1.6 px wide there."""
RIDGE_SIGMA_PX: Final = 1.4
"""Scale of the second derivative, working pixel; answers best to ridges 2 to 5 px wide."""
MOST_POINTS: Final = 5000
"""Ridge points kept, strongest first: bounds the time on rough ground."""
MOST_LINES: Final = 12
"""Candidate lines handed on; a scene holds at most three sticks, a shaft and its shadow."""
LEAST_STRENGTH: Final = 3.0
"""Ridge strength, in spreads of the ground's own texture, below which a point is texture."""
REACH_BIN_PX: Final = 5.0
FULL_WEIGHT: Final = 8.0
"""Strength beyond which a point has no more say in the vote."""
LEAST_POINTS: Final = 8
"""Ridge points that a line must keep after each redrawing."""
ANGLES: Final = 180
"""Directions told apart in the vote: one degree each."""
RHO_STEP_PX: Final = 2.0


@frozen(kw_only=True, eq=False)
class Line:
    """A straight line in the working picture: a point, a direction, a reach.

    Parameters
    ----------
    origin, direction : (2,) arrays, working pixel and unit vector
    reach : tuple of float
        From where to where, along the direction, the ridge points lie.
    votes : float
        Weight of the ridge points on it.
    """

    origin: Array
    direction: Array
    reach: tuple[float, float]
    votes: float

    @property
    def ends(self) -> Array:
        """The two ends of the reach, ``(2, 2)``."""
        return self.origin + np.array(self.reach)[:, None] * self.direction

    @property
    def normal(self) -> Array:
        """Unit vector across the line."""
        return np.array([-self.direction[1], self.direction[0]])


@frozen(kw_only=True, eq=False)
class _RidgePoints:
    xy: Array
    normal_angle: Array
    weight: Array
    contrast: Array
    """Unit vector of the colour change across the ridge, in whitened colours, ``(N, 3)``."""

    strength: Array

    def alike(self, chosen: NDArray[np.bool_]) -> Array:
        """How alike each point's colour change is to that of the ``chosen``: -1 to 1.

        The strongest of them decide: a ridge's two flanks together outnumber its crest.
        """
        some = self.contrast[chosen] * self.strength[chosen, None]
        main = np.linalg.eigh(some.T @ some)[1][:, -1]
        if float(np.sum((some @ main) ** 3)) < 0:
            main = -main
        return np.asarray(self.contrast @ main)


def candidate_lines(area: WorkArea) -> tuple[Line, ...]:
    """Lines that many ridge points of the ground share, strongest first.

    Searched at a coarser scale than they are followed at: half the texture of grass and
    most of what strong compression does to colours is gone there, a stick is not.
    """
    coarse = area.reduced(SEARCH_SCALE_PX_PER_M)
    points = _ridge_points(coarse)
    if points is None or len(points.weight) < 20:
        return ()
    up = area.scale / coarse.scale
    lines = _vote(points, least=0.12 * coarse.metre_px)
    return tuple(
        evolve(
            line,
            origin=line.origin * up,
            reach=(line.reach[0] * float(up[0]), line.reach[1] * float(up[0])),
        )
        for line in lines
    )


def opponent(rgb: NDArray[np.uint8]) -> Image:
    """Brightness, red against green, yellow against blue; ``(H, W, 3)`` float32."""
    matrix = np.array([[1 / 3, 1 / 3, 1 / 3], [1, -1, 0], [0.5, 0.5, -1]], dtype=np.float32)
    return np.asarray(cv2.transform(rgb.astype(np.float32), matrix), dtype=np.float32)


def _second_derivatives(image: Image) -> tuple[Image, Image, Image]:
    reach = int(np.ceil(3 * RIDGE_SIGMA_PX))
    x = np.arange(-reach, reach + 1, dtype=np.float64)
    smooth = np.exp(-(x**2) / (2 * RIDGE_SIGMA_PX**2))
    smooth /= smooth.sum()
    first = -x / RIDGE_SIGMA_PX**2 * smooth
    second = (x**2 / RIDGE_SIGMA_PX**2 - 1) / RIDGE_SIGMA_PX**2 * smooth
    second -= second.mean()

    def filtered(kx: Array, ky: Array) -> Image:
        out = cv2.sepFilter2D(image, cv2.CV_32F, kx, ky, borderType=cv2.BORDER_REFLECT)
        return np.asarray(out, dtype=np.float32)

    return filtered(second, smooth), filtered(first, first), filtered(smooth, second)


def _ridge_points(area: WorkArea) -> _RidgePoints | None:
    left, top, right, bottom = area.box
    patch = area.work[top:bottom, left:right]
    if min(patch.shape[:2]) < 16:
        return None
    allowed = _ground(area)
    xx, xy, yy = _second_derivatives(opponent(patch))
    some = allowed[::3, ::3]
    whiten = _whitening(np.concatenate([xx[::3, ::3][some], yy[::3, ::3][some]]))
    xx, xy, yy = (_whitened(d, whiten) for d in (xx, xy, yy))
    rows, columns, strength, angle = _crests(xx, yy, xy=xy, allowed=allowed)
    xy_px = np.stack([columns + 0.5 + left, rows + 0.5 + top], axis=1)
    contrast = -(xx[rows, columns] + yy[rows, columns]).astype(np.float64)
    return _RidgePoints(
        xy=xy_px.astype(np.float64),
        normal_angle=angle.astype(np.float64),
        weight=np.minimum(strength, FULL_WEIGHT).astype(np.float64) / FULL_WEIGHT,
        contrast=contrast / np.linalg.norm(contrast, axis=1, keepdims=True),
        strength=strength.astype(np.float64),
    )


def _whitening(samples: Image) -> Image:
    """Matrix that gives the ground's own texture unit spread in every colour direction."""
    norm = np.linalg.norm(samples, axis=1)
    usual = samples[norm <= np.quantile(norm, 0.9)].astype(np.float64)
    covariance = usual.T @ usual / max(len(usual), 1)
    # 8-bit pictures cannot be smoother than their rounding: keeps flat ground finite.
    covariance += np.eye(3) * 0.02
    values, vectors = np.linalg.eigh(covariance)
    return np.asarray(vectors @ np.diag(values**-0.5) @ vectors.T, dtype=np.float32)


def _whitened(image: Image, whiten: Image) -> Image:
    return np.asarray(cv2.transform(image, whiten), dtype=np.float32)


def _strongest_channel(xx: Image, yy: Image, *, xy: Image) -> tuple[Image, Image]:
    """Ridge strength and the direction across it, ``(N,)``, from ``(N, 3)`` derivatives.

    The colour direction that shows the ridge best decides.
    """
    mean = 0.5 * (xx + yy)
    half = 0.5 * (xx - yy)
    spread = np.sqrt(half * half + xy * xy)
    # A line curves one way only: |mean| equals spread. Spots and saddles do not.
    strength = 2 * np.minimum(np.abs(mean), spread)
    best = (np.arange(len(mean)), strength.argmax(axis=1))
    sign = np.sign(mean[best])
    return strength[best], 0.5 * np.arctan2(xy[best] * sign, half[best] * sign)


def _crests(
    xx: Image, yy: Image, *, xy: Image, allowed: NDArray[np.bool_]
) -> tuple[NDArray[np.intp], NDArray[np.intp], Image, Image]:
    """Rows, columns, strength and normal angle of the crests of all ridges."""
    curved = np.max(np.abs(cv2.split(xx + yy)), axis=0) > LEAST_STRENGTH
    curved &= allowed
    curved[:2], curved[-2:], curved[:, :2], curved[:, -2:] = False, False, False, False
    rows, columns = np.nonzero(curved)
    here, angle = _strongest_channel(xx[rows, columns], yy[rows, columns], xy=xy[rows, columns])
    score = np.zeros(curved.shape, dtype=np.float32)
    score[rows, columns] = here
    dx, dy = np.rint(np.cos(angle)).astype(int), np.rint(np.sin(angle)).astype(int)
    crest = (here >= score[rows + dy, columns + dx]) & (here > score[rows - dy, columns - dx])
    crest &= here > LEAST_STRENGTH
    strongest = np.flatnonzero(crest)
    if len(strongest) > MOST_POINTS:
        order = np.argpartition(-here[strongest], MOST_POINTS)
        strongest = strongest[order[:MOST_POINTS]]
    return rows[strongest], columns[strongest], here[strongest], angle[strongest]


def _ground(area: WorkArea) -> NDArray[np.bool_]:
    """Pixels of the search box that are neither golfer, club nor ball."""
    left, top, right, bottom = area.box
    free = np.ones((bottom - top, right - left), dtype=np.uint8)
    free[area.person[top:bottom, left:right]] = 0
    offset = np.array([left, top], dtype=np.float64)
    shift = 8  # cv2 draws in 1/256 pixel

    def at(name: str) -> tuple[int, int]:
        x, y = np.rint((area.points[name] - offset - 0.5) * (1 << shift)).astype(int)
        return int(x), int(y)

    if {"grip_end", "shaft_end"} <= area.points.keys():
        thick = max(5, round(0.03 * area.metre_px))
        cv2.line(free, at("grip_end"), at("shaft_end"), 0, thick, cv2.LINE_8, shift)
    if "ball" in area.points:
        radius = round(0.04 * area.metre_px) << shift
        cv2.circle(free, at("ball"), radius, 0, -1, cv2.LINE_8, shift)
    return free > 0


def _vote(points: _RidgePoints, *, least: float) -> tuple[Line, ...]:
    """Lines by a weighted vote over direction and offset, each point once."""
    ballot = _Ballot(points)
    lines: list[Line] = []
    for _ in range(MOST_LINES):
        line = ballot.favourite(least=least)
        if line is None:
            break
        line, spent = _settled(points, line, free=ballot.free)
        if line is not None:
            lines.append(line)
        ballot.withdraw(spent)
    return tuple(lines)


def _settled(
    points: _RidgePoints, line: Line, *, free: NDArray[np.bool_]
) -> tuple[Line | None, NDArray[np.bool_]]:
    """The line redrawn through its own points of one colour, and the points it uses up."""
    drawn, alike = line, np.zeros(len(free))
    on = free & _near(points, line, width=3.0, turn_deg=12.0)
    for width in (2.5, 2.0):
        alike = points.alike(on)
        on = free & (alike > 0.4) & _near(points, drawn, width=width, turn_deg=12.0)
        if on.sum() < LEAST_POINTS:
            return None, on | _near(points, drawn, width=2.0, turn_deg=6.0)
        drawn = _line(points, on)
    # The flanks of a strong ridge are ridges of the opposite colour: out as well.
    flanks = (alike < -0.5) & _near(points, drawn, width=6.0, turn_deg=8.0)
    return drawn, on | flanks | _near(points, drawn, width=3.0, turn_deg=8.0)


class _Ballot:
    """The running count of votes over direction (degrees) and offset."""

    def __init__(self, points: _RidgePoints) -> None:
        self.free = np.ones(len(points.xy), dtype=bool)
        self._centre = points.xy.mean(axis=0)
        rel = points.xy - self._centre
        self._half = int(np.ceil(np.linalg.norm(rel, axis=1).max() / RHO_STEP_PX)) + 2
        self._shape = (ANGLES, 2 * self._half + 1)
        index = np.rint(np.rad2deg(points.normal_angle)).astype(int)[:, None] + np.arange(-3, 4)
        theta = np.deg2rad(np.arange(ANGLES))
        direction = index % ANGLES  # the same line whichever way its normal points
        rho = rel[:, :1] * np.cos(theta)[direction] + rel[:, 1:] * np.sin(theta)[direction]
        column = np.rint(rho / RHO_STEP_PX).astype(int) + self._half
        self._cell = direction * self._shape[1] + column
        self._weight = np.broadcast_to(points.weight[:, None], self._cell.shape)
        self._votes = self._count(np.ones(len(rel), dtype=bool))

    def _count(self, chosen: NDArray[np.bool_]) -> Array:
        cells = self._shape[0] * self._shape[1]
        count = np.bincount(
            self._cell[chosen].ravel(), self._weight[chosen].ravel(), minlength=cells
        )
        return count.astype(np.float64)

    def favourite(self, *, least: float) -> Line | None:
        """The line with most votes, or ``None`` where none has enough."""
        votes = self._votes.reshape(self._shape)
        summed = votes[:, 1:-1] + 0.5 * (votes[:, :-2] + votes[:, 2:])
        direction, column = np.unravel_index(int(summed.argmax()), summed.shape)
        if summed[direction, column] < least:
            return None
        angle = np.deg2rad(float(direction))
        offset = (float(column) + 1 - self._half) * RHO_STEP_PX
        normal = np.array([np.cos(angle), np.sin(angle)])
        return Line(
            origin=self._centre + offset * normal,
            direction=np.array([-normal[1], normal[0]]),
            reach=(0.0, 0.0),
            votes=float(summed[direction, column]),
        )

    def withdraw(self, points: NDArray[np.bool_]) -> None:
        """Take back the votes of ``points``."""
        gone = points & self.free
        self.free &= ~gone
        self._votes = self._votes - self._count(gone)


def _near(points: _RidgePoints, line: Line, *, width: float, turn_deg: float) -> NDArray[np.bool_]:
    """Which points lie within ``width`` of the line and run along it."""
    across = np.arctan2(line.normal[1], line.normal[0])
    turn = np.abs((points.normal_angle - across + np.pi / 2) % np.pi - np.pi / 2)
    distance = np.abs((points.xy - line.origin) @ line.normal)
    return np.asarray((distance < width) & (turn < np.deg2rad(turn_deg)))


def _line(points: _RidgePoints, on: NDArray[np.bool_]) -> Line:
    """The weighted straight line through the points that voted for it."""
    xy, weight = points.xy[on], points.weight[on]
    origin = np.average(xy, axis=0, weights=weight)
    spread = (xy - origin).T @ ((xy - origin) * weight[:, None])
    direction = np.linalg.eigh(spread)[1][:, 1]
    along = (xy - origin) @ direction
    return Line(
        origin=origin,
        direction=direction,
        reach=_densest_reach(along, weight),
        votes=float(weight.sum()),
    )


def _densest_reach(along: Array, weight: Array) -> tuple[float, float]:
    """The stretch that holds most more than its share: stray points far off do not count.

    Largest sum of a run of bins (Kadane), each bin less a share of a usual one.
    """
    start = float(along.min())
    index = ((along - start) / REACH_BIN_PX).astype(int)
    filled = np.bincount(index, weight)
    excess = np.minimum(filled, 2 * np.median(filled[filled > 0]))
    excess -= 0.5 * float(np.quantile(filled[filled > 0], 0.75))
    total = np.concatenate([[0.0], np.cumsum(excess)])
    gain = total[1:] - np.minimum.accumulate(total[:-1])
    last = int(gain.argmax())
    first = int(total[: last + 1].argmin())
    return start + first * REACH_BIN_PX, start + (last + 1) * REACH_BIN_PX
