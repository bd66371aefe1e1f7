"""What would settle an undecided finding: the least effort that probably decides it.

The true value may lie anywhere in its present range. An observation that leaves the standard
uncertainty ``s1`` of the present ``s`` moves the best estimate by a normal amount of variance
``s^2 - s1^2`` (preposterior analysis; Raiffa & Schlaifer 1961, *Applied Statistical Decision
Theory*, chapter 4). The chance to decide is how often the verdict at the moved estimate, with
``s1``, would be inside or outside.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from statistics import NormalDist
from typing import Final

import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from wellset.advise.conformity import Verdict
from wellset.advise.display import quantity
from wellset.advise.findings import Finding, percent
from wellset.advise.settled import Settling
from wellset.advise.settling_words import SettlingWords, settling_words
from wellset.assess import Candidate, Solved, Step, candidates, outlook
from wellset.body.tapes import TAPE_MEASURES
from wellset.figure.views import View
from wellset.measures import COVERAGE_FACTOR, MEASURES, NotMeasurable, Unit
from wellset.standards import Decision, Window
from wellset.units import UnitSystem

Array = NDArray[np.float64]

GOOD_CHANCE: Final = 0.6
"""From this chance on an observation counts as deciding; of those the least effort is named."""
WORTH_NAMING: Final = 0.92
"""What leaves a range wider than this share of itself is not named: nobody would see it."""
SMALL_CHANCE: Final = 0.3
"""Below this chance not even the best is named: nobody lays sticks for that."""
NODES: Final = 41
SETTLED_BY_NUMBERS: Final = frozenset({"view_missing", "too_uncertain"})
"""Reasons for a missing number that better knowledge can mend."""


def settle_all(
    found: Sequence[Finding],
    *,
    solved: Solved,
    decision: Decision | None = None,
    units: UnitSystem = UnitSystem.CENTIMETRES,
) -> tuple[Finding, ...]:
    """The findings, each undecided one with what would settle it.

    Parameters
    ----------
    found : sequence of Finding
    solved : Solved
        The set-up they speak of.
    decision : Decision, optional
        The standards' thresholds; the default ones where left out.
    units : UnitSystem
        The coach's unit of length, for the sentences.
    """
    open_ones = [f for f in found if _may_be_settled(f)]
    if not open_ones or solved.fit.known.undetermined:
        return tuple(found)
    options = candidates(solved)
    seen = outlook(solved.fit, [c.extra for c in options], measures=[f.measure for f in open_ones])
    settled: dict[str, Settling] = {}
    for i, finding in enumerate(open_ones):
        chances = chances_to_decide(
            float(seen.values[i]),
            sd=float(seen.sd[i]),
            sd_then=seen.sd_with[:, i],
            window=finding.window,
            decision=decision or Decision(),
        )
        # a number is only given where its uncertainty is useful
        chances = np.where(seen.sd_with[:, i] <= MEASURES[finding.measure].useful_sd, chances, 0.0)
        settled[finding.measure] = _chosen(
            finding,
            options,
            sd=float(seen.sd[i]),
            sd_then=seen.sd_with[:, i],
            chances=chances,
            units=units,
        )
    return tuple(with_settling(f, settled.get(f.measure)) for f in found)


def _may_be_settled(finding: Finding) -> bool:
    result = finding.result
    if isinstance(result, NotMeasurable):
        return result.code in SETTLED_BY_NUMBERS
    return finding.verdict is Verdict.UNDECIDED


def with_settling(finding: Finding, settling: Settling | None, /) -> Finding:
    """The finding with what would settle it, in its own sentence too."""
    if settling is None:
        return finding
    sentence = finding.for_coach
    if finding.measured:
        sentence = f"{sentence} {settling.words}"
    return evolve(finding, settling=settling, for_coach=sentence)


@cache
def _nodes() -> Array:
    """Middles of equally likely slices of the standard normal distribution."""
    normal = NormalDist()
    return np.array([normal.inv_cdf((i + 0.5) / NODES) for i in range(NODES)])


def _normal_cdf(z: Array) -> Array:
    """Standard normal distribution to 1e-7: Abramowitz & Stegun 1964, formula 26.2.17."""
    x = np.abs(z)
    t = 1 / (1 + 0.2316419 * x)
    series = t * (
        0.319381530 + t * (-0.356563782 + t * (1.781477937 + t * (-1.821255978 + t * 1.330274429)))
    )
    upper = np.exp(-x * x / 2) / np.sqrt(2 * np.pi) * series
    return np.asarray(np.where(z >= 0, 1 - upper, upper), dtype=np.float64)


def chances_to_decide(
    value: float, *, sd: float, sd_then: Array, window: Window, decision: Decision
) -> Array:
    """Probability of a verdict with each of several smaller uncertainties.

    Parameters
    ----------
    value, sd : float
        Now, published unit.
    sd_then : (e,) array
        Standard uncertainties afterwards.
    window : Window
    decision : Decision

    Returns
    -------
    (e,) array
    """
    moved = value + np.sqrt(np.maximum(sd**2 - sd_then**2, 0.0))[:, None] * _nodes()
    inside = np.ones_like(moved)
    for limit, limit_sd, sign in (
        (window.low, window.low_sd, 1.0),
        (window.high, window.high_sd, -1.0),
    ):
        if limit is not None:
            both = np.maximum(np.hypot(sd_then, limit_sd), 1e-12)[:, None]
            inside -= _normal_cdf(sign * (limit - moved) / both)
    decided = (inside >= decision.inside_at_least) | (inside <= decision.outside_at_most)
    return np.asarray(decided.mean(1), dtype=np.float64)


def _chosen(
    finding: Finding,
    options: Sequence[Candidate],
    *,
    sd: float,
    sd_then: Array,
    chances: Array,
    units: UnitSystem,
) -> Settling:
    """The least effort that probably decides, else what helps most."""
    words = settling_words()
    efforts = np.array([words.steps[c.step].effort for c in options])
    worth = sd_then <= WORTH_NAMING * sd
    good = [int(i) for i in np.flatnonzero(worth & (chances >= GOOD_CHANCE))]
    if good:
        best = min(good, key=lambda i: (efforts[i], -chances[i]))
    elif some := [int(i) for i in np.flatnonzero(worth & (chances >= SMALL_CHANCE))]:
        best = min(some, key=lambda i: (-round(float(chances[i]), 1), efforts[i]))
    else:
        return _nothing(finding, sd=sd, words=words)
    option, chance = options[best], float(chances[best])
    return Settling(
        step=option.step.value,
        subject=option.subject,
        what=_what(option, words),
        sd_now=sd,
        sd_then=float(sd_then[best]),
        chance=chance,
        decides=bool(good),
        effort=float(efforts[best]),
        outlook=_outlook(
            finding, sd=sd, then=float(sd_then[best]), chance=chance, words=words, units=units
        ),
    )


def _nothing(finding: Finding, *, sd: float, words: SettlingWords) -> Settling:
    judgement = finding.judgement
    narrow = judgement is not None and not judgement.can_be_inside
    return Settling(
        step="",
        subject="",
        what=words.narrow_window if narrow else words.nothing,
        sd_now=sd,
        sd_then=sd,
        chance=0.0,
        decides=False,
        effort=0.0,
        outlook="",
    )


def _outlook(
    finding: Finding, *, sd: float, then: float, chance: float, words: SettlingWords,
    units: UnitSystem,
) -> str:  # fmt: skip
    good = chance >= GOOD_CHANCE
    if finding.measured:
        template = words.narrows if good else words.perhaps
    else:
        template = words.number if good else words.no_number
    unit = finding.unit

    def spread(one: float) -> str:
        # one decimal up to ten, so that a narrower range can be told from a wide one
        half, size = COVERAGE_FACTOR * one, units.metres if unit is Unit.METRE else 1.0
        digit = 0.1 * size if half < 10 * size else size
        return f"±{quantity(half, unit=unit, units=units, sd=digit)}"

    return template.format(
        now=spread(sd), then=spread(then), chance=f"a chance of {percent(chance)}"
    )


def _what(option: Candidate, words: SettlingWords) -> str:
    template, subject = words.steps[option.step].what, option.subject
    if option.step is Step.TAPE:
        tape = TAPE_MEASURES[subject]
        return template.format(tape=tape.words, how=tape.how)
    view, _, point = subject.partition(".")
    return template.format(view=View(view).words if view else "", point=point.replace("_", " "))
