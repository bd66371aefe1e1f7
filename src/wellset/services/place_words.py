"""Slope and wind as a coach writes them: "uphill 6", "ball above feet 8 deg", "against"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from wellset.errors import InputError
from wellset.prescribe import Ground, Wind
from wellset.units import parse_angle

_WAYS: Final = {
    "uphill": ("uphill", 1.0),
    "downhill": ("uphill", -1.0),
    "ball above feet": ("ball_above_feet", 1.0),
    "above": ("ball_above_feet", 1.0),
    "ball below feet": ("ball_above_feet", -1.0),
    "below": ("ball_above_feet", -1.0),
}
_SLOPE: Final = re.compile(r"([a-z ]+?)\s*([0-9].*)")
_WINDS: Final = {"into": Wind.AGAINST, "head": Wind.AGAINST, "behind": Wind.WITH, "down": Wind.WITH}


def ground_from_words(slopes: Iterable[str], /) -> Ground:
    """The ground from slopes with their degrees.

    Parameters
    ----------
    slopes : iterable of str
        ``uphill``, ``downhill``, ``ball above feet`` or ``ball below feet``, each with a number.

    Raises
    ------
    InputError
        For other words, a missing number, one direction twice, or too steep a slope.
    """
    found: dict[str, float] = {}
    for text in slopes:
        clean = " ".join(text.lower().replace("-", " ").replace("_", " ").split())
        match = _SLOPE.fullmatch(clean)
        if match is None or match[1] not in _WAYS:
            raise InputError(
                "The slope is not understood",
                why=f'it says "{text[:40]}".',
                fix='Write for example "uphill 6", "downhill 4", "ball above feet 8" or "ball '
                'below feet 5", in degrees.',
                where="slope",
            )
        axis, sign = _WAYS[match[1]]
        if axis in found:
            raise InputError(
                "The slope is said twice",
                why=f'"{text[:40]}" speaks of a direction that another one settled.',
                fix="Give one slope along the target line and one across it.",
                where="slope",
            )
        found[axis] = sign * parse_angle(match[2], where="slope")
    return Ground(**found)


def wind_from_words(text: str | None, /) -> Wind:
    """The wind from ``against``, ``with`` or ``none``.

    Raises
    ------
    InputError
        For another word.
    """
    clean = (text or "none").strip().lower()
    if clean in tuple(Wind):
        return Wind(clean)
    if clean in _WINDS:
        return _WINDS[clean]
    raise InputError(
        "The wind is not understood",
        why=f'it says "{clean[:40]}".',
        fix='Write "against", "with" or "none".',
        where="wind",
    )
