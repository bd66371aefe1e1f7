"""Following a ridge: its centre line to a fraction of a pixel, and where it ends."""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from wellset.vision.stick_area import WorkArea, distance_to_segment
from wellset.vision.stick_centre import (
    PRESENT_STRENGTH,
    Centres,
    centre_line,
    centres_of,
    misfit_px,
    uncertainty_px,
)
from wellset.vision.stick_ridges import RIDGE_SIGMA_PX, Line
from wellset.vision.stick_strip import WINDOW_PX, Ridge, Strip, lay_flat, ridge_of

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]

PRESENT_SHARE: Final = 0.3
"""A cross-section shows the stick from this share of its typical strength on."""
LEAST_SHARE: Final = 0.4
MOST_MISFIT_PX: Final = 1.0
"""Ridges that show up less often or wander more are dropped at first sight."""
BEYOND_M: Final = 0.45
"""How far past its reach a line is looked at, each pass: as far as a shoe and more hides."""
MOST_PASSES: Final = 4
OPEN_GAP_M: Final = 0.05
"""Longest unexplained gap within one stick: a tuft of grass, a scuff, a highlight."""


@frozen(kw_only=True, eq=False)
class Trace:
    """A ridge followed along a line.

    Parameters
    ----------
    line : Line
        The straight line ``bow`` refers to.
    bow : (3,) array, working pixel
        Polynomial of the centre's offset against the distance along the line.
    sd_px : tuple of float
        Standard uncertainty of the centre at the two ends, working pixel.
    scatter_px : float
        Spread of single centres about the fitted line, working pixel.
    ends : tuple of float
        Where the ridge begins and stops along the line.
    tips : tuple of bool
        Whether each end is the ridge's own, in clear view.
    at_border : tuple of bool
        Whether each end is where the picture stops.
    strength : float
        Median strength of the cross-sections that show it.
    coverage : float
        Share of the clear length between the ends that shows it.
    evenness : float
        Lower decile of the strength over its median.
    strip : Strip
        The picture laid flat along the bowed centre line.
    present, clear : (N,) bool arrays
        Cross-sections that show the ridge; those that nothing could hide.
    """

    line: Line
    bow: Array
    sd_px: tuple[float, float]
    scatter_px: float
    ends: tuple[float, float]
    tips: tuple[bool, bool]
    at_border: tuple[bool, bool]
    strength: float
    coverage: float
    evenness: float
    strip: Strip
    present: Flags
    clear: Flags

    @property
    def length_px(self) -> float:
        """Visible length, working pixel."""
        return self.ends[1] - self.ends[0]

    @property
    def end_points(self) -> Array:
        """The two ends in the working picture, ``(2, 2)``."""
        return self.points(np.array(self.ends))

    def points(self, along: Array) -> Array:
        """Working-picture points of the centre line, ``(N, 2)``."""
        offset = np.polyval(self.bow, along)
        return np.asarray(
            self.line.origin
            + along[:, None] * self.line.direction
            + offset[:, None] * self.line.normal
        )


def follow(area: WorkArea, line: Line) -> Trace | None:
    """Follow the ridge near ``line``; ``None`` where there is none worth the name."""
    half = max(10.0, round(0.045 * area.metre_px))
    across = np.arange(-half, half + 0.5)
    for _ in range(MOST_PASSES):
        seen = _look(area, line, across=across)
        if seen is None or seen.ends[1] - seen.ends[0] < 4 * WINDOW_PX:
            return None
        moved = float(np.abs(np.polyval(seen.bow, np.array(seen.ends))).max())
        grown = max(line.reach[0] - seen.ends[0], seen.ends[1] - line.reach[1])
        line = _redrawn(line, bow=seen.bow, ends=seen.ends)
        if moved < 1.0 and grown < WINDOW_PX:
            break
    step = max(0.25, float(area.scale.mean()))
    fine = np.arange(-half, half + step / 2, step)
    seen = _look(area, line, across=fine)
    return None if seen is None else _traced(area, line, seen=seen)


