"""What each correction of an assessed set-up would bring along."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wellset.advise import Consequence, Finding, Verdict, consequences
from wellset.body import Build
from wellset.equipment import Club
from wellset.errors import EstimationError
from wellset.figure.figure import Figure
from wellset.measures import Measured, MeasureResult, joint_covariance
from wellset.prescribe import WhatIf, skeleton_of, what_if


def answer_of(figure: Figure, *, build: Build, club: Club) -> WhatIf | None:
    """How an assessed set-up answers to a change; ``None`` when it can't be moved as a body."""
    try:
        return what_if(figure, skeleton=skeleton_of(build), club=club)
    except EstimationError:
        return None


def anything_outside(found: Sequence[Finding], /) -> bool:
    """Whether any check is surely outside."""
    return any(finding.verdict is Verdict.OUTSIDE for finding in found)


def ranked_by(
    answer: WhatIf | None,
    found: Sequence[Finding],
    *,
    figure: Figure,
    measures: Mapping[str, MeasureResult],
) -> tuple[Consequence, ...] | None:
    """Surely outside findings, best correction first.

    Parameters
    ----------
    answer : WhatIf or None
        How the set-up answers; not asked for when nothing is surely outside.
    found : sequence of Finding
    figure : Figure
    measures : mapping of id to MeasureResult

    Returns
    -------
    tuple of Consequence or None
        Empty when nothing is surely outside; ``None`` when the set-up can't be moved as a
        body, so that the order of checking must decide.
    """
    if not anything_outside(found):
        return ()
    if answer is None:
        return None
    known = {name: m for name, m in measures.items() if isinstance(m, Measured)}
    ranked = consequences(found, answer, measures=known, covariance=joint_covariance(figure))
    return ranked or None  # all that is outside is fixed by the club: no pose can tell


def ranked_changes(
    figure: Figure,
    found: Sequence[Finding],
    *,
    measures: Mapping[str, MeasureResult],
    build: Build,
    club: Club,
) -> tuple[Consequence, ...] | None:
    """The same, the answer worked out on the way (:func:`ranked_by`)."""
    answer = answer_of(figure, build=build, club=club) if anything_outside(found) else None
    return ranked_by(answer, found, figure=figure, measures=measures)
