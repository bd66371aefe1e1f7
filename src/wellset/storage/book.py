"""The lesson book in a database."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import Engine
from sqlalchemy.exc import DBAPIError

from wellset.errors import StorageError
from wellset.services.book import Pages
from wellset.storage.engine import BEGIN, open_engine
from wellset.storage.jobs import SqlJobs
from wellset.storage.lessons import SqlLessons
from wellset.storage.shelf import SqlShelf
from wellset.storage.students import SqlStudents


class SqlPages(SqlStudents, SqlLessons, SqlShelf, SqlJobs):
    """Everything in the book, inside one transaction."""


class SqlBook:
    """A lesson book in SQLite or PostgreSQL; see :class:`wellset.services.book.Book`.

    Parameters
    ----------
    url : str
        ``sqlite:///FILE`` or ``postgresql://…``. The tables must be there:
        :func:`wellset.storage.upgrade`.
    """

    def __init__(self, url: str) -> None:
        self._engine: Engine = open_engine(url)

    def close(self) -> None:
        """Let go of all connections."""
        self._engine.dispose()

    @contextmanager
    def reading(self) -> Iterator[Pages]:
        """Look at the book as it is at one moment."""
        level = {} if self._is_sqlite else {"isolation_level": "REPEATABLE READ"}
        with _told(), self._engine.connect().execution_options(**level) as connection:
            yield SqlPages(connection)

    @contextmanager
    def writing(self) -> Iterator[Pages]:
        """Change the book, whole or not at all."""
        begin = {BEGIN: "BEGIN IMMEDIATE"}
        with (
            _told(),
            self._engine.connect().execution_options(**begin) as connection,
            connection.begin(),
        ):
            yield SqlPages(connection)

    @property
    def _is_sqlite(self) -> bool:
        return self._engine.dialect.name == "sqlite"


@contextmanager
def _told() -> Iterator[None]:
    """The database's troubles in words."""
    try:
        yield
    except DBAPIError as error:
        raise _trouble(str(error.orig)) from error


def _trouble(text: str) -> StorageError:
    low = text.lower()
    if "locked" in low or "busy" in low:
        why, fix = "another program holds the database.", "Close that program, then try again."
    elif "full" in low or "no space" in low:
        why, fix = "the disk is full.", "Free some space, then try again."
    elif "readonly" in low or "read-only" in low:
        why, fix = "the folder may only be read.", "Choose another with --data, or allow writing."
    else:
        why, fix = f"the database says: {text.strip()}.", "Check the database, then try again."
    return StorageError("The lesson book could not be used", why=why, fix=fix)
