from __future__ import annotations

import re
from html import unescape

import pytest
from fastapi.testclient import TestClient

from tests.fakes.reader import FakeReader
from tests.integration.web.conftest import token_of
from tests.integration.web.test_lessons import JPEG, SCENE, lesson, send
from tests.support.sightings import scene_sightings
from wellset.services.lesson_work import Desk, assess_kept
from wellset.standards import default_standards

__all__ = ["lesson"]


def fields(page: str) -> dict[str, str]:
    """Everything the form of the windows holds."""
    form = page[page.index('action="/standards/try"') :]
    found = re.findall(
        r'name="((?:low|high|target|weight)_\w+|name|shot|token)" (?:type="text" )?value="([^"]*)"',
        form,
    )
    return {name: unescape(value) for name, value in found}


def measures(page: str) -> list[str]:
    return re.findall(r'name="measure" value="(\w+)"', page)


@pytest.fixture
def assessed(coach: TestClient, desk: Desk, lesson: str) -> str:
    page = send(coach, lesson, face_on=("a.jpg", JPEG), down_the_line=("b.jpg", JPEG + b"x"))
    setup_id = page.url.path.removeprefix("/setups/")  # type: ignore[attr-defined]
    assess_kept(desk, setup_id, reader=FakeReader(sightings=scene_sightings(SCENE)))
    return str(setup_id)


def test_nothing_changes_when_nothing_was_edited(coach: TestClient, assessed: str) -> None:
    page = coach.get("/standards").text
    assert assessed
    tried = coach.post("/standards/try", data={**fields(page), "measure": measures(page)})
    assert tried.status_code == 200, tried.text
    assert "0 of" in tried.text


def test_a_change_is_tried_on_past_lessons_then_kept_and_remembered(
    coach: TestClient, desk: Desk, assessed: str
) -> None:
    page = coach.get("/standards").text
    data: dict[str, object] = {**fields(page), "measure": measures(page)}
    data.update(low_forward_bend="1", high_forward_bend="3", target_forward_bend="2", name="Mine")
    tried = coach.post("/standards/try", data=data)
    assert re.search(r"<b>[1-9]\d* of \d+ findings would change", tried.text)
    assert "Forward bend" in tried.text
    text = unescape(re.search(r"<textarea[^>]*>(.*?)</textarea>", tried.text, re.DOTALL)[1])  # type: ignore[index]
    kept = coach.post(
        "/standards/keep", data={"token": token_of(tried.text), "shot": "mid iron", "text": text}
    )
    assert "in force" in kept.text
    assert "Mine" in kept.text
    with desk.book.reading() as pages:
        before = pages.setup(assessed)
        digest = pages.current_standards()
    assert before.standards == default_standards().digest
    assess_kept(desk, assessed, reader=FakeReader(sightings=scene_sightings(SCENE)))
    with desk.book.reading() as pages:
        assert digest is not None
        assert pages.setup(assessed).standards == digest.digest != before.standards

    default = default_standards().digest
    coach.post("/standards/use", data={"token": token_of(kept.text), "digest": default})
    with desk.book.reading() as pages:
        now = pages.current_standards()
    assert now is not None
    assert now.digest == default


@pytest.mark.parametrize(
    ("low", "high", "words"), [("many", "9", "no number"), ("9", "1", ""), ("", "", "")]
)
def test_a_window_that_cannot_be_is_told_and_stays_typed(
    coach: TestClient, low: str, high: str, words: str
) -> None:
    page = coach.get("/standards").text
    data: dict[str, object] = {**fields(page), "measure": measures(page)}
    data.update(low_forward_bend=low, high_forward_bend=high, target_forward_bend="")
    tried = coach.post("/standards/try", data=data)
    assert tried.status_code == 422
    assert words in tried.text
    assert f'name="low_forward_bend" value="{low}"' in tried.text


def test_an_unknown_version_is_not_used(coach: TestClient) -> None:
    token = token_of(coach.get("/settings").text)
    assert coach.post("/standards/use", data={"token": token, "digest": "x"}).status_code == 404
