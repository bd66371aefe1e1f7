"""Planning lessons for days and times of the coach's own clock."""

from __future__ import annotations

from collections.abc import Iterator
from zoneinfo import ZoneInfo

import pytest
from attrs import evolve
from fastapi.testclient import TestClient

from tests.fakes.line import FakeLine
from tests.integration.web.conftest import PASSWORD, token_of
from wellset.lessons import StudentCard
from wellset.services.lesson_work import Desk
from wellset.web import Options, create_app

NOW = "2026-11-25T09:30:00Z"
"""Half past eleven in the evening of Tuesday 24 November in Honolulu."""


@pytest.fixture
def in_honolulu(desk: Desk, line: FakeLine) -> Iterator[TestClient]:
    """A signed-in coach whose clock is ten hours behind."""
    there = evolve(desk, now=lambda: NOW)
    with there.book.writing() as pages:
        for name in ("Robin", "Sam"):
            pages.save_student(
                StudentCard(
                    id=name.lower(),
                    name=name,
                    file='{"schema": "wellset.student/1", "height": "175 cm"}',
                    created_at=NOW,
                    changed_at=NOW,
                )
            )
    app = create_app(there, line=line, options=Options(zone=ZoneInfo("Pacific/Honolulu")))
    with TestClient(app, headers={"sec-fetch-site": "same-origin"}) as client:
        sent = {"password": PASSWORD, "again": PASSWORD}
        assert client.post("/first", data=sent).status_code == 200
        yield client


def plan(coach: TestClient, student: str, day: str, at: str, focus: str = "") -> str:
    """Plan a lesson by the student's page; the page that follows."""
    token = token_of(coach.get(f"/students/{student}").text)
    sent = {"token": token, "student": student, "day": day, "time": at, "focus": focus}
    answer = coach.post("/lessons", data=sent)
    assert answer.status_code == 200, answer.text
    return answer.text


def lesson_of(desk: Desk, student: str) -> str:
    with desk.book.reading() as pages:
        return pages.lessons_of(student).items[0].id


def test_a_planned_lesson_stands_on_the_students_page_and_is_kept_in_universal_time(
    in_honolulu: TestClient, desk: Desk
) -> None:
    page = plan(in_honolulu, "robin", "2026-11-27", "07:45", "Ball position")
    assert "Friday, 27 Nov 2026, 07:45" in page
    assert "Ball position" in page
    with desk.book.reading() as pages:
        (lesson,) = pages.lessons_of("robin").items
    assert lesson.starts_at == "2026-11-27T17:45:00Z"


def test_today_is_the_day_on_the_coachs_clock(in_honolulu: TestClient) -> None:
    plan(in_honolulu, "robin", "2026-11-24", "23:45")
    plan(in_honolulu, "sam", "2026-11-25", "08:00")
    page = in_honolulu.get("/").text
    today, later = page.split('id="later"')
    assert "24 Nov 2026" in today
    assert "Robin" in today
    assert "23:45" in today
    assert "Sam" not in today
    assert "Tomorrow" in later
    assert "08:00" in later


def test_lessons_beyond_the_next_days_wait_on_the_students_page_alone(
    in_honolulu: TestClient,
) -> None:
    page = plan(in_honolulu, "robin", "2026-12-24", "10:00")
    assert "Thursday, 24 Dec 2026" in page
    assert "Robin" not in in_honolulu.get("/").text


def test_a_lesson_can_be_moved_and_an_older_tab_is_asked(
    in_honolulu: TestClient, desk: Desk
) -> None:
    plan(in_honolulu, "robin", "2026-11-27", "07:45")
    path = f"/lessons/{lesson_of(desk, 'robin')}"
    token = token_of(in_honolulu.get(path).text)
    sent = {"token": token, "version": "1", "day": "2026-11-28", "time": "10:00"}
    moved = in_honolulu.post(f"{path}/move", data=sent)
    assert "Saturday, 28 Nov 2026, 10:00" in moved.text
    assert in_honolulu.post(f"{path}/move", data=sent).status_code == 409


def test_a_time_that_is_none_is_told_and_nothing_is_planned(
    in_honolulu: TestClient, desk: Desk
) -> None:
    token = token_of(in_honolulu.get("/students/robin").text)
    for day, at in (("2026-11-27", ""), ("", "10:00"), ("27/11/2026", "10:00")):
        sent = {"token": token, "student": "robin", "day": day, "time": at}
        answer = in_honolulu.post("/lessons", data=sent)
        assert answer.status_code == 422
        assert "is no day and time" in answer.text
    with desk.book.reading() as pages:
        assert pages.lessons_of("robin").total == 0


def test_a_lesson_begun_without_a_time_begins_now(in_honolulu: TestClient, desk: Desk) -> None:
    token = token_of(in_honolulu.get("/lessons/new").text)
    begun = in_honolulu.post(
        "/lessons", data={"token": token, "student": "sam", "day": "", "time": ""}
    )
    assert "Began at 23:30" in begun.text
    with desk.book.reading() as pages:
        assert pages.lessons_of("sam").items[0].starts_at == NOW


def test_pages_say_whose_clock_it_is(in_honolulu: TestClient) -> None:
    for path in ("/students/robin", "/lessons/new"):
        assert "HST, UTC-10:00" in in_honolulu.get(path).text
