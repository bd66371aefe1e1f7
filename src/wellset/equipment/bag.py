"""Finding a club, and a whole bag."""

from __future__ import annotations

from typing import Final

from wellset.equipment.catalogue import (
    TYPED_HEAD_SD,
    TYPED_LENGTH_SD,
    TYPED_LIE_SD,
)
from wellset.equipment.club import Club
from wellset.equipment.names import typical_club
from wellset.units import Record

_GIVEN: Final = "given by the coach"

_STANDARD_BAG: Final = (
    "driver",
    "3-wood",
    "5-wood",
    "4-hybrid",
    "5-iron",
    "6-iron",
    "7-iron",
    "8-iron",
    "9-iron",
    "pitching wedge",
    "gap wedge",
    "sand wedge",
    "lob wedge",
    "putter",
)


def find_club(
    text: str,
    *,
    length: float | None = None,
    lie: float | None = None,
    head_length: float | None = None,
) -> Club:
    """A club by name or kind, with any of its numbers given.

    Parameters
    ----------
    text : str
        ``"7-iron"``, ``"7i"``, ``"iron 7"``, ``"PW"``, ``"mid iron"``, ``"mid_iron"`` …
    length : float or None
        Metres; typical of the name where it is not given.
    lie : float or None
        Radians; likewise.
    head_length : float or None
        Heel to toe, metres; likewise.

    Returns
    -------
    Club
        Each number with its spread and how it is known.

    Raises
    ------
    InputError
        For an unknown name (the nearest are named) or an absurd number.
    EquipmentError
        For a club that breaks the rules.

    Examples
    --------
    >>> find_club("7i").name
    '7-iron'
    >>> find_club("mid_iron", length=0.94).length_source
    'given by the coach'
    """
    typical = typical_club(text)
    length_m, length_sd, length_source = _known(length, TYPED_LENGTH_SD, typical=typical.length)
    lie_rad, lie_sd, lie_source = _known(lie, TYPED_LIE_SD, typical=typical.lie)
    head_m, head_sd, head_source = _known(head_length, TYPED_HEAD_SD, typical=typical.head_length)
    return Club(
        name=typical.name,
        kind=typical.kind,
        length_m=length_m,
        length_sd_m=length_sd,
        lie=lie_rad,
        lie_sd=lie_sd,
        head_length_m=head_m,
        head_length_sd_m=head_sd,
        length_source=length_source,
        lie_source=lie_source,
        head_length_source=head_source,
    )


def standard_bag() -> tuple[Club, ...]:
    """Fourteen typical clubs, longest first; common practice, no source."""
    return tuple(find_club(name) for name in _STANDARD_BAG)


def _known(given: float | None, given_sd: float, *, typical: Record) -> tuple[float, float, str]:
    """Value, spread and source: the coach's number wins."""
    if given is not None:
        return given, given_sd, _GIVEN
    return typical.value, typical.spread, f"assumed from the name ({typical.mark.value})"
