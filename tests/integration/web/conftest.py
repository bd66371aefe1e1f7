from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient

from tests.fakes.line import FakeLine
from wellset.bootstrap.book import moment_now
from wellset.reports.kept import ReportWriter
from wellset.services.lesson_work import Desk
from wellset.storage import FolderMedia, SqlBook, sqlite_url, upgrade
from wellset.web import Options, create_app

PASSWORD = "three small words"  # noqa: S105 - of the tests' own book


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    url = sqlite_url(tmp_path / "book.db")
    upgrade(url)
    book = SqlBook(url)
    yield Desk(
        book=book,
        media=FolderMedia(tmp_path / "media"),
        now=moment_now,
        writer=ReportWriter(),
    )
    book.close()


@pytest.fixture
def line() -> FakeLine:
    return FakeLine()


@pytest.fixture
def app(desk: Desk, line: FakeLine) -> FastAPI:
    return create_app(desk, line=line, options=Options(place="the tests' folder"))


@pytest.fixture
def stranger(app: FastAPI) -> Iterator[TestClient]:
    """A device that has not signed in; it says where its requests come from, as browsers do."""
    with TestClient(app, headers={"sec-fetch-site": "same-origin"}) as client:
        yield client


@pytest.fixture
def coach(stranger: TestClient) -> TestClient:
    """A signed-in device."""
    sent = {"password": PASSWORD, "again": PASSWORD}
    assert stranger.post("/first", data=sent).status_code == 200
    return stranger


def token_of(page: str) -> str:
    """The token that a page's forms carry."""
    found = re.search(r'name="token" value="([0-9a-f]{64})"', page)
    assert found is not None
    return found.group(1)
