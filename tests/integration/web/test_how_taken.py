"""What a coach says of a set-up besides club and shot: kept, and used at every later look."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from httpx2 import Response

from tests.fakes.line import FakeLine
from tests.fakes.reader import FakeReader
from tests.integration.web.conftest import token_of
from tests.integration.web.test_lessons import CLIP, JPEG, SCENE, lesson, send
from tests.support.pressure import plate_text
from tests.support.sightings import scene_sightings
from wellset.figure.ground import GroundKind
from wellset.figure.still import Choice
from wellset.figure.views import View
from wellset.lessons import HowTaken, SetUp, SetUpState
from wellset.services.lesson_work import Desk, assess_kept
from wellset.services.moving import Bench

__all__ = ["lesson"]
PICTURES = {"face_on": ("a.jpg", JPEG), "down_the_line": ("b.jpg", JPEG + b"x")}


def taken(
    coach: TestClient, lesson: str, *, files: dict[str, tuple[str, bytes]], **said: str
) -> Response:
    """The page after a set-up was sent with what is said of it."""
    data = {"token": token_of(coach.get(lesson).text), "club": "7-iron", "shot": "", **said}
    return coach.post(f"{lesson}/setups", data=data, files=files)


def id_of(page: Response) -> str:
    return str(page.url.path.removeprefix("/setups/"))


def kept(desk: Desk, setup_id: str) -> SetUp:
    with desk.book.reading() as pages:
        return pages.setup(setup_id)


def say(coach: TestClient, setup_id: str, **said: str) -> Response:
    """Send the form of the set-up's page."""
    token = token_of(coach.get(f"/setups/{setup_id}").text)
    return coach.post(f"/setups/{setup_id}/how", data={"token": token, **said})


def sd(setup: SetUp, measure: str) -> float:
    return float(json.loads(setup.assessment)["measures"][measure]["sd"])


def assess(desk: Desk, setup_id: str) -> tuple[SetUp, FakeReader]:
    reader = FakeReader(sightings=scene_sightings(SCENE))
    return assess_kept(desk, setup_id, reader=reader), reader


