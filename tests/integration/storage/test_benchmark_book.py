"""The large book of the benchmark is one that the lesson book can read."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchmarks.web_book import fill
from wellset.bootstrap.book import open_desk, place_of


@pytest.mark.slow
def test_a_book_filled_by_direct_inserts_reads_like_any_other(tmp_path: Path) -> None:
    filled = fill(tmp_path, students=3, lessons=9)
    with open_desk(place_of(data=tmp_path)).book.reading() as pages:
        assert pages.student(filled.student_ids[0]).name
        lesson = pages.lesson(filled.lesson_ids[-1])
        setup = pages.setup(filled.setup_ids[-1])
    assert setup.lesson == lesson.id
    assert "<" in setup.findings
    assert setup.assessment.startswith("{")
    assert setup.landmarks.startswith("{")
