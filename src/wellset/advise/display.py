"""Numbers of a measure in the coach's units, rounded by their uncertainty."""

from __future__ import annotations

from wellset.measures import COVERAGE_FACTOR, Unit
from wellset.standards import Window
from wellset.units import UnitSystem, decimals_for

_SIGNS = {Unit.DEGREE: "°", Unit.PERCENT: " %"}


def sign_of(unit: Unit, *, units: UnitSystem) -> str:
    """What stands behind a number: " cm", " in", "°" or " %"."""
    return _SIGNS.get(unit, f" {units.value}")


def number(value: float, *, unit: Unit, units: UnitSystem, sd: float | None) -> str:
    """A value without its unit, with the decimals its uncertainty deserves."""
    factor = units.metres if unit is Unit.METRE else 1.0
    places = decimals_for(None if sd is None else sd / factor, default=0)
    text = f"{value / factor:.{places}f}"
    return text.lstrip("-") if float(text) == 0 else text


def quantity(value: float, *, unit: Unit, units: UnitSystem, sd: float | None) -> str:
    """A value with its unit: ``41 cm``, ``38°``, ``55 %``."""
    return number(value, unit=unit, units=units, sd=sd) + sign_of(unit, units=units)


def with_interval(value: float, *, unit: Unit, units: UnitSystem, sd: float) -> str:
    """A value and the half-width of its 95 % interval: ``41 ± 2 cm``."""
    half = number(COVERAGE_FACTOR * sd, unit=unit, units=units, sd=sd)
    return f"{number(value, unit=unit, units=units, sd=sd)} ± {half}{sign_of(unit, units=units)}"


def window_text(window: Window, *, units: UnitSystem) -> str:
    """The window in the coach's units, and as it was written where that differs."""

    def shown(limit: float, sd: float) -> str:
        tenth = 0.1 * (units.metres if window.unit is Unit.METRE else 1.0)
        text = number(limit, unit=window.unit, units=units, sd=max(sd, tenth))
        return text.removesuffix(".0")

    sign = sign_of(window.unit, units=units)
    if window.low is None:
        text = f"at most {shown(window.high or 0.0, window.high_sd)}{sign}"
    elif window.high is None:
        text = f"at least {shown(window.low, window.low_sd)}{sign}"
    else:
        low, high = shown(window.low, window.low_sd), shown(window.high, window.high_sd)
        text = f"{low} to {high}{sign}"
    return f"{text} ({window.as_written})" if window.as_written else text
