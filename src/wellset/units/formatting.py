"""SI numbers in, a coach's words out. Rounding follows the uncertainty."""

from __future__ import annotations

import math
from enum import StrEnum
from typing import Final

from wellset.errors import InputError
from wellset.units.parsing import INCH_M, POUND_KG

_MOST_DECIMALS: Final = 3


class UnitSystem(StrEnum):
    """The coach's units of length."""

    CENTIMETRES = "cm"
    INCHES = "in"

    @property
    def metres(self) -> float:
        """Size of one unit in metres."""
        return 0.01 if self is UnitSystem.CENTIMETRES else INCH_M


def decimals_for(sd: float | None, *, default: int) -> int:
    """How many decimals a number deserves.

    The last digit shown is that of the leading digit of `sd`: a value known to 0.3 gets
    one decimal, a value known to 2 or to 14 gets none. Never more than three.

    Parameters
    ----------
    sd : float or None
        Standard uncertainty in the unit shown; ``None`` or 0 where it is unknown.
    default : int
        Decimals for an unknown uncertainty.
    """
    if sd is None or not math.isfinite(sd) or sd <= 0:
        return default
    return min(max(-math.floor(math.log10(sd)), 0), _MOST_DECIMALS)


def format_length(
    metres: float, *, system: UnitSystem | str = UnitSystem.CENTIMETRES, sd: float | None = None
) -> str:
    """A length as a coach reads it.

    Parameters
    ----------
    metres : float
        The length; may be negative (an offset).
    system : UnitSystem or str
        ``"cm"`` or ``"in"``.
    sd : float or None
        Standard uncertainty in metres; decides the number of decimals. One decimal
        where it is not given.

    Examples
    --------
    >>> format_length(0.4123, sd=0.012)
    '41 cm'
    >>> format_length(0.4123, system="in")
    '16.2 in'
    """
    unit = UnitSystem(system)
    places = decimals_for(None if sd is None else sd / unit.metres, default=1)
    return f"{_rounded(metres / unit.metres, places)} {unit.value}"


def format_height(metres: float, *, system: UnitSystem | str = UnitSystem.CENTIMETRES) -> str:
    """A person's height, to a centimetre or half an inch.

    Examples
    --------
    >>> format_height(1.78)
    '178 cm'
    >>> format_height(1.78, system="in")
    '5 ft 10 in'
    """
    if UnitSystem(system) is UnitSystem.INCHES:
        return format_feet_inches(metres)
    return format_length(metres, system=system, sd=0.01)


def format_feet_inches(metres: float) -> str:
    """A height in feet and inches, to half an inch: ``5 ft 10 in``, ``5 ft 10½ in``.

    Raises
    ------
    InputError
        For a negative or endless height.
    """
    if not math.isfinite(metres) or metres < 0:
        raise InputError("Cannot write the height in feet and inches", why=f"it is {metres} m.",
                         fix="Give a height of zero or more.")  # fmt: skip
    halves = round(metres / INCH_M * 2)
    feet, rest = divmod(halves, 24)
    return f"{feet} ft {rest // 2}{'½' if rest % 2 else ''} in"


def format_club_heads(metres: float, *, head_length: float, sd: float | None = None) -> str:
    """A length in club heads (heel to toe): ``1.5 club heads``.

    Parameters
    ----------
    metres : float
        The length.
    head_length : float
        Heel-to-toe length of the head used as the yardstick, metres.
    sd : float or None
        Standard uncertainty of the length in metres.

    Raises
    ------
    InputError
        If the head has no length.
    """
    if not math.isfinite(head_length) or head_length <= 0:
        raise InputError("Cannot count club heads", why=f"the head is {head_length} m long.",
                         fix="Give the head's length from heel to toe.")  # fmt: skip
    places = decimals_for(None if sd is None else sd / head_length, default=1)
    count = _rounded(metres / head_length, places)
    return f"{count} club head" if float(count) == 1 else f"{count} club heads"


def format_angle(radians: float, *, sd: float | None = None) -> str:
    """An angle in degrees: ``28.4°``. Decimals follow `sd` (radians); one by default."""
    places = decimals_for(None if sd is None else math.degrees(sd), default=1)
    return f"{_rounded(math.degrees(radians), places)}°"


def format_mass(kilograms: float, *, system: UnitSystem | str = UnitSystem.CENTIMETRES) -> str:
    """A body weight beside lengths in `system`: kilograms with cm, pounds with inches."""
    if UnitSystem(system) is UnitSystem.INCHES:
        return f"{_rounded(kilograms / POUND_KG, 0)} lb"
    return f"{_rounded(kilograms, 1)} kg"


def _rounded(value: float, places: int) -> str:
    """Fixed decimals, and no minus before a zero."""
    text = f"{value:.{places}f}"
    return text.lstrip("-") if float(text) == 0 else text
