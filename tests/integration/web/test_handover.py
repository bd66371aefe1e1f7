"""Everything of one student in one archive."""

from __future__ import annotations

import csv
import io
import json
import re
import zipfile

import pytest
from attrs import evolve
from fastapi.testclient import TestClient

from tests.fakes.reader import FakeReader
from tests.integration.web.conftest import token_of
from tests.integration.web.test_lessons import JPEG, SCENE, WHEN, lesson, send
from tests.support.pressure import plate_text
from tests.support.sightings import scene_sightings
from wellset.lessons import StudentCard
from wellset.measures import MEASURES
from wellset.reports.handover import folder_name
from wellset.services.lesson_work import Desk, assess_kept

__all__ = ["lesson"]


@pytest.fixture
def assessed(coach: TestClient, desk: Desk, lesson: str) -> str:
    """Id of an assessed set-up whose pictures have names made to lead elsewhere."""
    files = {"face_on": ("../../evil.jpg", JPEG), "down_the_line": ("=cmd.jpg", JPEG + b"x")}
    page = send(coach, lesson, **files)
    setup_id = str(page.url.path.removeprefix("/setups/"))  # type: ignore[attr-defined]
    assess_kept(desk, setup_id, reader=FakeReader(sightings=scene_sightings(SCENE)))
    return setup_id


def archive(coach: TestClient) -> zipfile.ZipFile:
    answer = coach.get("/students/robin/export")
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "application/zip"
    return zipfile.ZipFile(io.BytesIO(answer.content))


def test_the_archive_holds_pictures_points_findings_and_numbers(
    coach: TestClient, desk: Desk, assessed: str
) -> None:
    found = archive(coach)
    assert found.testzip() is None
    names = {re.sub(r"^.*/set-up-01/", "set-up-01/", name) for name in found.namelist()}
    root = "wellset-robin-b-vale-b"
    assert names == {
        *(f"{root}/{n}.json" for n in ("student", "bag", "lessons")),
        f"{root}/measures.csv",
        f"{root}/index.html",
        *(f"set-up-01/{n}.json" for n in ("landmarks", "assessment")),
        "set-up-01/findings.html",
        *(f"set-up-01/{n}.jpg" for n in ("face-on", "face-on-upright")),
        *(f"set-up-01/{n}.jpg" for n in ("down-the-line", "down-the-line-upright")),
    }
    place = next(n for n in found.namelist() if n.endswith("/face-on.jpg"))
    assert found.read(place) == JPEG
    with desk.book.reading() as pages:
        setup = pages.setup(assessed)
    landmarks = next(n for n in found.namelist() if n.endswith("landmarks.json"))
    assert found.read(landmarks).decode() == setup.landmarks


def test_the_pages_of_the_archive_need_nothing_but_its_own_files(
    coach: TestClient, assessed: str
) -> None:
    found = archive(coach)
    assert assessed
    for name in (n for n in found.namelist() if n.endswith(".html")):
        page = found.read(name).decode()
        folder = name.rsplit("/", maxsplit=1)[0]
        assert "<script" not in page
        for goal in re.findall(r'(?:href|src)="([^"#][^"]*)"', page):
            parts: list[str] = []
            for part in f"{folder}/{goal}".split("/"):
                parts = parts[:-1] if part == ".." else [*parts, part]
            assert "/".join(parts) in found.namelist(), goal
        assert "Robin &lt;b&gt;Vale" in page


def test_the_table_of_measures_is_the_one_that_the_students_page_gives(
    coach: TestClient, assessed: str
) -> None:
    found = archive(coach)
    text = found.read(next(n for n in found.namelist() if n.endswith(".csv")))
    assert text == coach.get("/students/robin/measures").content
    rows = list(csv.DictReader(io.StringIO(text.decode())))
    assert {row["measure"] for row in rows} == set(MEASURES)
    assert {row["set_up"] for row in rows} == {assessed}
    assert not any(str(cell).startswith(("=", "@")) for row in rows for cell in row.values())


def test_a_plates_readings_the_comparison_and_how_it_was_taken_go_along(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    readings = plate_text(SCENE).encode()
    data = {
        "token": token_of(coach.get(lesson).text),
        "club": "7-iron",
        "shot": "",
        "phone_level": "on",
        "club_length": "37 in",
    }
    files = {"face_on": ("a.jpg", JPEG), "plate": ("feet.csv", readings)}
    page = coach.post(f"{lesson}/setups", data=data, files=files)
    setup_id = page.url.path.removeprefix("/setups/")
    assess_kept(desk, setup_id, reader=FakeReader(sightings=scene_sightings(SCENE)))
    coach.get(f"/setups/{setup_id}/check")
    found = archive(coach)

    def content(end: str) -> bytes:
        return found.read(next(name for name in found.namelist() if name.endswith(end)))

    assert content("/plate.csv") == readings
    assert json.loads(content("/check.json"))["schema"].startswith("wellset.check/")
    (told,) = json.loads(content("/lessons.json"))[0]["set_ups"]
    assert told["how_taken"] == {"phone_level": True, "club_length_m": pytest.approx(0.9398)}


def test_a_picture_that_is_gone_is_named_and_the_rest_is_there(
    coach: TestClient, desk: Desk, assessed: str
) -> None:
    with desk.book.reading() as pages:
        shown = pages.setup(assessed).shown
    desk.media.remove(next(iter(shown.values())).media)
    found = archive(coach)
    index = found.read(next(n for n in found.namelist() if n.endswith("index.html"))).decode()
    assert "Gone from the lesson book’s folder: face-on" in index
    assert any(name.endswith("down-the-line.jpg") for name in found.namelist())


def test_nobody_elses_lessons_are_in_the_archive(
    coach: TestClient, desk: Desk, assessed: str
) -> None:
    with desk.book.writing() as pages:
        card = pages.student("robin")
        other = evolve(card, id="sam", version=0, name="Sam Reed", note="Secret of Sam")
        pages.save_student(other)
    coach.post("/lessons", data={"token": token_of(coach.get("/settings").text), "student": "sam"})
    found = archive(coach)
    assert assessed in found.read("wellset-robin-b-vale-b/lessons.json").decode()
    everything = b"".join(found.read(name) for name in found.namelist())
    assert b"Sam" not in everything


def test_an_empty_book_of_a_student_is_an_archive_too(coach: TestClient, lesson: str) -> None:
    assert lesson
    found = archive(coach)
    card = json.loads(found.read("wellset-robin-b-vale-b/student.json"))
    assert card["file"]["height"] == "175 cm"


@pytest.mark.parametrize(
    ("name", "folder"),
    [
        ("../../etc/passwd", "wellset-etc-passwd"),
        ("Zoë Ångström", "wellset-zoe-angstrom"),
        ("李小龙", "wellset-student"),
        ('CON"; x', "wellset-con-x"),
    ],
)
def test_a_name_becomes_a_file_name_that_leads_nowhere(name: str, folder: str) -> None:
    card = StudentCard(id="a", name=name, file="{}", created_at=WHEN, changed_at=WHEN)
    assert folder_name(card) == folder


def test_a_student_who_is_not_there_is_told_in_words(coach: TestClient) -> None:
    answer = coach.get("/students/nobody/export")
    assert answer.status_code == 404
    assert "not in the lesson book" in answer.text
