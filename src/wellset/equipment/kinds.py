"""Kinds of club, and which rules of size they fall under."""

from __future__ import annotations

from enum import StrEnum


class ClubKind(StrEnum):
    """What a coach calls the club's kind.

    Long irons are the 1- to 4-iron, mid irons the 5- to 7-iron, short irons the 8- and
    9-iron: common practice, no source.
    """

    DRIVER = "driver"
    FAIRWAY_WOOD = "fairway wood"
    HYBRID = "hybrid"
    LONG_IRON = "long iron"
    MID_IRON = "mid iron"
    SHORT_IRON = "short iron"
    WEDGE = "wedge"
    PUTTER = "putter"

    @property
    def is_wood(self) -> bool:
        """Whether the head falls under the rules' limits for woods."""
        return self in (ClubKind.DRIVER, ClubKind.FAIRWAY_WOOD, ClubKind.HYBRID)