def test_everything_said_in_the_form_is_kept_with_the_set_up(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    page = taken(
        coach,
        lesson,
        files={**PICTURES, "down_the_line": ("b.mp4", CLIP)},
        phone_level="on",
        sheet_aimed="on",
        ignore_stick="on",
        ignore_sheet="on",
        club_length="37 in",
        club_lie="62.5",
        down_the_line_start="12.5",
        down_the_line_swing="2",
    )
    assert page.status_code == 200
    how = kept(desk, id_of(page)).how
    assert how.phone_level
    assert how.sheet_aimed
    assert how.ignore == {GroundKind.STICK, GroundKind.SHEET}
    assert how.choices == ((View.DOWN_THE_LINE, Choice(start_s=12.5, swing=2)),)
    assert how.club_length_m == pytest.approx(0.9398)
    assert how.lie == pytest.approx(1.0908, abs=1e-4)


def test_the_set_up_is_assessed_by_what_was_said(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    plain, _ = assess(desk, id_of(taken(coach, lesson, files=PICTURES)))
    said, _ = assess(
        desk, id_of(taken(coach, lesson, files=PICTURES, phone_level="on", club_length="39 in"))
    )
    assert sd(said, "forward_bend") < sd(plain, "forward_bend")
    assert json.loads(said.assessment)["club"]["length_m"] == pytest.approx(39 * 0.0254)
    assert "the phone stood level and upright" in coach.get(f"/setups/{said.id}").text


def test_moved_points_are_solved_by_it_too_warm_and_cold(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    setup, _ = assess(desk, id_of(taken(coach, lesson, files=PICTURES, phone_level="on")))
    again = Bench().keep(desk, setup.id, landmarks=setup.landmarks, version=setup.version)
    assert again.how == setup.how
    assert sd(again, "forward_bend") == pytest.approx(sd(setup, "forward_bend"), rel=0.02)


def test_what_is_said_afterwards_solves_the_same_points_anew(
    coach: TestClient, desk: Desk, lesson: str, line: FakeLine
) -> None:
    setup, reader = assess(desk, id_of(taken(coach, lesson, files=PICTURES)))
    nudges = line.nudges
    say(coach, setup.id, phone_level="on", club_length="95 cm")
    after = kept(desk, setup.id)
    assert after.state is SetUpState.ASSESSED
    assert json.loads(after.landmarks) == json.loads(setup.landmarks)
    assert sd(after, "forward_bend") < sd(setup, "forward_bend")
    assert json.loads(after.assessment)["club"]["length_m"] == pytest.approx(0.95)
    assert (len(reader.looked), line.nudges) == (1, nudges)


def test_a_solution_that_is_remembered_is_not_used_for_what_is_said_anew(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    setup, _ = assess(desk, id_of(taken(coach, lesson, files=PICTURES)))
    bench = Bench()
    before = bench.preview(desk, setup.id, landmarks=setup.landmarks).before
    say(coach, setup.id, club_length="95 cm")
    after = bench.preview(desk, setup.id, landmarks=setup.landmarks).before
    assert after.club.length_m == pytest.approx(0.95)
    assert before.club.length_m != after.club.length_m


def test_another_set_up_of_the_clip_is_looked_for_and_only_that(
    coach: TestClient, desk: Desk, lesson: str, line: FakeLine
) -> None:
    files = {**PICTURES, "face_on": ("a.mp4", CLIP)}
    setup, _ = assess(desk, id_of(taken(coach, lesson, files=files)))
    nudges = line.nudges
    say(coach, setup.id, face_on_swing="2")
    waiting = kept(desk, setup.id)
    assert waiting.state is SetUpState.WAITING
    assert line.nudges == nudges + 1
    _, reader = assess(desk, setup.id)
    (chosen,) = reader.chosen
    assert [(Path(path).suffix, choice) for path, choice in chosen.items()] == [
        (".mp4", Choice(swing=2))
    ]


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ({"face_on_swing": "2"}, "no face-on video was given"),
        ({"face_on_start": "soon"}, "not a time"),
        ({"face_on_swing": "0"}, "not a number"),
        ({"club_length": "37"}, "has no unit"),
        ({"club_length": "60 in"}, "60"),
        ({"club_lie": "steep"}, "steep"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence_and_nothing_is_taken(
    coach: TestClient, desk: Desk, lesson: str, said: dict[str, str], words: str
) -> None:
    page = taken(coach, lesson, files=PICTURES, **said)
    assert page.status_code == 422
    assert words in page.text
    with desk.book.reading() as pages:
        assert pages.setups_of(lesson.removeprefix("/lessons/")) == ()


def test_the_next_set_up_starts_from_what_stays(coach: TestClient, lesson: str) -> None:
    taken(coach, lesson, files=PICTURES, phone_level="on", club_length="37 in")
    page = coach.get(lesson).text
    assert 'name="phone_level" type="checkbox" checked' in page
    assert "37 in" not in page.replace("Such as 37 in", "")


def test_a_plain_set_up_says_nothing(coach: TestClient, desk: Desk, lesson: str) -> None:
    setup_id = id_of(send(coach, lesson, face_on=("a.jpg", JPEG)))  # type: ignore[arg-type]
    assert kept(desk, setup_id).how == HowTaken()


def test_a_plates_file_is_kept_weighed_and_weighed_again_when_points_move(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    plain, _ = assess(desk, id_of(taken(coach, lesson, files=PICTURES)))
    files = {**PICTURES, "plate": ("..\\feet.csv", plate_text(SCENE).encode("utf-8-sig"))}
    setup, _ = assess(desk, id_of(taken(coach, lesson, files=files)))
    assert setup.how.plate is not None
    assert setup.how.plate.name == "feet.csv"
    assert json.loads(setup.assessment)["plate"]["used"]
    assert sd(setup, "heel_toe_balance") < 0.6 * sd(plain, "heel_toe_balance")
    page = coach.get(f"/setups/{setup.id}").text
    assert "The pressure plate" in page
    assert "feet.csv" in page
    again = Bench().keep(desk, setup.id, landmarks=setup.landmarks, version=setup.version)
    assert json.loads(again.assessment)["plate"]["used"]
    assert sd(again, "heel_toe_balance") == pytest.approx(sd(setup, "heel_toe_balance"), rel=0.02)
    say(coach, setup.id)  # sent without a file: the plate stays
    assert kept(desk, setup.id).how.plate == setup.how.plate
    say(coach, setup.id, no_plate="on")
    without = kept(desk, setup.id)
    assert without.how.plate is None
    assert json.loads(without.assessment)["plate"] is None
    assert setup.how.plate.media not in set(desk.media.all())


def test_a_plates_file_goes_with_its_set_up(coach: TestClient, desk: Desk, lesson: str) -> None:
    files = {**PICTURES, "plate": ("feet.csv", plate_text(SCENE).encode())}
    setup_id = id_of(taken(coach, lesson, files=files))
    assert len(list(desk.media.all())) == 3
    token = token_of(coach.get(f"/setups/{setup_id}").text)
    coach.post(f"/setups/{setup_id}/remove", data={"token": token})
    assert list(desk.media.all()) == []


@pytest.mark.parametrize("data", [b"time,x\n0,1\n", b"\xff\xd8\xff\xe0", b""])
def test_a_plates_file_that_cannot_be_read_is_refused_before_it_is_kept(
    coach: TestClient, desk: Desk, lesson: str, data: bytes
) -> None:
    page = taken(coach, lesson, files={**PICTURES, "plate": ("feet.csv", data)})
    assert page.status_code == 422
    assert "pressure plate file cannot be used" in page.text
    with desk.book.reading() as pages:
        assert pages.setups_of(lesson.removeprefix("/lessons/")) == ()


def test_a_plates_file_that_another_set_up_has_stays(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    files = {**PICTURES, "plate": ("feet.csv", plate_text(SCENE).encode())}
    first, second = (id_of(taken(coach, lesson, files=files)) for _ in range(2))
    say(coach, first, no_plate="on")
    assert kept(desk, first).how.plate is None
    plate = kept(desk, second).how.plate
    assert plate is not None
    assert plate.media in set(desk.media.all())
