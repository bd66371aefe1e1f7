"""What to change first."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from attrs import frozen

from wellset.advise.change_words import reason_words
from wellset.advise.conformity import Verdict
from wellset.advise.consequences import Consequence
from wellset.advise.drills import Drill
from wellset.advise.findings import Finding

_LATER_STATION: Final = 0.85
"""What one stop later in the order of checking costs (our judgement): a fault must be more
certain, or matter more to the coach, to be taken before one that stands nearer the ground."""

_NOT_COMPUTED: Final = (
    " What the correction would bring along could not be computed from these pictures."
)

_THEN: Final = 2
_KEEP: Final = 2


@frozen(kw_only=True)
class Advice:
    """One thing to change, what comes after it, and what is fine.

    Parameters
    ----------
    first : Finding or None
        ``None`` when nothing is surely outside.
    then : tuple of Finding
        At most two that stay for later, each of another stop in the order of checking; none
        that comes right with the first.
    keep : tuple of Finding
        At most two that are inside, earliest in the order, to tell the student too.
    reason : str
        Why this one, for the coach.
    drill : Drill or None
    """

    first: Finding | None
    then: tuple[Finding, ...]
    keep: tuple[Finding, ...]
    reason: str
    drill: Drill | None
    amount: float | None = None
    """How far the first finding's measure has to move, published unit, where it was computed."""
    right: tuple[str, ...] = ()
    """Measures whose checks come right with it."""


def first_change(found: Sequence[Finding], ranked: Sequence[Consequence] | None = None) -> Advice:
    """Choose the first change: the correction that brings most other checks right.

    Parameters
    ----------
    found : sequence of Finding
    ranked : sequence of Consequence, optional
        What each correction would do, best first (:func:`wellset.advise.consequences`).
        Without it the order of checking decides.
    """
    if not ranked:
        return first_by_order(found, computed=ranked is not None)
    keep = tuple(f for f in _in_order(found) if f.verdict is Verdict.INSIDE)[:_KEEP]
    first, *later = ranked
    stations = {first.finding.window.station}
    then: list[Finding] = []
    for each in later:
        if each.finding.measure in first.right:
            continue  # it comes right by itself: nobody is told to do it as well
        if each.finding.window.station not in stations and len(then) < _THEN:
            stations.add(each.finding.window.station)
            then.append(each.finding)
    return Advice(
        first=first.finding,
        then=tuple(then),
        keep=keep,
        reason=reason_words(
            first.finding.measure, first.amount, right=first.right, wrong=first.wrong
        ),
        drill=first.finding.drill,
        amount=first.amount,
        right=first.right,
    )


def first_by_order(found: Sequence[Finding], *, computed: bool = True) -> Advice:
    """Choose the first change by the order of checking, weighted by certainty.

    Only findings that are `outside` count. Each is scored by its window's weight times the
    probability that it is outside, less for every stop later in the order of checking that
    has an outside finding before it; at the same stop the graver one goes first. This is a
    coach's rule of thumb (common practice, no source): it doesn't compute which correction
    brings other checks right by itself.
    """
    keep = tuple(f for f in _in_order(found) if f.verdict is Verdict.INSIDE)[:_KEEP]
    ranked = _ranked(found)
    if not ranked:
        return Advice(first=None, then=(), keep=keep, reason=_nothing(found), drill=None)
    first, *later = ranked
    return Advice(
        first=first,
        then=tuple(later[:_THEN]),
        keep=keep,
        reason=_reason(first, ranked) + ("" if computed else _NOT_COMPUTED),
        drill=first.drill,
    )


def _in_order(found: Sequence[Finding]) -> list[Finding]:
    return sorted(found, key=lambda f: f.order)


def _ranked(found: Sequence[Finding]) -> list[Finding]:
    """The best finding of each stop, best first."""
    outside = [f for f in _in_order(found) if f.verdict is Verdict.OUTSIDE]
    stops: dict[str, list[Finding]] = {}
    for finding in outside:
        stops.setdefault(finding.window.station or finding.measure, []).append(finding)
    scored = []
    for place, at_stop in enumerate(stops.values()):
        best = max(at_stop, key=lambda f: (f.window.weight, f.severity, -f.order))
        scored.append((_certainty(best) * _LATER_STATION**place, best))
    return [f for _, f in sorted(scored, key=lambda pair: (-pair[0], pair[1].order))]


def _certainty(finding: Finding) -> float:
    return finding.window.weight * (1.0 - (finding.probability_inside or 0.0))


def _reason(first: Finding, ranked: Sequence[Finding]) -> str:
    if len(ranked) == 1:
        return f"{first.title} is the only check that is surely outside its window."
    if all(first.order <= other.order for other in ranked):
        return (
            f"{first.title} comes first in the order of checking among what is surely outside; "
            "what stands above it often changes with it, so look again before the next."
        )
    return (
        f"{first.title} stands later in the order of checking than some others, but it is more "
        "certain or weighs more in these standards."
    )


def _nothing(found: Sequence[Finding]) -> str:
    open_checks = sum(f.verdict is Verdict.UNDECIDED for f in found)
    if not open_checks:
        return "Every check is inside its window: nothing to change in the set-up."
    count = "One check" if open_checks == 1 else f"{open_checks} checks"
    verb = "is" if open_checks == 1 else "are"
    return f"Nothing is surely outside its window. {count} {verb} still open; settle these first."
