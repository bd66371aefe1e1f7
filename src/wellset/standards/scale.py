"""The units a coach may write a window in, and the student's own yardsticks behind them."""

from __future__ import annotations

from enum import StrEnum
from math import isfinite
from typing import Final

from attrs import Attribute, field, frozen

from wellset.errors import InputError
from wellset.measures import Unit
from wellset.units import INCH_M


class WrittenUnit(StrEnum):
    """A unit as it stands in a standards file."""

    METRE = "m"
    CENTIMETRE = "cm"
    INCH = "in"
    DEGREE = "deg"
    PERCENT = "%"
    STANCE = "% of stance"
    CLUB_HEADS = "club heads"
    SHOULDER_WIDTHS = "shoulder widths"
    FOOT_LENGTHS = "foot lengths"


class HeadsCount(StrEnum):
    """What a number of club heads means for the stance: each side of the middle, or in all."""

    EACH_SIDE = "each side"
    IN_ALL = "in all"


_RELATIVE: Final = frozenset(
    {
        WrittenUnit.STANCE,
        WrittenUnit.CLUB_HEADS,
        WrittenUnit.SHOULDER_WIDTHS,
        WrittenUnit.FOOT_LENGTHS,
    }
)
_ALLOWED: Final = {
    Unit.METRE: _RELATIVE | {WrittenUnit.METRE, WrittenUnit.CENTIMETRE, WrittenUnit.INCH},
    Unit.DEGREE: frozenset({WrittenUnit.DEGREE}),
    Unit.PERCENT: frozenset({WrittenUnit.PERCENT}),
}
_FIXED_SIZE: Final = {
    WrittenUnit.METRE: 1.0,
    WrittenUnit.CENTIMETRE: 0.01,
    WrittenUnit.INCH: INCH_M,
    WrittenUnit.DEGREE: 1.0,
    WrittenUnit.PERCENT: 1.0,
}
# The two measures that have a middle to count club heads from.
_COUNTED_FROM_THE_MIDDLE: Final = frozenset({"stance_width", "stance_gap"})


def units_allowed(measure: str, unit: Unit) -> tuple[WrittenUnit, ...]:
    """Units in which a window of this measure may be written, in the order of the enum.

    The ball's place is already a percentage of the stance, so both spellings mean the same
    there; the stance itself cannot be a percentage of the stance.
    """
    allowed = set(_ALLOWED[unit])
    if measure == "ball_position":
        allowed.add(WrittenUnit.STANCE)
    if measure == "stance_width":
        allowed.discard(WrittenUnit.STANCE)
    return tuple(each for each in WrittenUnit if each in allowed)


def _positive(_: object, attribute: Attribute[float], value: float) -> None:
    if not (isfinite(value) and value > 0):
        raise InputError("Cannot scale the standards", why=f"{attribute.name} is {value}.",
                         fix="Give a length above zero, in metres.")  # fmt: skip


def _not_negative(_: object, attribute: Attribute[float], value: float) -> None:
    if not (isfinite(value) and value >= 0):
        raise InputError("Cannot scale the standards", why=f"{attribute.name} is {value}.",
                         fix="Give a standard uncertainty of zero or more.")  # fmt: skip


@frozen(kw_only=True)
class Yardstick:
    """A length of the student or the club, with its standard uncertainty, in metres."""

    metres: float = field(validator=_positive)
    sd: float = field(default=0.0, validator=_not_negative)


@frozen(kw_only=True)
class StudentScale:
    """What the relative units mean for one student with one club.

    Parameters
    ----------
    stance_width : Yardstick
        x-distance between the ankle joint centres, as measured.
    head_length : Yardstick
        Heel-to-toe length of the head of the club in hand.
    shoulder_width : Yardstick
        Breadth from acromion to acromion (the bony tips of the shoulders).
    foot_length : Yardstick
        Length of the shoe, heel to toe tip.
    """

    stance_width: Yardstick
    head_length: Yardstick
    shoulder_width: Yardstick
    foot_length: Yardstick

    def size(self, unit: WrittenUnit, *, measure: str, heads: HeadsCount) -> Yardstick | float:
        """Published units of `measure` for one written unit.

        Returns
        -------
        Yardstick or float
            A yardstick where the unit hangs on the student or the club, else a plain
            factor, which is exact.
        """
        if unit in _FIXED_SIZE:
            return _FIXED_SIZE[unit]
        if unit is WrittenUnit.STANCE:
            if measure == "ball_position":
                return 1.0
            return _times(self.stance_width, 0.01)
        if unit is WrittenUnit.CLUB_HEADS:
            both = measure in _COUNTED_FROM_THE_MIDDLE and heads is HeadsCount.EACH_SIDE
            return _times(self.head_length, 2.0 if both else 1.0)
        if unit is WrittenUnit.SHOULDER_WIDTHS:
            return self.shoulder_width
        return self.foot_length


def _times(yardstick: Yardstick, factor: float) -> Yardstick:
    return Yardstick(metres=factor * yardstick.metres, sd=factor * yardstick.sd)


def counted_from_the_middle(measure: str) -> bool:
    """Whether club heads for this measure can be counted each side of the middle."""
    return measure in _COUNTED_FROM_THE_MIDDLE
