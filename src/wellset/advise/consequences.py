"""Which correction brings most other checks right: computed, with the pictures' uncertainty.

The measures of one set-up are uncertain together. They are drawn from their joint
distribution; in each draw the finding is put on its target, the others follow (the straight
line of :mod:`wellset.prescribe.what_if`), and one counts, by the coach's weights, how many
more checks lie inside their windows, half of each by how near it comes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.advise.conformity import Verdict
from wellset.advise.findings import Finding
from wellset.measures import MEASURES, Measured
from wellset.prescribe import WhatIf
from wellset.standards import Window

Array = NDArray[np.float64]

DRAWS: Final = 256
SEED: Final = 20_261_125
TIE: Final = 0.25
"""Expected checks closer than this are as good as each other: the earlier in the order of
checking goes first (our judgement)."""
COMES_RIGHT: Final = 0.4
"""Gain in the probability of being inside from which a check is said to come right."""
FAR_OFF: Final = 2.0
"""Half-widths beyond a limit from which nearer is no gain (our judgement): a correction that
overshoots a little isn't lost, and one that brings a check half-way is worth something."""
INTO_AN_OPEN_WINDOW: Final = 0.25
"""Without a target, how far inside the nearer limit is aimed: this share of the half-width."""


@frozen(kw_only=True)
class Consequence:
    """What putting one finding right would do.

    Parameters
    ----------
    finding : Finding
    amount : float
        How far its measure has to move, published unit.
    gain : float
        Expected weight of checks that come right, this one included, less those that go wrong;
        half of a check's weight goes by how near to its window it comes.
    right, wrong : tuple of measure ids
        Other checks that come right, or leave their window, likeliest first.
    root : float
        Probability that this is the one fault behind all (:mod:`wellset.advise.roots`); 0 where
        it wasn't weighed.
    """

    finding: Finding
    amount: float
    gain: float
    right: tuple[str, ...]
    wrong: tuple[str, ...]
    root: float = 0.0


def aimed_at(window: Window, value: float, /) -> float:
    """Where a measure is put: the target, or a little inside the nearer limit."""
    if window.target is not None:
        return window.target
    low, high = window.low, window.high
    inside = INTO_AN_OPEN_WINDOW * (window.half_width or MEASURES[window.measure].useful_sd)
    if low is not None and value < low + inside:
        return low + inside
    if high is not None and value > high - inside:
        return high - inside
    return value


def consequences(
    found: Sequence[Finding],
    what_if: WhatIf,
    *,
    measures: Mapping[str, Measured],
    covariance: Array,
) -> tuple[Consequence, ...]:
    """Every surely outside finding with what putting it right would do, best first.

    Parameters
    ----------
    found : sequence of Finding
    what_if : WhatIf
    measures : mapping of id to Measured
        Those that are known; others are left out.
    covariance : (k, k) array
        Of all measures in the catalogue's order, published units.
    """
    judged = [f for f in found if f.measure in measures]
    order = list(MEASURES)
    at = [order.index(f.measure) for f in judged]
    mean = np.array([measures[f.measure].value for f in judged])
    draws = _draws(mean, covariance[np.ix_(at, at)])
    limits = _Limits.of([f.window for f in judged])
    before, worth = limits.inside(draws), limits.worth(draws)
    ranked = []
    for i, finding in enumerate(judged):
        row = what_if.moves[at[i]][at]
        if finding.verdict is not Verdict.OUTSIDE or not np.all(np.isfinite(row)):
            continue
        goal = aimed_at(finding.window, mean[i])
        moved = draws + (goal - draws[:, i])[:, None] * row
        change = (limits.inside(moved) - before).mean(axis=0)
        gain = (limits.worth(moved) - worth).mean(axis=0) @ limits.weight
        others = [j for j in np.argsort(-np.abs(change)) if j != i]
        ranked.append(
            Consequence(
                finding=finding,
                amount=float(goal - mean[i]),
                gain=float(gain),
                right=tuple(judged[j].measure for j in others if change[j] > COMES_RIGHT),
                wrong=tuple(judged[j].measure for j in others if change[j] < -COMES_RIGHT),
            )
        )
    return in_order(ranked)


def _draws(mean: Array, covariance: Array) -> Array:
    """Draws of the measures, the same ones each time, shape (DRAWS, k)."""
    values, vectors = np.linalg.eigh((covariance + covariance.T) / 2)
    spread = vectors * np.sqrt(np.maximum(values, 0.0))
    normal = np.random.default_rng(SEED).standard_normal((DRAWS, len(mean)))
    drawn: Array = mean + normal @ spread.T
    return drawn


@frozen(kw_only=True, eq=False)
class _Limits:
    low: Array
    high: Array
    weight: Array
    half_width: Array

    @classmethod
    def of(cls, windows: Sequence[Window]) -> _Limits:
        return cls(
            low=np.array([-np.inf if w.low is None else w.low for w in windows]),
            high=np.array([np.inf if w.high is None else w.high for w in windows]),
            weight=np.array([w.weight for w in windows]),
            half_width=np.array(
                [w.half_width or MEASURES[w.measure].useful_sd for w in windows], dtype=np.float64
            ),
        )

    def inside(self, values: Array) -> Array:
        found: Array = ((values >= self.low) & (values <= self.high)).astype(np.float64)
        return found

    def worth(self, values: Array) -> Array:
        """1 inside, at most half outside: a straight line down to 0 where it is far off."""
        off = np.maximum(np.maximum(self.low - values, values - self.high), 0.0)
        near: Array = 1.0 - np.minimum(off / (FAR_OFF * self.half_width), 1.0)
        return (self.inside(values) + near) / 2


def in_order(ranked: Sequence[Consequence], /) -> tuple[Consequence, ...]:
    """Best first; among the nearly equal the one checked first."""
    left, result = sorted(ranked, key=lambda c: -c.gain), []
    while left:
        near = [c for c in left if c.gain >= left[0].gain - TIE]
        first = min(near, key=lambda c: c.finding.order)
        result.append(first)
        left.remove(first)
    return tuple(result)
