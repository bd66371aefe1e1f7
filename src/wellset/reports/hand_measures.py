"""Lengths and angles in what a student has at hand: fingers, hands, shoes, club heads, a clock."""

from __future__ import annotations

from datetime import date, timedelta
from math import floor
from typing import Final

from wellset.advise.amounts import HAND_BREADTH_M
from wellset.units import UnitSystem

FINGER_M: Final = 0.02
"""Breadth of a finger: about a quarter of a hand's breadth across the knuckles (from memory)."""
HOUR_DEG: Final = 30.0
"""An hour on the face of a clock."""
_FINGERS_UP_TO: Final = 3.5
_NEAR: Final = 0.12
"""How far from a half a count may lie before "a bit more" or "a bit less" is said."""
_NUMBERS: Final = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine",
                   "ten", "eleven", "twelve")  # fmt: skip
_DAYS: Final = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS: Final = ("January", "February", "March", "April", "May", "June", "July", "August",
                  "September", "October", "November", "December")  # fmt: skip


def _number(count: int) -> str:
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def halves(count: float, /, *, one: str, many: str) -> str:
    """A count to the nearest half, and on which side of it the true count lies.

    Examples
    --------
    >>> halves(1.52, one="shoe", many="shoes")
    'one and a half shoes'
    >>> halves(1.8, one="shoe", many="shoes")
    'a bit less than two shoes'
    """
    near = floor(2 * count + 0.5) / 2
    whole, half = divmod(round(2 * near), 2)
    off = count - near
    side = "" if abs(off) <= _NEAR else ("a bit more than " if off > 0 else "a bit less than ")
    if whole == 0:
        return f"{side}half a {one}" if half else f"less than half a {one}"
    if half:
        return f"{side}{_number(whole)} and a half {many}"
    return f"{side}{_number(whole)} {one if whole == 1 else many}"


def by_hand(metres: float, /) -> str:
    """A short length in fingers or hands held side by side.

    Examples
    --------
    >>> by_hand(0.021), by_hand(0.058), by_hand(0.13)
    ('one finger width', 'three finger widths', 'one and a half hand widths')
    """
    fingers = floor(metres / FINGER_M + 0.5)
    if fingers < 1:
        return "less than a finger width"
    if metres / FINGER_M < _FINGERS_UP_TO:
        return "one finger width" if fingers == 1 else f"{_number(fingers)} finger widths"
    hands = max(floor(2 * metres / HAND_BREADTH_M + 0.5), 2) / 2
    whole, half = divmod(round(2 * hands), 2)
    if half:
        return f"{_number(whole)} and a half hand widths"
    return "one hand width" if whole == 1 else f"{_number(whole)} hand widths"


def tape(metres: float, /, *, units: UnitSystem) -> str:
    """A length on a tape: whole centimetres, or half inches.

    Examples
    --------
    >>> tape(0.312, units=UnitSystem.CENTIMETRES), tape(0.312, units=UnitSystem.INCHES)
    ('31 cm', '12½ in')
    """
    size = abs(metres) / units.metres
    if units is UnitSystem.CENTIMETRES:
        return f"{size:.0f} cm"
    whole, half = divmod(floor(2 * size + 0.5), 2)
    if half:
        return f"{whole or ''}½ in"
    return f"{whole} in"


def clock(deg: float, /) -> str:
    """How far a foot turns out, on a clock that lies on the ground with twelve straight ahead.

    Examples
    --------
    >>> clock(2), clock(16), clock(-14)
    ('straight ahead', 'out by half an hour on the clock', 'in by half an hour on the clock')
    """
    hours = floor(2 * abs(deg) / HOUR_DEG + 0.5) / 2
    if hours == 0:
        return "straight ahead"
    way = "out" if deg > 0 else "in"
    if hours < 1:
        return f"{way} by half an hour on the clock"
    whole, half = divmod(round(2 * hours), 2)
    many = f"{_number(whole)} and a half hours" if half else f"{_number(whole)} hours"
    return f"{way} by {'one hour' if hours == 1 else many} on the clock"


def day_words(day: str, /) -> str:
    """A day as it is said: ``2026-11-25`` is "Wednesday 25 November 2026"."""
    on = date.fromisoformat(day)
    return f"{_DAYS[on.weekday()]} {on.day} {_MONTHS[on.month - 1]} {on.year}"


def day_after(day: str, days: int, /) -> str:
    """A day some days later, ``2026-11-25``."""
    return (date.fromisoformat(day) + timedelta(days=days)).isoformat()
