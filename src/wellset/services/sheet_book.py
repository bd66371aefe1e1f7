"""Use case: everything that a lesson sheet is made from, out of the lesson book."""

from __future__ import annotations

import json

from attrs import frozen

from wellset.advise import DrillBook
from wellset.errors import EstimationError, InputError
from wellset.lessons import Lesson, SetUp, SetUpState, StudentCard
from wellset.services.asked import asked_about
from wellset.services.bag_file import BagEntry
from wellset.services.book import Pages
from wellset.services.drills_file import drills_in_force
from wellset.services.lesson_work import Desk
from wellset.services.plan_bag import PlanRequest, plan_bag

_MOST_LESSONS = 200
"""Lessons looked through for the next one; planned ones come first in the list."""


@frozen(kw_only=True)
class SheetMatter:
    """What a sheet is made from.

    Parameters
    ----------
    setup : SetUp
        With its documents.
    student : StudentCard
    lesson : Lesson
    next_at : str
        Moment of the student's next lesson; empty when none is planned.
    plan : str
        A plan document with this club; empty where none can be worked out.
    drills : DrillBook
        Where homework's drills are written out.
    """

    setup: SetUp
    student: StudentCard
    lesson: Lesson
    next_at: str
    plan: str
    drills: DrillBook


def sheet_matter(desk: Desk, setup_id: str, /) -> SheetMatter:
    """Gather what a set-up's sheet is made from; the club is planned now if no kept plan has it.

    Raises
    ------
    MissingError
    InputError
        When the set-up is not assessed.
    """
    now = desk.now()
    with desk.book.reading() as pages:
        setup = pages.setup(setup_id)
        if setup.state is not SetUpState.ASSESSED or not setup.assessment:
            raise InputError(
                "There is no sheet of this set-up yet",
                why="it has not been assessed.",
                fix="Wait until the work on it is done, or take it again.",
            )
        lesson, card = pages.lesson(setup.lesson), pages.student(setup.student)
        kept = pages.plan(setup.student)
        next_at = _next(pages, lesson, now=now)
        drills = drills_in_force(pages)
    plan = kept.document if kept is not None and _has(kept.document, setup.club) else ""
    return SheetMatter(
        setup=setup,
        student=card,
        lesson=lesson,
        next_at=next_at,
        plan=plan or plan_of_club(desk, setup_id),
        drills=drills,
    )


def plan_of_club(desk: Desk, setup_id: str, /) -> str:
    """A plan document for the set-up's club alone; empty where none can be worked out.

    Raises
    ------
    MissingError
    """
    with desk.book.reading() as pages:
        asked = asked_about(pages, setup_id, media=desk.media)
    request = PlanRequest(
        student=asked.student,
        clubs=(BagEntry(club=asked.club),),
        standards=asked.standards,
        shot=asked.setup.shot or None,
    )
    try:
        bag = plan_bag(request)
    except (InputError, EstimationError):
        return ""  # a way to play that isn't modelled: the sheet says nothing of it
    return desk.writer.plan(bag, inches=asked.inches).document


def _has(document: str, club: str) -> bool:
    """Whether a plan document has a club."""
    return any(each.get("club") == club for each in json.loads(document).get("clubs", ()))


def _next(pages: Pages, lesson: Lesson, *, now: str) -> str:
    """The first lesson to come after this one."""
    after = max(lesson.starts_at, now)
    coming = [
        each.starts_at
        for each in pages.lessons_of(lesson.student, limit=_MOST_LESSONS).items
        if each.starts_at > after and each.id != lesson.id
    ]
    return min(coming, default="")
