"""Bad input and bad luck at the doors: a clear sentence, nothing lost, no way in."""

from __future__ import annotations

import errno
import os
import re
import sqlite3
from collections.abc import Iterator

import pytest
from attrs import evolve
from fastapi import FastAPI
from fastapi.routing import iter_route_contexts
from fastapi.testclient import TestClient

from tests.fakes.reader import FakeReader
from tests.integration.web.conftest import token_of
from tests.integration.web.test_lessons import CLIP, JPEG, SCENE, lesson, send
from tests.support.sightings import scene_sightings
from wellset.lessons import BagClub, Guardian, Homework
from wellset.services.lesson_work import Desk, assess_kept
from wellset.services.student_book import keep_bag
from wellset.storage import SqlBook
from wellset.web import Options, create_app

__all__ = ["lesson"]

EVIL = "<script>alert(1)</script>\"'><img src=x onerror=alert(2)>"


@pytest.fixture
def evil(coach: TestClient, desk: Desk, lesson: str) -> dict[str, str]:
    """Ids of things whose every text is markup."""
    page = send(
        coach,
        lesson,
        face_on=(f"{EVIL}.jpg", JPEG),
        down_the_line=(f"../..\\{EVIL}.jpg", JPEG + b"x"),
    )
    setup_id = str(page.url.path.removeprefix("/setups/"))  # type: ignore[attr-defined]
    lesson_id = lesson.removeprefix("/lessons/")
    with desk.book.writing() as pages:
        pages.save_student(
            evolve(
                pages.student("robin"),
                name=EVIL,
                note=EVIL,
                injuries=EVIL,
                minor=True,
                guardian=Guardian(name=EVIL, contact=EVIL, pictures_allowed_on="2026-11-01"),
            )
        )
        task = Homework(words=EVIL, dose=EVIL)
        kept = pages.lesson(lesson_id)
        pages.save_lesson(evolve(kept, focus=EVIL, note=EVIL, homework=(task,), looked_at=False))
    keep_bag(desk, "robin", version=0, clubs=(BagClub(name="7-iron", note=EVIL),))
    assess_kept(desk, setup_id, reader=FakeReader(sightings=scene_sightings(SCENE)))
    return {
        "student_id": "robin",
        "lesson_id": lesson_id,
        "setup_id": setup_id,
        "view": "face_on",
        "media": "0" * 64,
    }


def test_what_anybody_typed_is_never_taken_for_markup_on_any_page(
    app: FastAPI, coach: TestClient, evil: dict[str, str]
) -> None:
    seen = 0
    for route in iter_route_contexts(app.routes):
        if route.path is None or "GET" not in (route.methods or ()):
            continue
        path = re.sub(r"\{(\w+)\}", lambda m: evil.get(m[1], "x"), route.path)
        answer = coach.get(path, params={"text": EVIL, "other": evil["setup_id"], "goal": EVIL})
        if not answer.headers.get("content-type", "").startswith("text/html"):
            continue
        seen += 1
        assert "<script>alert" not in answer.text, path
        assert "<img src=x" not in answer.text, path
        assert not re.search(r'="[^"]*"\'>', answer.text), path
    assert seen > 15


def test_what_anybody_typed_is_no_markup_on_the_students_own_page(
    coach: TestClient, evil: dict[str, str]
) -> None:
    page = f"/lessons/{evil['lesson_id']}/share"
    made = coach.post(page, data={"token": token_of(coach.get(page).text), "days": "1"})
    link = re.search(r"(/s/[\w-]{43})", made.text)
    assert link is not None
    shown = coach.get(link[1]).text
    assert "<script>alert" not in shown
    assert "&lt;script&gt;alert(1)" in shown


