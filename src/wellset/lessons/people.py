"""A student as the book keeps them."""

from __future__ import annotations

from enum import StrEnum

from attrs import field, frozen

from wellset.errors import InputError
from wellset.lessons.moments import moment, optional_day
from wellset.lessons.words import one_line, paragraphs


def _guardian(text: str) -> str:
    return one_line(text, what="guardian", most=120, least=1)


def _contact(text: str) -> str:
    return one_line(text, what="contact", most=200)


def _name(text: str) -> str:
    return one_line(text, what="name", most=120, least=1)


def _injuries(text: str) -> str:
    return paragraphs(text, what="injuries", most=4000)


def _note(text: str) -> str:
    return paragraphs(text, what="note", most=20_000)


class WrittenUnits(StrEnum):
    """Which units a student's pages are written in."""

    CM = "cm"
    INCHES = "in"


@frozen(kw_only=True)
class Guardian:
    """Who answers for a minor, and what they allowed.

    Parameters
    ----------
    name : str
    contact : str
        As the coach reaches them.
    pictures_allowed_on : str or None
        Day on which they allowed pictures to be taken and kept; ``None`` while they
        haven't. What else local law asks for is for the coach to know.
    """

    name: str = field(converter=_guardian)
    contact: str = field(default="", converter=_contact)
    pictures_allowed_on: str | None = field(default=None, converter=optional_day)


@frozen(kw_only=True)
class StudentCard:
    """One student of the book.

    Parameters
    ----------
    id : str
    version : int
        Counts the saves, so that the later of two edits can be asked.
    file : str
        The student file (``wellset.student/1``, as JSON): name, hand, height, tapes and
        limits as they were typed. It is the one stored form of all these.
    name, hand : str
        The file's own, kept beside it to search and sort by; hand is ``""``, ``"right"``
        or ``"left"``.
    units : WrittenUnits
    injuries : str
        Old injuries and pains in the coach's words. They are shown with every plan; what
        caps a plan stands in the file's limits.
    note : str
    minor : bool
    guardian : Guardian or None
    created_at, changed_at : str
        Moments.
    """

    id: str
    version: int = 0
    file: str
    name: str = field(converter=_name)
    hand: str = ""
    units: WrittenUnits = field(default=WrittenUnits.CM, converter=WrittenUnits)
    injuries: str = field(default="", converter=_injuries)
    note: str = field(default="", converter=_note)
    minor: bool = False
    guardian: Guardian | None = None
    created_at: str = field(converter=moment)
    changed_at: str = field(converter=moment)

    @property
    def pictures_allowed(self) -> bool:
        """Whether pictures may be kept: always for adults, by a guardian's word for minors."""
        return not self.minor or (
            self.guardian is not None and self.guardian.pictures_allowed_on is not None
        )

    def require_pictures_allowed(self) -> None:
        """Stop before a minor's picture is kept without a guardian's word.

        Raises
        ------
        InputError
        """
        if not self.pictures_allowed:
            raise InputError(
                f"Pictures of {self.name} cannot be kept yet",
                why="the student is a minor and no guardian has allowed it.",
                fix="Ask the guardian, and write the name and the day on the student's page.",
            )
