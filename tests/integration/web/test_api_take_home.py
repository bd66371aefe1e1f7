"""What programs get besides lessons: plans, sheets, comparisons, tables, drills."""

from __future__ import annotations

import json

import pytest
from fastapi.testclient import TestClient

from tests.fakes.line import FakeLine
from tests.fakes.reader import FakeReader
from tests.integration.web.test_api import lesson, setup, student
from tests.integration.web.test_lessons import CLIP, JPEG, SCENE
from tests.support.pressure import plate_text
from tests.support.sightings import scene_sightings
from wellset.figure.still import Choice
from wellset.figure.views import View
from wellset.measures import MEASURES
from wellset.services.lesson_work import Desk, assess_kept

__all__ = ["lesson", "setup", "student"]


@pytest.fixture
def planned(coach: TestClient, student: dict[str, object]) -> str:
    """Path of a student with a bag of one club and a plan."""
    path = f"/api/students/{student['id']}"
    bag = {"version": 0, "clubs": [{"name": "7-iron"}]}
    assert coach.put(f"{path}/bag", json=bag).status_code == 200
    answer = coach.post(f"{path}/plan", json={})
    assert answer.status_code == 201, answer.text
    assert answer.json()["schema"].startswith("wellset.plan/")
    return path


def test_a_plan_is_worked_out_read_and_printed(coach: TestClient, planned: str) -> None:
    assert [club["club"] for club in coach.get(f"{planned}/plan").json()["clubs"]] == ["7-iron"]
    for what in ("floor-plan?club=7-iron", "floor-plan", "bag-card", "bag-card?paper=letter"):
        answer = coach.get(f"{planned}/{what}")
        assert answer.status_code == 200, answer.text
        assert answer.headers["content-type"] == "application/pdf"
        assert answer.content.startswith(b"%PDF-")
    assert coach.get(f"{planned}/bag-card?paper=stone").status_code == 422
    assert coach.post(f"{planned}/plan", json={"slopes": ["sideways"]}).status_code == 422


def test_without_a_plan_there_is_nothing_to_print(
    coach: TestClient, student: dict[str, object]
) -> None:
    for what in ("plan", "floor-plan", "bag-card"):
        answer = coach.get(f"/api/students/{student['id']}/{what}")
        assert answer.status_code == 404
        assert "no plan" in answer.json()["error"]["what"]


def test_both_sheets_of_a_set_up_are_those_of_the_pages(coach: TestClient, setup: str) -> None:
    for there, here in (("sheet", "sheet.pdf"), ("coach-sheet", "coach.pdf")):
        answer = coach.get(f"{setup}/{there}")
        assert answer.content.startswith(b"%PDF-")
        page = coach.get(f"{setup.removeprefix('/api')}/{here}")
        assert answer.content == page.content


def test_a_set_up_is_compared_with_the_plan(coach: TestClient, desk: Desk, setup: str) -> None:
    answer = coach.get(f"{setup}/check")
    assert answer.json()["schema"].startswith("wellset.check/")
    with desk.book.reading() as pages:
        kept = pages.comparison(setup.rsplit("/", 1)[-1])
    assert kept is not None
    assert json.loads(kept.document) == answer.json()


def test_measures_come_as_a_table(
    coach: TestClient, student: dict[str, object], setup: str
) -> None:
    path = f"/api/students/{student['id']}/measures"
    lines = coach.get(path).text.splitlines()
    assert len(lines) == 1 + len(MEASURES)
    assert setup.rsplit("/", 1)[-1] in lines[1]
    assert coach.get("/api/measures").text.splitlines() == lines
    assert "Vale" in coach.get(f"{path}?names=true").text
    assert coach.get(f"{path}?kind=parquet").content.startswith(b"PAR1")
    assert coach.get("/api/students/nobody/measures").status_code == 404


def test_a_drill_is_found_changed_hidden_and_put_back(coach: TestClient) -> None:
    every = coach.get("/api/drills").json()
    assert every["total"] == len(every["items"]) > 20
    some = coach.get("/api/drills", params={"measure": "forward_bend"}).json()["items"]
    assert 0 < len(some) < every["total"]
    assert coach.get("/api/drills", params={"measure": "mood"}).status_code == 422
    path = f"/api/drills/{some[0]['id']}"
    entry = {**coach.get(path).json()["entry"], "title": "Bend like a door"}
    changed = coach.put(path, json={"entry": entry}).json()
    assert (changed["origin"], changed["entry"]["title"]) == ("edited", "Bend like a door")
    assert coach.put(f"{path}/hidden", json={"hidden": True}).json()["hidden"]
    assert coach.get("/api/drills").json()["total"] == every["total"] - 1
    coach.put(f"{path}/hidden", json={"hidden": False})
    assert coach.delete(path).status_code == 204
    assert coach.get(path).json() == some[0]


