"""Amounts that one can walk, lay a hand to, or turn by eye."""

from __future__ import annotations

from math import floor
from typing import Final

from wellset.units import degrees

STEP_M: Final = 0.75
"""One ordinary step (common practice, no source)."""
HAND_BREADTH_M: Final = 0.085
"""Breadth of a hand across the knuckles: 8-9 cm (ANSUR II)."""

_NUMBERS: Final = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine",
                   "ten", "eleven", "twelve")  # fmt: skip


def _count(number: int) -> str:
    return _NUMBERS[number] if number < len(_NUMBERS) else str(number)


def steps(metres: float, /) -> str:
    """A way on the ground, to half a step: "half a step", "a step and a half", "three steps".

    Examples
    --------
    >>> steps(0.4), steps(0.7), steps(1.9)
    ('half a step', 'a step', 'two and a half steps')
    """
    halves = max(1, floor(2 * metres / STEP_M + 0.5))
    whole, half = divmod(halves, 2)
    if whole == 0:
        return "half a step"
    if whole == 1:
        return "a step and a half" if half else "a step"
    return f"{_count(whole)}{' and a half' if half else ''} steps"


def hand_breadths(metres: float, /) -> str:
    """A height in hands laid on each other: "a hand breadth", "four hand breadths".

    Examples
    --------
    >>> hand_breadths(0.35)
    'four hand breadths'
    """
    count = max(1, floor(metres / HAND_BREADTH_M + 0.5))
    return "a hand breadth" if count == 1 else f"{_count(count)} hand breadths"


def angle_words(radians: float, /) -> str:
    """An angle to turn by: "about 12°"."""
    return f"about {degrees(radians):.0f}°"
