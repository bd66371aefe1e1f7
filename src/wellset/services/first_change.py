"""What each correction of an assessed set-up would bring along."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from wellset.advise import Consequence, Finding, Verdict, consequences, with_roots
from wellset.body import Build
from wellset.equipment import Club
from wellset.errors import EstimationError
from wellset.figure.figure import Figure
from wellset.measures import Measured, MeasureResult, joint_covariance
from wellset.prescribe import (
    Explanation,
    Task,
    WhatIf,
    explanations,
    on_the_ground,
    skeleton_of,
    skeleton_of_figure,
    toe_up_of,
    what_if,
)

MOST_EXPLAINED: Final = 5
"""So many corrections, the best by what they bring, are tried as the root of all."""


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
    """Surely outside findings, best correction first, by what each brings along alone.

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
    ranked = consequences(
        found, answer, measures=_known(measures), covariance=joint_covariance(figure)
    )
    return ranked or None  # all that is outside is fixed by the club: no pose can tell


def rooted_by(
    answer: WhatIf | None,
    found: Sequence[Finding],
    *,
    figure: Figure,
    measures: Mapping[str, MeasureResult],
    build: Build,
    club: Club,
) -> tuple[Consequence, ...] | None:
    """The same with each weighed by how likely it is the one fault behind all.

    It takes some tenths of a second more where several checks are outside.
    """
    ranked = ranked_by(answer, found, figure=figure, measures=measures)
    if answer is None or not ranked or len(ranked) == 1:
        return ranked
    known = _known(measures)
    asked = {
        each.finding.measure: known[each.finding.measure].value for each in ranked[:MOST_EXPLAINED]
    }
    explained = _explained(asked, found, answer=answer, figure=figure, build=build, club=club)
    return with_roots(ranked, explained, found=found, measures=known)


def ranked_changes(
    figure: Figure,
    found: Sequence[Finding],
    *,
    measures: Mapping[str, MeasureResult],
    build: Build,
    club: Club,
) -> tuple[Consequence, ...] | None:
    """The same, the answer worked out on the way (:func:`rooted_by`)."""
    answer = answer_of(figure, build=build, club=club) if anything_outside(found) else None
    return rooted_by(answer, found, figure=figure, measures=measures, build=build, club=club)


def _known(measures: Mapping[str, MeasureResult]) -> dict[str, Measured]:
    return {name: m for name, m in measures.items() if isinstance(m, Measured)}


def _explained(
    asked: Mapping[str, float],
    found: Sequence[Finding],
    *,
    answer: WhatIf,
    figure: Figure,
    build: Build,
    club: Club,
) -> tuple[Explanation, ...]:
    """How this body would stand, holding the club as it does, if one fault alone were there."""
    task = Task(
        skeleton=skeleton_of_figure(figure, skeleton_of(build)),
        hand_length=build.length("hand_length").value,
        club=club,
        held=on_the_ground(club, toe_up=toe_up_of(figure, lie=club.lie)),
        shot="",
        windows=tuple(finding.window for finding in found),
    )
    try:
        return explanations(task, asked, answer=answer)
    except EstimationError:
        return ()
