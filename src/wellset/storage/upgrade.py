"""Bring a database to the tables of this version: numbered steps, forward only."""

from __future__ import annotations

from functools import cache
from importlib import resources

from alembic import command
from alembic.config import Config
from alembic.script import ScriptDirectory
from alembic.util import CommandError
from sqlalchemy.exc import DBAPIError

from wellset.errors import StorageError
from wellset.storage.engine import open_engine


@cache
def newest_step() -> str:
    """Number of the newest step of the tables."""
    with resources.as_file(resources.files("wellset.storage").joinpath("migrations")) as folder:
        config = Config()
        config.set_main_option("script_location", str(folder).replace("%", "%%"))
        return ScriptDirectory.from_config(config).get_current_head() or ""


def upgrade(url: str, /) -> None:
    """Make or change the tables; does nothing when they are as they should be.

    Raises
    ------
    StorageError
        When the database cannot be opened or is of a later version of the program.
    """
    engine = open_engine(url)
    config = Config()
    with resources.as_file(resources.files("wellset.storage").joinpath("migrations")) as folder:
        config.set_main_option("script_location", str(folder).replace("%", "%%"))
        try:
            with engine.begin() as connection:
                config.attributes["connection"] = connection
                command.upgrade(config, "head")
        except (DBAPIError, OSError) as error:
            raise StorageError(
                "The lesson book could not be opened",
                why=f"the database says: {getattr(error, 'orig', error)}.",
                fix="Check the place given with --data or --database.",
            ) from error
        except CommandError as error:
            raise StorageError(
                "The lesson book could not be opened",
                why=f"it was written by a later version of the program ({error}).",
                fix="Install that version, or open another book with --data.",
            ) from error
        finally:
            engine.dispose()
