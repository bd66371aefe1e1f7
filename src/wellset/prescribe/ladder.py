"""The bag as a ladder: what should rise or fall as clubs get shorter, and where it doesn't."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Final

from attrs import frozen

from wellset.equipment import ClubKind
from wellset.measures import MEASURES
from wellset.prescribe.plan import Plan

RUNGS: Final = (
    ("forward_bend", 1, 1.0),
    ("ball_to_toes", -1, 0.005),
    ("ball_position", -1, 2.0),
    ("shaft_angle", 1, 0.5),
)
"""Measure, whether it rises (1) or falls (-1) from driver to wedge, and how far it may go the
other way before a coach would see it (published units). Common practice, no source."""


@frozen(kw_only=True)
class Break:
    """Two neighbouring clubs between which a measure goes the wrong way.

    Parameters
    ----------
    measure : str
    longer, shorter : str
        The clubs.
    amount : float
        How far it goes the wrong way, published unit, positive.
    message : str
    """

    measure: str
    longer: str
    shorter: str
    amount: float
    message: str


def ladder_breaks(plans: Sequence[Plan], /) -> tuple[Break, ...]:
    """Where neighbouring clubs of a bag go the wrong way, longest club first.

    The putter has a stance of its own and no place on the ladder.
    """
    rungs = sorted(
        (plan for plan in plans if plan.club.kind is not ClubKind.PUTTER),
        key=lambda plan: -plan.club.length_m,
    )
    found = []
    for longer, shorter in pairwise(rungs):
        for measure, sign, slack in RUNGS:
            before, after = longer.measures.get(measure), shorter.measures.get(measure)
            if before is None or after is None:
                continue
            wrong = sign * (before.value - after.value)
            if wrong > slack:
                found.append(_broken(measure, sign=sign, pair=(longer, shorter), wrong=wrong))
    return tuple(found)


def _broken(measure: str, *, sign: int, pair: tuple[Plan, Plan], wrong: float) -> Break:
    longer, shorter = (plan.club.name for plan in pair)
    title = MEASURES[measure].title
    way = "rise" if sign > 0 else "fall"
    other = "falls" if sign > 0 else "rises"
    return Break(
        measure=measure,
        longer=longer,
        shorter=shorter,
        amount=wrong,
        message=f"{title} should {way} from {longer} to {shorter}, and {other}: their windows, "
        "lengths or lies step unevenly for this body.",
    )