def test_an_own_drill_is_added_and_removed_and_a_wrong_one_told(coach: TestClient) -> None:
    entry = {
        "title": "Quiet feet",
        "purpose": "To feel the ground.",
        "steps": ["Stand still."],
        "check": "Nothing moves.",
        "dose": "Once a day",
    }
    added = coach.post("/api/drills", json={"entry": entry})
    assert added.status_code == 201, added.text
    path = f"/api/drills/{added.json()['id']}"
    assert added.json()["origin"] == "own"
    wrong = coach.put(path, json={"entry": {**entry, "first_for": ["mood low"]}})
    assert wrong.status_code == 422
    assert "mood low" in str(wrong.json()["error"])
    assert coach.delete(path).status_code == 204
    assert coach.get(path).status_code == 404


def test_how_a_set_up_was_taken_is_sent_kept_told_and_changed(
    coach: TestClient, desk: Desk, lesson: str, line: FakeLine
) -> None:
    plate = coach.put("/api/plates", params={"name": "feet.csv"}, content=plate_text(SCENE)).json()
    how = {
        "phone_level": True,
        "ignore": ["stick"],
        "clips": {"face_on": {"start_s": 2.0}},
        "club_length_m": 0.95,
        "lie_deg": 62.0,
        "plate": plate,
    }
    pictures = {
        "face_on": coach.put("/api/media", params={"name": "a.mp4"}, content=CLIP).json(),
        "down_the_line": coach.put("/api/media", params={"name": "b.jpg"}, content=JPEG).json(),
    }
    sent = {"club": "7i", "pictures": pictures, "how": how}
    answer = coach.post(f"{lesson}/setups", json=sent)
    assert answer.status_code == 201, answer.text
    kept = answer.json()["setup"]
    assert kept["how"] == {
        **how,
        "sheet_aimed": False,
        "clips": {"face_on": {"start_s": 2.0, "swing": None}},
        "lie_deg": pytest.approx(62.0),
    }
    path = f"/api/setups/{kept['id']}"
    reader = FakeReader(sightings=scene_sightings(SCENE))
    assess_kept(desk, kept["id"], reader=reader)
    assert list(reader.chosen[0].values()) == [Choice(start_s=2.0)]
    assert coach.get(f"{path}/assessment").json()["plate"]["used"]

    changed = coach.put(f"{path}/how", json={**kept["how"], "plate": None}).json()
    assert (changed["state"], changed["how"]["plate"]) == ("assessed", None)
    assert coach.get(f"{path}/assessment").json()["plate"] is None
    nudges = line.nudges
    waiting = coach.put(f"{path}/how", json={"clips": {View.FACE_ON.value: {"swing": 2}}}).json()
    assert waiting["state"] == "waiting"
    assert line.nudges == nudges + 1


@pytest.mark.parametrize(
    "how",
    [
        {"clips": {"face_on": {"swing": 2}}},
        {"club_length_m": 3.0},
        {"plate": {"media": "0" * 64, "name": "feet.csv"}},
        {"ignore": ["grass"]},
    ],
)
def test_what_cannot_be_is_refused(coach: TestClient, lesson: str, how: dict[str, object]) -> None:
    picture = coach.put("/api/media", params={"name": "a.jpg"}, content=JPEG).json()
    sent = {"club": "7i", "pictures": {"face_on": picture}, "how": how}
    answer = coach.post(f"{lesson}/setups", json=sent)
    assert answer.status_code in {404, 422}
    assert answer.json()["error"]["why"]
    assert coach.get(f"{lesson}/setups").json()["total"] == 0


def test_a_plates_file_that_is_none_is_refused(coach: TestClient) -> None:
    answer = coach.put("/api/plates", content=b"a,b\n1,2\n")
    assert answer.status_code == 422
    assert "pressure plate" in answer.json()["error"]["what"]
