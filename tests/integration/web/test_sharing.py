"""Links to a lesson: what they show, whom, and for how long."""

from __future__ import annotations

import re

import pytest
from attrs import evolve
from fastapi import FastAPI
from fastapi.testclient import TestClient

from tests.fakes.reader import FakeReader
from tests.integration.web.conftest import token_of
from tests.integration.web.test_lessons import JPEG, SCENE, WHEN, lesson, send
from tests.support.sightings import scene_sightings
from wellset.lessons import Homework, Lesson
from wellset.services.lesson_work import Desk, assess_kept
from wellset.services.sharing import digest_of

__all__ = ["lesson"]


@pytest.fixture
def phone(app: FastAPI) -> TestClient:
    """A device that never signed in."""
    return TestClient(app, client=("192.168.1.20", 5000))


@pytest.fixture
def assessed(coach: TestClient, desk: Desk, lesson: str) -> str:
    """Id of an assessed set-up; the lesson has a note and homework."""
    page = send(coach, lesson, face_on=("a.jpg", JPEG), down_the_line=("b.jpg", JPEG + b"x"))
    setup_id = str(page.url.path.removeprefix("/setups/"))  # type: ignore[attr-defined]
    assess_kept(desk, setup_id, reader=FakeReader(sightings=scene_sightings(SCENE)))
    with desk.book.writing() as pages:
        kept = pages.lesson(lesson.removeprefix("/lessons/"))
        task = Homework(words="Ten <i>bends</i> a day", dose="daily", due="2026-12-01")
        pages.save_lesson(evolve(kept, note="Between coaches only", homework=(task,)))
    return setup_id


def made(coach: TestClient, lesson: str, *, days: int = 30) -> str:
    """Path of a new link."""
    token = token_of(coach.get(f"{lesson}/share").text)
    page = coach.post(f"{lesson}/share", data={"token": token, "days": str(days)})
    found = re.search(r'value="http://testserver(/s/[\w-]{43})"', page.text)
    assert found is not None, page.text
    return found.group(1)


def test_a_link_shows_the_lesson_in_the_students_words_without_signing_in(
    coach: TestClient, phone: TestClient, lesson: str, assessed: str
) -> None:
    link = made(coach, lesson)
    page = phone.get(link)
    assert page.status_code == 200
    assert "Turn the toes of your lead foot out a little more" in page.text
    assert "Practise: " in page.text
    assert "Ten &lt;i&gt;bends&lt;/i&gt; a day" in page.text
    assert "Robin &lt;b&gt;Vale" in page.text
    assert "Between coaches only" not in page.text
    assert "/setups/" not in page.text
    assert page.headers["referrer-policy"] == "no-referrer"
    pictures = re.findall(rf'href="({link}/media/{assessed}/[^"]+)"', page.text)
    assert len(pictures) == 2
    for address in pictures:
        answer = phone.get(address)
        assert answer.headers["content-type"] == "image/jpeg"
        assert answer.content.startswith(b"\xff\xd8\xff")


def test_the_book_keeps_the_digest_of_a_secret_only(
    coach: TestClient, desk: Desk, lesson: str
) -> None:
    secret = made(coach, lesson).removeprefix("/s/")
    with desk.book.reading() as pages:
        (share,) = pages.shares_of(lesson.removeprefix("/lessons/"))
    assert share.secret_digest == digest_of(secret)
    assert secret not in repr(share)
    assert secret not in coach.get(f"{lesson}/share").text


def test_a_link_that_was_taken_back_shows_nothing(
    coach: TestClient, phone: TestClient, lesson: str, assessed: str
) -> None:
    link, other = made(coach, lesson), made(coach, lesson)
    page = coach.get(f"{lesson}/share").text
    goals = re.findall(rf'action="({lesson}/share/\w+/revoke)"', page)
    assert len(goals) == 2
    coach.post(goals[1], data={"token": token_of(page)})  # the older one stands last
    assert phone.get(link).status_code == 404
    assert phone.get(f"{link}/media/{assessed}/face_on").status_code == 404
    assert phone.get(other).status_code == 200


def test_expired_revoked_and_guessed_links_are_answered_alike(
    coach: TestClient, phone: TestClient, desk: Desk, lesson: str
) -> None:
    expired, revoked = made(coach, lesson), made(coach, lesson)
    with desk.book.writing() as pages:
        for share in pages.shares_of(lesson.removeprefix("/lessons/")):
            if share.secret_digest == digest_of(expired.removeprefix("/s/")):
                pages.save_share(evolve(share, expires_at="2026-01-01T00:00:00Z"))
            else:
                pages.save_share(evolve(share, revoked_at=WHEN))
    answers = [phone.get(path) for path in (expired, revoked, "/s/" + "A" * 43)]
    assert {answer.status_code for answer in answers} == {404}
    assert len({answer.text for answer in answers}) == 1
    assert "Ask your coach for a new one" in answers[0].text


def test_guessing_links_gets_slower_and_a_right_one_does_not_pay_for_it(
    coach: TestClient, phone: TestClient, app: FastAPI, lesson: str
) -> None:
    link = made(coach, lesson)
    for i in range(4):
        assert phone.get(f"/s/guess-{i}").status_code == 404
        assert phone.get(link).status_code == 200
    phone.get("/s/guess-5")
    assert "too many wrong links" in phone.get(link).text
    other = TestClient(app, client=("192.168.1.21", 5000))
    assert other.get(link).status_code == 200


def test_a_link_leads_to_no_other_lessons_pictures(
    coach: TestClient, phone: TestClient, desk: Desk, lesson: str, assessed: str
) -> None:
    with desk.book.writing() as pages:
        pages.save_lesson(
            Lesson(id="other", student="robin", starts_at=WHEN, created_at=WHEN, changed_at=WHEN)
        )
    link = made(coach, "/lessons/other")
    assert lesson != "/lessons/other"
    assert "aren’t here yet" in phone.get(link).text
    assert phone.get(f"{link}/media/{assessed}/face_on").status_code == 404


def test_a_link_goes_with_its_lesson(coach: TestClient, phone: TestClient, lesson: str) -> None:
    link = made(coach, lesson)
    coach.post(f"{lesson}/remove", data={"token": token_of(coach.get(lesson).text)})
    assert phone.get(link).status_code == 404


@pytest.mark.parametrize("days", ["0", "366", "-1", "ten"])
def test_a_span_that_is_none_is_refused_in_words(coach: TestClient, lesson: str, days: str) -> None:
    token = token_of(coach.get(f"{lesson}/share").text)
    page = coach.post(f"{lesson}/share", data={"token": token, "days": days})
    assert page.status_code == 422
    assert "cannot be" in page.text


def test_a_book_for_this_machine_only_says_that_phones_cannot_follow_links(
    coach: TestClient, lesson: str
) -> None:
    assert "wellset serve --lan" in coach.get(f"{lesson}/share").text
