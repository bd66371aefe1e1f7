"""A lesson through the plain forms of the pages."""

from __future__ import annotations

import re

import pytest
from attrs import evolve
from fastapi.testclient import TestClient

from tests.fakes.line import FakeLine
from tests.fakes.reader import FakeReader
from tests.integration.web.conftest import token_of
from tests.support.sightings import scene_sightings
from wellset.figure.views import View
from wellset.lessons import StudentCard
from wellset.services.lesson_work import Desk, assess_kept

WHEN = "2026-11-25T10:00:00Z"
JPEG = b"\xff\xd8\xff\xe0" + b"front" * 20
CLIP = b"\x00\x00\x00\x20ftypisom" + b"swing" * 20
SCENE = "mid_iron_neutral_21"


@pytest.fixture
def lesson(coach: TestClient, desk: Desk) -> str:
    """Path of a lesson of a student."""
    with desk.book.writing() as pages:
        pages.save_student(
            StudentCard(
                id="robin",
                name="Robin <b>Vale</b>",
                file='{"schema": "wellset.student/1", "height": "175 cm", "hand": "right"}',
                created_at=WHEN,
                changed_at=WHEN,
            )
        )
    token = token_of(coach.get("/lessons/new").text)
    return coach.post("/lessons", data={"token": token, "student": "robin"}).url.path


def send(coach: TestClient, lesson: str, **files: tuple[str, bytes]) -> object:
    token = token_of(coach.get(lesson).text)
    return coach.post(
        f"{lesson}/setups", data={"token": token, "club": "7-iron", "shot": ""}, files=files
    )


def test_pictures_of_a_plain_form_become_a_set_up_and_work_in_the_line(
    coach: TestClient, desk: Desk, lesson: str, line: FakeLine
) -> None:
    page = send(coach, lesson, face_on=("C:\\me\\front.jpg", JPEG), down_the_line=("b.mp4", CLIP))
    setup_id = page.url.path.removeprefix("/setups/")  # type: ignore[attr-defined]
    assert line.nudges == 1
    with desk.book.reading() as pages:
        setup = pages.setup(setup_id)
        (job,) = pages.jobs_about(setup_id)
    assert {view: shown.name for view, shown in setup.shown.items()} == {
        View.FACE_ON: "front.jpg",
        View.DOWN_THE_LINE: "b.mp4",
    }
    assert setup.shown[View.DOWN_THE_LINE].kind == "video/mp4"
    assert coach.get(f"/setups/{setup_id}/progress").json()["state"] == "working"
    assert job.subject == setup_id


def test_a_picture_sent_before_its_form_is_taken_by_its_digest(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    sent = coach.put("/api/media", params={"name": "a.jpg"}, content=JPEG).json()
    token = token_of(coach.get(lesson).text)
    data = {"token": token, "club": "putter", "face_on_media": sent["media"], "face_on_name": "a"}
    page = coach.post(f"{lesson}/setups", data=data)
    with desk.book.reading() as pages:
        setup = pages.setup(page.url.path.removeprefix("/setups/"))
    assert setup.shown[View.FACE_ON].kind == "image/jpeg"
    assert setup.club == "putter"


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("picture.jpg", b"PK\x03\x04" + b"x" * 100, "zip archive"),
        ("page.jpg", b"<!DOCTYPE html>" + b"x" * 100, "web page"),
        ("empty.jpg", b"", "empty"),
    ],
)
def test_what_is_no_picture_is_refused_from_its_content(
    coach: TestClient, desk: Desk, name: str, data: bytes, words: str
) -> None:
    answer = coach.put("/api/media", params={"name": name}, content=data)
    assert answer.status_code == 422
    assert words in str(answer.json()["error"])
    assert list(desk.media.all()) == []


def test_an_upload_that_says_it_has_two_gigabytes_is_refused_at_once(coach: TestClient) -> None:
    answer = coach.put("/api/media", content=JPEG, headers={"content-length": "2000000000"})
    assert answer.status_code in {413, 422}


def test_nothing_chosen_is_told_in_words(coach: TestClient, lesson: str) -> None:
    page = send(coach, lesson)
    assert page.status_code == 422  # type: ignore[attr-defined]
    assert "nothing to assess" in page.text  # type: ignore[attr-defined]


