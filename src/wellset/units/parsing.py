"""Text with units in, SI numbers out."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from typing import Final

from wellset.errors import InputError

INCH_M: Final = 0.0254
"""Exact, by the international yard and pound agreement of 1959."""
FOOT_M: Final = 12 * INCH_M
POUND_KG: Final = 0.45359237
"""Exact, by the same agreement."""

# Size in SI as numerator and divisor, so that 178 cm is 1.78 m to the last bit.
_LENGTH_UNITS: Final = {
    "m": (1.0, 1.0),
    "cm": (1.0, 100.0),
    "mm": (1.0, 1000.0),
    "in": (254.0, 10_000.0),
    "ft": (3048.0, 10_000.0),
}
_MASS_UNITS: Final = {
    "kg": (1.0, 1.0),
    "g": (1.0, 1000.0),
    "lb": (POUND_KG, 1.0),
    "oz": (POUND_KG, 16.0),
    "st": (14 * POUND_KG, 1.0),
}
_ANGLE_UNITS: Final = {"deg": math.pi / 180, "rad": 1.0}

# Longer spellings first, so that "inches" is not read as "in" and a rest.
_SPELLINGS: Final = (
    (r"milli(?:metres?|meters?)", "mm"),
    (r"centi(?:metres?|meters?)", "cm"),
    (r"metres?|meters?", "m"),
    (r"inch(?:es)?|ins|in\.", "in"),
    (r"feet|foot|ft\.", "ft"),
    (r"kilos?|kilograms?|kgs", "kg"),
    (r"grams?|gr", "g"),
    (r"pounds?|lbs", "lb"),
    (r"ounces?", "oz"),
    (r"stones?", "st"),
    (r"degrees?|°|º", "deg"),
    (r"radians?", "rad"),
)
_PRIMES: Final = {
    "\N{PRIME}": "'",
    "\N{RIGHT SINGLE QUOTATION MARK}": "'",
    "\N{LEFT SINGLE QUOTATION MARK}": "'",
    "\N{DOUBLE PRIME}": '"',
    "\N{RIGHT DOUBLE QUOTATION MARK}": '"',
    "\N{LEFT DOUBLE QUOTATION MARK}": '"',
    "''": '"',
}
_PLAIN: Final = {"\N{MINUS SIGN}": "-", "\N{NO-BREAK SPACE}": " "}
_FRACTIONS: Final = {"¼": " 1/4", "½": " 1/2", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8",
                     "⅝": " 5/8", "⅞": " 7/8"}  # fmt: skip

_NUMBER: Final = r"(?:\d+(?:[.,]\d+)?|[.,]\d+)"
_QUANTITY: Final = rf"({_NUMBER})(?:\s+(\d+)/(\d+))?\s*"
_ONE: Final = re.compile(rf"{_QUANTITY}([a-z]+)")
_FEET_INCHES: Final = re.compile(rf"({_NUMBER})\s*(?:ft|')\s*(?:{_QUANTITY}(?:in|\")?)?")
_INCH_MARK: Final = re.compile(rf"{_QUANTITY}\"")
_METRES_CM: Final = re.compile(r"(\d+)\s*m\s+(\d+(?:[.,]\d+)?)\s*cm")
_STONES_POUNDS: Final = re.compile(rf"({_NUMBER})\s*st\s*({_NUMBER})\s*lb")
_BARE: Final = re.compile(rf"[-+]?\s*{_NUMBER}")
_FEET_DASH: Final = re.compile(r"\d\s*-\s*\d+(?:[.,]\d+)?")
_ANGLE: Final = re.compile(rf"([-+]?)\s*({_NUMBER})\s*(deg|rad)?")

_LONGEST_TEXT: Final = 60

_LENGTH_FIX: Final = (
    'Write it with its unit, for example "178 cm", "1.78 m", "70 in" or "5 ft 10 in".'
)
_MASS_FIX: Final = 'Write it with its unit, for example "75 kg" or "165 lb".'
_ANGLE_FIX: Final = 'Write degrees, for example "62.5" or "62.5°".'


def degrees(radians_: float) -> float:
    """Radians to degrees."""
    return math.degrees(radians_)


def radians(degrees_: float) -> float:
    """Degrees to radians."""
    return math.radians(degrees_)


def parse_length(text: str, *, where: str = "") -> float:
    r"""Read a length with its unit.

    Parameters
    ----------
    text : str
        ``"178 cm"``, ``"1.78 m"``, ``"1,78 m"``, ``"1780 mm"``, ``"70 in"``,
        ``"35 1/4 in"``, ``"5 ft 10 in"`` or ``5'10"``.
    where : str
        The field or option the text came from, for the message.

    Returns
    -------
    float
        Metres, zero or more. Whether the length makes sense is the caller's question.

    Raises
    ------
    InputError
        No unit, an unknown unit, a sign, or a form that can be read in two ways.

    Examples
    --------
    >>> parse_length("178 cm")
    1.78
    >>> round(parse_length("5'10\""), 4)
    1.778
    >>> parse_length("178")  # doctest: +ELLIPSIS
    Traceback (most recent call last):
    ...
    wellset.errors.InputError: Cannot read the length "178": it has no unit. ...
    """
    clean = _clean(text, kind="length", fix=_LENGTH_FIX, where=where)
    if match := _FEET_INCHES.fullmatch(clean):
        return _feet_and_inches(match, text=text, where=where)
    if match := _METRES_CM.fullmatch(clean):
        centimetres = _number(match[2], text=text, kind="length", where=where)
        return float(match[1]) + centimetres / 100
    if match := _INCH_MARK.fullmatch(clean):
        return _mixed(match.groups(), text=text, kind="length", where=where) * 254 / 10_000
    if match := _ONE.fullmatch(clean):
        size, divisor = _unit(match[4], _LENGTH_UNITS, text=text, kind="length", where=where)
        number = _mixed(match.groups(), text=text, kind="length", where=where)
        return number * size / divisor
    raise _unreadable_length(clean, text=text, where=where)


def parse_mass(text: str, *, where: str = "") -> float:
    """Read a mass with its unit: ``"75 kg"``, ``"165 lb"``, ``"11 st 4 lb"``, ``"46 g"``.

    Returns
    -------
    float
        Kilograms, zero or more.

    Raises
    ------
    InputError
        No unit, an unknown unit or a sign.
    """
    clean = _clean(text, kind="weight", fix=_MASS_FIX, where=where)
    if match := _STONES_POUNDS.fullmatch(clean):
        stones, pounds = (
            _number(part, text=text, kind="weight", where=where) for part in match.groups()
        )
        return (14 * stones + pounds) * POUND_KG
    if match := _ONE.fullmatch(clean):
        size, divisor = _unit(match[4], _MASS_UNITS, text=text, kind="weight", where=where)
        number = _mixed(match.groups(), text=text, kind="weight", where=where)
        return number * size / divisor
    why = "it has no unit." if _BARE.fullmatch(clean) else "it is not a number with a unit."
    raise _error("weight", text, why=why, fix=_MASS_FIX, where=where)


def parse_angle(value: str | float, *, where: str = "") -> float:
    """Read an angle in degrees: ``62.5``, ``"62.5"``, ``"62.5°"``, ``"-3 deg"``.

    Degrees are the only unit a coach writes angles in, so a bare number is degrees.
    ``rad`` is understood where it is written out.

    Returns
    -------
    float
        Radians, with its sign.

    Raises
    ------
    InputError
        Not a finite number of degrees.
    """
    if isinstance(value, int | float) and not isinstance(value, bool):
        if not math.isfinite(value):
            raise _error("angle", value, why="it is not a finite number.", fix=_ANGLE_FIX,
                         where=where)  # fmt: skip
        return math.radians(value)
    clean = _clean(value, kind="angle", fix=_ANGLE_FIX, where=where, signed=True)
    match = _ANGLE.fullmatch(clean)
    if match is None:
        raise _error("angle", value, why="it is not a number of degrees.", fix=_ANGLE_FIX,
                     where=where)  # fmt: skip
    size = _number(match[2], text=value, kind="angle", where=where)
    sign = -1.0 if match[1] == "-" else 1.0
    return sign * size * _ANGLE_UNITS[match[3] or "deg"]


def _clean(text: object, *, kind: str, fix: str, where: str, signed: bool = False) -> str:
    """One spelling for every unit, mark and space; signs refused unless asked for."""
    if not isinstance(text, str):
        why = "it has no unit." if isinstance(text, int | float) else "it is not text."
        raise _error(kind, text, why=why, fix=fix, where=where)
    clean = text
    for table in (_PRIMES, _FRACTIONS, _PLAIN):
        for mark, plain in table.items():
            clean = clean.replace(mark, plain)
    clean = clean.strip().lower()
    if len(clean) > _LONGEST_TEXT:
        raise _error(kind, text, why=f"it is {len(clean)} characters long.", fix=fix, where=where)
    if not clean:
        raise _error(kind, text, why="it is empty.", fix=fix, where=where)
    if clean.startswith("-") and not signed:
        raise _error(kind, text, why=f"a {kind} cannot be negative.", fix=fix, where=where)
    for pattern, unit in _SPELLINGS:
        clean = re.sub(rf"(?<![a-z])(?:{pattern})(?![a-z])", f" {unit} ", clean)
    return re.sub(r"\s+", " ", clean).strip()


def _number(digits: str, *, text: object, kind: str, where: str) -> float:
    """A decimal with point or comma; three digits after a comma can be read in two ways."""
    if re.search(r",\d{3}$", digits):
        why = f'the comma in "{digits}" may mean thousands or a decimal.'
        fix = "Leave the thousands mark out, or write a point before the decimals."
        raise _error(kind, text, why=why, fix=fix, where=where)
    return float(digits.replace(",", "."))


def _mixed(parts: Sequence[str | None], *, text: object, kind: str, where: str) -> float:
    """A number with an optional fraction behind it: whole, numerator, denominator."""
    whole, numerator, denominator = parts[:3]
    number = _number(whole or "0", text=text, kind=kind, where=where)
    if numerator is None or denominator is None:
        return number
    if number != math.floor(number) or int(numerator) >= int(denominator):
        why = f'"{whole} {numerator}/{denominator}" is not a whole number and a fraction.'
        raise _error(kind, text, why=why, fix='Write it like "35 1/4 in".', where=where)
    return number + int(numerator) / int(denominator)


def _feet_and_inches(match: re.Match[str], *, text: object, where: str) -> float:
    """Groups: 1 feet, 2 inches or ``None``, 3 and 4 the fraction of an inch."""
    feet = _number(match[1], text=text, kind="length", where=where)
    if match[2] is None:
        return feet * 3048 / 10_000
    inches = _mixed(match.groups()[1:], text=text, kind="length", where=where)
    if feet != math.floor(feet) or inches >= 12:
        why = "feet with inches behind them must be whole, and the inches below 12."
        raise _error("length", text, why=why, fix=_LENGTH_FIX, where=where)
    return (12 * feet + inches) * 254 / 10_000


def _unit(
    name: str,
    units: dict[str, tuple[float, float]],
    *,
    text: object,
    kind: str,
    where: str,
) -> tuple[float, float]:
    """Size of a unit in SI, as numerator and divisor."""
    if name not in units:
        known = ", ".join(units)
        why = f'"{name}" is not a unit of {kind} that is known here.'
        raise _error(kind, text, why=why, fix=f"Use one of: {known}.", where=where)
    return units[name]


def _unreadable_length(clean: str, *, text: object, where: str) -> InputError:
    """Say which of the usual slips it was."""
    if _FEET_DASH.fullmatch(clean):
        why = "a dash may mean feet and inches, a range, or a minus."
    elif _BARE.fullmatch(clean):
        why = "it has no unit."
    else:
        why = "it is not a number with a unit."
    return _error("length", text, why=why, fix=_LENGTH_FIX, where=where)


def _error(kind: str, text: object, *, why: str, fix: str, where: str) -> InputError:
    """The message, with long input cut short."""
    shown = str(text).strip()
    shown = shown if len(shown) <= 40 else shown[:37] + "..."
    return InputError(f'Cannot read the {kind} "{shown}"', why=why, fix=fix, where=where)