@frozen(kw_only=True, eq=False)
class _Look:
    """One pass along a line: the ridge, its centre line, where it shows and stops."""

    ridge: Ridge
    centres: Centres
    bow: Array
    present: Flags
    clear: Flags
    ends: tuple[float, float]


def _look(area: WorkArea, line: Line, *, across: Array) -> _Look | None:
    beyond = BEYOND_M * area.metre_px
    along = np.arange(line.reach[0] - beyond, line.reach[1] + beyond)
    strip = lay_flat(area, line, along=along, across=across)
    ridge = ridge_of(strip, reach=line.reach, sigma_px=RIDGE_SIGMA_PX)
    if ridge is None:
        return None
    centres = centres_of(ridge, reach=line.reach)
    if centres.share < LEAST_SHARE:
        return None
    bow = centre_line(centres)
    if bow is None or misfit_px(centres, bow) > MOST_MISFIT_PX:
        return None
    club = _behind_club(area, line, along=along)
    present = _present(ridge, bow)
    if line.ends[:, 1].min() >= area.box[1]:
        # It lies on the ground, so club and ball are in front of it.
        present &= ~club
    clear = strip.inside & ~club & ~_on_golfer(area, line, along=along)
    gap = OPEN_GAP_M * area.metre_px
    ends = _extent(along, present, clear=clear, within=line.reach, gap=gap)
    if ends is None:
        return None
    return _Look(ridge=ridge, centres=centres, bow=bow, present=present, clear=clear, ends=ends)


def _redrawn(line: Line, *, bow: Array, ends: tuple[float, float]) -> Line:
    """The chord of the bowed line between its ends, as a new line."""
    u = np.array(ends)
    points = line.origin + u[:, None] * line.direction + np.polyval(bow, u)[:, None] * line.normal
    middle = points.mean(axis=0)
    chord = points[1] - points[0]
    length = float(np.linalg.norm(chord))
    return evolve(
        line, origin=middle, direction=chord / length, reach=(-0.5 * length, 0.5 * length)
    )


def _traced(area: WorkArea, line: Line, *, seen: _Look) -> Trace | None:
    """What the last pass saw, with uncertainty, tips and colours read off."""
    strip, ends = seen.ridge.strip, seen.ends
    along = strip.along
    between = (along >= ends[0]) & (along <= ends[1])
    level = _level(seen.ridge, seen.bow)
    shown = level[between & seen.clear & seen.present]
    if len(shown) < 2 * WINDOW_PX:
        return None
    typical = float(np.median(shown))
    scatter, sd = uncertainty_px(seen.centres, seen.bow, ends=ends)
    margin = 0.03 * area.metre_px
    return Trace(
        line=line,
        bow=seen.bow,
        sd_px=sd,
        scatter_px=scatter,
        ends=ends,
        tips=_tips(along, level / typical, clear=seen.clear, ends=ends, margin=margin),
        at_border=_at_border(along, strip.inside, ends=ends),
        strength=typical,
        coverage=float(np.mean(seen.present[between & seen.clear])),
        evenness=float(np.quantile(shown, 0.1)) / typical,
        strip=lay_flat(area, line, along=along, across=strip.across, bow=seen.bow),
        present=seen.present & between,
        clear=seen.clear,
    )


def _level(ridge: Ridge, bow: Array) -> Array:
    """Strength of the ridge on its centre line, ``(N,)``."""
    across = ridge.strip.across
    place = (np.polyval(bow, ridge.strip.along) - across[0]) / (across[1] - across[0])
    place = np.clip(place, 0, len(across) - 1.001)
    left = place.astype(int)
    part = place - left
    rows = np.arange(len(place))
    return np.asarray(
        ridge.strength[rows, left] * (1 - part) + ridge.strength[rows, left + 1] * part
    )


