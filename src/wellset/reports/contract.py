"""The published shape of an assessment in JSON: ``wellset.assessment/1``.

Ids and units are those of the catalogue of measures (m, %, deg). Frame of all positions:
origin on the ground under the ball, x to the target, y from the ball to the golfer, z up.
Pixels are those of the upright picture as taken, from its top-left corner.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import ConfigDict, Field

from wellset.reports.contract_corrections import CorrectionsPart
from wellset.reports.contract_plate import PlatePart
from wellset.reports.contract_still import StillPart
from wellset.services.documents import Document

SCHEMA: Final = "wellset.assessment/1"

Interval = tuple[float, float]
Pair = tuple[float, float]
Triple = tuple[float, float, float]


class _Part(Document):
    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class Value(_Part):
    """A number with its standard uncertainty."""

    value: float
    sd: Annotated[float, Field(ge=0)]


class MeasuredValue(_Part):
    """A measure that the pictures give."""

    value: float
    unit: Literal["m", "%", "deg"]
    sd: Annotated[float, Field(ge=0)]
    interval95: Interval
    budget: dict[str, float]
    """Standard uncertainty by source; the squares add up to the square of ``sd``."""


class Reason(_Part):
    """Why there is no number, and what would give one."""

    code: str
    why: str
    fix: str


class Withheld(_Part):
    """A measure that the pictures do not give."""

    not_measurable: Reason


class WindowPart(_Part):
    """What the coach wants; an absent limit is open."""

    low: float | None
    high: float | None
    target: float | None
    unit: Literal["m", "%", "deg"]
    as_written: str
    """The window in the unit the coach wrote it in; empty when that is ``unit``."""
    reason: str
    source: str


class SettlingPart(_Part):
    """What would settle an undecided finding, from the covariance of this very fit."""

    step: str
    """What to do; empty when nothing would probably help."""
    subject: str
    """With which view, tape or point; may be empty."""
    sd_now: Annotated[float, Field(ge=0)]
    sd_then: Annotated[float, Field(ge=0)]
    chance: Annotated[float, Field(ge=0, le=1)]
    """Probability that the finding would then be decided."""
    decides: bool
    """Whether that chance is good enough to be promised."""
    minutes: Annotated[float, Field(ge=0)]


class FindingPart(_Part):
    """A measure judged against its window."""

    measure: str
    order: int
    verdict: Literal["inside", "outside", "undecided"]
    probability_inside: Annotated[float, Field(ge=0, le=1)] | None
    side: Literal["low", "high"] | None
    """The limit passed, or leant to when undecided."""
    window: WindowPart
    for_coach: str
    for_student: str
    settle: str
    settling: SettlingPart | None


class DrillPart(_Part):
    """What to practise."""

    id: str
    title: str
    purpose: str
    steps: tuple[str, ...]
    self_check: str
    dose: str
    caution: str
    needs: tuple[str, ...] = ()
    """What is wanted for it."""
    feel: str = ""
    """What the student feels when it works; empty where nothing is said."""


class AdvicePart(_Part):
    """The first change, one that stays for later, or one to keep as it is."""

    kind: Literal["first_change", "next", "keep"]
    measure: str
    side: Literal["low", "high"] | None
    reason: str
    drill: DrillPart | None
    amount: float | None = None
    """How far the measure has to move, in its own unit; only where it was computed."""
    right: tuple[str, ...] = ()
    """Other measures whose checks come right with the first change."""


class StudentPart(_Part):
    """Whose set-up it is."""

    name: str
    stature_m: float


class ClubPart(_Part):
    """The club, with how its numbers are known."""

    name: str
    kind: str
    length_m: float
    length_source: str
    lie_deg: float
    lie_source: str
    head_length_m: float
    head_length_source: str


class CameraPart(_Part):
    """The estimated camera, in the mirrored frame for a left-hander."""

    focal_px: Value
    position_m: tuple[Value, Value, Value]
    yaw_deg: Value
    pitch_deg: Value
    roll_deg: Value


class HeldPart(_Part):
    """One quantity of how a phone was held, left and right as whoever held it saw them."""

    value: float
    unit: Literal["m", "deg"]
    sd: Annotated[float, Field(ge=0)]
    interval95: Interval
    good: tuple[float, float]
    """From where to where is good enough."""
    standing: Literal["fine", "change", "unsure"]


class PhonePart(_Part):
    """How the phone was held: ``advice`` is empty when there is nothing to change."""

    height: HeldPart
    distance: HeldPart
    sideways: HeldPart
    aim: HeldPart
    tilt: HeldPart
    roll: HeldPart
    advice: str


class SeenPoint(_Part):
    """A landmark in the picture as taken."""

    position_px: Pair
    sd_px: Pair
    placed_by: Literal["model", "coach"]
    disagreement_px: float | None
    solved_px: Pair | None
    """Where the solved set-up puts it."""
    proposal_px: Pair | None
    """Where the network saw a point that a coach placed."""


class UnseenPoint(_Part):
    """A landmark with no place in this picture."""

    not_seen: str
    proposal_px: Pair | None
    """Where the network saw a point that a coach ruled out."""


class NotePart(_Part):
    """Something that weakens the answer without spoiling it."""

    code: str
    message: str
    remedy: str
    where: str


class PicturePart(_Part):
    """One picture: facts, estimated camera, landmarks."""

    name: str
    width_px: int
    height_px: int
    focal_35mm: float | None
    sha256: str
    mirrored: bool
    camera: CameraPart
    phone: PhonePart
    landmarks: dict[str, SeenPoint | UnseenPoint]
    sticks_px: tuple[tuple[Pair, Pair], ...]
    replaced_sticks_px: tuple[tuple[Pair, Pair], ...]
    """Found sticks that gave way to a coach's."""
    markers_px: tuple[tuple[Pair, Pair, Pair, Pair], ...]
    """Corners of marker sheets, the arrow pointing up: bottom right, top right, top left,
    bottom left."""
    notes: tuple[NotePart, ...]
    still: StillPart | None
    """What was measured of a video; null for a picture."""


class GroundPart(_Part):
    """A thing found on the ground in one picture, and what became of it."""

    kind: Literal["stick", "upright", "sheet"]
    view: Literal["face_on", "down_the_line"]
    lies: str
    used: bool
    why: str
    """Why it was not used."""


class PointPart(_Part):
    """A landmark in space."""

    position_m: Triple
    sd_m: Triple


class VersionsPart(_Part):
    """What produced the numbers."""

    program: str
    tables: tuple[str, ...]
    standards: str


class AssessmentDocument(_Part):
    """A whole assessment."""

    schema_: Literal["wellset.assessment/1"] = Field(alias="schema")
    hand: Literal["right", "left"]
    student: StudentPart
    club: ClubPart
    shot: str
    converged: bool
    measures: dict[str, MeasuredValue | Withheld]
    findings: tuple[FindingPart, ...]
    advice: tuple[AdvicePart, ...]
    points: dict[str, PointPart]
    pictures: dict[Literal["face_on", "down_the_line"], PicturePart]
    on_the_ground: tuple[GroundPart, ...]
    notes: tuple[NotePart, ...]
    versions: VersionsPart
    corrections: CorrectionsPart | None
    """What a coach's corrections changed; null when nothing was corrected."""
    plate: PlatePart | None
    """What a pressure plate said; null without one."""


def assessment_schema() -> dict[str, object]:
    """JSON Schema (2020-12) of the document."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **AssessmentDocument.model_json_schema(by_alias=True),
    }
