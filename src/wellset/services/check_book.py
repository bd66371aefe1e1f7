"""Use case: a kept set-up compared with its student's plan."""

from __future__ import annotations

from attrs import frozen

from wellset.errors import MissingError
from wellset.lessons import SetUp, StudentCard
from wellset.services.asked import asked_about
from wellset.services.check_plan import Check, check_setup
from wellset.services.landmark_file import read_landmarks
from wellset.services.lesson_work import Blind, Desk
from wellset.services.plan_target import PlanTarget, has_club, target_of_document


@frozen(kw_only=True, eq=False)
class KeptCheck:
    """A comparison with what it is about."""

    check: Check
    setup: SetUp
    student: StudentCard
    inches: bool


def check_kept(desk: Desk, setup_id: str, /) -> KeptCheck:
    """Compare an assessed set-up with the student's kept plan, from its points alone.

    Where the book has no plan for the club, one is worked out for this comparison.

    Raises
    ------
    MissingError
        When there is no such set-up, or it was not assessed.
    """
    with desk.book.reading() as pages:
        asked = asked_about(pages, setup_id, media=desk.media)
        record = pages.plan(asked.setup.student)
        student = pages.student(asked.setup.student)
    setup = asked.setup
    if not setup.landmarks:
        raise MissingError(
            "There is nothing to compare yet",
            why="this set-up was not assessed.",
            fix="Wait until it is, or take it again.",
        )
    target: PlanTarget | None = None
    where = "the kept plan"
    if record is not None and has_club(record.document, club=asked.club.name, where=where):
        target = target_of_document(
            record.document,
            club=asked.club.name,
            where=where,
            source="book",
            name=record.made_at[:10],
        )
    given = read_landmarks(setup.landmarks, where="landmarks")
    request = asked.request(paths={}, landmarks=given)
    return KeptCheck(
        check=check_setup(request, target=target, reader=Blind()),
        setup=setup,
        student=student,
        inches=asked.inches,
    )
