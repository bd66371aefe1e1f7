"""From what a picture shows to residual terms."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.assess.common import shared_shift
from wellset.assess.gap import gap_m
from wellset.assess.problem import COACH, GAP, LANDMARK, SWAY_HEIGHT_M, shared_block
from wellset.assess.terms import CameraSlot, ReprojectionTerm
from wellset.estimation import Layout, LinearTerm, Term
from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.figure.sighting import NotSeen, PlacedByCoach, Sighting
from wellset.figure.views import View

Array = NDArray[np.float64]

FORGIVING = 2.5
"""Whitened distance from which a network's point counts ever less (our judgement)."""

MOST_CORRELATED = 0.98

SWAY_SIGN = {View.FACE_ON: -0.5, View.DOWN_THE_LINE: 0.5}
"""The figure stands half-way between where it stood in the two pictures."""


def whiten(covariance: Array, /) -> Array:
    """Matrices ``W`` with ``W S W' = 1`` for covariances ``S``, shape (k, d, d)."""
    return np.linalg.inv(np.linalg.cholesky(covariance))


def unshared(covariance: Array, shift: Array, /) -> Array:
    """What is left of the landmarks' covariance once their shared errors are told apart.

    Every shared error lies along one axis of the picture. The spread along that axis shrinks
    and its correlation with the other axis stays, so that a landmark whose spread is long
    and slanting keeps a covariance, which plain subtraction would not leave.

    Parameters
    ----------
    covariance : (k, 2, 2) array, pixel squared
    shift : (k, 2, g) array, pixel
        What one standard deviation of each shared error moves each landmark.

    Returns
    -------
    (k, 2, 2) array, pixel squared
    """
    variance = np.diagonal(covariance, axis1=1, axis2=2)
    left = np.sqrt(1.0 - (shift**2).sum(axis=2) / variance)
    return np.asarray(left[:, :, None] * covariance * left[:, None, :])


@frozen(kw_only=True, eq=False)
class _Rows:
    """The landmarks seen in one picture, one row each."""

    which: NDArray[np.intp]
    by_hand: NDArray[np.bool_]
    positions_px: Array
    covariance_px2: Array
    gap_share: Array
    """Share of the variance that is the gap to real people."""
    shift_px: Array
    """Pixels that a unit of each shared error moves each."""


def landmark_terms(
    sighting: Sighting,
    layout: Layout,
    *,
    slot: CameraSlot,
    points: Array,
    pixels_per_metre: Array,
    rendered_to_real: bool,
) -> list[Term]:
    """The landmarks of one picture as terms, and the prior of the errors they share.

    Points that the networks saw count less the farther they lie from everything else.
    Points that a person placed keep their whole weight: they win, with their own spread.

    Parameters
    ----------
    points : (N, 3) array
        Where the points are about now; only their height matters, for the sway.
    pixels_per_metre : (N,) array
        Scale of the picture at each point, for the gap to real people.
    rendered_to_real : bool
        Whether to add the gap to real people.
    """
    rows = _rows(sighting, pixels_per_metre=pixels_per_metre, rendered_to_real=rendered_to_real)
    height = np.clip(points[rows.which, 2] / SWAY_HEIGHT_M, 0.0, 2.0)
    alone = _upright(rows.covariance_px2 - np.einsum("kig,kjg->kij", rows.shift_px, rows.shift_px))
    terms: list[Term] = [
        ReprojectionTerm(
            view=sighting.view,
            slot=slot,
            points=layout["points"],
            which=rows.which[some],
            positions_px=rows.positions_px[some],
            whitening=whiten(alone[some]),
            row_shares={COACH: np.ones(2 * some.sum())} if by_hand else _shares(rows, some),
            sway=layout.slices.get("sway"),
            sway_gain=SWAY_SIGN[sighting.view] * height[some],
            shared=layout[shared_block(sighting.view)],
            shared_shift_px=rows.shift_px[some],
            robust_scale=None if by_hand else FORGIVING,
        )
        for by_hand, some in ((False, ~rows.by_hand), (True, rows.by_hand))
        if some.any()
    ]
    return [*terms, _shared_prior(rows, layout=layout, view=sighting.view)]


def _upright(covariance: Array) -> Array:
    """Covariances with correlations of at most :data:`MOST_CORRELATED`.

    A long thin ellipse from which a shared error along one axis is taken would be no
    ellipse any more.
    """
    limit = MOST_CORRELATED * np.sqrt(covariance[:, 0, 0] * covariance[:, 1, 1])
    across = np.clip(covariance[:, 0, 1], -limit, limit)
    plain: Array = covariance.copy()
    plain[:, 0, 1] = plain[:, 1, 0] = across
    return plain


def _rows(sighting: Sighting, *, pixels_per_metre: Array, rendered_to_real: bool) -> _Rows:
    seen = [
        (INDEX[name], placement)
        for name, placement in sighting.landmarks.items()
        if not isinstance(placement, NotSeen)
    ]
    which = np.array([i for i, _ in seen], dtype=np.intp)
    by_hand = np.array([isinstance(p, PlacedByCoach) for _, p in seen], dtype=np.bool_)
    own = np.array([p.covariance_px2 for _, p in seen])
    gap = np.array([gap_m(LANDMARKS[i]) for i in which]) * pixels_per_metre[which]
    gap = np.where(by_hand | (not rendered_to_real), 0.0, gap)
    covariance = own + (gap**2)[:, None, None] * np.eye(2)
    sd = np.sqrt(np.diagonal(covariance, axis1=1, axis2=2)) * ~by_hand[:, None]
    return _Rows(
        which=which,
        by_hand=by_hand,
        positions_px=np.array([p.position_px for _, p in seen]),
        covariance_px2=covariance,
        gap_share=gap**2 / (np.trace(covariance, axis1=1, axis2=2) / 2),
        shift_px=shared_shift(sighting.view, [LANDMARKS[i] for i in which], sd_px=sd),
    )


def _shared_prior(rows: _Rows, *, layout: Layout, view: View) -> LinearTerm:
    """Shared errors have unit variance, from the sources of the landmarks that share them."""
    weight = (rows.shift_px**2).sum(1)
    total = weight.sum(0)
    gap = np.divide(rows.gap_share @ weight, total, out=np.zeros_like(total), where=total > 0)
    return LinearTerm(
        source=LANDMARK,
        matrix=np.eye(layout.size)[layout[shared_block(view)]],
        target=np.zeros(len(gap)),
        mix={LANDMARK: 1 - gap, GAP: gap} if gap.any() else None,
    )


def _shares(rows: _Rows, some: NDArray[np.bool_]) -> Mapping[str, Array]:
    gap = np.repeat(rows.gap_share[some], 2)
    shares = {LANDMARK: 1 - gap, GAP: gap}
    return {name: share for name, share in shares.items() if share.any()}
