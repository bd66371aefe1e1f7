from __future__ import annotations

import re

import pytest
from attrs import evolve
from fastapi.testclient import TestClient

from tests.integration.web.test_lessons import lesson
from wellset.lessons import Lesson, Reading, SetUp, SetUpState
from wellset.services.lesson_work import Desk
from wellset.services.progress_book import progress_of

__all__ = ["lesson"]
pytestmark = pytest.mark.usefixtures("lesson")


def fill(desk: Desk, values: list[list[float]], *, sd: float = 0.5) -> None:
    """Lessons a day apart with set-ups whose forward bend was read so."""
    with desk.book.writing() as pages:
        for day, readings in enumerate(values, start=1):
            when = f"2026-11-{day:02}T10:00:00Z"
            pages.save_lesson(
                Lesson(
                    id=f"l{day}", student="robin", starts_at=when, created_at=when, changed_at=when
                )
            )
            for i, value in enumerate(readings):
                setup = SetUp(
                    id=f"s{day}{i}",
                    lesson=f"l{day}",
                    student="robin",
                    taken_at=f"2026-11-{day:02}T10:{i:02}:00Z",
                    club="7-iron",
                    state=SetUpState.ASSESSED,
                )
                reading = Reading(when=setup.taken_at, value=value, sd=sd)
                pages.save_setup(setup, readings={"forward_bend": reading})


def test_a_change_beyond_both_uncertainties_is_called_real(coach: TestClient, desk: Desk) -> None:
    fill(desk, [[30.0], [33.0]])
    page = coach.get("/students/robin/progress").text
    assert "Changed by +3.0°: a real change." in page
    assert "Forward bend" in page


def test_an_unsteady_student_needs_more_for_a_real_change(coach: TestClient, desk: Desk) -> None:
    fill(desk, [[28.0, 32.0, 30.0], [31.0, 35.0, 33.0]])
    (series,) = progress_of(desk, "robin").series
    # Each lesson: sd 2.0, of which 0.5 is the readings': own spread sqrt(4 - 0.25).
    assert abs(series.steadiness - 3.75**0.5) < 1e-9
    assert series.change is not None
    assert not series.change.real
    assert "not surely a change" in coach.get("/students/robin/progress").text


def test_each_lesson_counts_with_the_set_up_it_ended_with(desk: Desk) -> None:
    fill(desk, [[28.0, 30.0], [31.0]])
    (series,) = progress_of(desk, "robin").series
    assert [reading.value for reading in series.readings] == [30.0, 31.0]
    assert series.window is not None


def test_refused_set_ups_and_other_clubs_are_left_out(desk: Desk, coach: TestClient) -> None:
    fill(desk, [[28.0], [30.0]])
    with desk.book.writing() as pages:
        setup = pages.setup("s10")
        pages.save_setup(evolve(setup, state=SetUpState.REFUSED))
    (series,) = progress_of(desk, "robin", club="driver").series
    assert [reading.value for reading in series.readings] == [30.0]
    assert "One lesson so far." in coach.get("/students/robin/progress").text


def test_an_empty_history_says_so(coach: TestClient) -> None:
    page = coach.get("/students/robin/progress")
    assert page.status_code == 200
    assert "No set-up has been assessed yet" in page.text
    assert not re.search("nan|None", page.text.split("<main")[1])