def test_a_picture_is_sent_back_under_a_name_that_breaks_nothing(
    coach: TestClient, evil: dict[str, str]
) -> None:
    answer = coach.get(f"/setups/{evil['setup_id']}/face_on/original")
    disposition = answer.headers["content-disposition"]
    assert disposition.startswith("attachment; filename*=utf-8''")
    assert not set(disposition.removeprefix("attachment; ")) & set('<>"\r\n ;')
    assert answer.headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize(
    "path",
    [
        "/static/../app.py",
        "/static/%2e%2e/app.py",
        "/static/..%2f..%2fapp.py",
        "/static/....//app.py",
        "/static//etc/passwd",
        "/setups/..%2f..%2fbook.db/face_on.jpg",
        "/setups/x/..%2f..%2foriginal",
        "/setups/x/face_on%00/original",
        "/s/..%2f..%2fbook.db",
        "/s/x/media/..%2f..%2fbook/face_on",
        "/students/..%2f..%2fbook.db/export",
        "/api/setups/..%2f..%2fbook.db/landmarks",
    ],
)
def test_a_path_that_climbs_leads_nowhere(coach: TestClient, path: str) -> None:
    answer = coach.get(path)
    assert answer.status_code in {404, 422}
    for inside in (b"SQLite format", b"root:", b"create_app"):
        assert inside not in answer.content


def test_a_digest_that_is_a_path_is_no_picture(coach: TestClient, lesson: str) -> None:
    data = {"token": token_of(coach.get(lesson).text), "club": "7-iron", "face_on_name": "a.jpg"}
    page = coach.post(f"{lesson}/setups", data={**data, "face_on_media": "../../book.db"})
    assert page.status_code == 404
    assert "not in the lesson book" in page.text


def test_too_many_bytes_said_or_sent_are_refused_and_leave_nothing(
    desk: Desk, line: object, coach: TestClient
) -> None:
    small = create_app(desk, line=line, options=Options(most_upload=100_000))  # type: ignore[arg-type]
    client = TestClient(small, cookies=dict(coach.cookies), headers={"x-wellset-client": "test"})
    said = client.put("/api/media", content=JPEG, headers={"content-length": "2000000000"})
    assert said.status_code == 413

    def clip() -> Iterator[bytes]:
        yield CLIP
        for _ in range(5):
            yield b"x" * 1_000_000

    answer = client.put("/api/media", content=clip())
    assert answer.status_code in {413, 422}
    assert "large" in str(answer.json()["error"])
    assert list(desk.media.all()) == []


def test_a_full_disk_is_told_and_the_form_keeps_what_was_typed(
    coach: TestClient, desk: Desk
) -> None:
    page = coach.get("/students/new").text
    assert isinstance(desk.book, SqlBook)
    with desk.book._engine.connect() as connection:
        raw = connection.connection.driver_connection
        assert isinstance(raw, sqlite3.Connection)
        (pages,) = raw.execute("PRAGMA page_count").fetchone()
        raw.execute(f"PRAGMA max_page_count = {pages}")
    sent = {
        "token": token_of(page),
        "version": "0",
        "name": "Robin Vale",
        "height": "175 cm",
        "units": "cm",
    }
    answer = coach.post("/students/new", data={**sent, "note": "long words " * 1500})
    assert answer.status_code == 507
    assert "the disk is full" in answer.text
    assert "Robin Vale" in answer.text
    assert coach.get("/students").status_code == 200


def test_a_disk_that_fills_up_under_an_upload_is_told(
    coach: TestClient, desk: Desk, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("wellset.storage.media.os.fsync", full)
    answer = coach.put("/api/media", content=JPEG)
    assert answer.status_code == 507
    assert "the disk is full" in answer.json()["error"]["why"]
    assert list(desk.media.all()) == []


def test_a_choice_that_no_page_offers_is_told_in_words(coach: TestClient) -> None:
    token = token_of(coach.get("/students/new").text)
    sent = {"token": token, "version": "0", "name": "Robin", "height": "175 cm", "units": "feet"}
    answer = coach.post("/students/new", data=sent)
    assert answer.status_code == 422
    assert "Choose cm or inches" in answer.text
