"""Shoe sizes as lengths of the foot.

A continental size counts Paris points of two thirds of a centimetre along the last; a
British one counts barleycorns of a third of an inch from a child's 0 at four inches; the
last is about 1.5 cm longer than the foot. American sizes start one (men) or two (women)
higher than British ones. Mondopoint sizes are the foot's own length in millimetres or
centimetres (ISO 9407). From memory: ISO/TS 19407 gives conversion tables; makers differ
from it and from each other by half a size and more.
"""

from __future__ import annotations

import re
from typing import Final

from wellset.errors import InputError

_PARIS_POINT_M: Final = 0.02 / 3
_BARLEYCORN_M: Final = 0.0254 / 3
_CHILD_ZERO: Final = 12.0
"""Barleycorns of a child's 0: four inches. Adult sizes start at 13 more."""
_ADULT: Final = 13.0
_ROOM_M: Final = 0.015
"""By how much the last is longer than the foot."""
_SIZE: Final = re.compile(
    r"\s*(?P<system>eu|uk|us\s*men|us\s*women|us\s*m|us\s*w|us|cm|mm)?\s*"
    r"(?P<number>\d{1,3}(?:[.,]\d)?)\s*(?P<after>eu|uk|us|cm|mm)?\s*",
    re.IGNORECASE,
)
_LEAST_M, _MOST_M = 0.15, 0.36


def foot_length_of_shoe(text: str, /, *, where: str = "shoe size") -> float:
    """Length of the foot that a shoe size is made for, metre.

    Parameters
    ----------
    text : str
        ``"EU 43"``, ``"UK 9"``, ``"US 10"``, ``"US women 8.5"``, ``"27.5 cm"``.
    where : str
        The field, for messages.

    Raises
    ------
    InputError
        When it cannot be read, or no foot is so long.

    Examples
    --------
    >>> round(foot_length_of_shoe("EU 43"), 3)
    0.272
    >>> round(foot_length_of_shoe("UK 9"), 3)
    0.273
    """
    match = _SIZE.fullmatch(text)
    system = "".join((match["system"] or match["after"] or "").lower().split()) if match else ""
    if match is None or not system:
        raise InputError(
            "Cannot read this shoe size",
            why=f'"{text[:30]}" has no system that is known.',
            fix='Write it like "EU 43", "UK 9", "US 10", "US women 8.5" or "27.5 cm".',
            where=where,
        )
    length = _length(float(match["number"].replace(",", ".")), system)
    if not _LEAST_M <= length <= _MOST_M:
        raise InputError(
            "Cannot use this shoe size",
            why=f"a foot for it would be {100 * length:.0f} cm long.",
            fix="Check the number and the system.",
            where=where,
        )
    return length


def _length(number: float, system: str) -> float:
    if system in {"cm", "mm"}:
        return number / (100.0 if system == "cm" else 1000.0)
    if system == "eu":
        return number * _PARIS_POINT_M - _ROOM_M
    british = number - {"uk": 0.0, "uswomen": 2.0, "usw": 2.0}.get(system, 1.0)
    return (_CHILD_ZERO + _ADULT + british) * _BARLEYCORN_M - _ROOM_M
