"""Students and bags as rows."""

from __future__ import annotations

import json
from typing import Any

from attrs import asdict, evolve
from sqlalchemy import Row, delete, func, select

from wellset.lessons import Bag, BagClub, Guardian, StudentCard
from wellset.services.book import Slice
from wellset.storage.base import Part
from wellset.storage.packing import sort_name
from wellset.storage.rows import missing, save_versioned
from wellset.storage.tables import BAG, SETUP, STUDENT


def _card(row: Row[Any]) -> StudentCard:
    guardian = Guardian(**json.loads(row.guardian)) if row.guardian else None
    return StudentCard(
        id=row.id,
        version=row.version,
        file=row.file,
        name=row.name,
        hand=row.hand,
        units=row.units,
        injuries=row.injuries,
        note=row.note,
        minor=row.minor,
        guardian=guardian,
        created_at=row.created_at,
        changed_at=row.changed_at,
    )


def _columns(card: StudentCard) -> dict[str, object]:
    return {
        "name": card.name,
        "sort_name": sort_name(card.name),
        "hand": card.hand,
        "file": card.file,
        "units": card.units.value,
        "injuries": card.injuries,
        "note": card.note,
        "minor": card.minor,
        "guardian": json.dumps(asdict(card.guardian)) if card.guardian is not None else None,
        "created_at": card.created_at,
        "changed_at": card.changed_at,
    }


class SqlStudents(Part):
    """See :class:`wellset.services.book.Students`."""

    def student(self, student_id: str, /) -> StudentCard:
        """One student."""
        row = self._connection.execute(select(STUDENT).where(STUDENT.c.id == student_id)).first()
        if row is None:
            raise missing("student")
        return _card(row)

    def find_students(
        self, text: str = "", *, limit: int = 50, offset: int = 0
    ) -> Slice[StudentCard]:
        """Students whose name holds every word of the text."""
        asked = select(STUDENT)
        for word in sort_name(text).split():
            asked = asked.where(STUDENT.c.sort_name.contains(word, autoescape=True))
        total = self._connection.scalar(select(func.count()).select_from(asked.subquery())) or 0
        asked = asked.order_by(STUDENT.c.sort_name, STUDENT.c.id).limit(limit).offset(offset)
        rows = self._connection.execute(asked).all()
        return Slice(items=tuple(_card(row) for row in rows), total=total)

    def save_student(self, card: StudentCard, /) -> StudentCard:
        """Keep a card."""
        version = save_versioned(
            self._connection,
            STUDENT,
            key={"id": card.id},
            version=card.version,
            row=_columns(card),
            what="student",
        )
        return evolve(card, version=version)

    def remove_student(self, student_id: str, /) -> tuple[str, ...]:
        """Remove a student and all of theirs."""
        media = self.media_of(SETUP.c.student == student_id)
        gone = self._connection.execute(delete(STUDENT).where(STUDENT.c.id == student_id))
        if gone.rowcount == 0:
            raise missing("student")
        return self.unused(media)

    def bag(self, student_id: str, /) -> Bag:
        """The student's bag."""
        row = self._connection.execute(select(BAG).where(BAG.c.student == student_id)).first()
        if row is None:
            return Bag(student=student_id)
        clubs = tuple(BagClub(**entry) for entry in json.loads(row.clubs))
        return Bag(student=student_id, version=row.version, clubs=clubs)

    def save_bag(self, bag: Bag, /) -> Bag:
        """Keep a bag."""
        self.student(bag.student)
        version = save_versioned(
            self._connection,
            BAG,
            key={"student": bag.student},
            version=bag.version,
            row={"clubs": json.dumps([asdict(club) for club in bag.clubs])},
            what="bag",
        )
        return evolve(bag, version=version)
