"""Wiring of the sheets to take home: from an assessment, new or kept, to a file."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping
from importlib import resources
from pathlib import Path
from typing import Final

from attrs import field, frozen

from wellset.bootstrap import (
    DEMO,
    UNITS,
    _student,
    _text,
    one_blas_thread,
    picture_reader,
    standards_of,
)
from wellset.equipment import Club, find_club
from wellset.errors import EstimationError, InputError
from wellset.figure.views import Hand, View
from wellset.lessons import day
from wellset.reports.coach_sheet import coach_sheet
from wellset.reports.coach_sheet_pdf import coach_sheet_pdf
from wellset.reports.contract import AssessmentDocument, PicturePart
from wellset.reports.json_contract import assessment_document
from wellset.reports.lesson_sheet import LessonFacts, lesson_sheet, plan_for
from wellset.reports.lesson_sheet_page import lesson_sheet_html
from wellset.reports.lesson_sheet_pdf import lesson_sheet_pdf
from wellset.reports.paint import Pixels
from wellset.reports.plan_contract import ClubPlan, PlanDocument
from wellset.reports.plan_json import plan_document
from wellset.reports.sheet import PAPERS, Paper
from wellset.reports.sheet_crop import cropped
from wellset.reports.writing import DATA, write_file
from wellset.services.assessment import Assessment, Student
from wellset.services.bag_file import BagEntry
from wellset.services.documents import parse_json, validate
from wellset.services.plan_bag import PlanRequest, plan_bag
from wellset.standards import Standards
from wellset.units import radians

READERS: Final = ("student", "coach")
PAGE: Final = ".html"


@frozen(kw_only=True, eq=False)
class Source:
    """What a sheet is made from.

    Parameters
    ----------
    document : AssessmentDocument
    pictures : mapping of View to (height, width, 3) uint8 array
        Upright, as taken.
    plan : ClubPlan or None
        How to stand with this club.
    missing : tuple of View
        Pictures that were assessed and are not here.
    """

    document: AssessmentDocument
    pictures: Mapping[View, Pixels]
    plan: ClubPlan | None
    missing: tuple[View, ...] = ()


@frozen(kw_only=True)
class Wanted:
    """Which sheet, and on what.

    Parameters
    ----------
    reader : str
        "student" or "coach".
    paper : str
        "a4" or "letter".
    units : str
        "cm" or "in".
    facts : LessonFacts
    """

    reader: str = "student"
    paper: str = "a4"
    units: str = "cm"
    facts: LessonFacts = field(factory=LessonFacts)

    def __attrs_post_init__(self) -> None:
        """Refuse what is not known."""
        for what, value, known in (
            ("reader of the sheet", self.reader, READERS),
            ("paper", self.paper, tuple(PAPERS)),
            ("unit of length", self.units, tuple(UNITS)),
        ):
            if value not in known:
                raise InputError(
                    f"The {what} is not known",
                    why=f"it is {value!r}.",
                    fix=f"Say {' or '.join(known)}.",
                )
        for text in (self.facts.day, self.facts.next_day):
            if text:
                day(text)

    @property
    def sheet(self) -> Paper:
        """The paper."""
        return PAPERS[self.paper]


def source_of(
    assessment: Assessment, /, *, plan: str | Path | None = None, standards: Standards
) -> Source:
    """A new assessment with the plan for its club."""
    document = assessment_document(assessment)
    return Source(
        document=document,
        pictures={view: p.rgb for view, p in assessment.pictures.items() if p.rgb is not None},
        plan=_plan(
            document, path=plan, student=assessment.student, club=assessment.club,
            standards=standards,
        ),
    )  # fmt: skip


def kept_source(
    path: str | Path,
    /,
    *,
    given: Mapping[View, str | Path],
    plan: str | Path | None = None,
    student: str | Path | None = None,
    standards: str | Path | None = None,
) -> Source:
    """An assessment that was written before; its pictures are not read for points again.

    Parameters
    ----------
    path : str or Path
        ``assessment.json``, or the folder it lies in.
    given : mapping of View to path
        The pictures; those of the assessment's names beside it or in the current folder
        otherwise.

    Raises
    ------
    InputError
        No assessment, one of another version, or a picture of another size.
    PictureError
    """
    place = Path(path)
    file = place / DATA if place.is_dir() else place
    document = read_assessment(_text(str(file), what="assessment"), where=str(file))
    pictures = dict(_pictures(document, given=given, beside=file.parent))
    height = f"{document.student.stature_m} m"
    return Source(
        document=document,
        pictures=pictures,
        plan=_plan(
            document,
            path=plan,
            student=_student(student, height=None if student is not None else height),
            club=_club(document),
            standards=standards_of(standards),
        ),
        missing=tuple(View(name) for name in document.pictures if View(name) not in pictures),
    )


def read_assessment(text: str, /, *, where: str) -> AssessmentDocument:
    """An assessment as it was written.

    Raises
    ------
    InputError
        When it is none, or another version wrote it.
    """
    data = parse_json(text, where=where, what="The assessment")
    try:
        return validate(AssessmentDocument, data, where=where, what="The assessment")
    except InputError as error:
        raise InputError(
            "The assessment cannot be used",
            why="it is not in this version's form.",
            fix="Assess the pictures again.",
            where=where,
        ) from error


def _club(document: AssessmentDocument) -> Club:
    kept = document.club
    return find_club(
        kept.name, length=kept.length_m, lie=radians(kept.lie_deg), head_length=kept.head_length_m
    )


def _pictures(
    document: AssessmentDocument, *, given: Mapping[View, str | Path], beside: Path
) -> Iterator[tuple[View, Pixels]]:
    for name, part in document.pictures.items():
        view = View(name)
        path = given.get(view) or _found(part, beside=beside)
        if path is None:
            continue
        rgb = picture_reader().open(str(path)).rgb
        if rgb.shape[:2] != (part.height_px, part.width_px):
            raise InputError(
                f"The {view.words} picture cannot be used",
                why=f"it has {rgb.shape[1]} x {rgb.shape[0]} pixels, the assessment was made from "
                f"{part.width_px} x {part.height_px}.",
                fix="Give the picture that was assessed.",
                where=str(path),
            )
        yield view, rgb


def _found(part: PicturePart, *, beside: Path) -> Path | None:
    """The very file that was assessed, by its name and contents; the demo's come with us."""
    own = Path(str(resources.files("wellset").joinpath(DEMO)))
    for folder in (beside, beside.parent, Path.cwd(), own):
        path = folder / part.name
        if part.name and part.sha256 and path.is_file() and _digest(path) == part.sha256:
            return path
    return None


