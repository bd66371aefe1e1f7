from __future__ import annotations

import re

import pytest
from fastapi.testclient import TestClient

from tests.integration.web.conftest import token_of
from wellset.services.asked import student_of
from wellset.services.lesson_work import Desk

ROBIN = {
    "version": "0",
    "name": "Robin Vale",
    "height": "5 ft 10 in",
    "hand": "left",
    "sex": "man",
    "shoe": "EU 43",
    "units": "in",
    "injuries": "Stiff lower back.",
    "tape_arm_length": "58 cm",
}


def add(coach: TestClient, **changes: str) -> object:
    token = token_of(coach.get("/students/new").text)
    return coach.post("/students/new", data={"token": token, **ROBIN, **changes})


def added(coach: TestClient) -> str:
    """Path of a student who was added."""
    return str(add(coach).url.path)  # type: ignore[attr-defined]


def test_a_student_is_kept_as_typed_and_read_as_a_build(coach: TestClient, desk: Desk) -> None:
    path = added(coach)
    page = coach.get(path).text
    for words in ("Robin Vale", "5 ft 10 in", "left-handed", "Stiff lower back.", "EU 43"):
        assert words in page
    with desk.book.reading() as pages:
        student = student_of(pages.student(path.removeprefix("/students/")))
    assert student.build.stature == pytest.approx(1.778)
    assert student.build.arm_length == pytest.approx(0.58)
    assert student.build.foot_length == pytest.approx(0.272, abs=0.001)


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"height": "178"}, "no unit"),
        ({"name": " "}, "name"),
        ({"tape_arm_length": "3 m"}, "arm"),
        ({"shoe": "43"}, "shoe size"),
        ({"allowed_on": "yesterday", "guardian": "Bea"}, "day"),
    ],
)
def test_a_wrong_value_is_told_and_nothing_typed_is_lost(
    coach: TestClient, changes: dict[str, str], words: str
) -> None:
    page = add(coach, **changes)
    assert page.status_code == 422  # type: ignore[attr-defined]
    text = page.text  # type: ignore[attr-defined]
    alert = re.search(r'role="alert">(.*?)</p>', text, re.DOTALL)
    assert alert is not None
    assert words in alert.group(1)
    assert "Stiff lower back." in text


def test_an_edit_in_an_older_tab_is_asked_about(coach: TestClient) -> None:
    path = added(coach)
    token = token_of(coach.get(f"{path}/edit").text)
    data = {**ROBIN, "token": token, "version": "1"}
    assert coach.post(f"{path}/edit", data={**data, "note": "first"}).status_code == 200
    later = coach.post(f"{path}/edit", data={**data, "note": "second"})
    assert later.status_code == 409
    assert "changed meanwhile" in later.text
    assert "second" in later.text


def test_a_name_of_any_kind_is_shown_as_it_is(coach: TestClient) -> None:
    for name in ('O\'Hara "Ace" <i>', "שרה לוי", "Zoë 高尔夫", "'; DROP TABLE student; --"):
        path = add(coach, name=name).url.path  # type: ignore[attr-defined]
        shown = coach.get(path).text
        assert "<i>" not in shown
        assert coach.get("/students", params={"text": name[:6]}).status_code == 200


def test_a_standard_bag_is_one_click_away_and_keeps_what_was_measured(
    coach: TestClient, desk: Desk
) -> None:
    path = added(coach)
    page = coach.get(f"{path}/bag?fill=standard").text
    names = re.findall(r'name="club_name" value="([^"]+)"', page)
    assert len(names) == 14
    data: dict[str, object] = {
        "token": token_of(page),
        "version": "0",
        "club_name": names,
        "club_length": ["45 in", *[""] * 13],
        "club_lie": ["58", *[""] * 13],
        "club_head": [""] * 14,
        "club_note": [""] * 14,
    }
    coach.post(f"{path}/bag", data=data)
    with desk.book.reading() as pages:
        bag = pages.bag(path.removeprefix("/students/"))
    assert len(bag.clubs) == 14
    assert bag.clubs[0].length_m == pytest.approx(1.143)
    assert "45 in" in coach.get(f"{path}/bag").text


@pytest.mark.parametrize(
    ("name", "length", "words"), [("spoon", "", "spoon"), ("driver", "60 in", "48")]
)
def test_a_club_that_cannot_be_is_told_and_the_rest_stays_typed(
    coach: TestClient, name: str, length: str, words: str
) -> None:
    path = added(coach)
    data: dict[str, object] = {
        "token": token_of(coach.get(f"{path}/bag").text),
        "version": "0",
        "club_name": ["putter", name],
        "club_length": ["34 in", length],
        "club_lie": ["", ""],
        "club_head": ["", ""],
        "club_note": ["blade", ""],
    }
    page = coach.post(f"{path}/bag", data=data)
    assert page.status_code == 422
    assert words in page.text
    assert "blade" in page.text


def test_a_student_is_removed_only_when_the_name_is_typed(coach: TestClient) -> None:
    path = added(coach)
    token = token_of(coach.get(path).text)
    assert coach.post(f"{path}/remove", data={"token": token, "name": "Robin"}).status_code == 422
    assert coach.get(path).status_code == 200
    coach.post(f"{path}/remove", data={"token": token, "name": "Robin Vale"})
    assert coach.get(path).status_code == 404


def test_every_tape_measure_has_its_drawing(coach: TestClient) -> None:
    page = coach.get("/students/new").text
    drawings = re.findall(r'src="(/static/tapes/[^"]+)"', page)
    assert len(drawings) == 17
    assert all(coach.get(path).status_code == 200 for path in drawings)
