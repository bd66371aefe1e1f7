"""Kinds of shot, and which of them a club is set up for by default."""

from __future__ import annotations

from difflib import get_close_matches
from enum import StrEnum
from typing import Final

from wellset.errors import InputError


class Shot(StrEnum):
    """A kind of shot that a standards file has windows for."""

    DRIVER = "driver"
    FAIRWAY_WOOD = "fairway wood"
    HYBRID = "hybrid"
    LONG_IRON = "long iron"
    MID_IRON = "mid iron"
    SHORT_IRON = "short iron"
    WEDGE = "wedge"
    PITCH = "pitch"
    CHIP = "chip"
    BUNKER = "bunker"
    PUTT = "putt"


_OTHER_NAMES: Final = {"putter": Shot.PUTT}


def shot_named(name: str, *, where: str = "") -> Shot:
    """The kind of shot by its name; spaces, hyphens, underscores and case are alike.

    Raises
    ------
    InputError
        For an unknown name; the message lists the known ones.

    Examples
    --------
    >>> shot_named("Mid-Iron").value
    'mid iron'
    """
    plain = " ".join(name.lower().replace("-", " ").replace("_", " ").split())
    if plain in _OTHER_NAMES:
        return _OTHER_NAMES[plain]
    try:
        return Shot(plain)
    except ValueError:
        near = get_close_matches(plain, [shot.value for shot in Shot], n=1)
        fix = f'Did you mean "{near[0]}"?' if near else f"Use one of {', '.join(Shot)}."
        raise InputError(
            "Unknown kind of shot", why=f'there is no shot called "{name}".', fix=fix, where=where
        ) from None


def shot_for(club_kind: str) -> Shot:
    """The full shot that a kind of club is set up for: a putter putts, a wedge is a full wedge.

    Parameters
    ----------
    club_kind : str
        A kind of club: its value ("mid iron") or the member of the equipment's list.

    Raises
    ------
    InputError
        For an unknown kind.
    """
    return shot_named(str(club_kind))
