"""Moving points: the plain form, and what the scripts ask for."""

from __future__ import annotations

import json
import re
from html import unescape
from typing import Any

import pytest
from attrs import evolve
from fastapi.testclient import TestClient

from tests.fakes.reader import FakeReader
from tests.integration.web.conftest import token_of
from tests.support.sightings import hidden, scene_sightings
from wellset.figure.views import View
from wellset.lessons import Lesson, Shown, StudentCard
from wellset.services.lesson_work import Desk, assess_kept, document_of, refit, take_setup
from wellset.services.moving import Bench

WHEN = "2026-11-25T10:00:00Z"
SCENE = "mid_iron_neutral_21"
LEFT_HANDED = "mid_iron_left_handed_weight_in_heels_01"


def assessed(desk: Desk, *, scene: str = SCENE, hand: str = "right") -> str:
    """Id of an assessed set-up whose face-on picture doesn't show an ear."""
    file = json.dumps({"schema": "wellset.student/1", "height": "175 cm", "hand": hand})
    card = StudentCard(id="robin", name="Robin", file=file, created_at=WHEN, changed_at=WHEN)
    lesson = Lesson(id="l", student="robin", starts_at=WHEN, created_at=WHEN, changed_at=WHEN)
    with desk.book.writing() as pages:
        pages.save_student(card)
        pages.save_lesson(lesson)
    shown = {
        view: Shown(
            media=desk.media.keep(iter([view.value.encode()]), most=100).media,
            name=f"{view.value}.jpg",
            kind="image/jpeg",
        )
        for view in View
    }
    setup, _ = take_setup(desk, lesson_id="l", club="7i", shot="", shown=shown)
    front, side = scene_sightings(scene)
    reader = FakeReader(sightings=[hidden(front, "trail_ear"), side])
    return assess_kept(desk, setup.id, reader=reader).id


@pytest.fixture
def setup(desk: Desk) -> str:
    return assessed(desk)


def fields(page: str) -> dict[str, str]:
    """Everything the page's form would send untouched."""
    form = page[page.index('<form id="points"') : page.index("</form>")]
    inputs = re.findall(r"<input ([^>]*)>", form)
    found = {}
    for text in inputs:
        parts = {k: unescape(v) for k, v in re.findall(r'([\w-]+)="([^"]*)"', text)}
        if parts.get("type") != "checkbox":
            found[parts["name"]] = parts.get("value", "")
    return found | {"token": token_of(page)}


def landmarks(desk: Desk, setup: str, *, view: View = View.FACE_ON) -> dict[str, Any]:
    with desk.book.reading() as pages:
        kept = json.loads(pages.setup(setup).landmarks)
    found: dict[str, Any] = kept["views"][view.value]["landmarks"]
    return found


def moved(desk: Desk, setup: str, *, by: float, name: str = "lead_ankle") -> dict[str, Any]:
    """The landmark file with one point moved across, as the editor's script makes it."""
    with desk.book.reading() as pages:
        data: dict[str, Any] = json.loads(pages.setup(setup).landmarks)
    points = data["views"]["face_on"]["landmarks"]
    own = points[name]
    points[name] = {
        "x_px": own["x_px"] + by,
        "y_px": own["y_px"],
        "placed_by": "coach",
        "proposal": own,
    }
    return data


def test_the_table_shows_every_point_of_both_pictures(coach: TestClient, setup: str) -> None:
    page = coach.get(f"/setups/{setup}/points")
    assert page.status_code == 200
    sent = fields(page.text)
    assert sum(name.startswith("x:") for name in sent) == 72
    assert sent["x:face_on:trail_ear"] == ""
    assert "no place: out of the frame" in page.text


def test_a_form_sent_untouched_corrects_nothing(coach: TestClient, desk: Desk, setup: str) -> None:
    before = landmarks(desk, setup)
    sent = coach.post(
        f"/setups/{setup}/points", data=fields(coach.get(f"/setups/{setup}/points").text)
    )
    assert sent.url.path == f"/setups/{setup}"
    assert landmarks(desk, setup) == before


