"""The bag file: a student's clubs, and what was measured of each."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Final, Literal

from attrs import frozen
from pydantic import BeforeValidator, Field

from wellset.equipment import Club, find_club, standard_bag
from wellset.errors import InputError
from wellset.services.documents import Document, parse_yaml, validate
from wellset.units import parse_angle, parse_length

SCHEMA: Final = "wellset.bag/1"
MOST_CLUBS: Final = 20
"""A round allows fourteen (Rules of Golf, 4.1b); a lesson may bring more to try."""


@frozen(kw_only=True)
class BagEntry:
    """A club of the bag and how far its toe is asked to stand off flat at address.

    Parameters
    ----------
    club : Club
    toe_up : float or None
        Radian; the usual of its kind where it isn't given.
    """

    club: Club
    toe_up: float | None = None


def _reads(parse: Callable[[str], float], /) -> Callable[[object], str]:
    def check(value: object) -> str:
        text = str(value)
        try:
            parse(text)
        except InputError as error:
            raise ValueError(f"{error.why} {error.fix}") from None
        return text

    return check


_Length = Annotated[str, BeforeValidator(_reads(parse_length))]
_Angle = Annotated[str, BeforeValidator(_reads(parse_angle))]


class _Club(Document):
    name: str = Field(min_length=1, max_length=60)
    length: _Length | None = None
    lie: _Angle | None = None
    head: _Length | None = None
    toe_up: _Angle | None = None


class _File(Document):
    schema_: Literal["wellset.bag/1"] = Field(alias="schema")
    clubs: list[_Club] = Field(min_length=1, max_length=MOST_CLUBS)


def read_bag(text: str, /, *, where: str) -> tuple[BagEntry, ...]:
    """The clubs of a bag file, in its order.

    Parameters
    ----------
    text : str
        YAML or JSON.
    where : str
        The file's name, for messages.

    Raises
    ------
    InputError
        When an entry is wrong or a club stands twice.
    EquipmentError
        For a club that breaks the rules.
    """
    what = "The bag file"
    file = validate(_File, parse_yaml(text, where=where, what=what), where=where, what=what)
    entries = tuple(_entry(one) for one in file.clubs)
    names = [entry.club.name for entry in entries]
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise InputError(
            f"{what} cannot be used",
            why=f"{', '.join(twice)} stands in it twice.",
            fix="Keep each club once.",
            where=where,
        )
    return entries


def _entry(one: _Club) -> BagEntry:
    club = find_club(
        one.name,
        length=parse_length(one.length) if one.length is not None else None,
        lie=parse_angle(one.lie) if one.lie is not None else None,
        head_length=parse_length(one.head) if one.head is not None else None,
    )
    return BagEntry(club=club, toe_up=parse_angle(one.toe_up) if one.toe_up is not None else None)


def usual_bag() -> tuple[BagEntry, ...]:
    """Fourteen typical clubs, for who gives none."""
    return tuple(BagEntry(club=club) for club in standard_bag())
