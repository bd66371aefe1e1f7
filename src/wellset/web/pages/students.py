"""Students: the list with search, one student, the form, the bag."""

from __future__ import annotations

import json

from attrs import frozen
from fastapi import APIRouter, Request, Response
from fastapi.responses import RedirectResponse

from wellset.advise import BodyLimit
from wellset.body import TAPE_MEASURES
from wellset.equipment import standard_bag
from wellset.errors import InputError, WellsetError
from wellset.lessons import Bag, BagClub, Lesson, StudentCard
from wellset.services.student_book import (
    StudentEntry,
    entry_of,
    keep_bag,
    keep_student,
    remove_student,
)
from wellset.units import degrees, parse_angle, parse_length
from wellset.web.forms import Form, SentForm
from wellset.web.problems import status_of
from wellset.web.rendering import render
from wellset.web.site import SiteNow

router = APIRouter(include_in_schema=False)
ON_A_PAGE = 50
EMPTY_CLUBS = 3
"""Empty lines offered for more clubs."""

LIMITS = (
    ("max_forward_bend", "Most bend from the hips, degrees"),
    ("max_knee_flex", "Most knee flex, degrees"),
    ("max_side_bend", "Most side bend, degrees"),
)


@frozen(kw_only=True)
class Students:
    """The list of students.

    Parameters
    ----------
    text : str
        What was searched for.
    students : tuple of StudentCard
    total, page, last : int
        How many were found, which page of the list this is, and which is the last.
    """

    text: str
    students: tuple[StudentCard, ...]
    total: int
    page: int
    last: int


@frozen(kw_only=True)
class StudentPage:
    """One student.

    Parameters
    ----------
    student : StudentCard
    facts : tuple of (str, str)
        Name and value, as typed.
    coming : tuple of Lesson
        Planned ones, the next first.
    lessons : tuple of Lesson
        Begun ones, newest first.
    lessons_total : int
        All that were begun.
    bag : Bag
    now, zone : str
        This moment, and what the clock's zone is called.
    """

    student: StudentCard
    facts: tuple[tuple[str, str], ...]
    coming: tuple[Lesson, ...]
    lessons: tuple[Lesson, ...]
    lessons_total: int
    bag: Bag
    now: str
    zone: str


@frozen(kw_only=True)
class StudentForm:
    """The form of a student.

    Parameters
    ----------
    goal : str
        Where it is sent.
    entry : StudentEntry
    version : int
    problem : str
    tapes : tuple of (name, words, how)
    limits : tuple of (name, words)
    careful : tuple of (name, words)
        What drills may have to spare.
    student_id : str
        Empty for a new one.
    """

    goal: str
    entry: StudentEntry
    version: int
    problem: str = ""
    tapes: tuple[tuple[str, str, str], ...] = tuple(
        (name, tape.words[0].upper() + tape.words[1:], tape.how)
        for name, tape in TAPE_MEASURES.items()
    )
    limits: tuple[tuple[str, str], ...] = LIMITS
    careful: tuple[tuple[str, str], ...] = tuple((each.value, each.words) for each in BodyLimit)
    student_id: str = ""


@frozen(kw_only=True)
class BagRow:
    """One club of the bag as typed."""

    name: str = ""
    length: str = ""
    lie: str = ""
    head: str = ""
    note: str = ""


@frozen(kw_only=True)
class BagPage:
    """The form of a bag.

    Parameters
    ----------
    student : StudentCard
    version : int
    rows : tuple of BagRow
    problem : str
    """

    student: StudentCard
    version: int
    rows: tuple[BagRow, ...]
    problem: str = ""


