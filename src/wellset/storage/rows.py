"""Saving a row whose version must be the one that was read."""

from __future__ import annotations

from collections.abc import Mapping

from sqlalchemy import ColumnElement, Connection, Table, insert, select, update

from wellset.errors import ConflictError, MissingError

Row = Mapping[str, object]


def missing(what: str, /) -> MissingError:
    """A thing that is not in the book."""
    return MissingError(
        f"This {what} is not in the lesson book",
        why="it was removed, or the link is wrong.",
        fix="Go back to the list and choose again.",
    )


def changed(what: str, /) -> ConflictError:
    """A thing that someone else changed."""
    return ConflictError(
        f"This {what} was changed meanwhile",
        why="another tab or device saved it after you opened it.",
        fix="Compare both, then save yours over it or keep the other.",
    )


def save_versioned(
    connection: Connection,
    table: Table,
    *,
    key: Mapping[str, object],
    version: int,
    row: Row,
    what: str,
) -> int:
    """Insert a row of version 0, or change the row that still has the version.

    Parameters
    ----------
    key : mapping
        Columns that name the row.
    version : int
        What was read; 0 for a new row.
    row : mapping
        All other columns.
    what : str
        How the thing is called, for messages.

    Returns
    -------
    int
        The next version.

    Raises
    ------
    ConflictError, MissingError
    """
    after = version + 1
    named: list[ColumnElement[bool]] = [table.c[name] == value for name, value in key.items()]
    if version == 0:
        if connection.execute(select(table.c.version).where(*named)).first() is not None:
            raise changed(what)
        connection.execute(insert(table).values(**key, **row, version=after))
        return after
    change = update(table).where(*named, table.c.version == version)
    if connection.execute(change.values(**row, version=after)).rowcount == 1:
        return after
    there = connection.execute(select(table.c.version).where(*named)).first()
    raise missing(what) if there is None else changed(what)
