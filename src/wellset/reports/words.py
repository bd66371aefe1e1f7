"""Numbers in a coach's units, rounded by their uncertainty."""

from __future__ import annotations

from typing import Final

from attrs import frozen

from wellset.measures import MEASURES, Measured, Unit
from wellset.measures.kinds import COVERAGE_FACTOR
from wellset.units import UnitSystem, decimals_for

MINUS: Final = "\N{MINUS SIGN}"
SPACE: Final = "\N{NO-BREAK SPACE}"
UNSIGNED: Final = frozenset(
    {
        "stance_width",
        "stance_gap",
        "ball_position",
        "ball_to_toes",
        "heel_toe_balance",
        "lead_share",
        "handle_height",
        "shaft_angle",
    }
)
"""Measures that need no word on what a positive value means."""


@frozen(kw_only=True)
class UnitWords:
    """How one unit of the contract is shown: factor and sign."""

    factor: float
    sign: str


def unit_words(unit: Unit, system: UnitSystem) -> UnitWords:
    """The coach's unit for a unit of the contract."""
    if unit is Unit.METRE:
        return UnitWords(factor=1 / system.metres, sign=f"{SPACE}{system.value}")
    return UnitWords(factor=1.0, sign="°" if unit is Unit.DEGREE else f"{SPACE}%")


def number(value: float, places: int) -> str:
    """Fixed decimals, a true minus sign, and no minus before a zero."""
    text = f"{value:.{places}f}"
    if float(text) == 0:
        text = text.lstrip("-")
    return text.replace("-", MINUS)


def places_of(sd: float | None, *, unit: Unit, system: UnitSystem) -> int:
    """Decimals in the coach's unit; at most one, since no phone measures better."""
    words = unit_words(unit, system)
    shown = None if sd is None else sd * words.factor
    return min(decimals_for(shown, default=0), 1)


def give_or_take(result: Measured, system: UnitSystem, /) -> str:
    """The value with half its 95 % interval: ``41 ± 2 cm``."""
    return spread_text(result.value, COVERAGE_FACTOR * result.sd, unit=result.unit, system=system)


def spread_text(value: float, half: float, /, *, unit: Unit, system: UnitSystem) -> str:
    """A value and half of its 95 % interval, both in the published unit."""
    words = unit_words(unit, system)
    places = places_of(half / COVERAGE_FACTOR, unit=unit, system=system)
    # Never "± 0": the last digit shown is the least that is claimed.
    shown = max(half * words.factor, 10.0**-places)
    centre = number(value * words.factor, places)
    return f"{centre}{SPACE}±{SPACE}{number(shown, places)}{words.sign}"


def half_text(half: float, /, *, unit: Unit, system: UnitSystem) -> str:
    """Half of a 95 % range: ``±2.1°``; two digits, so that a narrower one can be seen."""
    words = unit_words(unit, system)
    shown = half * words.factor
    places = 1 if shown < 10 else 0
    return f"±{number(max(shown, 10.0**-places), places)}{words.sign}"


def sd_text(sd: float, unit: Unit, /, *, system: UnitSystem) -> str:
    """A standard uncertainty, to one decimal."""
    words = unit_words(unit, system)
    return number(sd * words.factor, 1) + words.sign


def _end(value: float, unit: Unit, *, system: UnitSystem) -> str:
    text = number(value * unit_words(unit, system).factor, 1)
    return text.removesuffix(".0")


def window_text(low: float | None, high: float | None, /, *, unit: Unit, system: UnitSystem) -> str:
    """A window: ``38 to 46 cm``, ``at least 38 cm``, ``at most 46 cm``."""
    sign = unit_words(unit, system).sign
    if low is None and high is None:
        return ""
    if low is None:
        return f"at most {_end(high or 0.0, unit, system=system)}{sign}"
    if high is None:
        return f"at least {_end(low, unit, system=system)}{sign}"
    return f"{_end(low, unit, system=system)} to {_end(high, unit, system=system)}{sign}"


def meaning_of_plus(measure: str) -> str:
    """What a positive value means, for measures that have a sign."""
    return "" if measure in UNSIGNED else MEASURES[measure].positive
