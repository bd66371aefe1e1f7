"""A club as a set-up sees it: how long, how upright, how wide its head."""

from __future__ import annotations

import math

from attrs import Attribute, field, frozen

from wellset.equipment.kinds import ClubKind
from wellset.equipment.rules import check_club
from wellset.errors import InputError


def _check_spread(_: object, attribute: Attribute[float], value: float) -> None:
    if not (math.isfinite(value) and value > 0):
        raise InputError(
            "Cannot use this uncertainty of the club",
            why=f"{attribute.name} is {value}.",
            fix="Give a value above zero.",
            where="club",
        )


@frozen(kw_only=True)
class Club:
    """One club.

    Parameters
    ----------
    name : str
        As a coach says it: ``"7-iron"``.
    kind : ClubKind
    length_m, length_sd_m : float
        Length as the rules measure it (sole on a plane inclined 60°, to the top of the
        grip), and its standard uncertainty, metres.
    lie, lie_sd : float
        Angle of the shaft from the ground when the club is soled flat, and its standard
        uncertainty, radians.
    head_length_m, head_length_sd_m : float
        Heel to toe, and its standard uncertainty, metres.
    length_source, lie_source, head_length_source : str
        How each is known.

    Raises
    ------
    InputError
        If a number is absurd.
    EquipmentError
        If the club breaks the rules of equipment.

    Notes
    -----
    There is no standard of lengths and lies in the trade, so a club known by its name only
    is known to about half an inch and a degree.
    """

    name: str
    kind: ClubKind = field(converter=ClubKind)
    length_m: float
    length_sd_m: float = field(validator=_check_spread)
    lie: float
    lie_sd: float = field(validator=_check_spread)
    head_length_m: float
    head_length_sd_m: float = field(validator=_check_spread)
    length_source: str
    lie_source: str
    head_length_source: str

    def __attrs_post_init__(self) -> None:
        """Hold it to the rules."""
        check_club(
            self.name,
            kind=self.kind,
            length_m=self.length_m,
            lie=self.lie,
            head_length_m=self.head_length_m,
        )

    @property
    def butt_height_m(self) -> float:
        """Height of the butt above the ground, club soled flat: ``L sin(lie)``, metres."""
        return self.length_m * math.sin(self.lie)

    @property
    def reach_m(self) -> float:
        """Horizontal distance from sole to butt, club soled flat: ``L cos(lie)``, metres."""
        return self.length_m * math.cos(self.lie)
