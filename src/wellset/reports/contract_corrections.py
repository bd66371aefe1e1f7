"""The published shape of what a coach's corrections changed."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import ConfigDict, Field

from wellset.services.documents import Document

ViewName = Literal["face_on", "down_the_line"]
VerdictName = Literal["inside", "outside", "undecided"]


class _Part(Document):
    model_config = ConfigDict(extra="forbid", frozen=True)


class CorrectedPointPart(_Part):
    """A landmark a coach placed or ruled out, against the network's own place for it."""

    view: ViewName
    landmark: str
    ruled_out: bool
    moved_px: Annotated[float, Field(ge=0)] | None
    moved_m: Annotated[float, Field(ge=0)] | None
    """At the landmark's distance from the camera."""
    network_sds: Annotated[float, Field(ge=0)] | None
    """The same in the network's own standard uncertainties."""
    beyond_network: bool
    """Whether the network thought that place impossible (outside its 99 % region)."""


class CorrectedSticksPart(_Part):
    """Sticks of one picture that a person gave in place of found ones."""

    view: ViewName
    given: int
    found: int


class ShortValue(_Part):
    """A value with its standard uncertainty, in the measure's unit."""

    value: float
    sd: Annotated[float, Field(ge=0)]


class MovedMeasurePart(_Part):
    """One measure without and with the corrections; ``None`` where it has no number."""

    before: ShortValue | None
    after: ShortValue | None
    change: float | None
    change_in_sds: float | None
    """In standard uncertainties of the value before."""


class MovedFindingPart(_Part):
    """A check whose verdict the corrections changed."""

    measure: str
    before: VerdictName
    after: VerdictName


class CorrectionsPart(_Part):
    """What was corrected, and what that changed."""

    points: tuple[CorrectedPointPart, ...]
    sticks: tuple[CorrectedSticksPart, ...]
    measures: dict[str, MovedMeasurePart]
    findings: tuple[MovedFindingPart, ...]
    first_change_before: str | None
    first_change_after: str | None
    not_compared: str
    """Why there is no solution without the corrections; empty when there is one."""
