"""The REST interface: the same book, for programs."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from attrs import fields
from fastapi import FastAPI
from fastapi.routing import iter_route_contexts
from fastapi.testclient import TestClient

from tests.fakes.line import FakeLine
from tests.fakes.reader import FakeReader
from tests.integration.web.test_lessons import JPEG, SCENE
from tests.support.sightings import scene_sightings
from wellset.services.lesson_work import Desk, assess_kept
from wellset.services.student_book import StudentEntry
from wellset.web.api.models import StudentSent

ROBIN = {"name": "Robin <b>Vale", "height": "175 cm", "hand": "right", "shoe": "EU 43"}
PAGE = Path(__file__).parents[3] / "docs" / "reference" / "rest-api.md"


@pytest.fixture
def student(coach: TestClient) -> dict[str, object]:
    answer = coach.post("/api/students", json=ROBIN)
    assert answer.status_code == 201, answer.text
    kept: dict[str, object] = answer.json()
    return kept


@pytest.fixture
def lesson(coach: TestClient, student: dict[str, object]) -> str:
    """Path of a lesson in the interface."""
    answer = coach.post("/api/lessons", json={"student": student["id"], "focus": "Bend"})
    assert answer.status_code == 201
    return f"/api/lessons/{answer.json()['id']}"


@pytest.fixture
def setup(coach: TestClient, desk: Desk, lesson: str) -> str:
    """Path of an assessed set-up in the interface."""
    pictures = {
        view: coach.put("/api/media", params={"name": "a.jpg"}, content=JPEG + view.encode()).json()
        for view in ("face_on", "down_the_line")
    }
    answer = coach.post(f"{lesson}/setups", json={"club": "7i", "pictures": pictures})
    assert answer.status_code == 201, answer.text
    name = answer.json()["setup"]["id"]
    assess_kept(desk, name, reader=FakeReader(sightings=scene_sightings(SCENE)))
    return f"/api/setups/{name}"


def test_every_request_of_the_interface_is_described_and_on_its_page(
    app: FastAPI, coach: TestClient
) -> None:
    described = coach.get("/api/openapi.json").json()["paths"]
    page = PAGE.read_text("utf-8")
    asked = {
        (method, route.path)
        for route in iter_route_contexts(app.routes)
        if route.path is not None and route.path.startswith("/api/")
        for method in route.methods or ()
        if route.path != "/api/openapi.json"
    }
    assert asked == {(m.upper(), path) for path, each in described.items() for m in each}
    assert len(asked) > 20
    assert all(f"`{method} {path}`" in page for method, path in asked)


def test_every_shape_says_what_it_is(coach: TestClient) -> None:
    shapes = coach.get("/api/openapi.json").json()["components"]["schemas"]
    for name, shape in shapes.items():
        assert shape.get("description") or name.startswith("Listed"), name


def test_a_students_fields_are_those_of_the_form() -> None:
    assert set(StudentSent.model_fields) == {each.name for each in fields(StudentEntry)}


def test_a_student_comes_back_as_sent(coach: TestClient, student: dict[str, object]) -> None:
    kept = coach.get(f"/api/students/{student['id']}").json()
    assert kept == student
    assert {name: kept[name] for name in ROBIN} == ROBIN
    found = coach.get("/api/students", params={"text": "vale"}).json()
    assert (found["total"], found["items"]) == (1, [kept])


def test_the_later_of_two_changes_is_told(coach: TestClient, student: dict[str, object]) -> None:
    path = f"/api/students/{student['id']}"
    changed = {k: v for k, v in student.items() if k not in {"id", "created_at", "changed_at"}}
    first = coach.put(path, json={**changed, "note": "one"})
    assert (first.status_code, first.json()["note"]) == (200, "one")
    second = coach.put(path, json={**changed, "note": "two"})
    assert second.status_code == 409
    assert "changed meanwhile" in second.json()["error"]["what"]
    assert coach.get(path).json()["note"] == "one"


def test_a_removed_student_is_gone(coach: TestClient, student: dict[str, object]) -> None:
    path = f"/api/students/{student['id']}"
    assert coach.delete(path).status_code == 204
    assert coach.get(path).status_code == 404


def test_a_bag_keeps_metres_and_degrees(coach: TestClient, student: dict[str, object]) -> None:
    path = f"/api/students/{student['id']}/bag"
    empty = coach.get(path).json()
    assert (empty["version"], empty["clubs"]) == (0, [])
    club = {"name": "7-iron", "length_m": 0.94, "lie_deg": 62.5, "head_length_m": None, "note": ""}
    kept = coach.put(path, json={"version": 0, "clubs": [club]})
    assert kept.json()["clubs"] == [club]
    again = coach.put(path, json={"version": 0, "clubs": []})
    assert again.status_code == 409


def test_a_lesson_is_written_into_and_removed(coach: TestClient, lesson: str) -> None:
    kept = coach.get(lesson).json()
    task = {"words": "Ten bends", "dose": "daily", "drill": "", "state": "partly", "due": None}
    sent = {"version": kept["version"], "focus": "Knees", "note": "Well", "homework": [task]}
    changed = coach.put(lesson, json=sent).json()
    assert (changed["focus"], changed["homework"]) == ("Knees", [task])
    assert changed["starts_at"] == kept["starts_at"]
    listed = coach.get(f"/api/students/{kept['student']}/lessons").json()
    assert listed == {"items": [changed], "total": 1}
    assert coach.delete(lesson).status_code == 204
    assert coach.get(lesson).status_code == 404


def test_a_set_up_is_taken_followed_read_and_moved(
    coach: TestClient, setup: str, line: FakeLine
) -> None:
    assert line.nudges == 1
    kept = coach.get(setup).json()
    assert (kept["state"], kept["club"]) == ("assessed", "7-iron")
    assert kept["inside"] + kept["outside"] + kept["undecided"] > 10
    (job,) = coach.get(f"{setup}/jobs").json()["items"]
    assert coach.get(f"/api/jobs/{job['id']}").json() == job
    document = coach.get(f"{setup}/assessment").json()
    assert document["schema"] == "wellset.assessment/1"
    landmarks = coach.get(f"{setup}/landmarks").json()
    point = landmarks["views"]["down_the_line"]["landmarks"]["lead_knee"]
    moved = {"x_px": point["x_px"] + 30, "y_px": point["y_px"], "placed_by": "coach"}
    landmarks["views"]["down_the_line"]["landmarks"]["lead_knee"] = moved
    sent = {"version": kept["version"], "landmarks": landmarks}
    after = coach.put(f"{setup}/landmarks", json=sent)
    assert (after.status_code, after.json()["version"]) == (200, kept["version"] + 1)
    new = coach.get(f"{setup}/assessment").json()["measures"]["lead_knee_flex"]["value"]
    assert new != document["measures"]["lead_knee_flex"]["value"]
    assert coach.put(f"{setup}/landmarks", json=sent).status_code == 409
    for picture in kept["pictures"].values():
        assert coach.get(picture["original"]).content.startswith(JPEG)
        assert coach.get(picture["upright"]).headers["content-type"] == "image/jpeg"


def test_a_set_up_can_be_looked_at_again_and_removed(
    coach: TestClient, setup: str, line: FakeLine
) -> None:
    assert coach.post(f"{setup}/jobs").status_code == 201
    assert line.nudges == 2
    assert len(coach.get(f"{setup}/jobs").json()["items"]) == 2
    assert coach.delete(setup).status_code == 204
    assert coach.get(setup).status_code == 404


def test_a_link_is_made_told_once_and_taken_back(coach: TestClient, lesson: str) -> None:
    made = coach.post(f"{lesson}/links", json={"days": 7})
    assert made.status_code == 201
    path = made.json()["address"].removeprefix("http://testserver")
    assert coach.get(path).status_code == 200
    (listed,) = coach.get(f"{lesson}/links").json()["items"]
    assert (listed["holds"], listed["address"]) == (True, "")
    gone = coach.delete(f"{lesson}/links/{listed['id']}").json()
    assert gone["holds"] is False
    assert coach.get(path).status_code == 404


@pytest.mark.parametrize(
    ("method", "path", "body", "status"),
    [
        ("POST", "/api/students", {"name": ""}, 422),
        ("POST", "/api/students", {"name": "A", "height": "tall"}, 422),
        ("POST", "/api/students", {"name": "A", "height": "175 cm", "age": 3}, 422),
        ("POST", "/api/students", "not an object", 422),
        ("GET", "/api/students?limit=100000", None, 422),
        ("GET", "/api/students/nobody", None, 404),
        ("GET", "/api/students/nobody/bag", None, 404),
        ("GET", "/api/students/nobody/lessons", None, 404),
        ("POST", "/api/lessons", {"student": "nobody"}, 404),
        ("GET", "/api/lessons/none/setups", None, 404),
        ("GET", "/api/setups/none/landmarks", None, 404),
        ("GET", "/api/jobs/none", None, 404),
        ("DELETE", "/api/setups/none", None, 404),
        ("PATCH", "/api/students", None, 405),
    ],
)
def test_every_error_has_one_shape(
    coach: TestClient, method: str, path: str, body: object, status: int
) -> None:
    answer = coach.request(method, path, json=body)
    assert answer.status_code == status
    error = answer.json()["error"]
    assert set(error) == {"what", "why", "fix", "where"}
    assert error["what"]
    assert error["fix"]


def test_a_program_signs_in_names_itself_and_needs_no_token(
    app: FastAPI, coach: TestClient
) -> None:
    program = TestClient(app, cookies=dict(coach.cookies), headers={"x-wellset-client": "mine"})
    assert program.post("/api/students", json=ROBIN).status_code == 201


@pytest.mark.parametrize(
    "headers", [{}, {"sec-fetch-site": "cross-site"}, {"origin": "http://evil.example"}]
)
def test_a_page_from_elsewhere_changes_nothing_through_the_interface(
    app: FastAPI, coach: TestClient, headers: dict[str, str]
) -> None:
    elsewhere = TestClient(app, cookies=dict(coach.cookies), headers=headers)
    answer = elsewhere.post(
        "/api/students", content=json.dumps(ROBIN), headers={"content-type": "text/plain"}
    )
    assert answer.status_code == 403
    assert coach.get("/api/students").json()["total"] == 0


def test_a_stranger_gets_the_same_shape_and_nothing_else(stranger: TestClient) -> None:
    answer = stranger.get("/api/students")
    assert answer.status_code == 401
    assert set(answer.json()["error"]) == {"what", "why", "fix", "where"}
