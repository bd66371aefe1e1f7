"""From what a picture shows to residual terms."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from wellset.assess.common import shared_shift
from wellset.assess.gap import gap_m
from wellset.assess.problem import COACH, GAP, LANDMARK, SWAY_HEIGHT_M, shared_block
from wellset.assess.terms import CameraSlot, ReprojectionTerm
from wellset.estimation import Layout, LinearTerm
from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.figure.sighting import NotSeen, PlacedByCoach, Sighting
from wellset.figure.views import View

Array = NDArray[np.float64]

SWAY_SIGN = {View.FACE_ON: -0.5, View.DOWN_THE_LINE: 0.5}
"""The figure stands half-way between where it stood in the two pictures."""


def whiten(covariance: Array, /) -> Array:
    """Matrices ``W`` with ``W S W' = 1`` for covariances ``S``, shape (k, d, d)."""
    return np.linalg.inv(np.linalg.cholesky(covariance))


def landmark_terms(
    sighting: Sighting,
    layout: Layout,
    *,
    slot: CameraSlot,
    points: Array,
    pixels_per_metre: Array,
    rendered_to_real: bool,
) -> tuple[ReprojectionTerm, LinearTerm]:
    """The landmarks of one picture as a term, and the prior of the errors they share.

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
    sd = np.sqrt(np.diagonal(covariance, axis1=1, axis2=2)) * ~by_hand[:, None]
    shift = shared_shift(sighting.view, [LANDMARKS[i] for i in which], sd_px=sd)
    alone = covariance - np.einsum("kig,kjg->kij", shift, shift)
    rows = np.repeat(gap_share, 2)
    hand_rows = np.repeat(by_hand, 2)
    height = np.clip(points[which, 2] / SWAY_HEIGHT_M, 0.0, 2.0)
    reprojection = ReprojectionTerm(
        slot=slot,
        points=layout["points"],
        which=which,
        positions_px=np.array([p.position_px for _, p in seen]),
        whitening=whiten(alone),
        row_shares=_shares(rows, hand_rows),
        sway=layout.slices.get("sway"),
        sway_gain=SWAY_SIGN[sighting.view] * height,
        shared=layout[shared_block(sighting.view)],
        shared_shift_px=shift,
    )
    return reprojection, _shared_prior(shift, gap_share, layout=layout, view=sighting.view)


def _shared_prior(shift: Array, gap_share: Array, *, layout: Layout, view: View) -> LinearTerm:
    """Shared errors have unit variance, from the sources of the landmarks that share them."""
    weight = (shift**2).sum(1)
    total = weight.sum(0)
    gap = np.divide(gap_share @ weight, total, out=np.zeros_like(total), where=total > 0)
    return LinearTerm(
        source=LANDMARK,
        matrix=np.eye(layout.size)[layout[shared_block(view)]],
        target=np.zeros(len(gap)),
        mix={LANDMARK: 1 - gap, GAP: gap} if gap.any() else None,
    )


def _shares(gap: Array, by_hand: NDArray[np.bool_]) -> Mapping[str, Array]:
    shares = {
        LANDMARK: np.where(by_hand, 0.0, 1 - gap),
        GAP: gap,
        COACH: np.where(by_hand, 1.0, 0.0),
    }
    return {name: share for name, share in shares.items() if share.any()}
