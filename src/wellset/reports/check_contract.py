"""The published shape of a set-up compared with a plan: ``wellset.check/1``.

Ids and units of measures are those of the catalogue (m, %, deg).
"""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import ConfigDict, Field

from wellset.reports.contract import (
    ClubPart,
    DrillPart,
    MeasuredValue,
    NotePart,
    StudentPart,
    VersionsPart,
    Withheld,
)
from wellset.services.documents import Document

SCHEMA: Final = "wellset.check/1"


class _Part(Document):
    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class WantedPart(_Part):
    """What the plan wants of a measure, in its unit."""

    value: float
    tolerance: Annotated[float, Field(ge=0)]
    """As the plan has it."""
    room: Annotated[float, Field(gt=0)]
    """How far it may lie either way here: the tolerance, or the least room there is."""


class OffPart(_Part):
    """Measured minus planned."""

    value: float
    sd: Annotated[float, Field(ge=0)]


class CheckPart(_Part):
    """One measure beside the plan."""

    measure: str
    order: int
    measured: MeasuredValue | Withheld
    plan: WantedPart
    off: OffPart | None
    """Null without a number."""
    verdict: Literal["inside", "outside", "undecided"]
    """Whether it lies within the room around the planned value."""
    probability_inside: Annotated[float, Field(ge=0, le=1)] | None
    for_coach: str
    for_student: str
    settle: str
    """What would decide an undecided one."""


class ToDoPart(_Part):
    """Something to do; the first is the first change."""

    measure: str
    side: Literal["low", "high"] | None
    for_student: str
    reason: str
    """Why it comes first; empty for the others."""
    amount: float | None
    """How far it has to move, in its unit, where that was computed."""
    right: tuple[str, ...]
    """Measures that come right with it."""
    drill: DrillPart | None


class PlanPart(_Part):
    """The plan that was compared with."""

    source: Literal["solved", "file", "book"]
    name: str
    club: str
    club_length_m: float
    shot: str
    hand: Literal["right", "left"]
    stature_m: float
    conflicts: tuple[str, ...]
    """What doesn't fit in the plan itself."""
    standards: str
    program: str


class CheckDocument(_Part):
    """A whole comparison."""

    schema_: Literal["wellset.check/1"] = Field(alias="schema")
    hand: Literal["right", "left"]
    student: StudentPart
    club: ClubPart
    shot: str
    plan: PlanPart
    checks: tuple[CheckPart, ...]
    to_do: Annotated[tuple[ToDoPart, ...], Field(max_length=3)]
    right: tuple[str, ...]
    """Measures that are as planned."""
    cannot_tell: tuple[str, ...]
    """Measures that these pictures leave undecided."""
    look_next: tuple[str, ...]
    """What to look for the next time, in sentences."""
    notes: tuple[NotePart, ...]
    versions: VersionsPart


def check_schema() -> dict[str, object]:
    """JSON Schema (2020-12) of the document."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **CheckDocument.model_json_schema(by_alias=True),
    }
