"""Use case: measures as a long table for whoever analyses them, a row for each measure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Annotated, Final, Literal

from attrs import evolve, frozen
from pydantic import ConfigDict, Field

from wellset.errors import MissingError
from wellset.figure.views import View
from wellset.lessons import SetUp, SetUpState
from wellset.measures import MEASURES
from wellset.services.documents import Document, parse_json, validate
from wellset.services.export import student_called
from wellset.services.lesson_work import Desk

_EVERY: Final = 1_000_000
_PAGE: Final = 200


@frozen(kw_only=True)
class MeasureRow:
    """One measure of one set-up. ``None`` where there is nothing.

    Parameters
    ----------
    student, name, lesson, set_up : str or None
        Ids of the lesson book; the name only when it was asked for.
    taken_at, assessed_at : str or None
        Moments, universal time.
    source : str or None
        The file it was read from, when that isn't the book.
    hand, club, club_kind, shot, pictures : str
    club_length_m : float
    measure, unit : str
        Id and published unit.
    value, standard_uncertainty, low95, high95 : float or None
        In that unit.
    not_measurable : str or None
        Code of the reason why there is no number.
    window_low, window_high, window_target, probability_inside : float or None
    verdict : str or None
    standards, program : str
        Versions that made the numbers.
    plate_used : bool
        Whether a pressure plate went into the estimate.
    """

    student: str | None = None
    name: str | None = None
    lesson: str | None = None
    set_up: str | None = None
    taken_at: str | None = None
    assessed_at: str | None = None
    source: str | None = None
    hand: str
    club: str
    club_kind: str
    club_length_m: float
    shot: str
    pictures: str
    measure: str
    unit: str
    value: float | None = None
    standard_uncertainty: float | None = None
    low95: float | None = None
    high95: float | None = None
    not_measurable: str | None = None
    window_low: float | None = None
    window_high: float | None = None
    window_target: float | None = None
    verdict: str | None = None
    probability_inside: float | None = None
    plate_used: bool = False
    standards: str
    program: str


class _Part(Document):
    """What is read of an assessment; everything else in it is left alone."""

    model_config = ConfigDict(extra="ignore", frozen=True)


class _Reason(_Part):
    code: str


class _Result(_Part):
    value: float | None = None
    unit: str = ""
    sd: float | None = None
    interval95: tuple[float, float] | None = None
    not_measurable: _Reason | None = None


class _Window(_Part):
    low: float | None = None
    high: float | None = None
    target: float | None = None


class _Finding(_Part):
    measure: str
    verdict: str
    probability_inside: float | None = None
    window: _Window


class _Club(_Part):
    name: str
    kind: str
    length_m: float


class _Versions(_Part):
    program: str
    standards: str


class _Plate(_Part):
    used: bool = False


class _Student(_Part):
    name: str = ""


class _Assessment(_Part):
    schema_: Annotated[Literal["wellset.assessment/1"], Field(alias="schema")]
    hand: str
    student: _Student
    club: _Club
    shot: str
    measures: dict[str, _Result]
    findings: tuple[_Finding, ...]
    pictures: dict[View, _Part]
    plate: _Plate | None = None
    versions: _Versions


def rows_of_document(text: str, /, *, where: str, names: bool = False) -> Iterator[MeasureRow]:
    """Rows of one assessment in JSON.

    Parameters
    ----------
    text : str
    where : str
        The file, for messages and the column ``source``.
    names : bool
        Whether the student's name goes along.

    Raises
    ------
    InputError
        When it is no assessment.
    """
    data = parse_json(text, where=where, what="The assessment")
    found = validate(_Assessment, data, where=where, what="The assessment")
    name = where.replace("\\", "/").rsplit("/", 1)[-1]
    return (
        evolve(row, source=name, name=found.student.name if names else None) for row in _rows(found)
    )


def rows_of_book(
    desk: Desk, /, *, student: str | None = None, names: bool = False
) -> Iterator[MeasureRow]:
    """Rows of everything assessed in the lesson book, student by student, oldest first.

    Parameters
    ----------
    student : str, optional
        Id, name, or as much of a name as fits nobody else; everybody otherwise.
    names : bool
        Whether students' names go along.

    Raises
    ------
    InputError
        When the student cannot be told.
    """
    chosen = _students(desk, student)
    return (row for id_ in chosen for row in _of_student(desk, id_, names=names))


def _students(desk: Desk, student: str | None) -> tuple[str, ...]:
    with desk.book.reading() as pages:
        if student is None:
            found: list[str] = []
            while len(part := pages.find_students(limit=_PAGE, offset=len(found)).items):
                found += [card.id for card in part]
            return tuple(found)
        try:
            return (pages.student(student).id,)
        except MissingError:
            return (student_called(pages, student).id,)


def _of_student(desk: Desk, student_id: str, *, names: bool) -> Iterator[MeasureRow]:
    """One look at the book for each student, so that a long download holds nobody up."""
    with desk.book.reading() as pages:
        name = pages.student(student_id).name if names else None
        lessons = pages.lessons_of(student_id, limit=_EVERY).items
        setups = [setup for each in reversed(lessons) for setup in pages.setups_of(each.id)]
    yield from rows_of_setups(setups, name=name)


def rows_of_setups(setups: Iterable[SetUp], /, *, name: str | None = None) -> Iterator[MeasureRow]:
    """Rows of set-ups that come with their documents; those not assessed have none.

    Parameters
    ----------
    setups : iterable of SetUp
    name : str, optional
        The student's, where it goes along.
    """
    for setup in setups:
        if setup.state is SetUpState.ASSESSED and setup.assessment:
            yield from _of_setup(setup, name=name)


def _of_setup(setup: SetUp, *, name: str | None) -> Iterator[MeasureRow]:
    data = parse_json(setup.assessment, where=setup.id, what="A kept assessment")
    found = validate(_Assessment, data, where=setup.id, what="A kept assessment")
    for row in _rows(found):
        yield evolve(
            row,
            student=setup.student,
            name=name,
            lesson=setup.lesson,
            set_up=setup.id,
            taken_at=setup.taken_at,
            assessed_at=setup.assessed_at,
        )


def _rows(found: _Assessment) -> Iterator[MeasureRow]:
    findings = {finding.measure: finding for finding in found.findings}
    for id_, result in found.measures.items():
        finding = findings.get(id_)
        window = finding.window if finding is not None else _Window()
        low, high = result.interval95 or (None, None)
        known = MEASURES.get(id_)
        yield MeasureRow(
            hand=found.hand,
            club=found.club.name,
            club_kind=found.club.kind,
            club_length_m=found.club.length_m,
            shot=found.shot,
            pictures=" ".join(view.value for view in found.pictures),
            measure=id_,
            unit=result.unit or (known.unit.value if known is not None else ""),
            value=result.value,
            standard_uncertainty=result.sd,
            low95=low,
            high95=high,
            not_measurable=result.not_measurable.code if result.not_measurable else None,
            window_low=window.low,
            window_high=window.high,
            window_target=window.target,
            verdict=finding.verdict if finding is not None else None,
            probability_inside=finding.probability_inside if finding is not None else None,
            plate_used=found.plate is not None and found.plate.used,
            standards=found.versions.standards,
            program=found.versions.program,
        )
