from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import text

from tests.support.database import postgresql, why_no_postgresql
from wellset.storage import SqlBook, sqlite_url, upgrade
from wellset.storage.engine import open_engine


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    reason = why_no_postgresql()
    if reason:
        pytest.skip(reason)
    with postgresql() as url:
        yield url


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    if request.param == "sqlite":
        return sqlite_url(tmp_path / "book.db")
    address: str = request.getfixturevalue("server")
    engine = open_engine(address)
    with engine.begin() as connection:
        connection.execute(text("DROP SCHEMA public CASCADE"))
        connection.execute(text("CREATE SCHEMA public"))
    engine.dispose()
    return address


@pytest.fixture
def book(url: str) -> Iterator[SqlBook]:
    upgrade(url)
    opened = SqlBook(url)
    yield opened
    opened.close()
