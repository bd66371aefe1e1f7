"""From speeds to stretches of time in which nothing on golfer or club moves."""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import frozen

from wellset.vision.values import Array

STILL_BELOW_MM_S: Final = 55.0
"""Speed below which golfer and club count as still. At address the two clips with truth show
10 to 27 mm/s (noise included); a club head passes 80 within a tenth of a second of its start,
and a waggle is below it only where the club turns round."""

NOISE_FACTOR: Final = 2.5
QUIET_SHARE: Final = 0.1
MOST_MM_S: Final = 120.0
"""In noisy or shaken clips the limit is this many times the speed of the quietest tenth of the
samples, but never above the last number, at which a slow take-away would pass unseen."""

SHAKE_LEFT: Final = 0.05
"""Share of the camera's speed that is left in the golfer's after it was taken off: on the two
clips and on drawn ones, shaken at 50 to 900 mm/s, mostly less (shifts by parts of a pixel,
coding)."""

LEAST_S: Final = 0.3
"""A shorter standstill is a turning point of a waggle."""

SMOOTHED_S: Final = 0.1
"""Speeds are replaced by their running median over this time, so that a single bad picture
doesn't break a still moment; a median leaves the place of a lasting change as it is."""


@frozen(kw_only=True)
class Span:
    """Samples from the first to the last in which nothing moves."""

    first: int
    last: int

    @property
    def middle(self) -> int:
        """The sample half way."""
        return (self.first + self.last) // 2


def limit_mm_s(speeds: Array) -> float:
    """Speed below which a sample counts as still, millimetre a second.

    Examples
    --------
    >>> limit_mm_s(np.array([10.0, 10.0, 500.0]))
    55.0
    """
    quiet = float(np.quantile(speeds, QUIET_SHARE))
    return float(np.clip(NOISE_FACTOR * quiet, STILL_BELOW_MM_S, MOST_MM_S))


def still_spans(speeds: Array, *, shake: Array, times_s: Array, lag: int) -> tuple[Span, ...]:
    """Stretches of samples in which nothing moves.

    Parameters
    ----------
    speeds : (N,) array, millimetre a second
        Of golfer and club, from each sample to the one `lag` samples later.
    shake : (N,) array, millimetre a second
        Of the camera, likewise.
    times_s : (N,) array, second
        Increasing.
    lag : int
        Samples between those compared.
    """
    step = float(np.median(np.diff(times_s)))
    half = max(1, round(SMOOTHED_S / step / 2.0))
    padded = np.pad(np.maximum(speeds - SHAKE_LEFT * shake, 0.0), half, mode="edge")
    smooth = np.median(np.lib.stride_tricks.sliding_window_view(padded, 2 * half + 1), axis=1)
    still = smooth <= limit_mm_s(smooth)
    edges = np.flatnonzero(np.diff(np.concatenate([[False], still, [False]]).astype(int)))
    spans = []
    for first, after in zip(edges[::2], edges[1::2], strict=True):
        # The speed of a sample looks a lag ahead: movement lies between it and that sample, in
        # the mean half a lag later. At the clip's end there is nothing ahead to look at.
        last = len(still) - 1 if after == len(still) else min(after - 1 + lag // 2, len(still) - 1)
        if times_s[last] - times_s[first] >= LEAST_S:
            spans.append(Span(first=int(first), last=int(last)))
    return tuple(spans)
