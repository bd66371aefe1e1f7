"""Use case: where the student of an assessed set-up would stand."""

from __future__ import annotations

from wellset.advise import Advice
from wellset.assess import Fit, camera_states
from wellset.body import Build
from wellset.equipment import Club
from wellset.errors import EstimationError, InputError
from wellset.figure.figure import Figure
from wellset.prescribe import Plan, changed, skeleton_of
from wellset.services.assessment import Student
from wellset.services.bag_file import BagEntry
from wellset.services.plan_bag import PlanRequest, plan_bag
from wellset.services.stand_here import StandHere, stand_here
from wellset.standards import Standards


def where_to_stand(
    fit: Fit, advice: Advice, *, student: Student, club: Club, shot: str, standards: Standards
) -> StandHere:
    """The plan for this student, club and shot, and the set-up after the first change.

    Parameters
    ----------
    fit : Fit
        The assessed set-up.
    advice : Advice
    student : Student
    club : Club
    shot : str
    standards : Standards
    """
    plan, why = _plan(student, club, shot=shot, standards=standards)
    return stand_here(
        fit,
        plan=plan,
        why_no_plan=why,
        cameras=camera_states(fit),
        changed=after_first_change(fit, advice, build=student.build, club=club),
        change=advice.first.measure if advice.first is not None else "",
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


def after_first_change(fit: Fit, advice: Advice, *, build: Build, club: Club) -> Figure | None:
    """The assessed set-up after the first change alone; ``None`` where there is none."""
    if advice.first is None or advice.amount is None:
        return None
    return changed(
        fit.figure,
        skeleton=skeleton_of(build),
        club=club,
        measure=advice.first.measure,
        amount=advice.amount,
    )
