"""Use case: where the student of an assessed set-up would stand."""

from __future__ import annotations

from wellset.assess import Fit, camera_states
from wellset.equipment import Club
from wellset.errors import EstimationError, InputError
from wellset.figure.figure import Figure
from wellset.prescribe import Plan, changed
from wellset.services.assessment import Student
from wellset.services.bag_file import BagEntry
from wellset.services.corrections import Judged
from wellset.services.memory import Memory
from wellset.services.plan_bag import PlanRequest, plan_bag
from wellset.services.stand_here import StandHere, stand_here
from wellset.standards import Standards


def where_to_stand(
    fit: Fit,
    judged: Judged,
    *,
    student: Student,
    club: Club,
    shot: str,
    standards: Standards,
    memory: Memory,
) -> StandHere:
    """The plan for this student, club and shot, and the set-up after the first change.

    Parameters
    ----------
    fit : Fit
        The assessed set-up.
    judged : Judged
        The same, with how it answers to a change.
    student : Student
    club : Club
    shot : str
    standards : Standards
    memory : Memory
        Of this student, club, shot and standards.
    """
    plan, why = memory.once("plan", lambda: _plan(student, club, shot=shot, standards=standards))
    first = judged.advice.first
    return stand_here(
        fit,
        plan=plan,
        why_no_plan=why,
        cameras=camera_states(fit),
        changed=after_first_change(fit, judged),
        change=first.measure if first is not None else "",
    )


def _plan(
    student: Student, club: Club, *, shot: str, standards: Standards
) -> tuple[Plan | None, str]:
    """The plan, or why there is none."""
    request = PlanRequest(
        student=student, clubs=(BagEntry(club=club),), standards=standards, shot=shot
    )
    try:
        return plan_bag(request).plans[0], ""
    except (InputError, EstimationError) as error:
        return None, error.sentence


def after_first_change(fit: Fit, judged: Judged, /) -> Figure | None:
    """The assessed set-up after the first change alone; ``None`` where there is none."""
    first, amount, answer = judged.advice.first, judged.advice.amount, judged.answer
    if first is None or amount is None or answer is None or answer.stance is None:
        return None
    return changed(fit.figure, answer.stance, measure=first.measure, amount=amount)
