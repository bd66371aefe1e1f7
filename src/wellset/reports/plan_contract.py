"""The published shape of a plan in JSON: ``wellset.plan/1``.

Ids and units of measures are those of the catalogue (m, %, deg); lengths elsewhere are in
metre. Frame of positions: origin on the ground under the ball, x to the target, y from the
ball to the golfer, z up; left-handers are given mirrored, so lead is at greater x.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import ConfigDict, Field

from wellset.services.documents import Document

SCHEMA: Final = "wellset.plan/1"


class _Part(Document):
    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class PlannedMeasure(_Part):
    """A measure of the plan."""

    value: float
    unit: Literal["m", "%", "deg"]
    tolerance: Annotated[float, Field(ge=0)]
    """How far it may go either way before anything leaves its window."""


class WindowPart(_Part):
    """The coach's window as it stood for this student, club and place."""

    low: float | None
    high: float | None
    target: float | None
    unit: Literal["m", "%", "deg"]
    reason: str
    source: str


class FloorPart(_Part):
    """The set-up in things one can lay on the ground; see the reference page."""

    gap_m: float
    gap_club_heads: float
    ball_from_lead_heel_m: float
    ball_from_toes_m: float
    ball_from_toes_shoes: float
    lead_foot_flare_deg: float
    trail_foot_flare_deg: float
    handle_height_m: float
    handle_up_thigh: float
    hand_gap_m: float
    hand_gap_fists: float
    forward_bend_deg: float
    lead_knee_flex_deg: float
    trail_knee_flex_deg: float
    lead_share_percent: float
    heel_toe_percent: float
    grip_down_m: float
    toe_up_deg: float


class RemedyPart(_Part):
    """One thing that would mend a conflict."""

    kind: Literal["toe_up", "length", "window"]
    measure: str
    amount: float
    """Degree for ``toe_up``, metre for ``length``, the measure's unit for ``window``."""
    cures: bool
    message: str


class ConflictPart(_Part):
    """Facts that can't all hold."""

    code: str
    measure: str
    facts: tuple[str, ...]
    amount: float
    message: str
    remedies: tuple[RemedyPart, ...]


class StrikePart(_Part):
    """How the head meets the ball, by the model."""

    low_point_m: float
    """Past the ball, toward the target."""
    attack_deg: float
    """Above level; negative: coming down."""
    path_deg: float
    """Outward, away from the golfer: from inside the line."""
    height_m: float
    """Of the head above the lowest level of the arc when nothing was changed."""


class ArcMove(_Part):
    """One change of the set-up and the strike with it alone."""

    what: Literal["ball", "chest", "pressure"]
    amount: float
    """Toward the target: metre, for ``pressure`` percent of the weight."""
    strike: StrikePart


class ArcPart(_Part):
    """What a small change does to the strike: a model, not a measurement."""

    is_model: Literal[True] = True
    radius_m: float
    plane_deg: float
    strike: StrikePart
    moves: tuple[ArcMove, ...]


class NotePart(_Part):
    """Doubtful but usable."""

    code: str
    message: str
    remedy: str
    where: str


class ClubPlan(_Part):
    """The plan for one club."""

    club: str
    kind: str
    club_length_m: float
    club_lie_deg: float
    club_head_m: float
    """Heel to toe, the yardstick of gaps."""
    shot: str
    converged: bool
    measures: dict[str, PlannedMeasure]
    windows: dict[str, WindowPart]
    floor: FloorPart
    swing_arc: ArcPart | None
    conflicts: tuple[ConflictPart, ...]
    points: dict[str, tuple[float, float, float]]
    notes: tuple[NotePart, ...]


class BreakPart(_Part):
    """Two neighbouring clubs between which a measure goes the wrong way."""

    measure: str
    longer: str
    shorter: str
    amount: float
    message: str


class StudentPart(_Part):
    """Whose plan it is."""

    name: str
    stature_m: float
    sex: str
    shoe_length_m: float
    shoe_breadth_m: float
    """Along x, level with the ankle."""
    limits: dict[str, float]


class PlacePart(_Part):
    """Ground and wind."""

    uphill_deg: float
    ball_above_feet_deg: float
    wind: Literal["none", "against", "with"]


class VersionsPart(_Part):
    """What produced the numbers."""

    program: str
    tables: tuple[str, ...]
    standards: str


class PlanDocument(_Part):
    """The plans of one student's clubs."""

    schema_: Literal["wellset.plan/1"] = Field(alias="schema")
    hand: Literal["right", "left"]
    student: StudentPart
    place: PlacePart
    clubs: tuple[ClubPlan, ...]
    breaks: tuple[BreakPart, ...]
    notes: tuple[NotePart, ...]
    versions: VersionsPart


def plan_schema() -> dict[str, object]:
    """JSON Schema (2020-12) of the document."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **PlanDocument.model_json_schema(by_alias=True),
    }
