"""An assessment in the published JSON shape."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final, Literal

import numpy as np

from wellset.advise import CameraReading, Drill, Finding, PhoneAdvice, camera_advice
from wellset.figure.ground import OnTheGround
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.notes import Note
from wellset.figure.sighting import (
    MarkerSighting,
    NotSeen,
    PlacedByCoach,
    Placement,
    ProposedByModel,
    StickSighting,
)
from wellset.measures import COVERAGE_FACTOR, Measured, MeasureResult, Unit
from wellset.reports import contract as c
from wellset.reports.contract import assessment_schema
from wellset.reports.corrected import corrections_part
from wellset.reports.plate import plate_part
from wellset.reports.still import still_part
from wellset.services.assessment import AssessedPicture, Assessment
from wellset.units import degrees

__all__ = ["assessment_document", "assessment_json", "assessment_json_text", "assessment_schema"]

_Point = c.SeenPoint | c.UnseenPoint

_SIGNIFICANT: Final = 3
"""Digits of a standard uncertainty that are kept; its value gets the same decimals."""
_LEAST_DECIMALS: Final = {Unit.METRE: 4, Unit.PERCENT: 2, Unit.DEGREE: 2}
_MOST_DECIMALS: Final = 9


def decimals(sd: float, *, least: int) -> int:
    """Decimals that show three digits of the uncertainty, and no fewer than `least`."""
    if not sd > 0 or not math.isfinite(sd):
        return least
    wanted = _SIGNIFICANT - 1 - math.floor(math.log10(sd))
    return min(max(wanted, least), _MOST_DECIMALS)


def _value(value: float, sd: float, *, least: int) -> c.Value:
    places = decimals(sd, least=least)
    return c.Value(value=round(float(value), places), sd=round(float(sd), places))


def measure_part(result: MeasureResult) -> c.MeasuredValue | c.Withheld:
    if not isinstance(result, Measured):
        return c.Withheld(not_measurable=c.Reason(code=result.code, why=result.why, fix=result.fix))
    places = decimals(result.sd, least=_LEAST_DECIMALS[result.unit])
    low, high = result.interval95
    return c.MeasuredValue(
        value=round(result.value, places),
        unit=result.unit.value,
        sd=round(result.sd, places),
        interval95=(round(low, places), round(high, places)),
        budget={source: round(part, places) for source, part in result.budget.items()},
    )


def _findings(assessment: Assessment) -> tuple[c.FindingPart, ...]:
    return tuple(_finding(finding) for finding in assessment.findings)


def _finding(finding: Finding) -> c.FindingPart:
    probability, window = finding.probability_inside, finding.window
    return c.FindingPart(
        measure=finding.measure,
        order=finding.order,
        verdict=finding.verdict.value,
        probability_inside=None if probability is None else round(probability, 4),
        side=None if finding.side is None else finding.side.value,
        window=c.WindowPart(
            low=_limit(window.low),
            high=_limit(window.high),
            target=_limit(window.target),
            unit=window.unit.value,
            as_written=window.as_written,
            reason=window.reason,
            source=window.source,
        ),
        for_coach=finding.for_coach,
        for_student=finding.for_student,
        settle=finding.settle,
        settling=_settling(finding),
    )


def _settling(finding: Finding) -> c.SettlingPart | None:
    settling = finding.settling
    if settling is None:
        return None
    places = decimals(settling.sd_then, least=_LEAST_DECIMALS[finding.unit])
    return c.SettlingPart(
        step=settling.step,
        subject=settling.subject,
        sd_now=round(settling.sd_now, places),
        sd_then=round(settling.sd_then, places),
        chance=round(settling.chance, 3),
        decides=settling.decides,
        minutes=settling.effort,
    )


def _limit(value: float | None) -> float | None:
    return None if value is None else round(value, 4)


def drill_part(drill: Drill | None) -> c.DrillPart | None:
    if drill is None:
        return None
    return c.DrillPart(
        id=drill.id,
        title=drill.title,
        purpose=drill.purpose,
        needs=drill.needs,
        steps=drill.steps,
        feel=drill.feel,
        self_check=drill.self_check,
        dose=drill.dose,
        caution=drill.caution,
    )


def _advice(
    finding: Finding,
    kind: Literal["first_change", "next", "keep"],
    *,
    reason: str,
    drill: Drill | None = None,
) -> c.AdvicePart:
    return c.AdvicePart(
        kind=kind,
        measure=finding.measure,
        side=None if finding.side is None else finding.side.value,
        reason=reason,
        drill=drill_part(drill),
    )


def _all_advice(assessment: Assessment) -> tuple[c.AdvicePart, ...]:
    advice = assessment.advice
    parts = [
        _advice(f, "next", reason=f.for_coach, drill=assessment.drills.get(f.measure))
        for f in advice.then
    ]
    parts += [_advice(f, "keep", reason=f.for_coach) for f in advice.keep]
    if advice.first is not None:
        first = _advice(advice.first, "first_change", reason=advice.reason, drill=advice.drill)
        amount = advice.amount
        followed = {
            "amount": None if amount is None else round(amount, 4),
            "right": advice.right,
        }
        parts.insert(0, first.model_copy(update=followed))
    return tuple(parts)


def _camera(picture: AssessedPicture) -> c.CameraPart:
    p, sd = picture.camera.parameters, picture.camera_sd
    focal = picture.camera.focal_px
    yaw, pitch, roll = (
        _value(degrees(float(p[i])), degrees(float(sd[i])), least=2) for i in (1, 2, 3)
    )
    x, y, z = (_value(p[i], sd[i], least=4) for i in (4, 5, 6))
    return c.CameraPart(
        # The parameter is the logarithm, whose spread is the relative one.
        focal_px=_value(focal, focal * float(sd[0]), least=1),
        position_m=(x, y, z),
        yaw_deg=yaw,
        pitch_deg=pitch,
        roll_deg=roll,
    )


def _phone(advice: PhoneAdvice) -> c.PhonePart:
    held = {reading.name: _held(reading) for reading in advice.readings}
    return c.PhonePart(
        height=held["height"],
        distance=held["distance"],
        sideways=held["sideways"],
        aim=held["aim"],
        tilt=held["tilt"],
        roll=held["roll"],
        advice=advice.sentence,
    )


def _held(reading: CameraReading) -> c.HeldPart:
    metres = reading.unit is Unit.METRE
    places = decimals(reading.sd, least=_LEAST_DECIMALS[reading.unit])
    half = COVERAGE_FACTOR * reading.sd
    low, high = (round(reading.value + sign * half, places) for sign in (-1, 1))
    return c.HeldPart(
        value=round(reading.value, places),
        unit="m" if metres else "deg",
        sd=round(reading.sd, places),
        interval95=(low, high),
        good=(round(reading.good[0], places), round(reading.good[1], places)),
        standing=reading.standing.value,
    )


def _pair(pixels: object) -> tuple[float, float]:
    x, y = np.round(np.asarray(pixels, dtype=np.float64), 2)
    return float(x), float(y)


def _point(place: Placement, picture: AssessedPicture, *, solved: object) -> _Point:
    old = None if isinstance(place, ProposedByModel) else place.proposal
    proposal = None if old is None else _pair(picture.to_picture(old.position_px))
    if isinstance(place, NotSeen):
        return c.UnseenPoint(not_seen=place.why, proposal_px=proposal)
    finite = bool(np.isfinite(np.asarray(solved, dtype=np.float64)).all())
    return c.SeenPoint(
        position_px=_pair(picture.to_picture(place.position_px)),
        sd_px=_pair(np.sqrt(np.diag(place.covariance_px2))),
        placed_by="coach" if isinstance(place, PlacedByCoach) else "model",
        disagreement_px=round(place.disagreement_px, 2)
        if isinstance(place, ProposedByModel) and place.disagreement_px is not None
        else None,
        solved_px=_pair(solved) if finite else None,
        proposal_px=proposal,
    )


def note_part(note: Note) -> c.NotePart:
    return c.NotePart(code=note.code, message=note.message, remedy=note.remedy, where=note.where)


def _picture(
    assessment: Assessment, picture: AssessedPicture, *, phone: PhoneAdvice
) -> c.PicturePart:
    facts, seen = picture.sighting.picture, picture.sighting.landmarks
    names = [n for n in LANDMARKS if n in seen]
    solved = picture.project(np.array([assessment.points[n] for n in names]))
    return c.PicturePart(
        name=facts.name,
        width_px=facts.width_px,
        height_px=facts.height_px,
        focal_35mm=facts.focal_35mm,
        sha256=facts.sha256,
        mirrored=picture.mirrored,
        camera=_camera(picture),
        phone=_phone(phone),
        landmarks={
            name: _point(seen[name], picture, solved=at)
            for name, at in zip(names, solved, strict=True)
        },
        sticks_px=_sticks(picture.sighting.sticks, picture),
        replaced_sticks_px=_sticks(picture.sighting.replaced_sticks, picture),
        markers_px=tuple(_marker(marker, picture) for marker in picture.sighting.markers),
        notes=tuple(map(note_part, picture.notes)),
        still=still_part(picture.still),
    )


def _marker(
    marker: MarkerSighting, picture: AssessedPicture
) -> tuple[c.Pair, c.Pair, c.Pair, c.Pair]:
    width = picture.sighting.picture.width_px
    taken = marker.mirrored(width_px=width) if picture.mirrored else marker
    first, second, third, fourth = map(_pair, taken.corners_px)
    return first, second, third, fourth


def _ground(thing: OnTheGround) -> c.GroundPart:
    return c.GroundPart(
        kind=thing.kind.value,
        view=thing.view.value,
        lies=thing.lies,
        used=thing.used,
        why=thing.why,
    )


def _sticks(
    sticks: Sequence[StickSighting], picture: AssessedPicture
) -> tuple[tuple[c.Pair, c.Pair], ...]:
    ends = (picture.to_picture(stick.ends_px) for stick in sticks)
    return tuple((_pair(first), _pair(second)) for first, second in ends)


def _points(assessment: Assessment) -> dict[str, c.PointPart]:
    parts = {}
    for name, at in assessment.points.items():
        sd = np.sqrt(np.diag(assessment.fit.figure.point_covariance(name)))
        x, y, z = (round(float(v), 5) for v in at)
        sx, sy, sz = (round(float(v), 5) for v in sd)
        parts[name] = c.PointPart(position_m=(x, y, z), sd_m=(sx, sy, sz))
    return parts


def club_part(assessment: Assessment) -> c.ClubPart:
    club = assessment.club
    return c.ClubPart(
        name=club.name,
        kind=club.kind.value,
        length_m=round(club.length_m, 4),
        length_source=club.length_source,
        lie_deg=round(degrees(club.lie), 2),
        lie_source=club.lie_source,
        head_length_m=round(club.head_length_m, 4),
        head_length_source=club.head_length_source,
    )


def assessment_document(assessment: Assessment, /) -> c.AssessmentDocument:
    """An assessment as the validated document."""
    student = assessment.student
    held = camera_advice(assessment.camera_states, hand=assessment.hand).phones
    phones = {phone.view: phone for phone in held}
    return c.AssessmentDocument(
        schema=c.SCHEMA,
        hand=assessment.hand.value,
        student=c.StudentPart(name=student.name, stature_m=round(student.build.stature, 4)),
        club=club_part(assessment),
        shot=assessment.shot,
        converged=assessment.fit.converged,
        measures={id_: measure_part(result) for id_, result in assessment.measures.items()},
        findings=_findings(assessment),
        advice=_all_advice(assessment),
        points=_points(assessment),
        pictures={
            v.value: _picture(assessment, p, phone=phones[v])
            for v, p in assessment.pictures.items()
        },
        on_the_ground=tuple(map(_ground, assessment.fit.ground)),
        notes=tuple(map(note_part, assessment.notes)),
        versions=c.VersionsPart(
            program=assessment.versions.program,
            tables=assessment.versions.tables,
            standards=assessment.versions.standards,
        ),
        corrections=corrections_part(assessment.corrections),
        plate=plate_part(assessment.weighed),
    )


def assessment_json(assessment: Assessment, /) -> dict[str, object]:
    """An assessment as plain data, in the shape ``wellset.assessment/1``.

    Numbers are rounded to three digits of their standard uncertainty, lengths to no
    coarser than a tenth of a millimetre.
    """
    return assessment_document(assessment).model_dump(mode="json", by_alias=True)


def assessment_json_text(assessment: Assessment, /) -> str:
    """The same as text."""
    return assessment_document(assessment).model_dump_json(indent=1, by_alias=True) + "\n"
