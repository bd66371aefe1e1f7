"""Clips through the form of a lesson, measured by the reader that the worker uses."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from fastapi.testclient import TestClient

from tests.integration.web.test_how_taken import id_of, kept, say, taken
from tests.integration.web.test_lessons import lesson
from tests.support.films import frames_of, write_clip
from wellset.lessons import SetUpState
from wellset.services.lesson_work import Desk, assess_kept
from wellset.services.moving import Bench
from wellset.vision.reader import Reader

__all__ = ["lesson"]
CLIPS = Path(__file__).parents[2] / "data" / "clips"
FPS = 15


@pytest.fixture(scope="module")
def reader() -> Reader:
    return Reader(crops=1, threads=1)


def test_a_clip_shows_the_frame_that_was_measured_and_when_the_golfer_stood_still(
    coach: TestClient, desk: Desk, lesson: str, reader: Reader
) -> None:
    files = {"face_on": ("front.mp4", (CLIPS / "face_on.mp4").read_bytes())}
    setup = assess_kept(desk, id_of(taken(coach, lesson, files=files)), reader=reader)
    assert setup.state is SetUpState.ASSESSED, setup.refusal
    truth = json.loads((CLIPS / "truth.json").read_text())["face_on"]["still_window_frames"]
    still = json.loads(setup.assessment)["pictures"]["face_on"]["still"]
    assert still["window"]["start_s"] == pytest.approx(truth[0] / FPS, abs=3 / FPS)
    path = f"/setups/{setup.id}"
    page = coach.get(path).text
    words = f"still from {still['window']['start_s']:.2f} to {still['window']['end_s']:.2f}"
    assert words in page
    assert coach.get(f"{path}/face_on.jpg").content.startswith(b"\xff\xd8\xff")
    original = coach.get(f"{path}/face_on/original")
    assert original.content == files["face_on"][1]
    assert original.headers["content-type"] == "video/mp4"
    # points that are moved lie in the same frame
    moved = Bench().keep(desk, setup.id, landmarks=setup.landmarks, version=setup.version)
    assert json.loads(moved.assessment)["pictures"]["face_on"]["still"] == still
    assert words in coach.get(path).text


def test_a_clip_without_a_still_moment_is_refused_in_a_sentence_and_may_be_sent_anew(
    coach: TestClient, desk: Desk, lesson: str, reader: Reader, tmp_path: Path
) -> None:
    frames = frames_of(CLIPS / "down_the_line.mp4")
    swing = write_clip(tmp_path / "swing.mp4", frames[56:], rate=FPS)
    files = {"down_the_line": ("swing.mp4", swing.read_bytes())}
    setup = assess_kept(desk, id_of(taken(coach, lesson, files=files)), reader=reader)
    assert setup.state is SetUpState.REFUSED
    page = coach.get(f"/setups/{setup.id}")
    assert page.status_code == 200
    assert "no still moment" in page.text
    assert "before the student takes the stance" in page.text
    assert "Take it again" in page.text


@pytest.mark.slow
def test_of_a_clip_with_two_swings_the_page_offers_both_and_measures_the_other(
    coach: TestClient, desk: Desk, lesson: str, reader: Reader, tmp_path: Path
) -> None:
    frames = frames_of(CLIPS / "down_the_line.mp4")
    twice = write_clip(tmp_path / "twice.mp4", [*frames, *frames], rate=FPS)
    files = {"down_the_line": ("twice.mp4", twice.read_bytes())}
    setup_id = id_of(taken(coach, lesson, files=files))
    assess_kept(desk, setup_id, reader=reader)
    page = coach.get(f"/setups/{setup_id}").text
    assert page.count("still from") >= 3  # the measured one in words, both to choose from
    assert "(measured)" in page
    say(coach, setup_id, down_the_line_swing="1")
    first = assess_kept(desk, setup_id, reader=reader)
    assert json.loads(first.assessment)["pictures"]["down_the_line"]["still"]["chosen"] == 1
    assert kept(desk, setup_id).how.choices
