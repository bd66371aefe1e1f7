"""Sheets to take home out of the lesson book: from kept documents to pages and files."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from attrs import frozen
from PIL import Image

from wellset.advise import DrillBook
from wellset.errors import InputError
from wellset.figure.views import View
from wellset.lessons import Homework, WrittenUnits
from wellset.reports.coach_sheet import coach_sheet
from wellset.reports.coach_sheet_pdf import coach_sheet_pdf
from wellset.reports.contract import AssessmentDocument
from wellset.reports.lesson_sheet import Homework as Given
from wellset.reports.lesson_sheet import LessonFacts, lesson_sheet, plan_for
from wellset.reports.lesson_sheet_model import LessonSheet, Task
from wellset.reports.lesson_sheet_pdf import lesson_sheet_pdf
from wellset.reports.plan_contract import ClubPlan, PlanDocument
from wellset.reports.sheet import PAPERS, Paper
from wellset.reports.sheet_crop import cropped
from wellset.services.documents import parse_json, validate
from wellset.services.sheet_book import SheetMatter
from wellset.units import UnitSystem


@frozen(kw_only=True)
class Days:
    """When, on the clock of whoever reads.

    Parameters
    ----------
    day, next_day : str
        ``2026-11-25``.
    next_time : str
        ``16:30``.
    """

    day: str
    next_day: str = ""
    next_time: str = ""


@frozen(kw_only=True, eq=False)
class BookSheet:
    """A set-up's sheets, ready to be shown or set.

    Parameters
    ----------
    document : AssessmentDocument
    facts : LessonFacts
    plan : ClubPlan or None
    units : UnitSystem
        The student's.
    """

    document: AssessmentDocument
    facts: LessonFacts
    plan: ClubPlan | None
    units: UnitSystem

    @property
    def student(self) -> LessonSheet:
        """The student's sheet."""
        return lesson_sheet(self.document, facts=self.facts, plan=self.plan, units=self.units)

    def student_pdf(self, *, paper: Paper, pictures: Mapping[View, Path]) -> bytes:
        """The student's sheet on two pages; pictures are files of the whole upright ones."""
        sheet = self.student
        return lesson_sheet_pdf(sheet, paper=paper, pictures=_shown(sheet, pictures))

    def coach_pdf(self, *, paper: Paper, pictures: Mapping[View, Path]) -> bytes:
        """The coach's sheet."""
        whole = coach_sheet(self.document, facts=self.facts, plan=self.plan, units=self.units)
        return coach_sheet_pdf(whole, paper=paper, pictures=_shown(whole.student, pictures))


def book_sheet(matter: SheetMatter, /, *, days: Days) -> BookSheet:
    """Put together what the book has.

    Raises
    ------
    InputError
        When the assessment was kept by another version.
    """
    lesson = matter.lesson
    return BookSheet(
        document=_assessment(matter),
        facts=LessonFacts(
            name=matter.student.name,
            day=days.day,
            next_day=days.next_day,
            next_time=days.next_time,
            note=lesson.for_student,
            homework=tuple(_given(each, drills=matter.drills) for each in lesson.homework),
            take_care=matter.student.injuries,
        ),
        plan=_plan(matter),
        units=(
            UnitSystem.INCHES
            if matter.student.units is WrittenUnits.INCHES
            else UnitSystem.CENTIMETRES
        ),
    )


def paper_named(name: str, /) -> Paper:
    """A paper by its name.

    Raises
    ------
    InputError
    """
    if name not in PAPERS:
        raise InputError(
            "The paper is not known", why=f"it is {name[:20]!r}.", fix=f"Say {' or '.join(PAPERS)}."
        )
    return PAPERS[name]


def _assessment(matter: SheetMatter) -> AssessmentDocument:
    where = "assessment"
    data = parse_json(matter.setup.assessment, where=where, what="The assessment")
    try:
        return validate(AssessmentDocument, data, where=where, what="The assessment")
    except InputError as error:
        raise InputError(
            "There is no sheet of this set-up",
            why="another version of the program assessed it.",
            fix="Save its points once more under Move points: that judges it anew.",
        ) from error


def _plan(matter: SheetMatter) -> ClubPlan | None:
    if not matter.plan:
        return None
    data = parse_json(matter.plan, where="plan", what="The plan")
    try:
        kept = validate(PlanDocument, data, where="plan", what="The plan")
    except InputError:
        return None  # another version made it; the sheet says nothing of it until it is made anew
    return plan_for(kept.clubs, club=matter.setup.club)


def _given(homework: Homework, *, drills: DrillBook) -> Given:
    drill = drills.get(homework.drill)
    return Given(
        words=homework.words,
        dose=homework.dose,
        due=homework.due or "",
        drill_id=homework.drill,
        drill=None
        if drill is None
        else Task(
            title=drill.title,
            purpose=drill.purpose,
            steps=drill.steps,
            works=drill.self_check,
            dose=drill.dose,
            caution=drill.caution,
        ),
    )


def _shown(sheet: LessonSheet, files: Mapping[View, Path]) -> dict[View, bytes]:
    """The shown part of each picture that is here."""
    shown = {}
    for picture in sheet.pictures:
        if picture.view in files:
            with Image.open(files[picture.view]) as whole:
                shown[picture.view] = cropped(picture, whole)
    return shown
