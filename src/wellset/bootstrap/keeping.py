"""Commands that keep a lesson book: back it up, restore it, hand over one student."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from wellset.bootstrap.book import (
    Place,
    back_up_book,
    open_desk,
    place_of,
    require_book,
    restore_book,
)
from wellset.errors import InputError, MissingError, OutputError
from wellset.reports.handover import handover
from wellset.services.export import everything_of, student_called
from wellset.storage import Counted


def kept(
    *,
    command: str,
    file: str,
    data: str | None,
    database: str | None,
    student: str = "",
    **_: object,
) -> str:
    """Do one of ``backup``, ``restore`` and ``export``; what to say of it.

    Raises
    ------
    WellsetError
    """
    place = place_of(data=data, database=database)
    if command == "backup":
        return f"Backed up: {_counted(back_up_book(place, file))}"
    if command == "restore":
        return f"Restored: {_counted(restore_book(place, file))}"
    return exported(place, file, student=student)


def exported(place: Place, file: str, *, student: str) -> str:
    """Write everything of one student into a zip archive; what to say of it.

    Parameters
    ----------
    student : str
        Id, name, or as much of a name as fits nobody else.

    Raises
    ------
    InputError
        When the student cannot be told, or there is no book.
    OutputError
        When the file cannot be written.
    """
    require_book(place, what="export from")
    desk = open_desk(place)
    with desk.book.reading() as pages:
        try:
            card = pages.student(student)
        except MissingError:
            card = student_called(pages, student)
    everything = everything_of(desk, card.id)
    write_pieces(Path(file), handover(everything, media=desk.media))
    count = len(everything.lessons)
    return f"{file}: everything of {card.name}, {count} lesson{'' if count == 1 else 's'}."


def _counted(counted: Counted) -> str:
    return (
        f"{counted.students} students, {counted.lessons} lessons, "
        f"{counted.media} pictures and clips."
    )


def write_pieces(goal: Path, pieces: Iterator[bytes]) -> None:
    """Write a long file whole or not at all."""
    if not goal.name:
        raise InputError("This is no file", why="it has no name.", fix="Name a file.")
    unfinished = goal.with_name(f"{goal.name}.unfinished")
    try:
        with unfinished.open("wb") as file:
            for piece in pieces:
                file.write(piece)
        unfinished.replace(goal)
    except OSError as error:
        raise OutputError(
            "The file cannot be written",
            why=f"the system says: {error.strerror or error}.",
            fix="Choose another place, or free some space.",
            where=str(goal),
        ) from error
    finally:
        unfinished.unlink(missing_ok=True)
