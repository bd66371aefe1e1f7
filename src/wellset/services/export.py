"""Use case: everything the book has of one student, at one moment."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import frozen

from wellset.errors import InputError
from wellset.lessons import Bag, Lesson, SetUp, StudentCard
from wellset.services.book import Pages, PlanRecord
from wellset.services.check_book import comparison_of
from wellset.services.lesson_work import Desk

_EVERY = 1_000_000
_TO_NAME = 5


@frozen(kw_only=True, eq=False)
class LessonWhole:
    """A lesson with its set-ups, in the order they were taken.

    Parameters
    ----------
    lesson : Lesson
    setups : tuple of SetUp
    comparisons : mapping of set-up id to str
        Comparisons with the plan, as documents, of those that were compared.
    """

    lesson: Lesson
    setups: tuple[SetUp, ...]
    comparisons: Mapping[str, str]


@frozen(kw_only=True, eq=False)
class Everything:
    """All that the book has of one student.

    Parameters
    ----------
    made_at : str
        Moment.
    student : StudentCard
    bag : Bag
    plan : PlanRecord or None
    lessons : tuple of LessonWhole
        Oldest first.
    """

    made_at: str
    student: StudentCard
    bag: Bag
    plan: PlanRecord | None
    lessons: tuple[LessonWhole, ...]


def everything_of(desk: Desk, student_id: str, /) -> Everything:
    """Collect it in one look at the book.

    Raises
    ------
    MissingError
    """
    with desk.book.reading() as pages:
        student = pages.student(student_id)
        lessons = pages.lessons_of(student_id, limit=_EVERY).items
        return Everything(
            made_at=desk.now(),
            student=student,
            bag=pages.bag(student_id),
            plan=pages.plan(student_id),
            lessons=tuple(_whole(pages, each) for each in reversed(lessons)),
        )


def _whole(pages: Pages, lesson: Lesson) -> LessonWhole:
    setups = pages.setups_of(lesson.id)
    kept = {setup.id: comparison_of(pages, setup) for setup in setups}
    return LessonWhole(
        lesson=lesson,
        setups=setups,
        comparisons={id_: each.document for id_, each in kept.items() if each is not None},
    )


def student_called(pages: Pages, text: str, /) -> StudentCard:
    """The one student of this name, or part of a name.

    Raises
    ------
    InputError
        When there is none, or several.
    """
    found = pages.find_students(text, limit=_TO_NAME)
    exact = [card for card in found.items if card.name == text]
    if len(exact) == 1 or found.total == 1:
        return (exact or list(found.items))[0]
    names = ", ".join(f"{card.name} (id {card.id})" for card in found.items)
    raise InputError(
        "The student cannot be told from this name",
        why=f"it fits {names}." if names else "nobody in the lesson book is called that.",
        fix="Give the whole name." if names else "Look the name up on the page of students.",
        where=text,
    )
