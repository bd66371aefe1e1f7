"""Use case: one thing put right on an assessed set-up; what follows."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import evolve, frozen

from wellset.advise import Judgement, Verdict, judge
from wellset.advise.consequences import aimed_at
from wellset.errors import InputError
from wellset.figure.figure import Figure
from wellset.measures import MEASURES, Measured
from wellset.prescribe import changed
from wellset.services.assessment import Assessment
from wellset.services.first_change import answer_of
from wellset.standards import Decision


@frozen(kw_only=True, eq=False)
class Followed:
    """What putting one measure right does to all others.

    Parameters
    ----------
    measure : str
    amount : float
        How far it was moved, published unit.
    figure : Figure
        The body after it, points only.
    measures : mapping of id to Measured
        All measures that are known, after it; how well each is known stays as it was.
    judged : mapping of id to Judgement
        Against the same windows.
    right, wrong : tuple of measure ids
        Other checks whose verdict becomes, or ceases to be, inside, in the order of checking.
    """

    measure: str
    amount: float
    figure: Figure
    measures: Mapping[str, Measured]
    judged: Mapping[str, Judgement]
    right: tuple[str, ...]
    wrong: tuple[str, ...]


def what_if(
    assessment: Assessment,
    measure: str,
    *,
    to: float | None = None,
    decision: Decision | None = None,
) -> Followed:
    """Move one measure of an assessed set-up; the body follows the cheapest way.

    Parameters
    ----------
    assessment : Assessment
    measure : str
        Its id.
    to : float, optional
        Where it is put, published unit; its window's target otherwise.
    decision : Decision, optional
        The standards' thresholds; the default ones where left out.

    Raises
    ------
    InputError
        When the measure isn't known in these pictures, nobody says where it should go, or
        the body can't go there.
    """
    before = assessment.measures.get(measure)
    if not isinstance(before, Measured):
        raise InputError(
            "This cannot be changed on paper",
            why=f"{measure!r} is no measure that these pictures give.",
            fix=f"Name one of {', '.join(MEASURES)} that the assessment has a number for.",
        )
    goal = _goal(assessment, before) if to is None else to
    answer = answer_of(assessment.fit.figure, build=assessment.student.build, club=assessment.club)
    stance = None if answer is None else answer.stance
    after = (
        None
        if stance is None
        else changed(assessment.fit.figure, stance, measure=measure, amount=goal - before.value)
    )
    if after is None:
        raise InputError(
            "This cannot be changed on paper",
            why="no body with these bones gets there from where the student stands.",
            fix="Ask for a smaller change.",
            where=measure,
        )
    moved = _moved(assessment, after)
    judged, right, wrong = _judged(assessment, moved, but=measure, rule=decision or Decision())
    return Followed(
        measure=measure,
        amount=goal - before.value,
        figure=after,
        measures=moved,
        judged=judged,
        right=right,
        wrong=wrong,
    )


def _goal(assessment: Assessment, before: Measured) -> float:
    for finding in assessment.findings:
        if finding.measure == before.measure:
            return aimed_at(finding.window, before.value)
    raise InputError(
        "Nobody says where this should go",
        why="the standards have no window for it with this shot.",
        fix="Say where to put it.",
        where=before.measure,
    )


def _moved(assessment: Assessment, after: Figure) -> dict[str, Measured]:
    """Every known measure after the change, as well known as before."""
    now, then = assessment.fit.figure.state, after.state
    moved = {}
    for name, result in assessment.measures.items():
        if isinstance(result, Measured):
            one = MEASURES[name]
            step = one.published_per_si * (float(one.formula(then)) - float(one.formula(now)))
            moved[name] = evolve(result, value=result.value + step)
    return moved


def _judged(
    assessment: Assessment, moved: Mapping[str, Measured], *, but: str, rule: Decision
) -> tuple[dict[str, Judgement], tuple[str, ...], tuple[str, ...]]:
    """How each check stands after the change; which come right, which leave their window."""
    judged: dict[str, Judgement] = {}
    right: list[str] = []
    wrong: list[str] = []
    for finding in assessment.findings:
        name = finding.measure
        if name not in moved:
            continue
        scale = MEASURES[name].useful_sd
        judged[name] = judge(moved[name], finding.window, decision=rule, open_scale=scale)
        was, stands = (v is Verdict.INSIDE for v in (finding.verdict, judged[name].verdict))
        if was != stands and name != but:
            (right if stands else wrong).append(name)
    return judged, tuple(right), tuple(wrong)