def _digest(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _plan(
    document: AssessmentDocument,
    *,
    path: str | Path | None,
    student: Student,
    club: Club,
    standards: Standards,
) -> ClubPlan | None:
    """The plan of a file, or one worked out now; ``None`` where none can be."""
    if path is not None:
        return _plan_of_file(path, club=club.name)
    request = PlanRequest(
        student=student,
        clubs=(BagEntry(club=club),),
        standards=standards,
        shot=document.shot,
        hand=Hand(document.hand),
    )
    try:
        with one_blas_thread():
            return plan_document(plan_bag(request)).clubs[0]
    except (InputError, EstimationError):
        return None  # a way to play that isn't modelled: the sheet says nothing of it


def _plan_of_file(path: str | Path, *, club: str) -> ClubPlan:
    where = str(path)
    data = parse_json(_text(where, what="plan"), where=where, what="The plan")
    plan = validate(PlanDocument, data, where=where, what="The plan")
    found = plan_for(plan.clubs, club=club)
    if found is None:
        raise InputError(
            "The plan cannot be used",
            why=f"it has no {club}, only {', '.join(each.club for each in plan.clubs)}.",
            fix="Plan that club too, or leave --plan out.",
            where=where,
        )
    return found


def sheet_bytes(source: Source, wanted: Wanted, *, page: bool = False) -> bytes:
    """The sheet as a PDF, or as a page.

    Raises
    ------
    InputError
        A page for the coach: that is the report of an assessment.
    """
    units = UNITS[wanted.units]
    if wanted.reader == "coach":
        if page:
            raise InputError(
                "The coach's sheet is made as a PDF only",
                why="a page with the same numbers comes with every assessment.",
                fix="Name a .pdf file, or use `wellset assess --out`.",
            )
        whole = coach_sheet(source.document, facts=wanted.facts, plan=source.plan, units=units)
        files = {p.view: cropped(p, source.pictures[p.view]) for p in whole.student.pictures
                 if p.view in source.pictures}  # fmt: skip
        return coach_sheet_pdf(whole, paper=wanted.sheet, pictures=files)
    sheet = lesson_sheet(source.document, facts=wanted.facts, plan=source.plan, units=units)
    shown = {p.view: cropped(p, source.pictures[p.view]) for p in sheet.pictures
             if p.view in source.pictures}  # fmt: skip
    if page:
        return lesson_sheet_html(sheet, pictures=shown).encode()
    return lesson_sheet_pdf(sheet, paper=wanted.sheet, pictures=shown)


def write_sheet_file(path: str | Path, source: Source, /, *, wanted: Wanted) -> Path:
    """Write a sheet; a name that ends in ``.html`` makes a page.

    Raises
    ------
    InputError
    OutputError
    """
    place = Path(path)
    if place.suffix.lower() not in {".pdf", PAGE}:
        raise InputError(
            "The sheet cannot be written so",
            why=f"{place.name!r} ends neither in .pdf nor in {PAGE}.",
            fix=f"Name a .pdf file, or a {PAGE} one for a page.",
            where=str(place),
        )
    data = sheet_bytes(source, wanted, page=place.suffix.lower() == PAGE)
    return write_file(place, data)
