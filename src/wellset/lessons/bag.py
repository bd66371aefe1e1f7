"""A student's clubs."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import field, frozen

from wellset.equipment import Club, find_club
from wellset.errors import InputError
from wellset.lessons.words import one_line


def _club(text: str) -> str:
    return one_line(text, what="club", most=60, least=1)


def _note(text: str) -> str:
    return one_line(text, what="note", most=200)


def _clubs(clubs: Iterable[BagClub]) -> tuple[BagClub, ...]:
    return tuple(clubs)


MOST_CLUBS = 20
"""A round allows fourteen (Rules of Golf, 4.1b); a lesson may bring more to try."""


@frozen(kw_only=True)
class BagClub:
    """One club of a bag: its name, and what was measured of it.

    Parameters
    ----------
    name : str
        ``"7-iron"`` and so on.
    length_m, lie, head_length_m : float or None
        Measured length in metre, lie in radian, head heel to toe in metre; typical of the
        name where not given.
    note : str
    """

    name: str = field(converter=_club)
    length_m: float | None = None
    lie: float | None = None
    head_length_m: float | None = None
    note: str = field(default="", converter=_note)

    def club(self) -> Club:
        """The club with typical numbers where none was measured.

        Raises
        ------
        InputError
            For an unknown name or an absurd number.
        EquipmentError
            For a club that breaks the rules.
        """
        return find_club(
            self.name, length=self.length_m, lie=self.lie, head_length=self.head_length_m
        )


@frozen(kw_only=True)
class Bag:
    """All clubs of one student, in the order of the bag.

    Parameters
    ----------
    student : str
        The student's id.
    version : int
    clubs : tuple of BagClub
        Each name once.
    """

    student: str
    version: int = 0
    clubs: tuple[BagClub, ...] = field(default=(), converter=_clubs)

    def __attrs_post_init__(self) -> None:
        """Refuse too many clubs and one club twice."""
        names = [entry.club().name for entry in self.clubs]
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise InputError(
                "Cannot keep this bag",
                why=f"{', '.join(twice)} is in it twice.",
                fix="Keep one of each, or give the other its own name.",
            )
        if len(names) > MOST_CLUBS:
            raise InputError(
                "Cannot keep this bag",
                why=f"it has {len(names)} clubs.",
                fix=f"Keep at most {MOST_CLUBS}.",
            )
