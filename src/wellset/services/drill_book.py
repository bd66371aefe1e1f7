"""Use cases around the coach's drills: add, edit, hide, restore; each change is a version.

What the book keeps is a drill document that is based on the house's and holds only what
differs, so a house drill that is mended later reaches every coach who did not rewrite it.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Mapping
from typing import Final

import yaml
from attrs import evolve, frozen

from wellset.advise import Drill, DrillBook, Origin
from wellset.errors import InputError, MissingError
from wellset.services.book import DrillsVersion, Pages
from wellset.services.drills_file import drills_in_force, read_drills
from wellset.services.lesson_work import Desk

NAME: Final = "My drills"
WHERE: Final = "your drills"
_EMPTY: Final = {"schema": "wellset.drills/1", "name": NAME, "based_on": "house"}

Data = dict[str, object]


def drill_of(book: DrillBook, drill_id: str, /) -> Drill:
    """A drill, hidden or not.

    Raises
    ------
    MissingError
    """
    drill = book.get(drill_id)
    if drill is None:
        raise MissingError(
            "This drill is not in the book",
            why="it was removed, or the link is wrong.",
            fix="Go back to the drills and choose again.",
        )
    return drill


@frozen(kw_only=True)
class Kept:
    """The drills of a book.

    Parameters
    ----------
    book : DrillBook
    versions : tuple of DrillsVersion
        Newest first.
    """

    book: DrillBook
    versions: tuple[DrillsVersion, ...]


def kept_drills(desk: Desk, /) -> Kept:
    """The drills in force, and all kept versions."""
    with desk.book.reading() as pages:
        return Kept(book=drills_in_force(pages), versions=pages.drills_versions())


def write_drill(desk: Desk, *, drill_id: str, entry: Mapping[str, object]) -> str:
    """Keep a drill as it was written: a new one, or instead of what it was.

    Parameters
    ----------
    drill_id : str
        Empty for a new one.
    entry : mapping
        Fields of the drill document.

    Returns
    -------
    str
        The drill's id.

    Raises
    ------
    InputError
        Naming every wrong entry.
    MissingError
        When there is no drill of that id.
    """
    name = drill_id
    with desk.book.writing() as pages:
        book = drills_in_force(pages)
        if drill_id:
            drill_of(book, drill_id)
        else:
            name = _free_name(book, str(entry.get("title", "")))

        def put(data: Data) -> None:
            _drills(data)[name] = dict(entry)

        what = f"{'Changed' if drill_id else 'Added'}: {entry.get('title', name)}"
        _change(desk, pages, what=what, put=put)
    return name


def hide_drill(desk: Desk, drill_id: str, /, *, hidden: bool) -> None:
    """Take a drill out of what is offered, or offer it again.

    Raises
    ------
    MissingError
    """
    with desk.book.writing() as pages:
        drill = drill_of(drills_in_force(pages), drill_id)

        def put(data: Data) -> None:
            out = [name for name in _hidden(data) if name != drill_id]
            data["hidden"] = [*out, drill_id] if hidden else out

        _change(desk, pages, what=f"{'Hid' if hidden else 'Showed'}: {drill.title}", put=put)


def restore_drill(desk: Desk, drill_id: str, /) -> None:
    """Put a house drill back as it came, or remove one of the coach's own.

    Raises
    ------
    MissingError
    InputError
        When another drill still names it as the one to take instead.
    """
    with desk.book.writing() as pages:
        drill = drill_of(drills_in_force(pages), drill_id)

        def put(data: Data) -> None:
            _drills(data).pop(drill_id, None)
            if drill.origin is Origin.OWN:
                data["hidden"] = [name for name in _hidden(data) if name != drill_id]

        done = "Removed" if drill.origin is Origin.OWN else "As it came"
        _change(desk, pages, what=f"{done}: {drill.title}", put=put)


def use_drills(desk: Desk, digest: str, /) -> None:
    """Take drills from a version that was kept before.

    Raises
    ------
    MissingError
    """
    with desk.book.writing() as pages:
        for version in pages.drills_versions():
            if version.digest == digest:
                pages.save_drills(evolve(version, current=True))
                return
    raise MissingError(
        "These drills are not in the lesson book",
        why="no version has this digest.",
        fix="Choose one of the list.",
    )


def _data(pages: Pages) -> Data:
    version = pages.current_drills()
    if version is None:
        return dict(_EMPTY)
    data: Data = yaml.safe_load(version.text)
    return data


def _drills(data: Data) -> Data:
    drills = data.setdefault("drills", {})
    assert isinstance(drills, dict)  # noqa: S101 - the document was checked when it was kept
    return drills


def _hidden(data: Data) -> list[str]:
    hidden = data.get("hidden", [])
    return [str(name) for name in hidden] if isinstance(hidden, list) else []


def _change(desk: Desk, pages: Pages, *, what: str, put: Callable[[Data], None]) -> None:
    data = _data(pages)
    put(data)
    text = yaml.safe_dump(data, allow_unicode=True, sort_keys=False, width=100)
    book = read_drills(text, where=WHERE)
    if not pages.drills_versions():
        empty = yaml.safe_dump(_EMPTY, sort_keys=False)
        pages.save_drills(
            DrillsVersion(
                digest=_digest(empty), name=NAME, what="As they came", text=empty,
                saved_at=desk.now(),
            )
        )  # fmt: skip
    pages.save_drills(
        DrillsVersion(
            digest=_digest(text),
            name=book.name,
            what=what[:200],
            text=text,
            saved_at=desk.now(),
            current=True,
        )
    )


def _digest(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()


def _free_name(book: DrillBook, title: str) -> str:
    """An id from the title that no drill has."""
    plain = re.sub(r"[^a-z0-9]+", "_", title.lower()).strip("_")[:50]
    if not title.strip():
        raise InputError(
            "This drill cannot be kept", why="it has no title.", fix="Give it one.", where="title"
        )
    base = plain if re.match(r"[a-z][a-z0-9_]", plain) else f"drill_{plain}".rstrip("_")
    name, number = base, 2
    while book.get(name) is not None:
        name, number = f"{base}_{number}", number + 1
    return name
