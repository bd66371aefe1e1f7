from __future__ import annotations

import sqlite3
from importlib import resources
from pathlib import Path

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext

from wellset.errors import InputError, StorageError
from wellset.storage import SqlBook, sqlite_url, upgrade
from wellset.storage.engine import open_engine
from wellset.storage.steps import head_of
from wellset.storage.tables import METADATA
from wellset.storage.upgrade import newest_step, steps_folder


def test_the_steps_lead_to_the_tables_of_the_code(url: str) -> None:
    upgrade(url)
    engine = open_engine(url)
    with engine.connect() as connection:
        assert compare_metadata(MigrationContext.configure(connection), METADATA) == []
    engine.dispose()


def test_the_newest_step_is_the_last_in_the_chain() -> None:
    with resources.as_file(steps_folder()) as folder:
        assert newest_step() == head_of(folder)


@pytest.mark.parametrize("url", ["mysql://coach@host/book", "nonsense", ""])
def test_another_kind_of_database_is_refused_in_words(url: str) -> None:
    with pytest.raises(InputError, match="Cannot open this database"):
        open_engine(url)


def test_a_file_that_is_no_database_is_refused_in_words(tmp_path: Path) -> None:
    (tmp_path / "book.db").write_bytes(b"not a database at all" * 100)
    with pytest.raises(StorageError, match="could not be opened"):
        upgrade(sqlite_url(tmp_path / "book.db"))


def test_a_book_of_a_later_program_is_left_alone(tmp_path: Path) -> None:
    file = tmp_path / "book.db"
    upgrade(sqlite_url(file))
    with sqlite3.connect(file) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    connection.close()
    with pytest.raises(StorageError, match="later version of the program"):
        upgrade(sqlite_url(file))


def test_a_locked_database_is_told_in_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("wellset.storage.engine.PATIENCE_S", 0.1)
    file = tmp_path / "book.db"
    upgrade(sqlite_url(file))
    book = SqlBook(sqlite_url(file))
    holder = sqlite3.connect(file, isolation_level=None)
    holder.execute("BEGIN EXCLUSIVE")
    with pytest.raises(StorageError, match="another program holds"), book.writing() as pages:
        pages.save_setting("a", "b")
    holder.close()
    book.close()
