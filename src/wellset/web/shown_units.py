"""A measure's unit as a page shows it."""

from __future__ import annotations

from wellset.measures import Unit
from wellset.units import INCH_M


def shown_unit(unit: Unit, *, inches: bool) -> tuple[float, str]:
    """Factor from the published unit, and the sign of the shown one."""
    if unit is Unit.METRE:
        return (1 / INCH_M, "in") if inches else (100.0, "cm")
    return (1.0, "°" if unit is Unit.DEGREE else "%")
