"""The rules of equipment that concern a set-up: ball, length, lie, size of the head."""

from __future__ import annotations

import math
from typing import Final

from wellset.equipment.kinds import ClubKind
from wellset.errors import EquipmentError, InputError
from wellset.units import Mark, Record, format_length

_ENTERED: Final = "2026-11-25"
_RULES: Final = "R&A and USGA Equipment Rules"


def _limit(
    value: float, *, unit: str, what: str, part: str, mark: Mark = Mark.READ_SECOND_HAND
) -> Record:
    return Record(
        value=value,
        unit=unit,
        population=what,
        source=f"{_RULES}, {part}",
        mark=mark,
        edition=_ENTERED,
    )


LEAST_BALL_DIAMETER: Final = _limit(0.04267, unit="m", what="every ball", part="Part 4: 1.680 in")
GREATEST_BALL_MASS: Final = _limit(0.04593, unit="kg", what="every ball", part="Part 4: 1.620 oz")
LEAST_LENGTH: Final = _limit(18 * 0.0254, unit="m", what="every club", part="Part 2: 18 in")
GREATEST_LENGTH: Final = _limit(
    48 * 0.0254, unit="m", what="every club but a putter", part="Part 2: 48 in"
)
GREATEST_LIE: Final = _limit(
    math.radians(80),
    unit="rad",
    what="every club",
    part="Part 2: the shaft leans at least 10° from the vertical, seen from the front of the face",
    mark=Mark.MEMORY,
)
GREATEST_WOOD_HEAD: Final = _limit(
    0.127, unit="m", what="woods, heel to toe", part="Part 2: 5 in", mark=Mark.MEMORY
)
GREATEST_PUTTER_HEAD: Final = _limit(
    0.1778, unit="m", what="putters, heel to toe", part="Part 2: 7 in", mark=Mark.MEMORY
)
MOST_CLUBS: Final = 14
"""Rule 4.1b of the Rules of Golf (read in a text that quotes it)."""

_SLACK: Final = 0.0005
"""Half a millimetre: a length written to the millimetre is not a breach."""
_ANGLE_SLACK: Final = math.radians(0.05)

# Not rules: outside these a slip of the pen is likelier than a club. Metres and radians.
_PLAUSIBLE_LENGTH: Final = (0.2, 1.8)
_PLAUSIBLE_LIE: Final = (math.radians(40), math.radians(90))
_PLAUSIBLE_HEAD: Final = (0.03, 0.25)


def check_ball(*, diameter_m: float, mass_kg: float) -> None:
    """Refuse a ball that is too small or too heavy.

    Raises
    ------
    EquipmentError
        Naming every rule it breaks.
    """
    problems = []
    if not diameter_m >= LEAST_BALL_DIAMETER.value - 1e-9:
        problems.append(f"it is {1000 * diameter_m:.2f} mm across and must be at least 42.67 mm")
    if not 0 < mass_kg <= GREATEST_BALL_MASS.value + 1e-9:
        problems.append(f"it weighs {1000 * mass_kg:.2f} g and may weigh at most 45.93 g")
    if not (diameter_m < 0.1 and mass_kg > 0.001):
        problems.append("nothing so large or so light is a golf ball")
    if problems:
        raise EquipmentError(
            "This ball breaks the rules of equipment",
            why=f"{'; '.join(problems)} (Equipment Rules, Part 4).",
            fix="Give the ball's diameter and mass, or leave them out for a standard ball.",
            where="ball",
        )


def check_club(
    name: str, *, kind: ClubKind, length_m: float, lie: float, head_length_m: float
) -> None:
    """Refuse a club that cannot exist, then one that breaks the rules.

    Raises
    ------
    InputError
        If a number is absurd for any club.
    EquipmentError
        Naming every rule it breaks.
    """
    _check_plausible(name, length_m=length_m, lie=lie, head_length_m=head_length_m)
    problems = [
        *_length_problems(kind, length_m=length_m),
        *_lie_problems(lie),
        *_head_problems(kind, head_length_m=head_length_m),
    ]
    if problems:
        raise EquipmentError(
            f"The {name} breaks the rules of equipment",
            why=f"{'; '.join(problems)} (Equipment Rules, Part 2).",
            fix="Check the numbers, or leave them out for a typical club.",
            where="club",
        )


def _check_plausible(name: str, *, length_m: float, lie: float, head_length_m: float) -> None:
    problems = []
    if not _PLAUSIBLE_LENGTH[0] <= length_m <= _PLAUSIBLE_LENGTH[1]:
        problems.append(f"a length of {100 * length_m:.1f} cm")
    if not _PLAUSIBLE_LIE[0] <= lie <= _PLAUSIBLE_LIE[1]:
        problems.append(f"a lie of {math.degrees(lie):.1f}°")
    if not _PLAUSIBLE_HEAD[0] <= head_length_m <= _PLAUSIBLE_HEAD[1]:
        problems.append(f"a head of {100 * head_length_m:.1f} cm")
    if problems:
        raise InputError(
            f"Cannot use these numbers for the {name}",
            why=f"no club has {' and '.join(problems)}.",
            fix='Give the length with its unit, for example "37 in", and the lie in degrees.',
            where="club",
        )


def _length_problems(kind: ClubKind, *, length_m: float) -> list[str]:
    shown = f"it is {format_length(length_m)} ({format_length(length_m, system='in')}) long"
    if length_m < LEAST_LENGTH.value - _SLACK:
        return [f"{shown} and must be at least 45.7 cm (18 in)"]
    if kind is not ClubKind.PUTTER and length_m > GREATEST_LENGTH.value + _SLACK:
        return [f"{shown} and may be at most 121.9 cm (48 in)"]
    return []


def _lie_problems(lie: float) -> list[str]:
    if lie > GREATEST_LIE.value + _ANGLE_SLACK:
        return [f"its lie is {math.degrees(lie):.1f}° and may be at most 80°"]
    return []


def _head_problems(kind: ClubKind, *, head_length_m: float) -> list[str]:
    limit = None
    if kind.is_wood:
        limit = GREATEST_WOOD_HEAD.value
    elif kind is ClubKind.PUTTER:
        limit = GREATEST_PUTTER_HEAD.value
    if limit is not None and head_length_m > limit + _SLACK:
        shown = f"its head is {1000 * head_length_m:.0f} mm from heel to toe"
        return [f"{shown} and may be at most {1000 * limit:.0f} mm"]
    return []
