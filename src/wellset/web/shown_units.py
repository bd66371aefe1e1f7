"""A measure's unit as a page shows it."""

from __future__ import annotations

from wellset.measures import Unit
from wellset.units import INCH_M


def shown_unit(unit: Unit, *, inches: bool) -> tuple[float, str]:
    """Factor from the published unit, and what follows the number: ``"°"``, ``" cm"``."""
    if unit is Unit.METRE:
        return (1 / INCH_M, "\N{NO-BREAK SPACE}in") if inches else (100.0, "\N{NO-BREAK SPACE}cm")
    return (1.0, "°" if unit is Unit.DEGREE else "\N{NO-BREAK SPACE}%")


def quantity(value: float, unit: str = "", *, signed: bool = False) -> str:
    """A number to a tenth with what follows it, and a real minus.

    Examples
    --------
    >>> quantity(-8.64, "°", signed=True)
    '−8.6°'
    """
    return f"{value:{'+' if signed else ''}.1f}{unit}".replace("-", "−")
