"""What was typed of a student's limits comes back as it was typed."""

from __future__ import annotations

from wellset.services.lesson_work import Desk
from wellset.services.student_book import StudentEntry, entry_of, keep_student


def test_degrees_of_a_limit_come_back_as_they_were_typed(desk: Desk) -> None:
    typed = {"max_forward_bend": "40", "max_knee_flex": "22.5"}
    kept = keep_student(desk, StudentEntry(name="Robin", height="178 cm", limits=typed))
    with desk.book.reading() as pages:
        assert dict(entry_of(pages.student(kept.id)).limits) == typed
