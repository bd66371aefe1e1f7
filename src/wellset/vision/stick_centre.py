"""The centre line of a ridge, to a fraction of a pixel, and how sure it is."""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.vision.stick_strip import CENTRE_REACH_PX, WINDOW_PX, Ridge

Array = NDArray[np.float64]

PRESENT_STRENGTH: Final = 3.0
"""A cross-section shows a ridge from this many spreads of its surroundings on."""
LEAST_SCATTER_PX: Final = 0.05
"""Centres are not believed to scatter less than this, whatever a short line says."""
MOST_BENDS: Final = 5
"""Rounds of reweighting; three settle it but for strong outliers."""


@frozen(kw_only=True, eq=False)
class Centres:
    """Crests of a ridge, one for each run of cross-sections that shows one.

    Parameters
    ----------
    along, offset : (N,) arrays, working pixel
        Place along the line, and distance from it.
    weight : (N,) array
        Strength of the crest, up to 25.
    share : float
        Of the runs of cross-sections looked at, how many showed a crest.
    """

    along: Array
    offset: Array
    weight: Array
    share: float


def centres_of(ridge: Ridge, *, reach: tuple[float, float]) -> Centres:
    """Sub-pixel crest of each run of cross-sections, weighted by its strength."""
    strip = ridge.strip
    first = int(np.searchsorted(strip.along, reach[0]))
    last = int(np.searchsorted(strip.along, reach[1]))
    count = max(0, (last - first) // WINDOW_PX)
    stop = first + count * WINDOW_PX
    shape = (count, WINDOW_PX)
    mean = ridge.strength[first:stop].reshape(*shape, -1).mean(axis=1)
    near = np.flatnonzero(np.abs(strip.across) <= CENTRE_REACH_PX + 1)
    inner = mean[:, near[1:-1]]
    best = near[1:-1][inner.argmax(axis=1)]
    rows = np.arange(count)
    low, top, high = mean[rows, best - 1], mean[rows, best], mean[rows, best + 1]
    bend = low - 2 * top + high
    shift = np.where(bend < 0, 0.5 * (low - high) / np.where(bend < 0, bend, -1.0), 0.0)
    step = strip.across[1] - strip.across[0]
    good = (top > PRESENT_STRENGTH) & strip.inside[first:stop].reshape(shape).all(axis=1)
    return Centres(
        along=strip.along[first:stop].reshape(shape).mean(axis=1)[good],
        offset=(strip.across[best] + np.clip(shift, -1, 1) * step)[good],
        weight=np.minimum(top, 25.0)[good],
        share=float(good.mean()) if count else 0.0,
    )


def centre_line(centres: Centres) -> Array | None:
    """Robust parabola (a straight line where that says as much) through the centres."""
    if len(centres.along) < 4:
        return None
    rough = _reweighted(centres, degree=1, start=None)
    # Bow is only believed on long, well covered lines, and only if it helps.
    if len(centres.along) < 16:
        return rough
    bowed = _reweighted(centres, degree=2, start=rough)
    straight = misfit_px(centres, rough)
    return bowed if straight > 1.15 * misfit_px(centres, bowed) else rough


def _reweighted(centres: Centres, *, degree: int, start: Array | None) -> Array:
    """Tukey-weighted least squares; scale from the median residual, at least 0.1 px."""
    u, y, base = centres.along, centres.offset, centres.weight
    scale = max(float(np.abs(u).max()), 1.0)
    design = np.vander(u / scale, degree + 1)
    fitted = np.median(y) if start is None else np.polyval(start, u)
    power = scale ** -np.arange(degree, -1, -1.0)
    coefficients = np.zeros(degree + 1)
    for _ in range(MOST_BENDS):
        residual = y - fitted
        spread = max(0.1, 1.4826 * float(np.median(np.abs(residual))))
        tukey = np.clip(1 - (residual / (4.7 * spread)) ** 2, 0.0, None) ** 2
        root = np.sqrt(tukey * base)
        if np.count_nonzero(root) <= degree + 1:
            break
        weighed = design * (root * root)[:, None]
        normal = design.T @ weighed
        if np.linalg.cond(normal) > 1e9:
            break
        before, coefficients = coefficients, np.linalg.solve(normal, weighed.T @ y)
        fitted = design @ coefficients
        if np.abs(coefficients - before).max() < 0.01:
            break
    full = np.zeros(3)
    full[2 - degree :] = coefficients * power
    return full


def misfit_px(centres: Centres, bow: Array) -> float:
    """Mean distance of the centres from the line, each counted as 1.5 px at most."""
    residual = centres.offset - np.polyval(bow, centres.along)
    return float(np.mean(np.minimum(np.abs(residual), 1.5)))


def uncertainty_px(
    centres: Centres, bow: Array, *, ends: tuple[float, float]
) -> tuple[float, tuple[float, float]]:
    """Scatter of the centres, and the standard uncertainty of the line at its ends."""
    residual = centres.offset - np.polyval(bow, centres.along)
    scatter = max(LEAST_SCATTER_PX, 1.4826 * float(np.median(np.abs(residual))))
    good = np.abs(residual) < 4 * scatter
    degree = 2 if bow[0] != 0 else 1
    scale = max(float(np.abs(centres.along).max()), 1.0)
    design = np.vander(centres.along[good] / scale, degree + 1)
    if len(design) <= degree + 1:
        return scatter, (scatter, scatter)
    inverse = np.linalg.pinv(design.T @ design) * _repetition(residual[good] / scatter)
    at = np.vander(np.array(ends) / scale, degree + 1)
    sd = scatter * np.sqrt(np.einsum("ij,jk,ik->i", at, inverse, at))
    return scatter, (float(sd[0]), float(sd[1]))


def _repetition(residual: Array) -> float:
    """How many centres say the same thing: neighbours share texture and JPEG blocks.

    Variance factor (1 + r) / (1 - r) of a first-order autoregressive error with lag-one
    correlation r; never below 2, as runs of cross-sections overlap by their smoothing.
    """
    power = float(residual @ residual)
    lag = float(residual[1:] @ residual[:-1]) / power if power > 0 else 0.0
    r = min(max(lag, 1 / 3), 0.95)
    return (1 + r) / (1 - r)
