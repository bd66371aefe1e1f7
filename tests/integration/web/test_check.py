"""A kept set-up beside its student's plan."""

from __future__ import annotations

import re
from unittest.mock import patch

import pytest
from fastapi.testclient import TestClient

from tests.integration.web.conftest import token_of
from tests.integration.web.test_handover import assessed
from tests.integration.web.test_lessons import JPEG, lesson, send
from tests.integration.web.test_sharing import made, phone
from wellset.services.lesson_work import Desk
from wellset.services.moving import Bench

__all__ = ["assessed", "lesson", "phone"]


def test_a_set_up_is_compared_with_a_plan_worked_out_on_the_spot(
    coach: TestClient, assessed: str
) -> None:
    assert f'href="/setups/{assessed}/check"' in coach.get(f"/setups/{assessed}").text
    page = coach.get(f"/setups/{assessed}/check")
    assert page.status_code == 200
    assert "worked out for this comparison" in page.text
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


def test_a_link_shows_the_comparison_once_the_coach_has_made_it(
    coach: TestClient, lesson: str, assessed: str, phone: TestClient
) -> None:
    link = made(coach, lesson)
    place = f"{link}/check/{assessed}"
    assert place not in phone.get(link).text
    assert phone.get(place).status_code == 404
    coach.get(f"/setups/{assessed}/check")
    assert f'href="{place}"' in phone.get(link).text
    with patch("wellset.services.check_book.check_setup", side_effect=AssertionError):
        page = phone.get(place)
    assert page.status_code == 200
    assert "What to look for next" in page.text
    assert "Robin" not in page.text
    pictures = set(re.findall(rf'"({link}/media/{assessed}/[^"]+)"', page.text))
    assert len(pictures) == 2
    for each in pictures:
        assert phone.get(each).content.startswith(b"\xff\xd8\xff")
    assert f"/setups/{assessed}/" not in page.text
    assert page.headers["referrer-policy"] == "no-referrer"
    css = phone.get("/s/check.css").text
    assert ".checks" in css
    assert ".things" in css


def test_the_comparison_is_worked_out_anew_only_when_something_of_it_changed(
    coach: TestClient, desk: Desk, lesson: str, assessed: str, phone: TestClient
) -> None:
    link = made(coach, lesson)
    coach.get(f"/setups/{assessed}/check")
    with patch("wellset.services.check_book.check_setup", side_effect=AssertionError):
        assert coach.get(f"/setups/{assessed}/check").status_code == 200
    with desk.book.reading() as pages:
        setup = pages.setup(assessed)
        before = pages.comparison(assessed)
    Bench().keep(desk, assessed, landmarks=setup.landmarks, version=setup.version)
    # it is of other points than those that are shown now
    assert "/check/" not in phone.get(link).text
    assert phone.get(f"{link}/check/{assessed}").status_code == 404
    coach.get(f"/setups/{assessed}/check")
    with desk.book.reading() as pages:
        after = pages.comparison(assessed)
    assert before is not None
    assert after is not None
    assert after.made_of != before.made_of
    assert phone.get(f"{link}/check/{assessed}").status_code == 200


def test_a_link_compares_nothing_of_another_lesson(
    coach: TestClient, assessed: str, phone: TestClient
) -> None:
    coach.get(f"/setups/{assessed}/check")
    token = token_of(coach.get("/lessons/new").text)
    other = coach.post("/lessons", data={"token": token, "student": "robin"}).url.path
    assert phone.get(f"{made(coach, other)}/check/{assessed}").status_code == 404


def test_the_comparison_goes_with_the_set_up(coach: TestClient, desk: Desk, assessed: str) -> None:
    coach.get(f"/setups/{assessed}/check")
    token = token_of(coach.get(f"/setups/{assessed}").text)
    coach.post(f"/setups/{assessed}/remove", data={"token": token})
    with desk.book.reading() as pages:
        assert pages.comparison(assessed) is None
