"""The two views, the two hands."""

from __future__ import annotations

from enum import StrEnum


class View(StrEnum):
    """Where the camera stands."""

    FACE_ON = "face_on"
    DOWN_THE_LINE = "down_the_line"

    @property
    def words(self) -> str:
        """The view as a coach says it."""
        return "face-on" if self is View.FACE_ON else "down-the-line"


class Hand(StrEnum):
    """Which way the golfer stands. Left-handers are mirrored at the door."""

    RIGHT = "right"
    LEFT = "left"