def test_a_point_moved_by_the_form_moves_its_measure(
    coach: TestClient, desk: Desk, setup: str
) -> None:
    data = fields(coach.get(f"/setups/{setup}/points").text)
    own = float(data["x:face_on:lead_ankle"])
    with desk.book.reading() as pages:
        before = json.loads(pages.setup(setup).assessment)["measures"]["stance_width"]["value"]
    data["x:face_on:lead_ankle"] = str(own + 40)
    data["x:face_on:trail_ear"], data["y:face_on:trail_ear"] = "700", "300,5"
    data["do:face_on:nose"] = "rule out"
    answer = coach.post(f"/setups/{setup}/points", data=data)
    assert answer.status_code == 200
    kept = landmarks(desk, setup)
    assert kept["lead_ankle"]["placed_by"] == "coach"
    assert kept["lead_ankle"]["proposal"]["x_px"] == pytest.approx(own, abs=0.06)
    assert (kept["trail_ear"]["x_px"], kept["trail_ear"]["y_px"]) == (700, 300.5)
    assert kept["nose"]["not_seen"] == "ruled out by the coach"
    with desk.book.reading() as pages:
        after = json.loads(pages.setup(setup).assessment)["measures"]["stance_width"]["value"]
    assert abs(after - before) > 0.02
    back = fields(coach.get(f"/setups/{setup}/points").text)
    back["do:face_on:lead_ankle"] = back["do:face_on:nose"] = "back"
    coach.post(f"/setups/{setup}/points", data=back)
    assert landmarks(desk, setup)["lead_ankle"]["placed_by"] == "model"
    assert landmarks(desk, setup)["nose"]["placed_by"] == "model"


def test_sticks_are_laid_by_the_form(coach: TestClient, desk: Desk, setup: str) -> None:
    data = fields(coach.get(f"/setups/{setup}/points").text)
    data["stick:face_on:0:away"] = "on"
    data["stick:face_on:1:1"] = "1800"
    coach.post(f"/setups/{setup}/points", data=data)
    with desk.book.reading() as pages:
        view = json.loads(pages.setup(setup).landmarks)["views"]["face_on"]
    assert [stick["placed_by"] for stick in view["sticks"]] == ["coach"]
    assert view["sticks"][0]["ends_px"][0][1] == 1800
    assert len(view["replaced_sticks"]) == 2


def test_what_cannot_be_read_is_named_and_nothing_typed_is_lost(
    coach: TestClient, desk: Desk, setup: str
) -> None:
    data = fields(coach.get(f"/setups/{setup}/points").text)
    data["x:face_on:lead_knee"] = "<b>left</b>"
    data["y:face_on:lead_hip"] = "777.5"
    answer = coach.post(f"/setups/{setup}/points", data=data)
    assert answer.status_code == 422
    assert "the lead knee in the face-on picture stands at" in answer.text
    assert "<b>left</b>" not in answer.text
    again = fields(answer.text)
    assert again["x:face_on:lead_knee"] == "<b>left</b>"
    assert again["y:face_on:lead_hip"] == "777.5"
    assert "coach" not in {each.get("placed_by") for each in landmarks(desk, setup).values()}


def test_the_later_tab_is_asked_and_may_save_over(
    coach: TestClient, desk: Desk, setup: str
) -> None:
    mine = fields(coach.get(f"/setups/{setup}/points").text)
    theirs = moved(desk, setup, by=15, name="trail_knee")
    refit(desk, setup, landmarks=json.dumps(theirs), version=int(mine["version"]))
    mine["x:face_on:lead_knee"] = "640"
    answer = coach.post(f"/setups/{setup}/points", data=mine)
    assert answer.status_code == 409
    assert "Load the newer points" in answer.text
    assert "Save mine over the newer ones" in answer.text
    assert landmarks(desk, setup)["trail_knee"]["placed_by"] == "coach"
    again = fields(answer.text)
    assert again["x:face_on:lead_knee"] == "640.0"
    assert coach.post(f"/setups/{setup}/points", data=again).status_code == 200
    assert landmarks(desk, setup)["lead_knee"]["x_px"] == 640
    assert landmarks(desk, setup)["trail_knee"]["placed_by"] == "model"


def test_a_form_without_its_points_is_refused(coach: TestClient, setup: str) -> None:
    page = coach.get(f"/setups/{setup}/points").text
    for landmark_file in ("", "[]", '{"schema": "wellset.landmarks/1", "views": {"face_on": {}}}'):
        data = {"token": token_of(page), "version": "2", "landmarks": landmark_file}
        answer = coach.post(f"/setups/{setup}/points", data=data)
        assert answer.status_code == 422


def test_a_preview_tells_what_moved_and_keeps_nothing(
    coach: TestClient, desk: Desk, setup: str
) -> None:
    kept = coach.get(f"/api/setups/{setup}/points").json()
    unmoved = coach.post(f"/api/setups/{setup}/preview", json={"landmarks": kept["landmarks"]})
    assert unmoved.json()["rows"] == []
    assert unmoved.json()["first"] is None
    answer = coach.post(
        f"/api/setups/{setup}/preview", json={"landmarks": moved(desk, setup, by=40)}
    ).json()
    assert answer["rows"][0]["measure"] in {"stance_width", "stance_gap"}
    assert answer["rows"][0]["before"] != answer["rows"][0]["after"]
    assert {line["role"] for line in answer["views"]["down_the_line"]["lines"]} >= {
        "plumb",
        "target",
    }
    assert coach.get(f"/api/setups/{setup}/points").json() == kept


