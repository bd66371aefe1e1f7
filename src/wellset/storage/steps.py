"""Running the numbered steps. Loading what runs them takes a quarter of a second: only here."""

from __future__ import annotations

from pathlib import Path

from alembic import command
from alembic.config import Config
from alembic.script import ScriptDirectory
from alembic.util import CommandError
from sqlalchemy import Connection

from wellset.errors import StorageError


def run_steps(connection: Connection, *, folder: Path) -> None:
    """Take the steps in a folder that a database has not taken yet.

    Raises
    ------
    StorageError
        When the database is of a later version of the program.
    """
    config = _config(folder)
    config.attributes["connection"] = connection
    try:
        command.upgrade(config, "head")
    except CommandError as error:
        raise StorageError(
            "The lesson book could not be opened",
            why=f"it was written by a later version of the program ({error}).",
            fix="Install that version, or open another book with --data.",
        ) from error


def head_of(folder: Path) -> str:
    """Number of the last step as their own links say."""
    return ScriptDirectory.from_config(_config(folder)).get_current_head() or ""


def _config(folder: Path) -> Config:
    config = Config()
    config.set_main_option("script_location", str(folder).replace("%", "%%"))
    return config
