"""Floor plan, list and bag card from the lesson book."""

from __future__ import annotations

import pytest
from fastapi.testclient import TestClient
from httpx2 import Response

from tests.integration.web.conftest import token_of
from tests.integration.web.test_plan import work_out
from tests.integration.web.test_students import added
from tests.support.printed import texts
from wellset.services.lesson_work import Desk


@pytest.fixture
def student(coach: TestClient) -> str:
    address = added(coach)
    work_out(coach, address)
    return address


def ask(coach: TestClient, student: str, **chosen: str) -> Response:
    sent = {"club": "", "paper": "a4", "what": "floor", **chosen}
    token = token_of(coach.get(f"{student}/plan").text)
    return coach.post(f"{student}/print", data={"token": token, **sent})


def test_the_plan_offers_its_clubs_and_the_bag(coach: TestClient, student: str) -> None:
    page = coach.get(f"{student}/plan").text
    assert "Print the floor plan" in page
    assert "Bag card" in page
    assert '<option value="7-iron">' in page
    assert "the whole bag (14 clubs)" in page


def test_a_floor_plan_comes_as_a_pdf_with_a_safe_name(coach: TestClient, student: str) -> None:
    answer = ask(coach, student, club="7-iron")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "application/pdf"
    assert "7-iron-floor-plan.pdf" in answer.headers["content-disposition"]
    said = texts(answer.content)
    assert "7-iron" in said[0]
    assert "Sheet" in said[-1]


def test_the_bag_card_is_one_page(coach: TestClient, student: str) -> None:
    answer = ask(coach, student, what="card", paper="letter")
    (page,) = texts(answer.content)
    assert "pitching" in page


def test_the_list_is_a_page(coach: TestClient, student: str) -> None:
    one = ask(coach, student, what="list", club="7-iron").text
    assert "Lead toe" in one
    assert "How much room" in one
    bag = ask(coach, student, what="list").text
    assert bag.count("<tr>") == 15


def test_the_paper_is_remembered(coach: TestClient, student: str) -> None:
    # this student's pages are in inches
    assert '<option value="letter" selected>' in coach.get(f"{student}/plan").text
    ask(coach, student, paper="a4", what="card")
    assert '<option value="a4" selected>' in coach.get(f"{student}/plan").text


def test_unknown_paper_and_club_are_told(coach: TestClient, student: str) -> None:
    assert ask(coach, student, paper="papyrus").status_code == 422
    answer = coach.get(f"{student}/floor-plan.pdf", params={"club": "broom"})
    assert answer.status_code == 422
    assert "not in the plan" in answer.text


def test_without_a_plan_nothing_can_be_printed(coach: TestClient) -> None:
    address = added(coach)
    assert "Print the floor plan" not in coach.get(f"{address}/plan").text
    for place in ("floor-plan.pdf", "bag-card.pdf", "laid-out"):
        answer = coach.get(f"{address}/{place}")
        assert answer.status_code == 404
        assert "no plan" in answer.text.lower()


def test_a_plan_of_an_older_shape_asks_to_be_worked_out_anew(
    coach: TestClient, desk: Desk, student: str
) -> None:
    with desk.book.writing() as pages:
        kept = pages.plan(student.removeprefix("/students/"))
        assert kept is not None
        pages.save_plan(type(kept)(
            student=kept.student, made_at=kept.made_at, asked=kept.asked,
            document=kept.document.replace("shoe_breadth_m", "shoe_width_m"), page=kept.page,
        ))  # fmt: skip
    answer = coach.get(f"{student}/bag-card.pdf")
    assert answer.status_code == 422
    assert "anew" in answer.text


def test_a_stranger_is_asked_for_the_password(stranger: TestClient) -> None:
    answer = stranger.get("/students/x/floor-plan.pdf", follow_redirects=False)
    assert answer.status_code in {303, 401}
    assert "pdf" not in answer.headers.get("content-type", "")