def test_a_preview_says_what_saving_then_says(coach: TestClient, desk: Desk, setup: str) -> None:
    data = moved(desk, setup, by=40)
    text = json.dumps(data)
    moved_now = Bench().preview(desk, setup, landmarks=text, first_change=True)
    tried = moved_now.after
    saved = coach.put(f"/api/setups/{setup}/landmarks", json={"landmarks": data, "version": 2})
    assert saved.json()["version"] == 3
    with desk.book.reading() as pages:
        document: Any = document_of(pages.setup(setup))
    for id_, kept in document["measures"].items():
        if "value" in kept:
            result: Any = tried.measures[id_]
            # both searches stop near the same bottom
            assert result.value == pytest.approx(kept["value"], abs=0.02 * result.sd + 1e-3), id_
    first = [each["measure"] for each in document["advice"] if each["kind"] == "first_change"]
    assert [moved_now.first] == first


def test_a_preview_does_not_depend_on_what_was_tried_before(desk: Desk, setup: str) -> None:
    bench = Bench()
    wild, small = (json.dumps(moved(desk, setup, by=by)) for by in (400, 12))
    bench.preview(desk, setup, landmarks=wild)
    after = bench.preview(desk, setup, landmarks=small).after
    fresh = Bench().preview(desk, setup, landmarks=small).after
    assert after.fit.parameters.tolist() == fresh.fit.parameters.tolist()


def test_a_preview_follows_the_students_card(desk: Desk, setup: str) -> None:
    bench = Bench()
    text = json.dumps(moved(desk, setup, by=0))
    before = bench.preview(desk, setup, landmarks=text).before
    with desk.book.writing() as pages:
        card = pages.student("robin")
        pages.save_student(evolve(card, file=card.file.replace("175", "185")))
    assert bench.preview(desk, setup, landmarks=text).before.student != before.student


def test_a_left_handers_points_are_those_of_the_picture_as_taken(
    coach: TestClient, desk: Desk
) -> None:
    setup = assessed(desk, scene=LEFT_HANDED, hand="left")
    page = fields(coach.get(f"/setups/{setup}/points").text)
    # the lead foot of a left-hander is on the left of a face-on picture
    assert float(page["x:face_on:lead_ankle"]) < float(page["x:face_on:trail_ankle"])
    answer = coach.post(
        f"/api/setups/{setup}/preview", json={"landmarks": moved(desk, setup, by=-40)}
    ).json()
    up = answer["views"]["face_on"]["up"]["lead_ankle"]
    assert up[1] < -0.99
    (target,) = (line for line in answer["views"]["face_on"]["lines"] if line["role"] == "target")
    assert target["points_px"][0][0] > target["points_px"][-1][0]  # toward the target: left


def test_points_that_show_too_little_are_refused_in_words(
    coach: TestClient, desk: Desk, setup: str
) -> None:
    data = moved(desk, setup, by=0)
    for view in data["views"].values():
        view["landmarks"] = {name: {"not_seen": "no"} for name in view["landmarks"]}
    answer = coach.post(f"/api/setups/{setup}/preview", json={"landmarks": data})
    assert answer.status_code == 422
    assert "shows too little" in answer.json()["error"]["what"]
    del data["views"]["face_on"]["landmarks"]["nose"]
    answer = coach.post(f"/api/setups/{setup}/preview", json={"landmarks": data})
    assert answer.status_code == 422


def test_before_pictures_are_looked_at_there_is_nothing_to_move(
    coach: TestClient, desk: Desk, setup: str
) -> None:
    with desk.book.writing() as pages:
        pages.save_setup(evolve(pages.setup(setup), landmarks=""))
    page = coach.get(f"/setups/{setup}/points")
    assert page.status_code == 404
    assert "There are no points to move yet" in page.text


def test_scripts_that_others_import_are_asked_for_anew(coach: TestClient) -> None:
    plain = coach.get("/static/js/landmark-editor/state.js")
    assert plain.headers["cache-control"] == "no-cache"
    page = coach.get("/").text
    named = re.search(r'src="(/static/js/site\.js\?v=[^"]+)"', page)
    assert named is not None
    assert "immutable" in coach.get(named.group(1)).headers["cache-control"]


def test_a_stranger_sees_no_points(stranger: TestClient, setup: str) -> None:
    assert stranger.get(f"/api/setups/{setup}/points").status_code == 401
    assert stranger.post(f"/api/setups/{setup}/preview", json={"landmarks": {}}).status_code == 401
    assert stranger.get(f"/setups/{setup}/points", follow_redirects=False).status_code == 303
