"""Which single fault explains a whole set-up, and what putting it right would bring.

Each explanation (:mod:`wellset.prescribe.explain`) says how the student would stand if one
measure alone were off. The better it agrees with everything that was seen, the likelier it
is the root; what the root explains comes right with it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from wellset.advise.conformity import Verdict
from wellset.advise.consequences import Consequence, in_order
from wellset.advise.findings import Finding
from wellset.measures import MEASURES, Measured
from wellset.prescribe import Explanation

Array = NDArray[np.float64]

SPREAD: Final = 0.3
"""How far, in half-widths of a window, people without a fault stand from their plan, one
standard deviation (our judgement)."""
MOST: Final = 25.0
"""What one measure may count against an explanation at most: a second fault, or a habit of this
student, leaves the others a say."""
TEMPER: Final = 8.0
"""Measures of one body stray together, so that so many of them count as one (our judgement)."""


LIKELY: Final = 0.5
"""From this probability on what comes right is said of the root."""


def with_roots(
    ranked: Sequence[Consequence],
    explained: Sequence[Explanation],
    *,
    found: Sequence[Finding],
    measures: Mapping[str, Measured],
) -> tuple[Consequence, ...]:
    """The consequences, each weighed by how likely its finding is the root of all.

    With the probability that a finding is the root goes what it explains: its own weight and
    that of every other check outside that its explanation puts outside on the same side. With the
    rest goes what its correction would bring as it stands.

    Parameters
    ----------
    ranked : sequence of Consequence
    explained : sequence of Explanation
        Findings without one keep their place by what they bring.
    found : sequence of Finding
    measures : mapping of id to Measured
    """
    judged = [f for f in found if f.measure in measures]
    chances = _chances(explained, judged, measures=measures)
    weighed = []
    for each in ranked:
        chance, follows = chances.get(each.finding.measure, (0.0, ()))
        if not chance:
            weighed.append(each)
            continue
        weight = sum(f.window.weight for f in follows)
        gain = chance * weight + (1 - chance) * each.gain
        weighed.append(
            evolve(each, gain=gain, root=chance, right=_right(each, chance, follows=follows))
        )
    return in_order(weighed)


def _right(each: Consequence, chance: float, *, follows: Sequence[Finding]) -> tuple[str, ...]:
    """What comes right with a likely root is what it explains."""
    if chance < LIKELY:
        return each.right
    explained = tuple(f.measure for f in follows if f.measure != each.finding.measure)
    return (
        *(m for m in each.right if m in explained),
        *(m for m in explained if m not in each.right),
    )


def _chances(
    explained: Sequence[Explanation], judged: Sequence[Finding], *, measures: Mapping[str, Measured]
) -> dict[str, tuple[float, tuple[Finding, ...]]]:
    """Probability of each being the root, and the findings outside that it explains."""
    at = [list(MEASURES).index(f.measure) for f in judged]
    seen = np.array([measures[f.measure].value for f in judged])
    half = np.array([f.window.half_width or MEASURES[f.measure].useful_sd for f in judged])
    own = np.array([measures[f.measure].sd for f in judged])
    variance = (SPREAD * half) ** 2 + own**2
    best: dict[str, tuple[float, Array]] = {}
    for each in explained:
        misfits = [
            (float(np.minimum((seen - way[at]) ** 2 / variance, MOST).sum()), way[at])
            for way in each.ways
        ]
        if misfits:
            best[each.measure] = min(misfits, key=lambda pair: pair[0])
    if not best:
        return {}
    least = min(misfit for misfit, _ in best.values())
    likelihood = {m: np.exp((least - misfit) / (2 * TEMPER)) for m, (misfit, _) in best.items()}
    total = sum(likelihood.values())
    return {
        m: (float(likelihood[m] / total), _follows(judged, seen=seen, predicted=best[m][1], root=m))
        for m in best
    }


def _follows(
    judged: Sequence[Finding], *, seen: Array, predicted: Array, root: str
) -> tuple[Finding, ...]:
    """Findings surely outside that are predicted outside on the same side, and the root."""
    return tuple(
        finding
        for finding, value, guess in zip(judged, seen, predicted, strict=True)
        if finding.measure == root
        or (
            finding.verdict is Verdict.OUTSIDE
            and _side(finding, value) == _side(finding, guess) != 0
        )
    )


def _side(finding: Finding, value: float) -> int:
    low, high = finding.window.low, finding.window.high
    if low is not None and value < low:
        return -1
    return int(high is not None and value > high)
