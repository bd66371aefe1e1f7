"""How a set-up was taken: what the coach says of phone, ground, club, clips and plate."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Final

from attrs import asdict, field, frozen

from wellset.errors import InputError
from wellset.figure.ground import GroundKind, GroundUse
from wellset.figure.still import Choice
from wellset.figure.views import View
from wellset.lessons.words import one_line

LATEST_START_S: Final = 86_400.0
"""A day: no clip is longer."""


def _kinds(kinds: Iterable[GroundKind | str]) -> frozenset[GroundKind]:
    return frozenset(map(GroundKind, kinds))


def _file_name(text: str) -> str:
    return one_line(text, what="file name", most=255)


def _choices(choices: Mapping[View, Choice] | Iterable[tuple[View, Choice]]) -> _Choices:
    given = dict(choices)
    for choice in given.values():
        _check(choice)
    return tuple((view, given[view]) for view in View if given.get(view, Choice()) != Choice())


def _check(choice: Choice) -> None:
    start, swing = choice.start_s, choice.swing
    if start is not None and not 0.0 <= start <= LATEST_START_S:
        raise InputError(
            "The start is not a time",
            why=f"it is {start:g} s.",
            fix="Give seconds from the clip's beginning, such as 12.5.",
        )
    if swing is not None and swing < 1:
        raise InputError(
            "The swing is not a number",
            why=f"it is {swing}.",
            fix="Give 1 for the first set-up in the clip, 2 for the next, and so on.",
        )


_Choices = tuple[tuple[View, Choice], ...]


@frozen(kw_only=True)
class PlateFile:
    """A pressure plate's file as the media store keeps it.

    Parameters
    ----------
    media : str
        SHA-256 of the bytes.
    name : str
        What the file was called.
    """

    media: str
    name: str = field(converter=_file_name)


@frozen(kw_only=True)
class HowTaken:
    """What the coach says of a set-up besides club and shot; it is kept for every later look.

    Parameters
    ----------
    phone_level : bool
        Whether the phone stood level and upright by its own level in every picture.
    sheet_aimed : bool
        Whether the marker sheet's arrow was pointed at the target with care.
    ignore : frozenset of GroundKind
        Things on the ground to leave out.
    choices : tuple of (View, Choice)
        Which set-up of each clip; views without a wish are left out. A mapping is taken too.
    club_length_m, lie : float or None
        Of the club used here, metre and radian; as in the bag where ``None``.
    plate : PlateFile or None
        What a pressure plate under the feet wrote.
    """

    phone_level: bool = False
    sheet_aimed: bool = False
    ignore: frozenset[GroundKind] = field(default=frozenset(), converter=_kinds)
    choices: _Choices = field(default=(), converter=_choices)
    club_length_m: float | None = None
    lie: float | None = None
    plate: PlateFile | None = None

    def as_data(self) -> dict[str, object]:
        """What was said, as plain data; what is as usual is left out, and so is the plate."""
        data: dict[str, object] = {
            "phone_level": self.phone_level,
            "sheet_aimed": self.sheet_aimed,
            "ignore": sorted(kind.value for kind in self.ignore),
            "choices": {view.value: asdict(choice) for view, choice in self.choices},
        }
        numbers = {"club_length_m": self.club_length_m, "lie": self.lie}
        return {
            **{name: value for name, value in data.items() if value},
            **{name: value for name, value in numbers.items() if value is not None},
        }

    @property
    def ground(self) -> GroundUse:
        """What is said of the things on the ground."""
        return GroundUse(ignore=self.ignore, sheet_aimed=self.sheet_aimed)

    def choice(self, view: View, /) -> Choice:
        """Which set-up of the clip of a view is wanted."""
        return dict(self.choices).get(view, Choice())
