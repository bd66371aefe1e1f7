"""A set-up compared with a plan, in the published JSON shape."""

from __future__ import annotations

import json

from wellset.advise import Finding, Verdict
from wellset.measures import Measured
from wellset.reports import check_contract as c
from wellset.reports.contract import StudentPart, VersionsPart
from wellset.reports.json_contract import club_part, drill_part, measure_part, note_part
from wellset.services.check_plan import Check
from wellset.services.plan_target import Aimed, PlanTarget

_DECIMALS = 4


def check_document(check: Check, /) -> c.CheckDocument:
    """A comparison as the validated document."""
    assessment = check.assessment
    student, versions = assessment.student, assessment.versions
    return c.CheckDocument(
        schema=c.SCHEMA,
        hand=assessment.hand.value,
        student=StudentPart(name=student.name, stature_m=round(student.build.stature, 4)),
        club=club_part(assessment),
        shot=assessment.shot,
        plan=_plan(check.target),
        checks=tuple(_check(f, check.target.aims[f.measure]) for f in check.findings),
        to_do=tuple(_to_do(check, f) for f in check.to_do),
        right=tuple(f.measure for f in check.of(Verdict.INSIDE)),
        cannot_tell=tuple(f.measure for f in check.of(Verdict.UNDECIDED)),
        look_next=check.look_next,
        notes=tuple(map(note_part, assessment.notes)),
        versions=VersionsPart(
            program=versions.program, tables=versions.tables, standards=versions.standards
        ),
    )


def _plan(target: PlanTarget) -> c.PlanPart:
    return c.PlanPart.model_validate(
        {
            "source": target.source,
            "name": target.name,
            "club": target.club,
            "club_length_m": round(target.club_length, 4),
            "shot": target.shot,
            "hand": target.hand.value,
            "stature_m": round(target.stature, 4),
            "conflicts": target.conflicts,
            "standards": target.standards,
            "program": target.program,
        }
    )


def _check(finding: Finding, aim: Aimed) -> c.CheckPart:
    result, probability = finding.result, finding.probability_inside
    measured = measure_part(result)
    off = None
    if isinstance(result, Measured):
        off = c.OffPart(
            value=round(result.value - aim.value, _DECIMALS), sd=round(result.sd, _DECIMALS)
        )
    return c.CheckPart(
        measure=finding.measure,
        order=finding.order,
        measured=measured,
        plan=c.WantedPart(
            value=round(aim.value, _DECIMALS),
            tolerance=round(aim.tolerance, _DECIMALS),
            room=round(aim.room, _DECIMALS),
        ),
        off=off,
        verdict=finding.verdict.value,
        probability_inside=None if probability is None else round(probability, 4),
        for_coach=finding.for_coach,
        for_student=finding.for_student,
        settle=finding.settle,
    )


def _to_do(check: Check, finding: Finding) -> c.ToDoPart:
    advice = check.advice
    first = finding is advice.first
    amount = advice.amount if first else None
    return c.ToDoPart(
        measure=finding.measure,
        side=None if finding.side is None else finding.side.value,
        for_student=finding.for_student,
        reason=advice.reason if first else "",
        amount=None if amount is None else round(amount, _DECIMALS),
        right=advice.right if first else (),
        drill=drill_part(check.assessment.drills.get(finding.measure)),
    )


def check_json_text(check: Check, /) -> str:
    """A comparison as text, in the shape ``wellset.check/1``."""
    data = check_document(check).model_dump(mode="json", by_alias=True)
    return json.dumps(data, indent=1, ensure_ascii=False) + "\n"
