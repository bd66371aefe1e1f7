"""Typical clubs: lengths, lies and heads where only a name is known.

No industry standard of length or lie exists. Lengths follow two clubmakers' tables that
agree on half an inch from iron to iron; lies are from memory but for the 7-iron; heads are
from memory.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from attrs import frozen

from wellset.equipment.kinds import ClubKind
from wellset.units import Edition, Mark, Record, radians

TYPICAL_CLUBS: Final = Edition(
    name="Typical clubs",
    date="2026-11-25",
    source=(
        "lengths: bobongolf.com (clubmaker, 2015) and dimensionsguide.com; 7-iron length and "
        "lie: six current models, magazine comparison 2024-25; other lies, hybrids, putters "
        "and heads: from memory"
    ),
)

ASSUMED_LENGTH_SD: Final = 0.0127
"""Metres: half an inch, the step from club to club. Women's clubs are usually an inch
shorter, and fitted ones an inch either way, so this is what a name alone can promise."""
TYPED_LENGTH_SD: Final = 0.003
"""Metres: a length read from a tape or a maker's sheet; common practice, no source."""
ASSUMED_LIE_SD: Final = math.radians(1.0)
"""Radians: sets vary by about ±2° (sizes.com), read as two standard deviations."""
TYPED_LIE_SD: Final = math.radians(0.5)
"""Radians: a lie from a bench or a maker's sheet; common practice, no source."""
TYPED_HEAD_SD: Final = 0.002
"""Metres: a head laid on a ruler; common practice, no source."""


@frozen(kw_only=True)
class TypicalClub:
    """A row of the table.

    Parameters
    ----------
    name : str
        The one name the project uses.
    kind : ClubKind
    length : Record
        Metres.
    lie : Record
        Radians.
    head_length : Record
        Heel to toe, metres.
    """

    name: str
    kind: ClubKind
    length: Record
    lie: Record
    head_length: Record


# Heel to toe in millimetres: middle and spread of the range remembered.
_HEADS_MM: Final = {
    ClubKind.DRIVER: (118, 5, Mark.MEMORY, "about 110 to 127 mm"),
    ClubKind.FAIRWAY_WOOD: (103, 6, Mark.ASSUMED, "between a driver and a hybrid"),
    ClubKind.HYBRID: (92, 6, Mark.ASSUMED, "between a fairway wood and an iron"),
    ClubKind.LONG_IRON: (80, 4, Mark.MEMORY, "about 75 to 85 mm"),
    ClubKind.MID_IRON: (80, 4, Mark.MEMORY, "about 75 to 85 mm"),
    ClubKind.SHORT_IRON: (80, 4, Mark.MEMORY, "about 75 to 85 mm"),
    ClubKind.WEDGE: (80, 4, Mark.MEMORY, "about 75 to 85 mm"),
    ClubKind.PUTTER: (105, 9, Mark.MEMORY, "about 90 to 120 mm"),
}

_READ, _MEMORY, _BETWEEN = Mark.READ, Mark.MEMORY, Mark.ASSUMED
# name, kind, length in inches, its mark, lie in degrees, its mark. ASSUMED rows continue the
# steps of their neighbours.
_ROWS: Final = (
    ("driver", ClubKind.DRIVER, 45.0, _READ, 58.0, _MEMORY),
    ("3-wood", ClubKind.FAIRWAY_WOOD, 42.75, _READ, 57.0, _MEMORY),
    ("4-wood", ClubKind.FAIRWAY_WOOD, 42.5, _BETWEEN, 57.25, _BETWEEN),
    ("5-wood", ClubKind.FAIRWAY_WOOD, 42.25, _READ, 57.5, _MEMORY),
    ("7-wood", ClubKind.FAIRWAY_WOOD, 41.75, _BETWEEN, 58.0, _BETWEEN),
    ("9-wood", ClubKind.FAIRWAY_WOOD, 41.25, _BETWEEN, 58.5, _BETWEEN),
    ("2-hybrid", ClubKind.HYBRID, 41.0, _MEMORY, 58.0, _MEMORY),
    ("3-hybrid", ClubKind.HYBRID, 40.5, _MEMORY, 58.5, _MEMORY),
    ("4-hybrid", ClubKind.HYBRID, 40.0, _MEMORY, 59.0, _MEMORY),
    ("5-hybrid", ClubKind.HYBRID, 39.5, _MEMORY, 59.5, _MEMORY),
    ("6-hybrid", ClubKind.HYBRID, 39.0, _BETWEEN, 60.0, _MEMORY),
    ("7-hybrid", ClubKind.HYBRID, 38.5, _BETWEEN, 60.5, _BETWEEN),
    ("1-iron", ClubKind.LONG_IRON, 40.0, _BETWEEN, 58.5, _BETWEEN),
    ("2-iron", ClubKind.LONG_IRON, 39.5, _BETWEEN, 59.0, _BETWEEN),
    ("3-iron", ClubKind.LONG_IRON, 39.0, _READ, 59.5, _MEMORY),
    ("4-iron", ClubKind.LONG_IRON, 38.5, _READ, 60.5, _MEMORY),
    ("5-iron", ClubKind.MID_IRON, 38.0, _READ, 61.0, _MEMORY),
    ("6-iron", ClubKind.MID_IRON, 37.5, _READ, 61.5, _MEMORY),
    ("7-iron", ClubKind.MID_IRON, 37.0, _READ, 62.25, _READ),
    ("8-iron", ClubKind.SHORT_IRON, 36.5, _READ, 62.75, _MEMORY),
    ("9-iron", ClubKind.SHORT_IRON, 36.0, _READ, 63.25, _MEMORY),
    ("pitching wedge", ClubKind.WEDGE, 35.5, _READ, 64.0, _MEMORY),
    ("gap wedge", ClubKind.WEDGE, 35.25, _READ, 64.0, _MEMORY),
    ("sand wedge", ClubKind.WEDGE, 35.125, _READ, 64.0, _MEMORY),
    ("lob wedge", ClubKind.WEDGE, 35.0, _READ, 64.0, _MEMORY),
    ("putter", ClubKind.PUTTER, 34.0, _MEMORY, 70.0, _MEMORY),
)