def test_note_focus_and_homework_are_kept_and_the_older_tab_is_asked(
    coach: TestClient, lesson: str
) -> None:
    page = coach.get(lesson).text
    version = re.search(r'name="version" value="(\d+)"', page)
    assert version is not None
    data = {
        "token": token_of(page),
        "version": version.group(1),
        "focus": "Bend from the hips",
        "note": "Good will.\nShort breath.",
        "homework_words": ["Ten bends a day", ""],
        "homework_dose": ["daily", ""],
        "homework_drill": ["", ""],
        "homework_state": ["partly", "given"],
        "homework_due": ["2026-12-01", ""],
    }
    saved = coach.post(lesson, data=data)
    assert saved.status_code == 200
    assert "Short breath." in saved.text
    assert "Ten bends a day" in saved.text
    again = coach.post(lesson, data=data)
    assert again.status_code == 409
    assert "changed meanwhile" in again.text


def test_an_assessed_set_up_shows_its_findings_and_its_picture(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    page = send(coach, lesson, face_on=("a.jpg", JPEG), down_the_line=("b.jpg", JPEG + b"x"))
    path = page.url.path  # type: ignore[attr-defined]
    setup_id = path.removeprefix("/setups/")

    class Reader(FakeReader):
        """Shows the scene, whatever the files hold."""

    assess_kept(desk, setup_id, reader=Reader(sightings=scene_sightings(SCENE)))
    shown = coach.get(path).text
    assert "Checks, in order" in shown
    picture = re.search(rf'href="({path}/face_on.jpg[^"]*)"', shown)
    assert picture is not None
    assert coach.get(picture.group(1)).content.startswith(b"\xff\xd8\xff")
    original = coach.get(f"{path}/face_on/original")
    assert original.content == JPEG
    assert original.headers["content-disposition"].startswith("attachment")
    assert "Robin &lt;b&gt;Vale" in coach.get(lesson).text


def test_two_set_ups_are_compared_measure_by_measure(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    paths = []
    for i, scene in enumerate((SCENE, "putter_high_handle_closed_01")):
        page = send(
            coach, lesson, face_on=("a.jpg", JPEG + bytes([i])), down_the_line=("b.jpg", JPEG)
        )
        paths.append(page.url.path)  # type: ignore[attr-defined]
        assess_kept(
            desk,
            paths[-1].removeprefix("/setups/"),
            reader=FakeReader(sightings=scene_sightings(scene)),
        )
    page = coach.get(f"{paths[1]}/compare", params={"other": paths[0].removeprefix("/setups/")})
    assert page.status_code == 200
    assert "a real change" in page.text


def test_removing_a_set_up_removes_its_pictures_too(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    page = send(coach, lesson, face_on=("a.jpg", JPEG))
    path = page.url.path  # type: ignore[attr-defined]
    assert len(list(desk.media.all())) == 1
    gone = coach.post(f"{path}/remove", data={"token": token_of(coach.get(path).text)})
    assert gone.url.path == lesson
    assert list(desk.media.all()) == []
    assert coach.get(path).status_code == 404


def test_removing_a_lesson_takes_its_set_ups_along(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    setup = send(coach, lesson, face_on=("a.jpg", JPEG)).url.path  # type: ignore[attr-defined]
    coach.post(f"{lesson}/remove", data={"token": token_of(coach.get(lesson).text)})
    assert coach.get(lesson).status_code == 404
    assert coach.get(setup).status_code == 404
    assert list(desk.media.all()) == []


def test_a_minor_without_a_guardians_word_gets_no_pictures_taken(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    with desk.book.writing() as pages:
        pages.save_student(evolve(pages.student("robin"), minor=True))
    assert "no guardian has allowed pictures" in coach.get(lesson).text


def test_the_style_sheet_of_the_findings_is_served(coach: TestClient) -> None:
    css = coach.get("/findings.css")
    assert css.headers["content-type"].startswith("text/css")
    assert ".checks" in css.text


def test_todays_page_shows_todays_lesson(coach: TestClient, lesson: str) -> None:
    assert lesson in coach.get("/").text
