"""The whole book in one file, and back: readable without the program.

A backup is a zip archive: ``book/TABLE.jsonl`` holds the rows of each table, one JSON object
a line, ``media/`` the pictures and clips under their digests, ``backup.json`` says which
version made it. It restores into either kind of database.
"""

from __future__ import annotations

import base64
import json
import zipfile
from pathlib import Path
from typing import Final

from attrs import frozen
from sqlalchemy import Connection, Engine, LargeBinary, Table, func, insert, select

from wellset import __version__
from wellset.errors import InputError, OutputError, StorageError
from wellset.services.media_store import MediaStore
from wellset.storage.engine import BEGIN, open_engine
from wellset.storage.tables import METADATA
from wellset.storage.upgrade import newest_step

SCHEMA: Final = "wellset.backup/1"
_HEAD: Final = "backup.json"
_ROWS_AT_ONCE: Final = 500
_PIECE: Final = 1 << 20
MOST_MEDIA: Final = 4_000_000_000


@frozen(kw_only=True)
class Counted:
    """What a backup holds.

    Parameters
    ----------
    students, lessons, media : int
    """

    students: int
    lessons: int
    media: int


def back_up(url: str, *, media: MediaStore, goal: Path) -> Counted:
    """Write the whole book into a file, as it is at one moment.

    The file appears under its name when it is whole.

    Raises
    ------
    OutputError
        When the file cannot be written.
    """
    unfinished = goal.with_name(f"{goal.name}.unfinished")
    engine = open_engine(url)
    try:
        with zipfile.ZipFile(unfinished, "w", zipfile.ZIP_DEFLATED) as archive:
            counts = _write_tables(engine, archive)
            kept = _write_media(media, archive)
            head = {"schema": SCHEMA, "program": __version__, "tables": newest_step()}
            archive.writestr(_HEAD, json.dumps(head))
        unfinished.replace(goal)
    except OSError as error:
        raise OutputError(
            "The backup cannot be written",
            why=f"the system says: {error.strerror or error}.",
            fix="Choose another place, or free some space.",
            where=str(goal),
        ) from error
    finally:
        unfinished.unlink(missing_ok=True)
        engine.dispose()
    return Counted(students=counts["student"], lessons=counts["lesson"], media=kept)


def restore(url: str, *, media: MediaStore, source: Path) -> Counted:
    """Fill an empty book from a backup, whole or not at all.

    Raises
    ------
    InputError
        When the file is no backup, is damaged, or comes from a later version.
    StorageError
        When the book isn't empty.
    """
    engine = open_engine(url)
    try:
        with zipfile.ZipFile(source) as archive:
            _check_head(archive, source)
            with (
                engine.connect().execution_options(**{BEGIN: "BEGIN IMMEDIATE"}) as connection,
                connection.begin(),
            ):
                _require_empty(connection)
                counts = {
                    table.name: _read_table(connection, table, archive=archive)
                    for table in METADATA.sorted_tables
                }
                kept = _read_media(media, archive)
    except FileNotFoundError:
        raise _unusable(source, "there is no such file.") from None
    except (zipfile.BadZipFile, KeyError, ValueError, EOFError) as error:
        if isinstance(error, InputError):
            raise
        raise _unusable(source, "it is damaged or no backup.") from error
    finally:
        engine.dispose()
    return Counted(students=counts["student"], lessons=counts["lesson"], media=kept)


def _unusable(source: Path, why: str) -> InputError:
    return InputError(
        "This backup cannot be restored",
        why=why,
        fix="Give a file that `wellset backup` wrote.",
        where=str(source),
    )


def _write_tables(engine: Engine, archive: zipfile.ZipFile) -> dict[str, int]:
    counts = {}
    sqlite = engine.dialect.name == "sqlite"
    level = {} if sqlite else {"isolation_level": "REPEATABLE READ"}
    with engine.connect().execution_options(**level) as connection:
        for table in METADATA.sorted_tables:
            with archive.open(f"book/{table.name}.jsonl", "w") as file:
                count = 0
                for row in connection.execute(select(table).order_by(*table.primary_key)):
                    file.write((_line(row._asdict()) + "\n").encode())
                    count += 1
            counts[table.name] = count
    return counts


def _line(row: dict[str, object]) -> str:
    plain = {
        name: base64.b64encode(value).decode() if isinstance(value, bytes) else value
        for name, value in row.items()
    }
    return json.dumps(plain, ensure_ascii=False)


def _write_media(media: MediaStore, archive: zipfile.ZipFile) -> int:
    count = 0
    for digest in media.all():
        # Pictures and clips are compressed already.
        archive.write(media.path(digest), f"media/{digest}", zipfile.ZIP_STORED)
        count += 1
    return count


def _check_head(archive: zipfile.ZipFile, source: Path) -> None:
    head = json.loads(archive.read(_HEAD))
    if head.get("schema") != SCHEMA or head.get("tables", "") > newest_step():
        raise _unusable(source, "a later version of the program wrote it, or another program.")


def _require_empty(connection: Connection) -> None:
    for table in METADATA.sorted_tables:
        if table.name not in {"setting", "standards", "drills"} and connection.scalar(
            select(func.count()).select_from(table)
        ):
            raise StorageError(
                "The backup was not restored",
                why="the lesson book is not empty, and nothing may be written over.",
                fix="Restore into a new folder with --data, then use that one.",
            )
    for name in ("setting", "standards", "drills"):
        connection.execute(METADATA.tables[name].delete())


def _read_table(connection: Connection, table: Table, *, archive: zipfile.ZipFile) -> int:
    count = 0
    with archive.open(f"book/{table.name}.jsonl") as file:
        rows: list[dict[str, object]] = []
        for line in file:
            rows.append(_row(table, json.loads(line)))
            if len(rows) == _ROWS_AT_ONCE:
                connection.execute(insert(table), rows)
                count, rows = count + len(rows), []
        if rows:
            connection.execute(insert(table), rows)
    return count + len(rows)


def _row(table: Table, plain: dict[str, object]) -> dict[str, object]:
    return {
        name: base64.b64decode(str(value)) if isinstance(table.c[name].type, LargeBinary) else value
        for name, value in plain.items()
    }


def _read_media(media: MediaStore, archive: zipfile.ZipFile) -> int:
    count = 0
    for name in archive.namelist():
        if not name.startswith("media/"):
            continue
        with archive.open(name) as file:
            kept = media.keep(iter(lambda: file.read(_PIECE), b""), most=MOST_MEDIA)
        if kept.media != name.removeprefix("media/"):
            media.remove(kept.media)
            raise zipfile.BadZipFile(f"{name} holds other bytes")
        count += 1
    return count
