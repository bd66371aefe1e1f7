"""The drill document as a person gives it: one clear sentence for every mistake."""

from __future__ import annotations

from functools import lru_cache

from pydantic import ValidationError

from wellset.advise import DrillBook, DrillsFile, book_of, house_book
from wellset.errors import InputError
from wellset.services.book import Pages
from wellset.services.documents import parse_yaml, refused

_WHAT = "The drill document"


def read_drills(text: str, *, where: str) -> DrillBook:
    """The drills of a document.

    Raises
    ------
    InputError
        Naming every mistake with its place.
    """
    data = parse_yaml(text, where=where, what=_WHAT)
    try:
        return book_of(DrillsFile.model_validate(data))
    except ValidationError as error:
        raise refused(error, where=where, what=_WHAT) from None
    except ValueError as error:
        raise InputError(
            f"{_WHAT} cannot be used",
            why=f"{error}.",
            fix="Mend these entries; the reference page of the file shows each field.",
            where=where,
        ) from None


@lru_cache(maxsize=16)
def _kept(text: str) -> DrillBook:
    return read_drills(text, where="your drills")


def drills_in_force(pages: Pages, /) -> DrillBook:
    """The coach's current drills, or the house's."""
    version = pages.current_drills()
    return house_book() if version is None else _kept(version.text)
