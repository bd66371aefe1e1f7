"""From an assessment to a report: words, rounded numbers, drawings."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from wellset.advise import Verdict, camera_advice
from wellset.figure.notes import Note
from wellset.figure.views import View
from wellset.measures import Measured
from wellset.reports.cautions import CAUTIONS
from wellset.reports.corrected import correction_words
from wellset.reports.drill_view import first_drill_drawn
from wellset.reports.explained import SHORT
from wellset.reports.features import Scene
from wellset.reports.marks import Body, Drawing, Role
from wellset.reports.model import Change, NoteLine, PictureModel, ReportModel, Row
from wellset.reports.on_the_ground import ground_words
from wellset.reports.overlay import draw
from wellset.reports.phones import phones
from wellset.reports.plate import plate_words
from wellset.reports.remedies import remedies
from wellset.reports.rows import change, missing_groups, plain_rows, row, source_rows
from wellset.reports.stand_here import stand_model
from wellset.reports.still import still_words
from wellset.reports.words import give_or_take
from wellset.services.assessment import Assessment, Versions
from wellset.units import UnitSystem, format_height, format_length

_KEY: Final = (
    (Role.MODEL, "Point as read, with its 95 % ellipse"),
    (Role.COACH, "Point placed by a coach"),
    (Role.LEAD, "Solved set-up, lead side"),
    (Role.TRAIL, "Solved set-up, trail side"),
    (Role.REFERENCE, "Vertical or level to measure from"),
    (Role.PLUMB, "Plumb line, or offset measured"),
    (Role.ANGLE, "Angle measured"),
    (Role.BAND, "Band: 95 % range of the measure"),
    (Role.RULER, "Distance measured"),
    (Role.TARGET, "Target line through the ball"),
    (Role.STICK, "Stick or marker sheet found on the ground"),
)


def emphasis(assessment: Assessment, /) -> tuple[str, ...]:
    """Measures by how much they matter in the pictures: first change, outside, undecided."""
    advice, found = assessment.advice, assessment.findings
    lead = [f.measure for f in (advice.first, *advice.then) if f is not None]
    rest = [
        f.measure
        for verdict in (Verdict.OUTSIDE, Verdict.UNDECIDED)
        for f in found
        if f.verdict is verdict
    ]
    return tuple(dict.fromkeys([*lead, *rest]))


def drawings(assessment: Assessment, /, *, units: UnitSystem) -> Mapping[View, Drawing]:
    """The drawing over each picture."""
    texts = {
        id_: f"{SHORT[id_]} {give_or_take(result, units)}"
        for id_, result in assessment.measures.items()
        if isinstance(result, Measured)
    }
    return {
        view: draw(
            Scene(picture=p, figure=assessment.fit.figure, measures=assessment.measures),
            order=emphasis(assessment),
            texts=texts,
            verdicts={f.measure: f.verdict.value for f in assessment.findings},
        )
        for view, p in assessment.pictures.items()
    }


def _picture(view: View, *, drawing: Drawing, moment: str) -> PictureModel:
    labels = "; ".join(
        f"{label.text}{f', {label.verdict}' if label.verdict else ''}" for label in drawing.labels
    )
    return PictureModel(
        view=view.value,
        title=view.words[0].upper() + view.words[1:],
        description=f"The student at address, {view.words}, with the solved set-up drawn over "
        f"the picture. Labelled: {labels or 'nothing'}.",
        drawing=drawing,
        moment=moment,
    )


def _key(drawn: Mapping[View, Drawing]) -> tuple[tuple[str, str], ...]:
    """Words for the looks that occur in the pictures."""
    used = {
        mark.role
        for drawing in drawn.values()
        for mark in drawing.marks
        if not isinstance(mark, Body)
    }
    return tuple((role.value, text) for role, text in _KEY if role in used)


def _note(note: Note, *, where: str = "") -> NoteLine:
    return NoteLine(where=note.where or where, message=note.message, remedy=note.remedy)


def _notes(assessment: Assessment) -> tuple[NoteLine, ...]:
    lines = [_note(note) for note in assessment.notes]
    for view, picture in assessment.pictures.items():
        lines += [_note(note, where=view.words) for note in picture.notes]
    if not assessment.fit.converged:
        lines.append(
            NoteLine(
                where="",
                message="The search for the set-up stopped before it settled.",
                remedy="Take the numbers with care, and retake the pictures if they look wrong.",
            )
        )
    return tuple(dict.fromkeys(lines))


def _assumed(source: str) -> str:
    """A word of warning on a length that nobody measured."""
    return " (assumed)" if source.startswith("assumed") else ""


def _facts(assessment: Assessment, units: UnitSystem) -> tuple[tuple[str, str], ...]:
    club, views = assessment.club, assessment.pictures
    length = format_length(club.length_m, system=units)
    return (
        ("Club", f"{club.name}, {length} long{_assumed(club.length_source)}"),
        ("Kind of shot", assessment.shot.replace("_", " ")),
        ("Height", format_height(assessment.student.build.stature, system=units)),
        ("Stands", f"{assessment.hand.value}-handed"),
        (
            "Pictures",
            " and ".join(
                view.words + (" (video)" if picture.still else "")
                for view, picture in views.items()
            ),
        ),
        ("On the ground", ground_words(assessment.fit.ground)),
    )


def _student_words(first: Change | None, keep: Sequence[Change]) -> tuple[str, ...]:
    lines = [first.for_student if first else "The pictures show nothing that must change now."]
    if keep:
        lines.append(f"Keep this as it is: {' '.join(c.for_student for c in keep)}")
    return tuple(line for line in lines if line)


def _summary(rows: Sequence[Row], missing: int) -> str:
    counts = {v: sum(row.verdict == v.value for row in rows) for v in Verdict}
    parts = [f"{n} {verdict.value}" for verdict, n in counts.items()]
    if missing:
        parts.append(f"{missing} not measurable")
    return ", ".join(parts)


def _first(assessment: Assessment, *, units: UnitSystem, with_drill_drawn: bool) -> Change | None:
    advice = assessment.advice
    if advice.first is None:
        return None
    return change(
        advice.first,
        units=units,
        why=advice.reason,
        drill=advice.drill,
        drawn=first_drill_drawn(assessment) if with_drill_drawn else None,
    )


def _pictures(
    assessment: Assessment, drawn: Mapping[View, Drawing], *, units: UnitSystem
) -> tuple[PictureModel, ...]:
    return tuple(
        _picture(
            view, drawing=each, moment=still_words(assessment.pictures[view].still, units=units)
        )
        for view, each in drawn.items()
    )


def _versions(versions: Versions) -> tuple[tuple[str, str], ...]:
    return (
        ("Program", versions.program),
        ("Tables", ", ".join(versions.tables)),
        ("Standards", versions.standards),
    )


def compose(
    assessment: Assessment,
    /,
    *,
    units: UnitSystem = UnitSystem.CENTIMETRES,
    with_drill_drawn: bool = True,
) -> ReportModel:
    """The report of an assessment.

    Parameters
    ----------
    assessment : Assessment
    units : UnitSystem
        The coach's unit of length.
    with_drill_drawn : bool
        Whether the first change's drill is drawn; plain text has no use for it.
    """
    advice = assessment.advice
    judged = (row(f, club=assessment.club, units=units) for f in assessment.findings)
    rows = tuple(r for r in judged if r is not None)
    first = _first(assessment, units=units, with_drill_drawn=with_drill_drawn)
    keep = tuple(change(f, units=units) for f in advice.keep)
    missing = missing_groups(assessment)
    drawn = drawings(assessment, units=units)
    held = camera_advice(assessment.camera_states, hand=assessment.hand, units=units)
    return ReportModel(
        title=assessment.student.name.strip() or "A student",
        subtitle=f"Set-up at address with the {assessment.club.name}",
        facts=_facts(assessment, units),
        on_the_ground=ground_words(assessment.fit.ground),
        summary=_summary(rows, sum(len(group.items) for group in missing)),
        first=first,
        nothing_to_change="" if first else advice.reason,
        later=tuple(change(f, units=units) for f in advice.then),
        keep=keep,
        pictures=_pictures(assessment, drawn, units=units),
        key=_key(drawn),
        rows=rows,
        remedies=remedies(assessment.findings, units=units),
        plain=plain_rows(assessment, judged=(r.measure for r in rows), units=units),
        missing=missing,
        sources=source_rows(assessment, units=units),
        phones=phones(held, units=units),
        both_phones=held.together,
        notes=_notes(assessment),
        student=_student_words(first, keep),
        cautions=CAUTIONS,
        versions=_versions(assessment.versions),
        corrections=correction_words(assessment.corrections, units=units),
        stand=stand_model(assessment, units=units),
        plate=plate_words(assessment, units=units),
    )
