"""From looks at single cut-outs to one reading of a picture.

A first look at the golfer's box tells where golfer, club and ball really are; the
jittered cut-outs are then laid so that all of them fit inside, and their answers
are averaged so that one cut-out that jumped to another limb counts little.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from attrs import field, frozen

from wellset.figure.views import View
from wellset.vision.crops import Box, Cutout, square_cutout
from wellset.vision.looks import EDGE, Look, look
from wellset.vision.network import SIZE, LandmarkNetwork
from wellset.vision.values import (
    COUNT,
    Array,
    Flags,
    Pixels,
    landmark_covariances,
    landmark_flags,
    landmark_pairs,
)

SIDE_PER_HEIGHT: Final = 1.42
CENTRE_SHIFT: Final = (0.08, 0.05)
"""The cut-out as trained: side against the golfer's height in the picture, and where its
centre lies from the middle of the golfer's box, in golfer heights, right and down."""

JITTER: Final = (
    (0.0, 0.0, 0.0),
    (0.04, 0.04, 0.04),
    (-0.04, -0.04, 0.04),
    (0.04, -0.04, -0.04),
    (-0.04, 0.04, -0.04),
    (0.0, 0.04, 0.0),
    (0.04, 0.0, 0.0),
    (0.0, -0.04, 0.0),
    (-0.04, 0.0, 0.0),
)
"""Shift right, shift down and growth of each cut-out, in golfer heights: a fixed pattern
whose mean is the plain cut-out. The network was trained with shifts of 5 % and growths of
6 % (standard deviations), so 4 % stays well inside."""

MOST_CROPS: Final = len(JITTER)

ROOM: Final = 0.05
"""Room to be kept between the outermost point and the edge of the plain cut-out, so that
the jittered ones hold it too (share of the side)."""

BEYOND: Final = 0.06
"""How far outside a clipped point is assumed to lie, in golfer heights."""

MOST_GROWTH: Final = 1.12
MOST_SHIFT: Final = 0.15
"""How far the cut-out may leave the trained place: growth, and shift in golfer heights."""

MOST_RELAYS: Final = 2
SAME_PLACE: Final = 0.08
"""How far the first look's cut-out may lie from the plain one, and differ in size, to count
as one of the jittered ones (shift in golfer heights, size as log ratio)."""


def _no_sway() -> Array:
    return np.zeros((COUNT, 2, 2))


@frozen(kw_only=True, eq=False)
class Reading:
    """The network's answer for one picture, from several cut-outs.

    Rows are in the order of :data:`wellset.figure.landmarks.LANDMARKS`; pixels are those
    of the unmirrored picture.

    Parameters
    ----------
    points_px : (36, 2) array, picture frame, pixel
        Mean over the cut-outs, each point weighing less the farther it lies from the
        median.
    spread_px : (36, 2) array, pixel
        The network's own Laplace spread b along x and y, mean over the cut-outs.
    scatter_px2 : (36, 2, 2) array, pixel squared
        Covariance of a single cut-out's point about their mean; zero for one cut-out.
    clipped : (36,) bool array
        Points that lay at the edge of every cut-out.
    crops : int
        Number of cut-outs.
    height_px : float
        Height of the golfer's box, pixels.
    sway_px2 : (36, 2, 2) array, pixel squared
        Covariance of the points over the frames of a video; zero for a picture.
    """

    points_px: Array = field(converter=landmark_pairs)
    spread_px: Array = field(converter=landmark_pairs)
    scatter_px2: Array = field(converter=landmark_covariances)
    clipped: Flags = field(converter=landmark_flags)
    crops: int
    height_px: float
    sway_px2: Array = field(factory=_no_sway, converter=landmark_covariances)


def lay_cutouts(
    golfer: Box, *, crops: int, mirrored: bool, held_px: Array | None = None
) -> tuple[Cutout, ...]:
    """The plain cut-out of a golfer and its jittered neighbours.

    Parameters
    ----------
    golfer : Box
        Box around the golfer's body (not the club), picture pixels.
    crops : int
        1 to 9.
    mirrored : bool
        Whether the cut-outs show the picture mirrored left to right.
    held_px : (N, 2) array, optional
        Points that every cut-out should hold; the plain one is moved and grown for
        them, within limits.
    """
    if not 1 <= crops <= MOST_CROPS:
        raise ValueError(f"crops must be 1 to {MOST_CROPS}, got {crops}")
    height = golfer.height
    side = SIDE_PER_HEIGHT * height
    ahead = -1.0 if mirrored else 1.0
    centre = np.array(golfer.centre) + height * np.array([ahead * CENTRE_SHIFT[0], CENTRE_SHIFT[1]])
    if held_px is not None:
        centre, side = _holding(held_px, centre=centre, side=side, height=height)
    cutouts: list[Cutout] = []
    for right, down, growth in JITTER[:crops]:
        middle = centre + height * np.array([ahead * right, down])
        cutouts.append(
            square_cutout(
                centre_px=(float(middle[0]), float(middle[1])),
                side_px=side * (1.0 + growth),
                size=SIZE,
                mirrored=mirrored,
            )
        )
    return tuple(cutouts)


