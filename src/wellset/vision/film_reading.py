"""From the frames of a still moment to one reading, with the golfer's sway."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import cv2
import numpy as np
from attrs import evolve

from wellset.figure.landmarks import INDEX
from wellset.figure.views import View
from wellset.vision.crops import Cutout
from wellset.vision.film import Film, Frame
from wellset.vision.looks import Look, look
from wellset.vision.network import LandmarkNetwork
from wellset.vision.reading import Reading, combine, laid_around, settled
from wellset.vision.values import Array, Mask, Pixels

BODY: Final = slice(0, INDEX["grip_mid"])
"""Rows of the body's landmarks."""


def read_film_frames(
    network: LandmarkNetwork,
    film: Film,
    *,
    cleared: Pixels,
    first: Look,
    view: View,
    mirrored: bool,
) -> Reading:
    """Read every frame with two cut-outs and average robustly.

    The first cut-out lies alike in all frames, so that its points differ by the golfer's sway
    (and the pictures' noise) alone; the second is jittered, in each frame another way, so that
    what depends on the cut-out's place averages out too.

    Parameters
    ----------
    network : LandmarkNetwork
    film : Film
    cleared : (height, width, 3) uint8 array
        The shown frame with people near the golfer painted over; they are so in every frame.
    first : Look
        A look at the shown frame.
    view : View
    mirrored : bool

    Returns
    -------
    Reading
        In pixels of the shown frame, the camera's motion taken off.
    """
    plain = settled(network, cleared, first=first, view=view, mirrored=mirrored)
    cutouts = laid_around(plain, view=view, mirrored=mirrored, crops=len(film.frames) + 1)
    alike: list[Look] = []
    jittered: list[Look] = []
    painted = np.asarray((cleared != film.picture.rgb).any(axis=2))
    for number, shot in enumerate(film.frames, start=1):
        frame = _painted_over(shot, cleared, where=painted)
        pair = (cutouts[0], cutouts[number])
        one, other = _looks(network, frame, cutouts=pair, height_px=plain.height_px)
        alike.append(one)
        jittered.append(other)
    reading = combine([*alike, *jittered])
    sway = covariance_over([each.points_px for each in alike])
    own = evolve(reading, scatter_px2=_at_least_zero(reading.scatter_px2 - sway))
    return evolve(own, sway_px2=sway)


def sway_mm(reading: Reading, *, mm_per_px: float) -> float:
    """How far the body's points are displaced from their mean, root mean square, millimetre."""
    variance = np.trace(reading.sway_px2[BODY], axis1=1, axis2=2)
    return float(np.sqrt(variance.mean())) * mm_per_px


def covariance_over(points_px: Sequence[Array]) -> Array:
    """Covariance of each landmark over the frames, ``(36, 2, 2)``, pixel squared.

    Parameters
    ----------
    points_px : sequence of (36, 2) arrays
        At least one; of one alone nothing is known, and the sway is zero.
    """
    stack = np.stack(points_px)
    off = stack - stack.mean(axis=0)
    return np.asarray(np.einsum("nki,nkj->kij", off, off) / max(len(stack) - 1, 1))


def _looks(
    network: LandmarkNetwork, frame: Frame, *, cutouts: Sequence[Cutout], height_px: float
) -> list[Look]:
    """Looks at a frame as if the camera had not moved since the shown one."""
    forth = frame.from_shown
    moved = [
        evolve(each, picture_from_cutout=_after(forth, each.picture_from_cutout))
        for each in cutouts
    ]
    back = np.linalg.inv(forth[:, :2])
    return [
        evolve(each, points_px=(each.points_px - forth[:, 2]) @ back.T, cutout=cutout)
        for each, cutout in zip(
            look(network, frame.rgb, cutouts=moved, height_px=height_px), cutouts, strict=True
        )
    ]


def _painted_over(frame: Frame, cleared: Pixels, *, where: Mask) -> Frame:
    """A frame with the same places painted over as the shown one."""
    if not where.any():
        return frame
    size = (where.shape[1], where.shape[0])
    there = cv2.warpAffine(where.astype(np.uint8), frame.from_shown, size) > 0
    paint = cv2.warpAffine(cleared, frame.from_shown, size, borderMode=cv2.BORDER_REPLICATE)
    return evolve(frame, rgb=np.where(there[..., None], paint, frame.rgb).astype(np.uint8))


def _after(second: Array, first: Array) -> Array:
    """One affine map after another, ``(2, 3)``."""
    linear = second[:, :2] @ first[:, :2]
    return np.column_stack([linear, second[:, :2] @ first[:, 2] + second[:, 2]])


def _at_least_zero(covariances: Array) -> Array:
    """Covariances with negative variances, which sampling can leave, set to zero."""
    values, axes = np.linalg.eigh(covariances)
    kept = np.maximum(values, 0.0)
    return np.asarray(np.einsum("kij,kj,klj->kil", axes, kept, axes))
