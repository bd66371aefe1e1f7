from __future__ import annotations

import json

import pytest
from fastapi.testclient import TestClient

from tests.integration.web.conftest import token_of
from tests.integration.web.test_students import added
from wellset.services.lesson_work import Desk


@pytest.fixture
def student(coach: TestClient) -> str:
    return added(coach)


def work_out(coach: TestClient, student: str, **typed: str) -> object:
    token = token_of(coach.get(f"{student}/plan").text)
    return coach.post(f"{student}/plan", data={"token": token, **typed})


def test_a_plan_is_worked_out_kept_and_shown(coach: TestClient, desk: Desk, student: str) -> None:
    assert "No plan yet" in coach.get(f"{student}/plan").text
    page = work_out(coach, student)
    assert page.status_code == 200  # type: ignore[attr-defined]
    text = page.text  # type: ignore[attr-defined]
    assert "The bag from above" in text
    assert text.count('<svg class="figure"') == 3 * 14
    with desk.book.reading() as pages:
        record = pages.plan(student.removeprefix("/students/"))
    assert record is not None
    assert len(json.loads(record.document)["clubs"]) == 14


def test_a_slope_changes_the_plan_and_stays_in_the_form(
    coach: TestClient, desk: Desk, student: str
) -> None:
    name = student.removeprefix("/students/")
    documents, shown = [], ""
    for typed in ({}, {"across": "ball above feet", "across_degrees": "8"}):
        shown = work_out(coach, student, **typed).text  # type: ignore[attr-defined]
        with desk.book.reading() as pages:
            record = pages.plan(name)
        assert record is not None
        documents.append(json.loads(record.document)["clubs"][0]["measures"])
    assert documents[0] != documents[1]
    assert 'value="8"' in shown


def test_a_slope_without_degrees_is_told_and_the_old_plan_stays(
    coach: TestClient, student: str
) -> None:
    work_out(coach, student)
    page = work_out(coach, student, line="uphill", line_degrees="steep")
    assert page.status_code == 422  # type: ignore[attr-defined]
    assert "slope" in page.text  # type: ignore[attr-defined]
    assert "The bag from above" in page.text  # type: ignore[attr-defined]
