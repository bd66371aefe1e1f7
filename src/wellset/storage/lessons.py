"""Lessons as rows."""

from __future__ import annotations

import json
from typing import Any

from attrs import asdict, evolve
from sqlalchemy import Row, Select, delete, func, select

from wellset.lessons import Homework, Lesson
from wellset.services.book import Slice
from wellset.storage.rows import missing, save_versioned
from wellset.storage.setups import SqlSetUps
from wellset.storage.tables import LESSON, SETUP


def _lesson(row: Row[Any]) -> Lesson:
    return Lesson(
        id=row.id,
        student=row.student,
        version=row.version,
        starts_at=row.starts_at,
        focus=row.focus,
        note=row.note,
        for_student=row.for_student,
        homework=tuple(Homework(**entry) for entry in json.loads(row.homework)),
        looked_at=row.looked_at,
        created_at=row.created_at,
        changed_at=row.changed_at,
    )


class SqlLessons(SqlSetUps):
    """See :class:`wellset.services.book.Lessons`."""

    def lesson(self, lesson_id: str, /) -> Lesson:
        """One lesson."""
        row = self._connection.execute(select(LESSON).where(LESSON.c.id == lesson_id)).first()
        if row is None:
            raise missing("lesson")
        return _lesson(row)

    def lessons_of(self, student_id: str, *, limit: int = 50, offset: int = 0) -> Slice[Lesson]:
        """A student's lessons, newest first."""
        asked = select(LESSON).where(LESSON.c.student == student_id)
        return self._slice(asked.order_by(LESSON.c.starts_at.desc()), limit=limit, offset=offset)

    def lessons_between(self, begin: str, end: str) -> tuple[Lesson, ...]:
        """Lessons that start in a span of time."""
        asked = select(LESSON).where(LESSON.c.starts_at >= begin, LESSON.c.starts_at < end)
        rows = self._connection.execute(asked.order_by(LESSON.c.starts_at)).all()
        return tuple(_lesson(row) for row in rows)

    def lessons_to_look_at(self, *, limit: int = 50) -> Slice[Lesson]:
        """Lessons that await a look, oldest first."""
        asked = select(LESSON).where(LESSON.c.looked_at.is_(False))
        return self._slice(asked.order_by(LESSON.c.starts_at), limit=limit, offset=0)

    def save_lesson(self, lesson: Lesson, /) -> Lesson:
        """Keep a lesson."""
        version = save_versioned(
            self._connection,
            LESSON,
            key={"id": lesson.id},
            version=lesson.version,
            row={
                "student": lesson.student,
                "starts_at": lesson.starts_at,
                "focus": lesson.focus,
                "note": lesson.note,
                "for_student": lesson.for_student,
                "homework": json.dumps([asdict(each) for each in lesson.homework]),
                "looked_at": lesson.looked_at,
                "created_at": lesson.created_at,
                "changed_at": lesson.changed_at,
            },
            what="lesson",
        )
        return evolve(lesson, version=version)

    def remove_lesson(self, lesson_id: str, /) -> tuple[str, ...]:
        """Remove a lesson and its set-ups."""
        media = self.media_of(SETUP.c.lesson == lesson_id)
        gone = self._connection.execute(delete(LESSON).where(LESSON.c.id == lesson_id))
        if gone.rowcount == 0:
            raise missing("lesson")
        return self.unused(media)

    def _slice(self, asked: Select[Any], *, limit: int, offset: int) -> Slice[Lesson]:
        every = asked.order_by(None).subquery()
        total = self._connection.scalar(select(func.count()).select_from(every)) or 0
        rows = self._connection.execute(asked.limit(limit).offset(offset)).all()
        return Slice(items=tuple(_lesson(row) for row in rows), total=total)
