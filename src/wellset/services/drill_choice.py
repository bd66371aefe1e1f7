"""Use case: which drill suits a student, and the target it is drawn from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from attrs import evolve, field, frozen

from wellset.advise import Advice, BodyLimit, Drill, DrillBook, Finding
from wellset.errors import EstimationError, InputError
from wellset.figure.views import Hand
from wellset.measures import MEASURES
from wellset.prescribe import Plan
from wellset.services.assessment import Student
from wellset.services.bag_file import BagEntry
from wellset.services.plan_bag import PlanRequest, plan_bag
from wellset.standards import Standards

UNSTEADY_FROM_AGE: Final = 75
"""Age from which drills ask for firm hold unless the coach knows better (our judgement)."""
_STIFF: Final = {
    "forward_bend": BodyLimit.BACK,
    "side_bend": BodyLimit.BACK,
    "lead_knee_flex": BodyLimit.KNEE,
    "trail_knee_flex": BodyLimit.KNEE,
}
"""What a ceiling of the student file says of the body."""


def limits_of(student: Student, /) -> frozenset[BodyLimit]:
    """What of a student asks for care, from the student file."""
    said = {_STIFF[measure] for measure in student.limits.at_most if measure in _STIFF}
    if student.age is not None and student.age >= UNSTEADY_FROM_AGE:
        said.add(BodyLimit.BALANCE)
    return frozenset(said | set(student.careful_with))


@frozen(kw_only=True, eq=False)
class Target:
    """What drills are drawn from.

    Parameters
    ----------
    plan : Plan
        How this student should stand with one club.
    hand : Hand
    name : str
        Whose target it is, or ``""`` for an ordinary golfer.
    """

    plan: Plan
    hand: Hand
    name: str = ""


def target_of(
    student: Student,
    club: BagEntry,
    /,
    *,
    standards: Standards,
    shot: str | None = None,
    hand: Hand | None = None,
) -> Target | None:
    """A student's target with one club; ``None`` when there is none to draw.

    Parameters
    ----------
    student : Student
    club : BagEntry
    standards : Standards
    shot : str, optional
        Follows from the club when left out.
    hand : Hand, optional
    """
    request = PlanRequest(student=student, clubs=(club,), standards=standards, shot=shot, hand=hand)
    try:
        bag = plan_bag(request)
    except (EstimationError, InputError):
        return None
    return Target(plan=bag.plans[0], hand=bag.hand, name=student.name)


@frozen(kw_only=True, eq=False)
class Practice:
    """What an assessed student is given to practise.

    Parameters
    ----------
    advice : Advice
        With the drill of the first change that suits the student.
    drills : mapping of measure id to Drill
        For each finding that is surely outside and has a drill that suits.
    """

    advice: Advice
    drills: Mapping[str, Drill]


def practice_of(
    advice: Advice, found: Sequence[Finding], /, *, book: DrillBook, student: Student
) -> Practice:
    """Choose drills for findings.

    Parameters
    ----------
    advice : Advice
    found : sequence of Finding
    book : DrillBook
    student : Student
    """
    limits = limits_of(student)
    pairs = ((f.measure, book.suited(f.fault, limits=limits)) for f in found if f.fault)
    drills = {measure: drill for measure, drill in pairs if drill is not None}
    first = drills.get(advice.first.measure) if advice.first is not None else None
    return Practice(advice=evolve(advice, drill=first), drills=drills)


@frozen(kw_only=True)
class Wanted:
    """Which drills to show.

    Parameters
    ----------
    measure : str
        Only drills for this measure; all where empty.
    text : str
        Only drills whose words hold all of these.
    limits : frozenset of BodyLimit
        Only drills that suit such a student.
    """

    measure: str = ""
    text: str = ""
    limits: frozenset[BodyLimit] = field(default=frozenset())


def chosen(book: DrillBook, wanted: Wanted, /) -> tuple[Drill, ...]:
    """Drills that were asked for, in the order of the book; for a measure, the best first.

    Raises
    ------
    InputError
        For a measure that is none.
    """
    if wanted.measure and wanted.measure not in MEASURES:
        raise InputError(
            "There are no drills for this",
            why=f'"{wanted.measure}" is no measure.',
            fix=f"Name one of {', '.join(MEASURES)}.",
            where="for",
        )
    found = book.for_measure(wanted.measure) if wanted.measure else book.drills
    words = wanted.text.casefold().split()
    return tuple(
        drill
        for drill in found
        if drill.fits(wanted.limits)
        and all(word in f"{drill.title} {drill.text()}".casefold() for word in words)
    )
