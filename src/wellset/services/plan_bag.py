"""Use case: a student and some clubs in, a plan for each out."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import evolve, field, frozen

from wellset import __version__
from wellset.body import mass_model
from wellset.errors import InputError
from wellset.figure.notes import Note
from wellset.figure.views import Hand
from wellset.measures import MEASURES
from wellset.prescribe import (
    BALANCE,
    Ground,
    Plan,
    Skeleton,
    Task,
    Wind,
    grip_down,
    moved,
    on_the_ground,
    shifts,
    skeleton_of,
    solve_bag,
)
from wellset.services.assessment import Student, Versions
from wellset.services.bag_file import BagEntry
from wellset.services.student_scale import shoulder_breadth
from wellset.standards import (
    Shot,
    Standards,
    StudentScale,
    Window,
    Yardstick,
    default_standards,
    shot_for,
    shot_named,
)

COVERED_AGES = (17, 58)
"""Years of the adults whose lengths stand in the tables (ANSUR II)."""


@frozen(kw_only=True, eq=False)
class PlanRequest:
    """What a coach asks: who, which clubs, what shot, where, and by whose standards."""

    student: Student
    clubs: tuple[BagEntry, ...]
    standards: Standards
    shot: str | None = None
    hand: Hand | None = None
    ground: Ground = field(factory=Ground)
    wind: Wind = Wind.NONE


@frozen(kw_only=True, eq=False)
class BagPlan:
    """The plans of one student.

    Parameters
    ----------
    hand : Hand
        Points of the plans are those of a right-hander; a left-hander stands mirrored.
    plans : tuple of Plan
        In the order of the bag.
    notes : tuple of Note
        About the student and the tables, not about one club.
    """

    hand: Hand
    student: Student
    ground: Ground
    wind: Wind
    plans: tuple[Plan, ...]
    versions: Versions
    notes: tuple[Note, ...] = ()

    @property
    def fits(self) -> bool:
        """Whether no plan has a conflict."""
        return all(plan.fits for plan in self.plans)


def plan_bag(request: PlanRequest, /) -> BagPlan:
    """Solve the set-up for every club of a bag.

    Raises
    ------
    InputError
        For a way to play that isn't modelled, or a shot without windows.
    EstimationError
        When the numbers break down.
    """
    tasks = tasks_of(request)
    build = request.student.build
    return BagPlan(
        hand=request.hand or request.student.hand or Hand.RIGHT,
        student=request.student,
        ground=request.ground,
        wind=request.wind,
        plans=tuple(solve_bag(tasks)),
        versions=Versions(
            program=__version__,
            tables=(
                f"lengths: {build.edition}",
                f"masses: {mass_model(build.sex).edition.name}",
            ),
            standards=request.standards.version,
        ),
        notes=(
            *_notes(request.student),
            *_balance_notes(request, [_shot(request, entry) for entry in request.clubs]),
        ),
    )


def tasks_of(request: PlanRequest, /) -> list[Task]:
    """One problem for each club, in the order of the bag.

    Raises
    ------
    InputError
        For a way to play that isn't modelled, or a shot without windows.
    """
    _check_modelled(request.student)
    skeleton = skeleton_of(request.student.build)
    return [_task(request, entry, skeleton=skeleton) for entry in request.clubs]


def _check_modelled(student: Student) -> None:
    if student.posture != "standing":
        raise InputError(
            f"A plan for a {student.posture} golfer is not modelled yet",
            why="the body model stands on two feet and holds the club with both hands.",
            fix="Use `wellset assess`, which measures any set-up that its pictures show, and judge "
            "it by standards of your own.",
            where="posture",
        )


def _task(request: PlanRequest, entry: BagEntry, *, skeleton: Skeleton) -> Task:
    club, shot = entry.club, _shot(request, entry)
    return Task(
        skeleton=skeleton,
        hand_length=request.student.build.length("hand_length").value,
        club=club,
        held=on_the_ground(
            club, toe_up=entry.toe_up, grip_down=grip_down(request.ground, request.wind)
        ),
        shot=shot.value,
        windows=moved(_windows(request, entry, shot=shot), shifts(request.ground, request.wind)),
        limits=request.student.limits,
        ground=request.ground,
    )


def _shot(request: PlanRequest, entry: BagEntry) -> Shot:
    return shot_named(request.shot) if request.shot is not None else shot_for(entry.club.kind)


def _windows(request: PlanRequest, entry: BagEntry, *, shot: Shot) -> tuple[Window, ...]:
    """Windows in published units; a share of the stance is one of the stance aimed at."""
    build = request.student.build
    shoe, shoulder = build.length("shoe_length"), shoulder_breadth(build)
    scale = StudentScale(
        stance_width=shoulder,
        head_length=Yardstick(metres=entry.club.head_length_m, sd=entry.club.head_length_sd_m),
        shoulder_width=shoulder,
        foot_length=Yardstick(metres=shoe.value, sd=shoe.sd),
    )
    first = request.standards.windows_for(shot, scale=scale)
    stance = next((w for w in first if w.measure == "stance_width"), None)
    if stance is not None:
        aimed = next(v for v in (stance.target, stance.low, stance.high) if v is not None)
        scale = evolve(scale, stance_width=Yardstick(metres=aimed))
        first = request.standards.windows_for(shot, scale=scale)
    lacking = _without_balance(request.standards, shot)
    usual = default_standards().windows_for(shot, scale=scale) if lacking else ()
    return (*first, *(window for window in usual if window.measure in lacking))


def _without_balance(standards: Standards, shot: Shot) -> set[str]:
    """Measures of balance that a coach's standards don't speak of.

    Who doesn't stand in balance has no set-up, so a plan keeps the usual windows there.
    """
    return set(BALANCE) - {one.measure for one in standards.for_shot(shot)}


def _balance_notes(request: PlanRequest, shots: Iterable[Shot]) -> tuple[Note, ...]:
    lacking = {name for shot in shots for name in _without_balance(request.standards, shot)}
    if not lacking:
        return ()
    names = " and ".join(MEASURES[name].title.lower() for name in BALANCE if name in lacking)
    return (
        Note(
            code="balance_by_default",
            message=f"The standards say nothing of {names}, without which a body may lean "
            "anywhere: the plan keeps to the default window there.",
            remedy="Add a window of your own to the standards file if you want another.",
        ),
    )


def _notes(student: Student) -> tuple[Note, ...]:
    notes = [
        Note(code=c.code, message=f"{c.what} {c.why}", remedy=c.fix)
        for c in student.build.cautions()
    ]
    if student.age is not None and not COVERED_AGES[0] <= student.age <= COVERED_AGES[1]:
        low, high = COVERED_AGES
        notes.append(
            Note(
                code="age_outside_tables",
                message=f"The lengths come from {student.build.edition}, measured on adults of "
                f"{low} to {high} years; the student is {student.age}. Juniors have other "
                "proportions, and the masses are those of adults too.",
                remedy="Measure wrist height, crotch height and foot length with a tape, and take "
                "the plan as a first guess to try.",
            )
        )
    return tuple(notes)