def _present(ridge: Ridge, bow: Array) -> Flags:
    level = _level(ridge, bow)
    strong = level[(level > PRESENT_STRENGTH) & ridge.strip.inside]
    typical = float(np.median(strong)) if len(strong) else 0.0
    return np.asarray(ridge.strip.inside & (level > max(PRESENT_STRENGTH, PRESENT_SHARE * typical)))


def _behind_club(area: WorkArea, line: Line, *, along: Array) -> Flags:
    """Cross-sections that club or ball would cover: what shows there is not the stick."""
    points = line.origin + along[:, None] * line.direction
    hidden = np.zeros(len(along), dtype=bool)
    metre = area.metre_px
    if {"grip_end", "shaft_end"} <= area.points.keys():
        shaft = np.stack([area.points["grip_end"], area.points["shaft_end"]])
        hidden |= distance_to_segment(points, shaft) < 0.02 * metre
    for name, size in (("ball", 0.04), ("club_head", 0.08)):
        if name in area.points:
            hidden |= np.linalg.norm(points - area.points[name], axis=1) < size * metre
    return hidden


def _on_golfer(area: WorkArea, line: Line, *, along: Array) -> Flags:
    """Cross-sections that the golfer would cover, or that lie in front of him."""
    points = line.origin + along[:, None] * line.direction
    column = np.clip(points[:, 0].astype(int), 0, area.size[0] - 1)
    row = np.clip(points[:, 1].astype(int), 0, area.size[1] - 1)
    return np.asarray(area.person[row, column])


def _extent(
    along: Array, present: Flags, *, clear: Flags, within: tuple[float, float], gap: float
) -> tuple[float, float] | None:
    """From where to where the ridge goes on, bridging what hides it and short gaps.

    Starts from the run that shows most of it.
    """
    runs = _runs(present)
    runs = [(a, b) for a, b in runs if b - a >= WINDOW_PX]
    inside = [(a, b) for a, b in runs if along[b - 1] > within[0] and along[a] < within[1]]
    if not inside:
        return None
    first, last = max(inside, key=lambda r: r[1] - r[0])
    open_before = np.concatenate([[0], np.cumsum(clear & ~present)])

    def joins(near: int, run: tuple[int, int]) -> bool:
        """Whether a further run belongs: little open ground between, and not a mere speck."""
        a, b = run
        far = a if a >= near else b
        bridged = abs(far - near)
        return abs(open_before[far] - open_before[near]) <= gap and b - a >= bridged / 3

    for run in sorted(r for r in runs if r[0] >= last):
        if joins(last, run):
            last = run[1]
    for run in sorted((r for r in runs if r[1] <= first), reverse=True):
        if joins(first, run):
            first = run[0]
    return float(along[first]), float(along[last - 1])


def _runs(flags: Flags) -> list[tuple[int, int]]:
    edges = np.flatnonzero(np.diff(np.concatenate([[0], flags.astype(int), [0]])))
    return [(int(a), int(b)) for a, b in edges.reshape(-1, 2)]


def _at_border(along: Array, inside: Flags, *, ends: tuple[float, float]) -> tuple[bool, bool]:
    """Whether each end is where the picture stops."""
    first, last = (bool(not inside[np.abs(along - end) <= 4.0].all()) for end in ends)
    return first, last


def _tips(
    along: Array, level: Array, *, clear: Flags, ends: tuple[float, float], margin: float
) -> tuple[bool, bool]:
    """Whether each end is the stick's own: in clear view, and stopping short.

    ``level`` is in units of the typical strength. An edge or a streak fades; a stick
    stops within a few pixels.
    """
    out = []
    for end, sign in zip(ends, (-1.0, 1.0), strict=True):
        beyond = sign * (along - end)
        seen = bool(clear[np.abs(beyond) <= margin].all())
        before = level[(beyond < -4) & (beyond > -4 - 2 * WINDOW_PX)]
        after = level[(beyond > 4) & (beyond < 4 + 2 * WINDOW_PX)]
        short = len(before) and len(after) and before.mean() > 0.5 and after.mean() < 0.25
        out.append(seen and bool(short))
    return out[0], out[1]
