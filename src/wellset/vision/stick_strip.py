"""A candidate line laid flat: how it stands out from what lies on both sides of it."""

from __future__ import annotations

from typing import Final

import cv2
import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.vision.stick_area import WorkArea
from wellset.vision.stick_ridges import Line

Array = NDArray[np.float64]
Image = NDArray[np.float32]

WINDOW_PX: Final = 6
"""Cross-sections averaged before a centre is read off, working pixel along the line."""
CENTRE_REACH_PX: Final = 5.0
"""How far off the candidate line a centre may lie: vote step, and the bow of a wide lens
(k1 = 0.05 bows a line of 500 px by 3 px)."""


@frozen(kw_only=True, eq=False)
class Strip:
    """Picture colours along and across a line.

    Parameters
    ----------
    along : (N,) array, working pixel
        Distance from the line's origin of each cross-section.
    across : (M,) array, working pixel
        Distance from the line, to the side of its normal.
    colour : (N, M, 3) array, 0 to 255
    inside : (N,) bool array
        Whether the line itself is within the picture there.
    """

    along: Array
    across: Array
    colour: Image
    inside: NDArray[np.bool_]


@frozen(kw_only=True, eq=False)
class Ridge:
    """The one-number strength of the ridge in a strip, in spreads of its surroundings.

    Parameters
    ----------
    strip : Strip
    strength : (N, M) array
    """

    strip: Strip
    strength: Image


def lay_flat(
    area: WorkArea, line: Line, *, along: Array, across: Array, bow: Array | None = None
) -> Strip:
    """Sample the picture along ``line`` at full resolution.

    Parameters
    ----------
    along, across : arrays, working pixel
        Where to sample.
    bow : (3,) array, optional
        Polynomial (highest power first) of the centre's offset against ``along``.
    """
    shift = np.zeros_like(along) if bow is None else np.polyval(bow, along)
    middle = line.origin + along[:, None] * line.direction + shift[:, None] * line.normal
    start = (area.to_full(middle) - 0.5).astype(np.float32)
    step = area.to_full(line.normal).astype(np.float32)
    wide = across.astype(np.float32)
    colour = cv2.remap(
        area.full,
        start[:, :1] + wide * step[0],
        start[:, 1:] + wide * step[1],
        cv2.INTER_LINEAR,
        borderMode=cv2.BORDER_REPLICATE,
    )
    inside = (middle > 1.5).all(axis=1) & (middle < np.array(area.size) - 1.5).all(axis=1)
    return Strip(
        along=along,
        across=across,
        colour=np.asarray(colour, dtype=np.float32),
        inside=np.asarray(inside),
    )


def ridge_of(strip: Strip, *, reach: tuple[float, float], sigma_px: float) -> Ridge | None:
    """The strip seen in the colour direction in which its ridge stands out best.

    ``None`` where the strip is too short or shows no ridge at all.
    """
    answer = _second_derivative_across(strip, sigma_px=sigma_px)
    within = (strip.along >= reach[0]) & (strip.along <= reach[1]) & strip.inside
    flank = np.flatnonzero(np.abs(strip.across) > 0.5 * np.abs(strip.across).max())[::2]
    if within.sum() < 4 * WINDOW_PX:
        return None
    noise = answer[within][::2, flank].reshape(-1, 3)
    whiten = _whitening(noise)
    white = np.asarray(cv2.transform(answer, whiten))
    near = np.abs(strip.across) <= CENTRE_REACH_PX
    inner = white[within][:, near]
    size = np.sqrt(np.einsum("ijk,ijk->ij", inner, inner))
    typical = np.minimum(size, 3 * np.median(size.max(axis=1))).mean(axis=0)
    core = inner[:, int(typical.argmax())].astype(np.float64)
    core = core * np.minimum(1.0, 7.0 / np.maximum(np.linalg.norm(core, axis=1), 1e-9))[:, None]
    direction = np.linalg.eigh(core.T @ core)[1][:, -1]
    if np.mean(core @ direction) < 0:
        direction = -direction
    strength = np.asarray(white @ direction.astype(np.float32), dtype=np.float32)
    return Ridge(strip=strip, strength=strength)


def _second_derivative_across(strip: Strip, *, sigma_px: float) -> Image:
    """Ridge answer of every colour at every place, crest positive for bright."""
    step = float(strip.across[1] - strip.across[0])
    sigma = sigma_px / step
    reach = int(np.ceil(3 * sigma))
    x = np.arange(-reach, reach + 1, dtype=np.float64)
    kernel = (1 - x**2 / sigma**2) * np.exp(-(x**2) / (2 * sigma**2))
    kernel -= kernel.mean()
    run = np.ones(WINDOW_PX) / WINDOW_PX
    return np.asarray(
        cv2.sepFilter2D(strip.colour, cv2.CV_32F, kernel, run, borderType=cv2.BORDER_REFLECT)
    )


def _whitening(samples: Image) -> Image:
    """Matrix that gives the surroundings' texture unit spread in every colour direction."""
    size = np.einsum("ij,ij->i", samples, samples)
    usual = samples[size <= np.quantile(size, 0.9)].astype(np.float64)
    # An 8-bit picture cannot be smoother than its rounding: keeps flat ground finite.
    covariance = usual.T @ usual / max(len(usual), 1) + np.eye(3) * 0.3
    values, vectors = np.linalg.eigh(covariance)
    return np.asarray((vectors * values**-0.5) @ vectors.T, dtype=np.float32)
