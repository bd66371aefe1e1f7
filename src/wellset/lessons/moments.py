"""Moments and days as text: the core has no clock, it only puts them in order."""

from __future__ import annotations

import re
from typing import Final

from wellset.errors import InputError

_MOMENT: Final = re.compile(r"\d{4}-[01]\d-[0-3]\dT[0-2]\d:[0-5]\d:[0-6]\d(\.\d{1,6})?Z")
_DAY: Final = re.compile(r"\d{4}-[01]\d-[0-3]\d")


def moment(text: str, /) -> str:
    """A moment in universal time, ``2026-11-25T12:52:03Z``; such texts sort as time does.

    Raises
    ------
    InputError
    """
    if not _MOMENT.fullmatch(text):
        raise InputError(
            "Cannot use this moment",
            why=f'"{text[:40]}" is not written like 2026-11-25T12:52:03Z.',
            fix="Write it in universal time (UTC), with a Z at its end.",
        )
    return text


def day(text: str, /) -> str:
    """A calendar day, ``2026-11-25``.

    Raises
    ------
    InputError
    """
    if not _DAY.fullmatch(text):
        raise InputError(
            "Cannot use this day",
            why=f'"{text[:40]}" is not written like 2026-11-25.',
            fix="Write year, month and day, with dashes.",
        )
    return text


def optional_day(text: str | None, /) -> str | None:
    """A day, or nothing."""
    return None if text is None else day(text)


def optional_moment(text: str | None, /) -> str | None:
    """A moment, or nothing."""
    return None if text is None else moment(text)
