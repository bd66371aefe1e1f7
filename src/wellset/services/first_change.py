"""What each correction of an assessed set-up would bring along."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from wellset.advise import Consequence, Finding, Verdict, consequences
from wellset.body import Build
from wellset.equipment import Club
from wellset.errors import EstimationError
from wellset.figure.figure import Figure
from wellset.measures import Measured, MeasureResult, joint_covariance
from wellset.prescribe import skeleton_of, what_if


def ranked_changes(
    figure: Figure,
    found: Sequence[Finding],
    *,
    measures: Mapping[str, MeasureResult],
    build: Build,
    club: Club,
) -> tuple[Consequence, ...] | None:
    """Surely outside findings, best correction first.

    Returns
    -------
    tuple of Consequence or None
        Empty when nothing is surely outside; ``None`` when the set-up can't be moved as a
        body, so that the order of checking must decide.
    """
    if not any(finding.verdict is Verdict.OUTSIDE for finding in found):
        return ()
    try:
        answer = what_if(figure, skeleton=skeleton_of(build), club=club)
    except EstimationError:
        return None
    if answer is None:
        return None
    known = {name: m for name, m in measures.items() if isinstance(m, Measured)}
    ranked = consequences(found, answer, measures=known, covariance=joint_covariance(figure))
    return ranked or None  # all that is outside is fixed by the club: no pose can tell
