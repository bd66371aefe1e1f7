"""From what a picture shows to residual terms."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from wellset.assess.gap import gap_m
from wellset.assess.problem import COACH, GAP, LANDMARK, SWAY_HEIGHT_M
from wellset.assess.terms import CameraSlot, ReprojectionTerm
from wellset.estimation import Layout
from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.figure.sighting import NotSeen, PlacedByCoach, Sighting
from wellset.figure.views import View

Array = NDArray[np.float64]

SWAY_SIGN = {View.FACE_ON: -0.5, View.DOWN_THE_LINE: 0.5}
"""The figure stands half-way between where it stood in the two pictures."""


def whiten(covariance: Array, /) -> Array:
    """Matrices ``W`` with ``W S W' = 1`` for covariances ``S``, shape (k, d, d)."""
    return np.linalg.inv(np.linalg.cholesky(covariance))


def landmark_term(
    sighting: Sighting,
    layout: Layout,
    *,
    slot: CameraSlot,
    points: Array,
    pixels_per_metre: Array,
    rendered_to_real: bool,
) -> ReprojectionTerm:
    """The landmarks of one picture as a term.

    Parameters
    ----------
    points : (N, 3) array
        Where the points are about now; only their height matters, for the sway.
    pixels_per_metre : (N,) array
        Scale of the picture at each point, for the gap to real people.
    rendered_to_real : bool
        Whether to add the gap to real people.
    """
    seen = [
        (INDEX[name], placement)
        for name, placement in sighting.landmarks.items()
        if not isinstance(placement, NotSeen)
    ]
    which = np.array([i for i, _ in seen], dtype=np.intp)
    by_hand = np.array([isinstance(p, PlacedByCoach) for _, p in seen])
    own = np.array([p.covariance_px2 for _, p in seen])
    gap = np.array([gap_m(LANDMARKS[i]) for i in which]) * pixels_per_metre[which]
    gap = np.where(by_hand | (not rendered_to_real), 0.0, gap)
    covariance = own + (gap**2)[:, None, None] * np.eye(2)
    gap_share = gap**2 / (np.trace(covariance, axis1=1, axis2=2) / 2)
    rows = np.repeat(gap_share, 2)
    hand_rows = np.repeat(by_hand, 2)
    height = np.clip(points[which, 2] / SWAY_HEIGHT_M, 0.0, 2.0)
    return ReprojectionTerm(
        slot=slot,
        points=layout["points"],
        which=which,
        positions_px=np.array([p.position_px for _, p in seen]),
        whitening=whiten(covariance),
        row_shares=_shares(rows, hand_rows),
        sway=layout.slices.get("sway"),
        sway_gain=SWAY_SIGN[sighting.view] * height,
    )


def _shares(gap: Array, by_hand: NDArray[np.bool_]) -> Mapping[str, Array]:
    shares = {
        LANDMARK: np.where(by_hand, 0.0, 1 - gap),
        GAP: gap,
        COACH: np.where(by_hand, 1.0, 0.0),
    }
    return {name: share for name, share in shares.items() if share.any()}