def _record(value: float, sd: float, *, unit: str, mark: Mark, note: str = "") -> Record:
    return Record(
        value=value,
        sd=sd,
        unit=unit,
        population="clubs on sale, men's lengths",
        source=f"{TYPICAL_CLUBS.source}{'; ' if note else ''}{note}",
        mark=mark,
        edition=TYPICAL_CLUBS.date,
    )


def _typical(row: tuple[str, ClubKind, float, Mark, float, Mark]) -> TypicalClub:
    name, kind, length_in, length_mark, lie_deg, lie_mark = row
    head_mm, head_sd_mm, head_mark, note = _HEADS_MM[kind]
    return TypicalClub(
        name=name,
        kind=kind,
        length=_record(length_in * 0.0254, ASSUMED_LENGTH_SD, unit="m", mark=length_mark),
        lie=_record(radians(lie_deg), ASSUMED_LIE_SD, unit="rad", mark=lie_mark),
        head_length=_record(head_mm / 1000, head_sd_mm / 1000, unit="m", mark=head_mark, note=note),
    )


TYPICAL: Final[Mapping[str, TypicalClub]] = MappingProxyType(
    {row[0]: _typical(row) for row in _ROWS}
)
"""Typical clubs by name, driver first, putter last."""

# A kind stands for the clubs below: their mean, and their spread on top of one club's own.
_MEMBERS: Final = {
    ClubKind.DRIVER: ("driver",),
    ClubKind.FAIRWAY_WOOD: ("3-wood", "5-wood"),
    ClubKind.HYBRID: ("3-hybrid", "4-hybrid", "5-hybrid"),
    ClubKind.LONG_IRON: ("4-iron",),
    ClubKind.MID_IRON: ("6-iron", "7-iron"),
    ClubKind.SHORT_IRON: ("9-iron",),
    ClubKind.WEDGE: ("pitching wedge", "sand wedge"),
    ClubKind.PUTTER: ("putter",),
}


def typical_of_kind(kind: ClubKind) -> TypicalClub:
    """The club a kind stands for when nobody says which one it is.

    Notes
    -----
    The value is the mean of the clubs named in the table above (common practice, no source:
    a long iron is usually a 4-iron today, a short iron a 9-iron). The spread adds that of
    every club of the kind to what a name alone leaves open.
    """
    rows = [TYPICAL[name] for name in _MEMBERS[kind]]
    everyone = [row for row in TYPICAL.values() if row.kind is kind]

    def mean(values: list[Record], all_values: list[Record]) -> Record:
        centre = sum(r.value for r in values) / len(values)
        between = sum((r.value - centre) ** 2 for r in all_values) / len(all_values)
        return Record(
            value=centre,
            sd=math.sqrt(values[0].spread ** 2 + between),
            unit=values[0].unit,
            population=f"{values[0].population}, any {kind.value}",
            source=values[0].source,
            mark=Mark.DERIVED,
            edition=values[0].edition,
        )

    return TypicalClub(
        name=kind.value,
        kind=kind,
        length=mean([r.length for r in rows], [r.length for r in everyone]),
        lie=mean([r.lie for r in rows], [r.lie for r in everyone]),
        head_length=mean([r.head_length for r in rows], [r.head_length for r in everyone]),
    )
