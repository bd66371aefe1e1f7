"""A set-up compared with a plan, as words, rounded numbers and drawings."""

from __future__ import annotations

from typing import Final

from attrs import frozen
from markupsafe import Markup

from wellset.advise import Finding, Verdict
from wellset.figure.views import View
from wellset.measures import Measured
from wellset.measures.kinds import COVERAGE_FACTOR
from wellset.reports.cautions import CAUTIONS
from wellset.reports.compose import compose
from wellset.reports.figure_svg import Side, figure_svg
from wellset.reports.model import DrillWords, NoteLine, PictureModel, Remedy, Scale
from wellset.reports.rows import change, scale
from wellset.reports.words import MINUS, SPACE, give_or_take, number, spread_text, unit_words
from wellset.services.check_plan import Check
from wellset.services.plan_target import Aimed, PlanTarget
from wellset.units import UnitSystem

_SIDES: Final = {View.FACE_ON: Side.FRONT, View.DOWN_THE_LINE: Side.BEHIND}
_SOURCES: Final = {
    "solved": "worked out for this comparison, from the student's build and the standards",
    "file": "from the file {name}",
    "book": "from the lesson book, worked out {name}",
}
NO_NUMBER: Final = "no number"


@frozen(kw_only=True)
class CheckRow:
    """One measure beside the plan.

    Parameters
    ----------
    measured, wanted, off : str
        Measured, planned with its room, and measured minus planned.
    note : str
        What settles it, or why there is no number.
    """

    measure: str
    title: str
    measured: str
    wanted: str
    off: str
    verdict: str
    scale: Scale | None
    note: str


@frozen(kw_only=True)
class ToDo:
    """One thing to do.

    Parameters
    ----------
    what : str
        In the student's words.
    numbers : str
        Measured, and wanted.
    why : str
        Empty but for the first.
    drill : DrillWords or None
    """

    measure: str
    title: str
    what: str
    numbers: str
    why: str
    drill: DrillWords | None


@frozen(kw_only=True, eq=False)
class Pair:
    """A picture and the plan seen from the same side."""

    picture: PictureModel
    plan: Markup


@frozen(kw_only=True, eq=False)
class CheckReport:
    """A whole comparison."""

    title: str
    subtitle: str
    facts: tuple[tuple[str, str], ...]
    misfits: tuple[str, ...]
    summary: str
    to_do: tuple[ToDo, ...]
    nothing_to_do: str
    right: tuple[CheckRow, ...]
    unsure: tuple[CheckRow, ...]
    remedies: tuple[Remedy, ...]
    look_next: tuple[str, ...]
    pairs: tuple[Pair, ...]
    from_above: Markup
    rows: tuple[CheckRow, ...]
    notes: tuple[NoteLine, ...]
    cautions: tuple[str, ...]
    versions: tuple[tuple[str, str], ...]


def check_report(check: Check, /, *, units: UnitSystem = UnitSystem.CENTIMETRES) -> CheckReport:
    """Put a comparison into words and drawings.

    Parameters
    ----------
    check : Check
    units : UnitSystem
        The reader's unit of length.
    """
    target, assessment = check.target, check.assessment
    report = compose(assessment, units=units)
    rows = tuple(_row(f, target.aims[f.measure], units=units) for f in check.findings)
    return CheckReport(
        title=report.title,
        subtitle=f"Compared with the plan for the {target.club}",
        facts=(
            *((name, value) for name, value in report.facts if name in _KEPT),
            ("The plan", _SOURCES[target.source].format(name=target.name)),
        ),
        misfits=target.conflicts,
        summary=_summary(rows),
        to_do=tuple(_to_do(check, f, units=units) for f in check.to_do),
        nothing_to_do="" if check.to_do else assessment.advice.reason,
        right=_with(rows, Verdict.INSIDE),
        unsure=_with(rows, Verdict.UNDECIDED),
        remedies=report.remedies,
        look_next=check.look_next,
        pairs=tuple(
            Pair(picture=picture, plan=_drawing(target, _SIDES[View(picture.view)]))
            for picture in report.pictures
        ),
        from_above=_drawing(target, Side.ABOVE),
        rows=rows,
        notes=report.notes,
        cautions=CAUTIONS,
        versions=(*report.versions, ("Plan's standards", target.standards)),
    )


_KEPT: Final = ("Club", "Height", "Stands", "Pictures", "On the ground")


def _with(rows: tuple[CheckRow, ...], verdict: Verdict) -> tuple[CheckRow, ...]:
    return tuple(row for row in rows if row.verdict == verdict.value)


def _summary(rows: tuple[CheckRow, ...]) -> str:
    words = {"inside": "as planned", "outside": "off the plan", "undecided": "can't be told"}
    return ", ".join(
        f"{sum(row.verdict == verdict for row in rows)} {said}" for verdict, said in words.items()
    )


def _row(finding: Finding, aim: Aimed, *, units: UnitSystem) -> CheckRow:
    result = finding.result
    measured, off, drawn = NO_NUMBER, "", None
    if isinstance(result, Measured):
        measured = give_or_take(result, units)
        off = _off(result, aim, units=units)
        drawn = scale(
            finding,
            result,
            text=f"{finding.title}: {measured}, planned {_wanted(aim, units=units)}.",
        )
    return CheckRow(
        measure=finding.measure,
        title=finding.title,
        measured=measured,
        wanted=_wanted(aim, units=units),
        off=off,
        verdict=finding.verdict.value,
        scale=drawn,
        note=finding.settle,
    )


def _wanted(aim: Aimed, *, units: UnitSystem) -> str:
    """The planned value and its room: a room is no range of uncertainty, so no ±."""
    unit = unit_words(aim.window.unit, units)
    places = 1 if aim.room * unit.factor < 1 else 0
    value, room = (number(v * unit.factor, places) for v in (aim.value, aim.room))
    return f"{value}{unit.sign}, {room}{SPACE}either way"


def _off(result: Measured, aim: Aimed, *, units: UnitSystem) -> str:
    off = spread_text(
        result.value - aim.value, COVERAGE_FACTOR * result.sd, unit=result.unit, system=units
    )
    return off if off.startswith((MINUS, f"0{SPACE}")) else f"+{off}"


def _to_do(check: Check, finding: Finding, *, units: UnitSystem) -> ToDo:
    advice = check.advice
    first = finding is advice.first
    words = change(
        finding,
        units=units,
        why=advice.reason if first else "",
        drill=advice.drill if first else None,
    )
    wanted = _wanted(check.target.aims[finding.measure], units=units)
    return ToDo(
        measure=finding.measure,
        title=finding.title,
        what=finding.for_student,
        numbers=f"{words.value} now; the plan has {wanted}",
        why=words.why,
        drill=words.drill,
    )


def _drawing(target: PlanTarget, side: Side) -> Markup:
    words = {
        Side.FRONT: "The plan seen from the front",
        Side.BEHIND: "The plan seen from behind, looking at the target",
        Side.ABOVE: "The plan seen from above",
    }
    return figure_svg(target.figure, side, hand=target.hand, words=words[side])