def held_points(seen: Look) -> Array:
    """Where the cut-out must reach: the look's points, clipped ones pushed outwards."""
    points = seen.points_px.copy()
    inside = seen.cutout.to_cutout(points) / seen.cutout.size
    outwards = np.where(inside > 1.0 - EDGE, 1.0, np.where(inside < EDGE, -1.0, 0.0))
    direction = np.sign(seen.cutout.picture_from_cutout[:, :2].diagonal())
    return np.asarray(points + outwards * direction * BEYOND * seen.height_px)


def combine(looks: Sequence[Look]) -> Reading:
    """Average looks robustly.

    Each cut-out's point weighs ``1 / (1 + (d / s)²)`` with *d* its distance to the
    median and *s* the network's spread there; points at a cut-out's edge weigh nothing
    where another cut-out holds them.

    Parameters
    ----------
    looks : sequence of Look
    """
    points = np.stack([each.points_px for each in looks])
    spread = np.stack([each.spread_px for each in looks])
    clipped = np.stack([each.clipped for each in looks])
    lost = np.asarray(clipped.all(axis=0))
    usable = ~clipped | lost
    middle = np.nanmedian(np.where(usable[..., None], points, np.nan), axis=0)
    away = np.hypot(*np.moveaxis(points - middle, -1, 0))
    size = np.hypot(spread[..., 0], spread[..., 1])
    weights = usable / (1.0 + (away / size) ** 2)
    weights /= weights.sum(axis=0)
    mean = np.einsum("nk,nkd->kd", weights, points)
    off = (points - mean) * usable[..., None]
    degrees = np.maximum(usable.sum(axis=0) - 1, 1)
    shares = usable / usable.sum(axis=0)
    return Reading(
        points_px=mean,
        spread_px=np.einsum("nk,nkd->kd", shares, spread),
        scatter_px2=np.einsum("nki,nkj->kij", off, off) / degrees[:, None, None],
        clipped=lost,
        crops=len(looks),
        height_px=float(np.mean([each.height_px for each in looks])),
    )


def _holding(held: Array, *, centre: Array, side: float, height: float) -> tuple[Array, float]:
    """Move and grow a square just enough to hold the points with room to spare."""
    low, high = held.min(axis=0), held.max(axis=0)
    needed = float((high - low).max()) / (1.0 - 2.0 * ROOM)
    grown = float(np.clip(needed, side, side * MOST_GROWTH))
    reach = grown * (0.5 - ROOM)
    shift = np.maximum(high - (centre + reach), 0.0) - np.maximum(centre - reach - low, 0.0)
    limit = MOST_SHIFT * height
    return centre + np.clip(shift, -limit, limit), grown


def read(
    network: LandmarkNetwork,
    picture: Pixels,
    *,
    first: Look,
    view: View,
    mirrored: bool,
    crops: int,
) -> Reading:
    """Read a golfer with several cut-outs laid from a first look.

    The first look counts as one of them where it lies as one of them would; where it
    clips a point or lies elsewhere, a plain one is added.

    Parameters
    ----------
    network : LandmarkNetwork
    picture : (height, width, 3) uint8 array
        The unmirrored picture.
    first : Look
    view : View
    mirrored : bool
        Whether the cut-outs show the picture mirrored left to right.
    crops : int
        1 to 9.
    """
    best = settled(network, picture, first=first, view=view, mirrored=mirrored)
    cutouts = laid_around(best, view=view, mirrored=mirrored, crops=crops)
    looks = [best]
    if crops > 1:
        height = best.box(view, mirrored=mirrored).height
        looks.extend(look(network, picture, cutouts=cutouts[1:], height_px=height))
    return combine(looks)


def settled(
    network: LandmarkNetwork, picture: Pixels, *, first: Look, view: View, mirrored: bool
) -> Look:
    """A look whose cut-out lies where the plain one should: the first, or one laid anew."""
    best = first
    for _ in range(MOST_RELAYS):
        plain = laid_around(best, view=view, mirrored=mirrored, crops=1)
        if _lies_as(best, plain=plain[0]):
            break
        height = best.box(view, mirrored=mirrored).height
        best = look(network, picture, cutouts=plain, height_px=height)[0]
    return best


def laid_around(seen: Look, *, view: View, mirrored: bool, crops: int) -> tuple[Cutout, ...]:
    """The plain cut-out for what a look saw, and its jittered neighbours."""
    box = seen.box(view, mirrored=mirrored)
    return lay_cutouts(box, crops=crops, mirrored=mirrored, held_px=held_points(seen))


def _lies_as(seen: Look, *, plain: Cutout) -> bool:
    """Whether a look was laid nearly where the plain cut-out lies now, and clips nothing."""
    if seen.clipped.any():
        return False
    size = np.array([plain.size / 2.0, plain.size / 2.0])[None]
    moved = np.hypot(*(seen.cutout.to_picture(size) - plain.to_picture(size))[0])
    grown = abs(np.log(seen.cutout.scale / plain.scale))
    return bool(moved <= SAME_PLACE * seen.height_px and grown <= SAME_PLACE)
