"""Bring a database to the tables of this version: numbered steps, forward only."""

from __future__ import annotations

from functools import cache
from importlib import resources
from importlib.resources.abc import Traversable
from typing import Final

from sqlalchemy import Engine, column, select, table
from sqlalchemy.exc import DBAPIError

from wellset.errors import StorageError
from wellset.storage.engine import open_engine

_DIGITS: Final = 4
_TAKEN: Final = table("alembic_version", column("version_num"))


def steps_folder() -> Traversable:
    """Where the steps lie."""
    return resources.files("wellset.storage").joinpath("migrations")


@cache
def newest_step() -> str:
    """Number of the newest step of the tables, from the names of their files."""
    names = (each.name for each in steps_folder().joinpath("versions").iterdir())
    return max(name[:_DIGITS] for name in names if name[:_DIGITS].isdigit())


def upgrade(url: str, /) -> None:
    """Make or change the tables; does nothing when they are as they should be.

    Raises
    ------
    StorageError
        When the database cannot be opened or is of a later version of the program.
    """
    engine = open_engine(url)
    try:
        if _step_of(engine) != newest_step():
            _take_steps(engine)
    except (DBAPIError, OSError) as error:
        if isinstance(error, StorageError):
            raise
        raise StorageError(
            "The lesson book could not be opened",
            why=f"the database says: {getattr(error, 'orig', error)}.",
            fix="Check the place given with --data or --database.",
        ) from error
    finally:
        engine.dispose()


def _step_of(engine: Engine) -> str | None:
    """The last step that a database has taken; ``None`` when it cannot say."""
    try:
        with engine.connect() as connection:
            step: str | None = connection.scalar(select(_TAKEN.c.version_num))
    except DBAPIError:
        return None
    return step


def _take_steps(engine: Engine) -> None:
    # What runs the steps takes a quarter of a second to load, and is rarely needed.
    from wellset.storage.steps import run_steps  # noqa: PLC0415

    with resources.as_file(steps_folder()) as folder, engine.begin() as connection:
        run_steps(connection, folder=folder)
