"""Printed markers on the ground, found in one picture.

Four-sided dark figures are looked for on the ground at a working size, compared with the
markers that are known, and those that look like one are fitted in the picture itself.
The corners of a marker are told apart by its pattern, so pictures are never mirrored for
this: a left-hander's corners are mirrored afterwards.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.equipment.sheet import SHEET_MARKER, Marker
from wellset.figure.sighting import MarkerSighting
from wellset.vision.marker_fit import Laid, lay, likeness_of_quad
from wellset.vision.stick_area import metre_at_feet_px, near_points

Array = NDArray[np.float64]
Grey = NDArray[np.uint8]
Rgb = NDArray[np.uint8]

WORKING_PX_PER_M: Final = 360.0
"""The ground is searched at this size: a cell of the sheet is then 10 pixels wide and, seen
from hand height in front of the golfer, 2 or 3 high. Small pictures are enlarged for it."""
MOST_ENLARGED: Final = 2.5
REACH_M: Final = 1.6
"""How far to the sides of feet and ball a marker is looked for."""
ABOVE_M, BELOW_M = 0.5, 0.9
"""How far up and down the picture from feet and ball, in metres at the feet."""
WINDOW_M: Final = 0.08
"""Neighbourhood that decides what is dark, metre at the feet: three cells. Print that shines in
the sun may be lighter than the ground around the sheet, never than the paper beside it."""
DARKER: Final = 7
"""Grey levels below its neighbourhood's mean at which a place is dark."""
LEAST_FILLED: Final = 0.25
"""Share of its upright box that a dark figure fills."""
LEAST_DARK: Final = 0.4
"""Share of its four-sided hull that must be dark: the border alone has 0.55, some of which a
blurred neighbourhood loses."""
MOST_OFF: Final = 0.8
"""Least ratio of the areas of a figure's hull and the four-sided figure through it."""
MOST_MOVED: Final = 0.25
"""How far a corner may move when lines are laid through the sides, as a share of the size."""
SHORTEST_PX: Final = 8.0
"""Least height or width of a figure worth comparing, working pixels."""
LEAST_M, MOST_M = 0.1, 0.6
"""Size of such a figure in the picture, in metres at the feet."""
WORTH_FITTING: Final = 0.5
"""Likeness of a figure whose corners are known to a pixel or two (correlation); sheets pasted
into scenes have 0.75 and more."""
WORTH_TRACING: Final = 0.2
"""The same of one whose corners are only guessed."""
MOST_TRACED, MOST_FITTED = 5, 2
"""No more figures than this, the likeliest, are traced and fitted for one marker."""
ALIKE: Final = 0.85
"""Likeness after the fit. The sheet's marker turned by a quarter or mirrored is like itself
by 0.2 and 0.5 at most; on rendered and pasted sheets, blurred to a cell's size, 0.9 and
more is reached."""
LEAST_CONTRAST: Final = 25.0
"""Grey levels from black to white."""
LARGEST_PATCH_PX: Final = 80.0
"""Larger markers are fitted in a picture reduced to this size: it costs less, and a tenth
of a pixel of it is less than what print and paper are good for."""
LEAST_SD_PX: Final = 0.12
"""No corner is trusted more than this, in pixels of the patch: lens, light that spreads
from white into black, and paper that isn't quite flat (our judgement; on rendered scenes
corners scatter by 0.1 to 0.3)."""


@frozen(kw_only=True, eq=False)
class _Ground:
    """The searched part of the picture, grey, at working size."""

    grey: Grey
    origin: tuple[int, int]
    scale: Array
    """Working pixels per picture pixel, along x and y."""
    metre_px: float

    def to_picture(self, points: Array) -> Array:
        """From whole numbers at pixel centres here to the picture's frame."""
        return np.asarray((points + 0.5) / self.scale + self.origin)


@frozen(kw_only=True, eq=False)
class _Figure:
    """A dark figure with four corners, in working pixels.

    Parameters
    ----------
    outline : (n, 2) array
    corners : (4, 2) array
        Roughly, clockwise as seen.
    """

    outline: Array
    corners: Array

    def moved(self, by: Array) -> _Figure:
        """The same figure elsewhere."""
        return _Figure(outline=self.outline + by, corners=self.corners + by)


