"""The published shape of a floor plan in JSON: ``wellset.template/1``.

Lengths in metre, along the ground. ``along`` runs from the ball to the target, ``back`` from
the ball to the golfer, for left-handers too.
"""

from __future__ import annotations

import json
from typing import Annotated, Final, Literal

from pydantic import ConfigDict, Field

from wellset.reports.floor.listing import tees
from wellset.reports.floor.sheets import FloorPlan
from wellset.reports.floor.stance import Stance
from wellset.services.documents import Document

SCHEMA: Final = "wellset.template/1"


class _Part(Document):
    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)


class TeePart(_Part):
    """Where a tee goes."""

    along_m: float
    back_m: float


class RoomPart(_Part):
    """How far each may be off before anything leaves its window; 0 where it has no room."""

    gap_m: Annotated[float, Field(ge=0)]
    ball_along_m: Annotated[float, Field(ge=0)]
    ball_back_m: Annotated[float, Field(ge=0)]
    lead_flare_deg: Annotated[float, Field(ge=0)]


class ClubPart(_Part):
    """One club on the ground."""

    club: str
    fits: bool
    tees: dict[str, TeePart]
    gap_m: float
    gap_club_heads: float
    ball_from_lead_heel_m: float
    ball_from_toes_m: float
    ball_from_toes_shoes: float
    shoe_length_m: float
    lead_foot_flare_deg: float
    trail_foot_flare_deg: float
    room: RoomPart


class SheetPart(_Part):
    """One sheet of paper, and where its top left lies on the ground."""

    name: str
    row: int
    column: int
    along_m: float
    back_m: float


class TemplateDocument(_Part):
    """A floor plan, and how it is cut into sheets."""

    schema_: Literal["wellset.template/1"] = Field(alias="schema")
    hand: Literal["right", "left"]
    student: str
    paper: Literal["a4", "letter"]
    landscape: bool
    sheets: tuple[SheetPart, ...]
    clubs: tuple[ClubPart, ...]


def template_schema() -> dict[str, object]:
    """JSON Schema (2020-12) of the document."""
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **TemplateDocument.model_json_schema(by_alias=True),
    }


def template_json_text(plan: FloorPlan, /) -> str:
    """A floor plan as text in the shape ``wellset.template/1``."""
    plain = template_document(plan).model_dump(mode="json", by_alias=True)
    return json.dumps(plain, indent=1, ensure_ascii=False) + "\n"


def template_document(plan: FloorPlan, /) -> TemplateDocument:
    """A floor plan as the validated document."""
    tiling, target = plan.tiling, plan.stances[0].target
    # a ladder's sheets are measured from the lead heel, a club's from its ball
    return TemplateDocument(
        schema=SCHEMA,
        hand=plan.document.hand,
        student=plan.document.student.name,
        paper="a4" if tiling.paper.name == "a4" else "letter",
        landscape=tiling.landscape,
        sheets=tuple(
            SheetPart(
                name=tile.name,
                row=tile.row,
                column=tile.column,
                along_m=_m(target * float(tiling.low(tile)[0])),
                back_m=_m(float(tiling.low(tile)[1])),
            )
            for tile in tiling.tiles
        ),
        clubs=tuple(map(_club, plan.stances)),
    )


def _club(stance: Stance) -> ClubPart:
    return ClubPart(
        club=stance.club,
        fits=stance.fits,
        tees={
            name.replace(" ", "_"): TeePart(along_m=_m(along), back_m=_m(back))
            for name, (along, back) in tees(stance).items()
        },
        gap_m=_m(stance.gap),
        gap_club_heads=round(stance.gap / stance.head, 2),
        ball_from_lead_heel_m=_m(stance.ball_inside),
        ball_from_toes_m=_m(stance.ball_to_toes),
        ball_from_toes_shoes=round(stance.ball_to_toes / stance.lead.length, 2),
        shoe_length_m=_m(stance.lead.length),
        lead_foot_flare_deg=round(stance.lead.flare_deg, 1),
        trail_foot_flare_deg=round(stance.trail.flare_deg, 1),
        room=RoomPart(
            gap_m=_m(stance.room_gap),
            ball_along_m=_m(stance.room_along),
            ball_back_m=_m(stance.room_back),
            lead_flare_deg=round(stance.room_flare_deg, 1),
        ),
    )


def _m(mm: float) -> float:
    return round(mm / 1000, 5) + 0.0