@router.get("/students")
def students(request: Request, site: SiteNow, text: str = "", page: int = 1) -> Response:
    """Students whose names hold the words searched for."""
    page = max(1, min(page, 100_000))
    with site.desk.book.reading() as pages:
        found = pages.find_students(text[:120], limit=ON_A_PAGE, offset=(page - 1) * ON_A_PAGE)
    shown = Students(
        text=text[:120],
        students=found.items,
        total=found.total,
        page=page,
        last=max(1, -(-found.total // ON_A_PAGE)),
    )
    return render(request, "pages/students.html", shown=shown)


@router.get("/students/new")
def new(request: Request) -> Response:
    """The form of a new student."""
    shown = StudentForm(goal="/students/new", entry=StudentEntry(), version=0)
    return render(request, "pages/student-form.html", shown=shown)


@router.post("/students/new")
def add(request: Request, site: SiteNow, form: SentForm) -> Response:
    """Keep a new student."""
    return _keep(request, site, form=form, student_id="")


@router.get("/students/{student_id}")
def student(request: Request, site: SiteNow, student_id: str, page: int = 1) -> Response:
    """One student."""
    page, now = max(1, min(page, 100_000)), site.now()
    with site.desk.book.reading() as pages:
        card = pages.student(student_id)
        lessons = pages.lessons_of(student_id, limit=20, offset=20 * (page - 1))
        bag = pages.bag(student_id)
    coming = tuple(each for each in lessons.items if each.starts_at > now)[::-1]
    shown = StudentPage(
        student=card,
        facts=_facts(card),
        coming=coming,
        lessons=tuple(each for each in lessons.items if each.starts_at <= now),
        lessons_total=lessons.total - len(coming),
        bag=bag,
        now=now,
        zone=site.local.name(now),
    )
    return render(request, "pages/student.html", shown=shown)


@router.get("/students/{student_id}/edit")
def edit(request: Request, site: SiteNow, student_id: str) -> Response:
    """The form of a student."""
    with site.desk.book.reading() as pages:
        card = pages.student(student_id)
    shown = StudentForm(
        goal=f"/students/{student_id}/edit",
        entry=entry_of(card),
        version=card.version,
        student_id=student_id,
    )
    return render(request, "pages/student-form.html", shown=shown)


@router.post("/students/{student_id}/edit")
def change(request: Request, site: SiteNow, student_id: str, form: SentForm) -> Response:
    """Keep changes to a student."""
    return _keep(request, site, form=form, student_id=student_id)


@router.post("/students/{student_id}/remove")
def remove(site: SiteNow, student_id: str, form: SentForm) -> Response:
    """Remove a student for good, once the name was typed."""
    with site.desk.book.reading() as pages:
        card = pages.student(student_id)
    if form.text("name") != card.name:
        raise InputError(
            "The student was not removed",
            why="the name typed is not theirs.",
            fix=f"Type {card.name} to remove them for good.",
        )
    remove_student(site.desk, student_id)
    return RedirectResponse("/students", status_code=303)


@router.get("/students/{student_id}/bag")
def bag(request: Request, site: SiteNow, student_id: str, fill: str = "") -> Response:
    """The form of a bag; ``fill`` puts a standard bag into it."""
    with site.desk.book.reading() as pages:
        card, kept = pages.student(student_id), pages.bag(student_id)
    rows = [_bag_row(each, inches=card.units == "in") for each in kept.clubs]
    if fill and not rows:
        rows = [BagRow(name=club.name) for club in standard_bag()]
    shown = BagPage(
        student=card,
        version=kept.version,
        rows=(*rows, *(BagRow() for _ in range(EMPTY_CLUBS))),
    )
    return render(request, "pages/bag.html", shown=shown)


@router.post("/students/{student_id}/bag")
def keep_clubs(request: Request, site: SiteNow, student_id: str, form: SentForm) -> Response:
    """Keep a bag."""
    rows = tuple(
        BagRow(name=name, length=length, lie=lie, head=head, note=note)
        for name, length, lie, head, note in zip(
            *(form.texts(f"club_{part}") for part in ("name", "length", "lie", "head", "note")),
            strict=False,
        )
    )
    version = form.number("version")
    try:
        clubs = tuple(_bag_club(row) for row in rows if row.name)
        keep_bag(site.desk, student_id, version=version, clubs=clubs)
    except WellsetError as error:
        with site.desk.book.reading() as pages:
            card = pages.student(student_id)
        shown = BagPage(student=card, version=version, rows=rows, problem=error.sentence)
        return render(request, "pages/bag.html", shown=shown, status=status_of(error))
    return RedirectResponse(f"/students/{student_id}", status_code=303)


def _keep(request: Request, site: SiteNow, *, form: Form, student_id: str) -> Response:
    entry, version = _entry(form), form.number("version")
    try:
        card = keep_student(site.desk, entry, student_id=student_id, version=version)
    except WellsetError as error:
        goal = f"/students/{student_id}/edit" if student_id else "/students/new"
        shown = StudentForm(
            goal=goal,
            entry=entry,
            version=version,
            problem=error.sentence,
            student_id=student_id,
        )
        return render(request, "pages/student-form.html", shown=shown, status=status_of(error))
    return RedirectResponse(f"/students/{card.id}", status_code=303)


def _entry(form: Form) -> StudentEntry:
    return StudentEntry(
        name=form.text("name"),
        hand=form.text("hand"),
        height=form.text("height"),
        sex=form.text("sex"),
        weight=form.text("weight"),
        shoe=form.text("shoe"),
        tape=dict(form.starting("tape_")),
        limits=dict(form.starting("limit_")),
        careful_with=tuple(name for name, _ in form.starting("careful_")),
        units=form.text("units"),
        injuries=form.text("injuries"),
        note=form.text("note"),
        minor=form.ticked("minor"),
        guardian=form.text("guardian"),
        contact=form.text("contact"),
        allowed_on=form.text("allowed_on"),
    )


def _facts(card: StudentCard) -> tuple[tuple[str, str], ...]:
    file = json.loads(card.file)
    tape = {f"tape.{name}": text for name, text in file.get("tape", {}).items()}
    words = {"height": "Height", "weight": "Weight", "shoe_size": "Shoe", "sex": "Tables of"}
    facts = [
        (words[name], str(file[name]))
        for name in words
        if file.get(name) and file[name] != "unspecified"
    ]
    if card.hand:
        facts.insert(0, ("Plays", f"{card.hand}-handed"))
    if tape:
        facts.append(("Tape measures", str(len(tape))))
    return tuple(facts)


def _bag_row(entry: BagClub, *, inches: bool) -> BagRow:
    per, unit = (0.0254, "in") if inches else (0.01, "cm")

    def length(value: float | None) -> str:
        return "" if value is None else f"{value / per:.4g} {unit}"

    return BagRow(
        name=entry.name,
        length=length(entry.length_m),
        lie="" if entry.lie is None else f"{degrees(entry.lie):.3g}",
        head=length(entry.head_length_m),
        note=entry.note,
    )


def _bag_club(row: BagRow) -> BagClub:
    return BagClub(
        name=row.name,
        length_m=parse_length(row.length, where=f"{row.name}, length") if row.length else None,
        lie=parse_angle(row.lie, where=f"{row.name}, lie") if row.lie else None,
        head_length_m=parse_length(row.head, where=f"{row.name}, head") if row.head else None,
        note=row.note,
    )
