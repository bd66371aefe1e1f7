"""The paper that a coach prints on, remembered in the book."""

from __future__ import annotations

from typing import Final

from wellset.errors import InputError
from wellset.services.lesson_work import Desk

PAPER_NAMES: Final = {"a4": "A4", "letter": "US Letter"}
"""Papers by name, with their words."""
_SETTING: Final = "paper"


def paper_of(desk: Desk, /, *, inches: bool) -> str:
    """The name of the paper chosen last.

    Parameters
    ----------
    desk : Desk
    inches : bool
        Whether the student's pages are in inches; decides while nothing was chosen.
    """
    with desk.book.reading() as pages:
        chosen = pages.setting(_SETTING)
    if chosen in PAPER_NAMES:
        return str(chosen)
    return "letter" if inches else "a4"


def choose_paper(desk: Desk, paper: str, /) -> None:
    """Remember a paper.

    Raises
    ------
    InputError
        For a paper that isn't known.
    """
    if paper not in PAPER_NAMES:
        raise InputError(
            "The paper is not known",
            why=f'it is "{paper[:20]}".',
            fix=f"Choose {' or '.join(PAPER_NAMES.values())}.",
        )
    with desk.book.writing() as pages:
        if pages.setting(_SETTING) != paper:
            pages.save_setting(_SETTING, paper)
