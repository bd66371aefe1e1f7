"""A kept set-up beside its student's plan."""

from __future__ import annotations

import pytest
from fastapi.testclient import TestClient

from tests.integration.web.conftest import token_of
from tests.integration.web.test_handover import assessed
from tests.integration.web.test_lessons import JPEG, lesson, send
from wellset.services.lesson_work import Desk

__all__ = ["assessed", "lesson"]


def test_a_set_up_is_compared_with_a_plan_worked_out_on_the_spot(
    coach: TestClient, assessed: str
) -> None:
    assert f'href="/setups/{assessed}/check"' in coach.get(f"/setups/{assessed}").text
    page = coach.get(f"/setups/{assessed}/check")
    assert page.status_code == 200
    assert "worked out now" in page.text
    assert "What to look for next" in page.text
    assert page.text.count('class="figure"') == 3
    # the pictures behind the drawings are the kept ones
    assert f"/setups/{assessed}/face_on.jpg?v=" in page.text
    assert coach.get("/check.css").headers["content-type"].startswith("text/css")


def test_a_kept_plan_wins_and_says_when_it_was_worked_out(
    coach: TestClient, desk: Desk, assessed: str
) -> None:
    token = token_of(coach.get("/students/robin/plan").text)
    coach.post("/students/robin/plan", data={"token": token, "wind": "none"})
    with desk.book.reading() as pages:
        record = pages.plan("robin")
    assert record is not None
    page = coach.get(f"/setups/{assessed}/check").text
    assert f"from the lesson book, worked out {record.made_at[:10]}" in page


def test_before_it_is_assessed_there_is_nothing_to_compare(coach: TestClient, lesson: str) -> None:
    waiting = send(coach, lesson, face_on=("a.jpg", JPEG)).url.path  # type: ignore[attr-defined]
    answer = coach.get(f"{waiting}/check")
    assert answer.status_code == 404
    assert "nothing to compare yet" in answer.text


@pytest.mark.usefixtures("assessed")
def test_a_stranger_compares_nothing(coach: TestClient, assessed: str) -> None:
    coach.cookies.clear()
    answer = coach.get(f"/setups/{assessed}/check", follow_redirects=False)
    assert answer.status_code == 303
