"""One book, one server and one browser for the tests of a file."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import pytest
from attrs import frozen
from fastapi import FastAPI

from tests.fakes.line import FakeLine
from tests.support.devices import CHROMIUM, Devices, browsing, serving
from tests.support.filled_book import Filled, fill
from wellset.bootstrap.book import open_desk, place_of
from wellset.web import Options, create_app

if TYPE_CHECKING:
    from playwright.sync_api import Browser


@frozen(kw_only=True, eq=False)
class Book:
    """A filled book that is being served.

    Parameters
    ----------
    filled : Filled
    app : FastAPI
    address : str
    """

    filled: Filled
    app: FastAPI
    address: str


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    """A browser for the tests of one file: its driver allows no second one beside it."""
    pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
    if not CHROMIUM.exists():
        pytest.skip(f"there is no browser at {CHROMIUM}")
    with browsing() as started:
        yield started


@pytest.fixture(scope="session")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Book]:
    """Served once for all files that read it; assessed once."""
    filled = fill(tmp_path_factory.mktemp("filled-book"))
    app = create_app(filled.desk, line=FakeLine(), options=Options(place="the tests' folder"))
    with serving(app) as address:
        yield Book(filled=filled, app=app, address=address)


@contextmanager
def new_book(folders: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a book that nobody has opened yet."""
    desk = open_desk(place_of(data=folders.mktemp("new-book")))
    app = create_app(desk, line=FakeLine(), options=Options(place="the tests' folder"))
    with serving(app) as address:
        yield address


@pytest.fixture
def devices(browser: Browser, book: Book) -> Iterator[Devices]:
    """Devices in front of the filled book."""
    opened = Devices(browser=browser, address=book.address)
    yield opened
    opened.put_away()
