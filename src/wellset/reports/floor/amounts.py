"""Lengths as one lays them with a tape, and what is counted in heads and shoes."""

from __future__ import annotations

from fractions import Fraction

from wellset.units import INCH_M, UnitSystem, format_height, format_length


def on_tape(mm: float, units: UnitSystem, /) -> str:
    """A length as it stands on a tape: to a millimetre, or to an eighth of an inch.

    Examples
    --------
    >>> on_tape(321.4, UnitSystem.CENTIMETRES)
    '32.1 cm'
    >>> on_tape(321.4, UnitSystem.INCHES)
    '12 5/8 in'
    """
    if units is UnitSystem.CENTIMETRES:
        return format_length(mm / 1000, system=units)
    whole, eighths = divmod(round(abs(mm) / 1000 / INCH_M * 8), 8)
    sign = "-" if mm < 0 and (whole or eighths) else ""
    if not eighths:
        return f"{sign}{whole} in"
    part = Fraction(eighths, 8)
    return f"{sign}{f'{whole} ' if whole else ''}{part.numerator}/{part.denominator} in"


def tall(metres: float, units: UnitSystem, /) -> str:
    """A person's height."""
    return format_height(metres, system=units)


def apart(name: str, /) -> str:
    """A name that keeps its own direction of writing, whatever stands beside it.

    Between U+2068 and U+2069 (first strong isolate, Unicode Standard Annex 9).
    """
    return f"\N{FIRST STRONG ISOLATE}{name}\N{POP DIRECTIONAL ISOLATE}"


def counted(amount: float, thing: str, /) -> str:
    """So many of a thing, to a tenth: ``"3.9 heads"``."""
    return f"{amount:.1f} {thing}" + ("" if f"{amount:.1f}" == "1.0" else "s")


def room(mm: float, units: UnitSystem, /) -> str:
    """How far something may be off; nothing where that is too little to lay out."""
    least = 0.5 if units is UnitSystem.CENTIMETRES else 1000 * INCH_M / 16
    return f"± {on_tape(mm, units)}" if mm >= least else ""
