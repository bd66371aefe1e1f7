"""Sheets to take home out of the lesson book: for the coach, by a link, and not for others."""

from __future__ import annotations

import json
import re

import pytest
from attrs import evolve
from fastapi.testclient import TestClient

from tests.integration.web.conftest import token_of
from tests.integration.web.test_lessons import JPEG, lesson, send
from tests.integration.web.test_sharing import assessed, made, phone
from tests.support.take_home import text_of
from wellset.advise import house_book
from wellset.lessons import Homework, Lesson
from wellset.services.lesson_work import Desk
from wellset.services.paper_choice import choose_paper
from wellset.services.plan_book import PlanAsked, make_plan
from wellset.services.sheet_book import sheet_matter

__all__ = ["assessed", "lesson", "phone"]

AHEAD = "2099-06-15T14:00:00Z"


@pytest.fixture
def written(desk: Desk, lesson: str, assessed: str) -> str:
    """Id of a set-up whose lesson has words to the student, a drill, and a lesson to follow."""
    drill = house_book().drills[0]
    with desk.book.writing() as pages:
        kept = pages.lesson(lesson.removeprefix("/lessons/"))
        task = Homework(words="This one for balance.", drill=drill.id, dose="Daily")
        pages.save_lesson(
            evolve(kept, for_student="Steady <i>feet</i> today.", homework=(task,), note="Secret")
        )
        pages.save_lesson(
            Lesson(
                id="n" * 32,
                student=kept.student,
                starts_at=AHEAD,
                created_at=kept.created_at,
                changed_at=kept.changed_at,
            )
        )
    return assessed


def test_the_students_sheet_has_the_lessons_words_homework_and_next_date(
    coach: TestClient, written: str
) -> None:
    answer = coach.get(f"/setups/{written}/sheet.pdf")
    assert answer.headers["content-type"] == "application/pdf"
    first, second = text_of(answer.content)
    assert "Steady <i>feet</i> today." in first
    assert "Robin <b>Vale" in first
    assert house_book().drills[0].title in second
    assert "This one for balance." in second
    assert "June 2099" in second
    assert "Secret" not in first + second


def test_sheets_are_reached_from_the_set_up_and_from_the_lesson(
    coach: TestClient, lesson: str, written: str
) -> None:
    for page in (coach.get(f"/setups/{written}").text, coach.get(lesson).text):
        for address in (f"/setups/{written}/sheet.pdf", f"/setups/{written}/coach.pdf"):
            assert f'href="{address}"' in page
            assert coach.get(address).status_code == 200


def test_the_page_says_what_the_paper_says(coach: TestClient, written: str) -> None:
    page = coach.get(f"/setups/{written}/sheet")
    assert page.status_code == 200
    assert "Steady &lt;i&gt;feet&lt;/i&gt; today." in page.text
    assert 'style="' not in page.text
    headline = re.search(r'<h2 id="sheet-first">([^<]+)</h2>', page.text)
    assert headline is not None
    pdf = coach.get(f"/setups/{written}/sheet.pdf?paper=letter").content
    assert headline.group(1) in text_of(pdf)[0]
    for address in re.findall(r'<image href="([^"]+)"', page.text):
        assert coach.get(address).headers["content-type"] == "image/jpeg"
    assert coach.get("/sheet.css").headers["content-type"].startswith("text/css")


def test_the_coachs_sheet_is_for_the_coach(
    coach: TestClient, phone: TestClient, lesson: str, written: str
) -> None:
    text = " ".join(text_of(coach.get(f"/setups/{written}/coach.pdf").content))
    assert "Mostly from" in text
    link = made(coach, lesson)
    assert phone.get(f"{link}/sheet/{written}").status_code == 200
    for address in (f"/setups/{written}/coach.pdf", f"/setups/{written}/sheet.pdf"):
        assert "/sign-in" in str(phone.get(address).url)
    assert phone.get(f"{link}/coach.pdf").status_code == 404


def test_a_link_shows_the_sheet_as_page_and_pdf_and_no_other_lessons(
    coach: TestClient, phone: TestClient, lesson: str, written: str
) -> None:
    link = made(coach, lesson)
    assert f'href="{link}/sheet/{written}"' in phone.get(link).text
    page = phone.get(f"{link}/sheet/{written}")
    assert page.headers["referrer-policy"] == "no-referrer"
    assert "/setups/" not in page.text
    pictures = re.findall(r'<image href="([^"]+)"', page.text)
    assert len(pictures) == 2
    assert all(phone.get(address).status_code == 200 for address in pictures)
    pdf = phone.get(f"{link}/sheet/{written}/print")
    assert len(text_of(pdf.content)) == 2
    assert pdf.headers["x-robots-tag"] == "noindex"
    assert phone.get(f"{link}/sheet/{'0' * 32}").status_code == 404
    assert phone.get(f"/s/guessed/sheet/{written}").status_code == 404
    assert phone.get("/s/sheet.css").status_code == 200


def test_a_kept_plan_is_used_and_one_is_worked_out_without(
    coach: TestClient, desk: Desk, written: str
) -> None:
    without = sheet_matter(desk, written)
    assert [club["club"] for club in json.loads(without.plan)["clubs"]] == [without.setup.club]
    make_plan(desk, without.student.id, asked=PlanAsked())
    kept = sheet_matter(desk, written)
    assert len(json.loads(kept.plan)["clubs"]) > 1
    assert "How to stand with your" in coach.get(f"/setups/{written}/sheet").text


def test_a_set_up_that_is_not_assessed_has_no_sheet(coach: TestClient, lesson: str) -> None:
    page = send(coach, lesson, face_on=("a.jpg", JPEG))
    setup = page.url.path  # type: ignore[attr-defined]
    answer = coach.get(f"{setup}/sheet.pdf")
    assert answer.status_code == 422
    assert "has not been assessed" in answer.text


def test_a_paper_that_is_none_is_refused_in_words(coach: TestClient, written: str) -> None:
    answer = coach.get(f"/setups/{written}/sheet.pdf?paper=a5")
    assert answer.status_code == 422
    assert "Say a4 or letter" in answer.text


def test_words_to_the_student_are_written_on_the_lessons_page(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    page = coach.get(lesson).text
    version = re.search(r'name="version" value="(\d+)"', page)
    assert version is not None
    sent = {"token": token_of(page), "version": version.group(1), "for_student": "Well done."}
    assert coach.post(lesson, data=sent).status_code == 200
    with desk.book.reading() as pages:
        assert pages.lesson(lesson.removeprefix("/lessons/")).for_student == "Well done."


def test_the_sheets_paper_is_the_one_that_the_coach_chose_last(
    coach: TestClient, desk: Desk, assessed: str
) -> None:
    assert "PDF, A4" in coach.get(f"/setups/{assessed}/sheet").text
    a4 = coach.get(f"/setups/{assessed}/sheet.pdf").content
    choose_paper(desk, "letter")
    assert "PDF, Letter" in coach.get(f"/setups/{assessed}/sheet").text
    letter = coach.get(f"/setups/{assessed}/sheet.pdf").content
    assert letter == coach.get(f"/setups/{assessed}/sheet.pdf?paper=letter").content
    assert letter != a4