def find_markers(
    rgb: Rgb,
    *,
    landmarks: Mapping[str, Array],
    markers: Sequence[Marker] = (SHEET_MARKER,),
) -> tuple[MarkerSighting, ...]:
    """Printed markers lying near the golfer, one of each kind at most.

    Parameters
    ----------
    rgb : (H, W, 3) uint8 array
        The picture as taken, never mirrored.
    landmarks : mapping of name to (2,) array, pixel
        In the same picture; feet and any of nose, shoulders and hips are needed.
    markers : sequence of Marker
        What is looked for.

    Returns
    -------
    tuple of MarkerSighting
        For a right-hander's frame; a left-hander's is its
        :meth:`~wellset.figure.sighting.MarkerSighting.mirrored`. Empty where nothing is
        sure, or where the golfer's size is unknown.
    """
    ground = _ground(rgb, landmarks)
    if ground is None:
        return ()
    figures = list(_figures(ground))
    found = (_best(rgb, ground, figures=figures, marker=marker) for marker in markers)
    return tuple(each for each in found if each is not None)


def _ground(rgb: Rgb, landmarks: Mapping[str, Array]) -> _Ground | None:
    metre = metre_at_feet_px(landmarks)
    if metre is None:
        return None
    near = near_points(landmarks)
    low = near.min(axis=0) - np.array([REACH_M, ABOVE_M]) * metre
    high = near.max(axis=0) + np.array([REACH_M, BELOW_M]) * metre
    height, width = rgb.shape[:2]
    left, top = (int(v) for v in np.clip(low, 0, [width - 1, height - 1]))
    right, bottom = (int(v) for v in np.clip(high, [left + 1, top + 1], [width, height]))
    wish = min(WORKING_PX_PER_M / metre, MOST_ENLARGED)
    # whole pixels averaged first, then between them: ten times as fast as averaging at once
    step = max(1, int(0.7 / wish))
    wide, high = (max(1, side // step) for side in (right - left, bottom - top))
    cut = rgb[top : top + high * step, left : left + wide * step]
    if step > 1:
        cut = np.asarray(cv2.resize(cut, (wide, high), interpolation=cv2.INTER_AREA))
    size = (max(8, round(wide * step * wish)), max(8, round(high * step * wish)))
    small = np.asarray(cv2.resize(cut, size, interpolation=cv2.INTER_LINEAR))
    grey = cv2.cvtColor(small, cv2.COLOR_RGB2GRAY)
    scale = np.array([size[0] / (wide * step), size[1] / (high * step)])
    return _Ground(
        grey=np.asarray(grey, dtype=np.uint8),
        origin=(left, top),
        scale=scale,
        metre_px=metre * float(scale.mean()),
    )


def _figures(ground: _Ground) -> Iterable[_Figure]:
    """Dark four-sided figures."""
    block = 2 * round(WINDOW_M * ground.metre_px / 2) + 1
    soft = cv2.GaussianBlur(ground.grey, (3, 3), 0)
    dark = cv2.adaptiveThreshold(
        soft, 255, cv2.ADAPTIVE_THRESH_MEAN_C, cv2.THRESH_BINARY_INV, block, DARKER
    )
    _, labels, stats, _ = cv2.connectedComponentsWithStats(dark, connectivity=8)
    wide, high, area = stats[:, 2], stats[:, 3], stats[:, 4]
    shorter, longer = np.minimum(wide, high), np.maximum(wide, high)
    fits = (shorter >= SHORTEST_PX) & (area >= LEAST_FILLED * wide * high)
    fits &= (longer >= LEAST_M * ground.metre_px) & (longer <= MOST_M * ground.metre_px)
    fits[0] = False
    for label in np.flatnonzero(fits):
        left, top, w, h = (int(v) for v in stats[label, :4])
        part = (labels[top : top + h, left : left + w] == label).view(np.uint8)
        outlines, _ = cv2.findContours(part, cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE)
        figure = _four_sided(outlines[0], dark=float(area[label]))
        if figure is not None:
            yield figure.moved(np.array([left, top]))


def _four_sided(outline: NDArray[np.int32], *, dark: float) -> _Figure | None:
    """The outline with its four corners, if it has four."""
    hull = cv2.convexHull(outline)  # white cells may have bitten through a blurred border
    around = cv2.arcLength(hull, closed=True)
    rough = cv2.approxPolyDP(hull, 0.05 * around, closed=True)
    if len(rough) != 4 or not cv2.isContourConvex(rough):
        return None
    area = cv2.contourArea(rough)
    if not MOST_OFF < cv2.contourArea(hull) / area < 1 / MOST_OFF or dark < LEAST_DARK * area:
        return None
    corners = rough[:, 0].astype(np.float64)
    (ax, ay), (bx, by) = corners[1] - corners[0], corners[2] - corners[1]
    # with y down, a positive turn is clockwise as seen
    corners = corners if ax * by > ay * bx else corners[::-1]
    return _Figure(outline=outline[:, 0].astype(np.float64), corners=corners)


def _on_sides(figure: _Figure) -> Array | None:
    """Corners where the lines through the outline's four sides meet."""
    outline, rough = figure.outline, figure.corners
    lines = []
    for start, end in zip(rough, np.roll(rough, -1, 0), strict=True):
        run = end - start
        length = float(np.linalg.norm(run))
        along = (outline - start) @ run / length**2
        across = (outline - start) @ np.array([-run[1], run[0]]) / length
        near = (np.abs(along - 0.5) < 0.4) & (np.abs(across) < max(2.0, 0.1 * length))
        if near.sum() < 4:
            return None
        middle = np.median(across[near])
        near &= np.abs(across - middle) < max(1.5, 0.05 * length)
        dx, dy, x, y = cv2.fitLine(
            outline[near].astype(np.float32), cv2.DIST_HUBER, 0, 0.01, 0.01
        ).ravel()
        lines.append((np.array([-dy, dx]), -dy * x + dx * y))
    corners = []
    for (n1, d1), (n2, d2) in zip([lines[-1], *lines[:-1]], lines, strict=True):
        both = np.array([n1, n2])
        if abs(np.linalg.det(both)) < 0.1:
            return None
        corners.append(np.linalg.solve(both, [d1, d2]))
    found = np.array(corners)
    return found if np.abs(found - rough).max() < MOST_MOVED * np.ptp(rough, axis=0).max() else None


def _best(
    rgb: Rgb, ground: _Ground, *, figures: Sequence[_Figure], marker: Marker
) -> MarkerSighting | None:
    """The figure most like a marker, fitted; ``None`` if none is like it."""

    def likeness(corners: Array) -> tuple[float, int]:
        return likeness_of_quad(ground.grey, corners, bits=marker.bits)

    guessed = [(likeness(figure.corners)[0], figure) for figure in figures]
    guessed = [pair for pair in guessed if pair[0] > WORTH_TRACING]
    guessed.sort(key=lambda pair: -pair[0])
    traced = [_on_sides(figure) for _, figure in guessed[:MOST_TRACED]]
    ranked = [(*likeness(quad), quad) for quad in traced if quad is not None]
    ranked.sort(key=lambda entry: -entry[0])
    for alike, turns, corners in ranked[:MOST_FITTED]:
        if alike < WORTH_FITTING:
            break
        quad = np.roll(corners, -turns, axis=0)
        found = _fitted(rgb, ground.to_picture(quad), marker=marker)
        if found is not None:
            return found
    return None


def _fitted(rgb: Rgb, corners: Array, *, marker: Marker) -> MarkerSighting | None:
    """The marker fitted in the picture itself, or in one reduced to a useful size."""
    sides = np.linalg.norm(np.roll(corners, -1, 0) - corners, axis=1)
    shrink = min(1.0, LARGEST_PATCH_PX / float(sides.max()))
    rim = 3.0 / shrink + 2.0 * float(sides.max()) / marker.cells
    height, width = rgb.shape[:2]
    low = np.clip(np.floor(corners.min(axis=0) - rim), 0, None).astype(int)
    high = np.clip(np.ceil(corners.max(axis=0) + rim), None, [width, height]).astype(int)
    cut = rgb[low[1] : high[1], low[0] : high[0]]
    if min(cut.shape[:2]) < 4:
        return None
    size = (round(cut.shape[1] * shrink), round(cut.shape[0] * shrink))
    scale = np.array([size[0] / cut.shape[1], size[1] / cut.shape[0]])
    small = cv2.resize(cut, size, interpolation=cv2.INTER_AREA) if shrink < 1 else cut
    patch = cv2.cvtColor(np.ascontiguousarray(small), cv2.COLOR_RGB2GRAY).astype(np.float32)
    laid = lay(patch, (corners - low) * scale - 0.5, bits=marker.bits)
    if laid is None or laid.likeness < ALIKE or laid.contrast < LEAST_CONTRAST:
        return None
    return _sighting(laid, origin=low, scale=scale, marker=marker)


def _sighting(
    laid: Laid, *, origin: NDArray[np.int_], scale: Array, marker: Marker
) -> MarkerSighting:
    corners = (laid.corners + 0.5) / scale + origin
    own = [laid.covariance[2 * i : 2 * i + 2, 2 * i : 2 * i + 2] for i in range(4)]
    spread = (np.array(own) + LEAST_SD_PX**2 * np.eye(2)) / np.outer(scale, scale)
    # from clockwise on the sheet, top left first, to the order by (u, v): u is up the sheet
    order = [2, 1, 0, 3]
    return MarkerSighting(
        name=marker.name,
        corners_px=corners[order],
        covariance_px2=spread[order],
        side_m=marker.side_m,
        side_sd_m=marker.side_sd * marker.side_m,
    )
