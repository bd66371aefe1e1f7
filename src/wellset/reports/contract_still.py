"""The published shape of what was measured of a video."""

from __future__ import annotations

from typing import Annotated

from pydantic import ConfigDict, Field

from wellset.services.documents import Document


class _Part(Document):
    model_config = ConfigDict(extra="forbid", frozen=True)


class StretchPart(_Part):
    """A stretch of a clip, seconds from its first frame."""

    start_s: float
    end_s: float


class StillPart(_Part):
    """The still moment of a video that was measured."""

    window: StretchPart
    frames_s: tuple[float, ...]
    """Times of the frames that were measured."""
    shown_s: float
    """Time of the frame whose pixels the landmarks are given in."""
    sway_mm: Annotated[float, Field(ge=0)] | None
    """Displacement of the body's points from their mean over the frames (root mean square),
    reading errors included; null where all landmarks came from a file."""
    shake_mm: Annotated[float, Field(ge=0)]
    """Greatest movement of the camera over the frames, at the golfer; it is taken off."""
    set_ups: tuple[StretchPart, ...]
    """All still moments at address that were found."""
    chosen: Annotated[int, Field(ge=1)]
    """Which of them was measured, counted from 1."""
    swing_follows: bool
