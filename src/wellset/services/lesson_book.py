"""Use cases around lessons: begin one, write into it, remove it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from attrs import evolve, frozen

from wellset.lessons import Homework, Lesson
from wellset.services.lesson_work import Desk, new_id


def begin_lesson(desk: Desk, *, student_id: str, starts_at: str = "", focus: str = "") -> Lesson:
    """A new lesson of a student, now or at a moment to come.

    Raises
    ------
    MissingError, InputError
    """
    now = desk.now()
    with desk.book.writing() as pages:
        student = pages.student(student_id)
        return pages.save_lesson(
            Lesson(
                id=new_id(),
                student=student.id,
                starts_at=starts_at or now,
                focus=focus,
                created_at=now,
                changed_at=now,
            )
        )


@frozen(kw_only=True)
class Written:
    """What a coach writes into a lesson.

    Parameters
    ----------
    focus, note, for_student : str
    homework : sequence of Homework
    looked_at : bool
    starts_at : str
        Moment; as it was when empty.
    """

    focus: str
    note: str
    homework: Sequence[Homework]
    for_student: str = ""
    looked_at: bool = True
    starts_at: str = ""


def write_lesson(desk: Desk, lesson_id: str, *, version: int, written: Written) -> Lesson:
    """Keep what was written, unless the lesson was changed meanwhile.

    Raises
    ------
    MissingError, ConflictError, InputError
    """
    with desk.book.writing() as pages:
        lesson = pages.lesson(lesson_id)
        return pages.save_lesson(
            evolve(
                lesson,
                version=version,
                focus=written.focus,
                note=written.note,
                for_student=written.for_student,
                homework=tuple(written.homework),
                looked_at=written.looked_at,
                starts_at=written.starts_at or lesson.starts_at,
                changed_at=desk.now(),
            )
        )


def move_lesson(desk: Desk, lesson_id: str, *, version: int, starts_at: str) -> Lesson:
    """Give a lesson another moment, unless it was changed meanwhile.

    Raises
    ------
    MissingError, ConflictError, InputError
    """
    with desk.book.writing() as pages:
        lesson = pages.lesson(lesson_id)
        return pages.save_lesson(
            evolve(lesson, version=version, starts_at=starts_at, changed_at=desk.now())
        )


def remove_setup(desk: Desk, setup_id: str, /) -> str:
    """Remove a set-up for good, its pictures too; the lesson it was in.

    Raises
    ------
    MissingError
    """
    with desk.book.writing() as pages:
        lesson = pages.setup(setup_id).lesson
        gone = pages.remove_setup(setup_id)
    forget_media(desk, gone)
    return lesson


def remove_lesson(desk: Desk, lesson_id: str, /) -> str:
    """Remove a lesson for good, its set-ups and pictures too; whose it was.

    Raises
    ------
    MissingError
    """
    with desk.book.writing() as pages:
        student = pages.lesson(lesson_id).student
        gone = pages.remove_lesson(lesson_id)
    forget_media(desk, gone)
    return student


def forget_media(desk: Desk, media: Iterable[str], /) -> None:
    """Remove files that nothing in the book refers to; only after the book was changed."""
    for each in media:
        desk.media.remove(each)
