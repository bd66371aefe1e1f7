"""Plans in the published JSON shape."""

from __future__ import annotations

import json
from typing import Final, Literal

from wellset.advise import Strike, SwingArc
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.notes import Note
from wellset.measures import Unit
from wellset.prescribe import Conflict, Floor, Plan, ladder_breaks
from wellset.reports import plan_contract as c
from wellset.reports.arc_words import arc_of_plan
from wellset.services.plan_bag import BagPlan
from wellset.units import degrees

_MOVES: Final[dict[str, Literal["ball", "chest", "pressure"]]] = {
    "ball": "ball",
    "chest": "chest",
    "pressure": "pressure",
}
_KINDS: Final[dict[str, Literal["toe_up", "length", "window"]]] = {
    "toe_up": "toe_up",
    "length": "length",
    "window": "window",
}
_DECIMALS: Final = {Unit.METRE: 4, Unit.PERCENT: 2, Unit.DEGREE: 2}


def plan_document(bag: BagPlan, /) -> c.PlanDocument:
    """Plans as the validated document."""
    student = bag.student
    return c.PlanDocument(
        schema=c.SCHEMA,
        hand=bag.hand.value,
        student=c.StudentPart(
            name=student.name,
            stature_m=round(student.build.stature, 4),
            sex=student.build.sex.words,
            shoe_length_m=round(bag.plans[0].scene.skeleton.shoe_length, 4),
            shoe_breadth_m=round(float(bag.plans[0].scene.skeleton.scalars[0]), 4),
            limits=dict(student.limits.at_most),
        ),
        place=c.PlacePart(
            uphill_deg=round(degrees(bag.ground.uphill), 2),
            ball_above_feet_deg=round(degrees(bag.ground.ball_above_feet), 2),
            wind=bag.wind.value,
        ),
        clubs=tuple(map(_club, bag.plans)),
        breaks=tuple(
            c.BreakPart(
                measure=each.measure,
                longer=each.longer,
                shorter=each.shorter,
                amount=round(each.amount, 4),
                message=each.message,
            )
            for each in (ladder_breaks(bag.plans) if len(bag.plans) > 1 else ())
        ),
        notes=tuple(map(_note, bag.notes)),
        versions=c.VersionsPart(
            program=bag.versions.program,
            tables=bag.versions.tables,
            standards=bag.versions.standards,
        ),
    )


def plan_json_text(bag: BagPlan, /) -> str:
    """Plans as text in the shape ``wellset.plan/1``."""
    plain = plan_document(bag).model_dump(mode="json", by_alias=True)
    return json.dumps(plain, indent=1, ensure_ascii=False) + "\n"


def _club(plan: Plan) -> c.ClubPlan:
    points = plan.figure.points
    return c.ClubPlan(
        club=plan.club.name,
        kind=plan.club.kind.value,
        club_length_m=round(plan.club.length_m, 4),
        club_lie_deg=round(degrees(plan.club.lie), 2),
        club_head_m=round(plan.club.head_length_m, 4),
        shot=plan.shot,
        converged=plan.converged,
        measures={
            id_: c.PlannedMeasure(
                value=round(one.value, _DECIMALS[one.unit]),
                unit=one.unit.value,
                tolerance=round(one.tolerance, _DECIMALS[one.unit]),
            )
            for id_, one in plan.measures.items()
        },
        windows={
            id_: c.WindowPart(
                low=_limit(one.window.low),
                high=_limit(one.window.high),
                target=_limit(one.window.target),
                unit=one.unit.value,
                reason=one.window.reason,
                source=one.window.source,
            )
            for id_, one in plan.measures.items()
            if one.window is not None
        },
        floor=_floor(plan.floor),
        swing_arc=_arc(arc_of_plan(plan)),
        conflicts=tuple(map(_conflict, plan.conflicts)),
        points={
            name: (round(float(x), 5), round(float(y), 5), round(float(z), 5))
            for name, (x, y, z) in zip(LANDMARKS, points, strict=True)
        },
        notes=tuple(map(_note, plan.notes)),
    )


def _limit(value: float | None) -> float | None:
    return None if value is None else round(value, 4)


def _floor(floor: Floor) -> c.FloorPart:
    return c.FloorPart(
        gap_m=round(floor.gap, 4),
        gap_club_heads=round(floor.gap_club_heads, 2),
        ball_from_lead_heel_m=round(floor.ball_from_lead_heel, 4),
        ball_from_toes_m=round(floor.ball_from_toes, 4),
        ball_from_toes_shoes=round(floor.ball_from_toes_shoes, 2),
        lead_foot_flare_deg=round(floor.lead_foot_flare_deg, 1),
        trail_foot_flare_deg=round(floor.trail_foot_flare_deg, 1),
        handle_height_m=round(floor.handle_height, 4),
        handle_up_thigh=round(floor.handle_up_thigh, 3),
        hand_gap_m=round(floor.hand_gap, 4),
        hand_gap_fists=round(floor.hand_gap_fists, 2),
        forward_bend_deg=round(floor.forward_bend_deg, 1),
        lead_knee_flex_deg=round(floor.lead_knee_flex_deg, 1),
        trail_knee_flex_deg=round(floor.trail_knee_flex_deg, 1),
        lead_share_percent=round(floor.lead_share_percent, 1),
        heel_toe_percent=round(floor.heel_toe_percent, 1),
        grip_down_m=round(floor.grip_down, 4),
        toe_up_deg=round(floor.toe_up_deg, 1),
    )


def _arc(arc: SwingArc | None) -> c.ArcPart | None:
    if arc is None:
        return None
    return c.ArcPart(
        radius_m=round(arc.arc.radius, 3),
        plane_deg=round(degrees(arc.arc.slope), 1),
        strike=_strike(arc.strike),
        moves=tuple(
            c.ArcMove(
                what=_MOVES[move.what],
                amount=round(move.amount * (100 if move.what == "pressure" else 1), 4),
                strike=_strike(move.strike),
            )
            for move in arc.moved
        ),
    )


def _strike(strike: Strike) -> c.StrikePart:
    return c.StrikePart(
        low_point_m=round(strike.low_point, 4),
        attack_deg=round(degrees(strike.attack), 2),
        path_deg=round(degrees(strike.path), 2),
        height_m=round(strike.height, 4),
    )


def _conflict(conflict: Conflict) -> c.ConflictPart:
    return c.ConflictPart(
        code=conflict.code,
        measure=conflict.measure,
        facts=conflict.facts,
        amount=round(conflict.amount, 4),
        message=conflict.message,
        remedies=tuple(
            c.RemedyPart(
                kind=_KINDS[r.kind],
                measure=r.what,
                amount=round(r.amount, 4),
                cures=r.cures,
                message=r.message,
            )
            for r in conflict.remedies
        ),
    )


def _note(note: Note) -> c.NotePart:
    return c.NotePart(code=note.code, message=note.message, remedy=note.remedy, where=note.where)
