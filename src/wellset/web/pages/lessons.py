"""A lesson: its set-ups, what was written, the homework."""

from __future__ import annotations

from collections.abc import Sequence

from attrs import frozen
from fastapi import APIRouter, Request, Response
from fastapi.responses import RedirectResponse
from starlette.datastructures import UploadFile

from wellset.advise import Drill, DrillBook
from wellset.errors import InputError
from wellset.figure.views import View
from wellset.lessons import (
    Homework,
    HomeworkState,
    HowTaken,
    Lesson,
    SetUp,
    Shown,
    StudentCard,
)
from wellset.measures import MEASURES
from wellset.services.drills_file import drills_in_force
from wellset.services.lesson_book import (
    Written,
    begin_lesson,
    move_lesson,
    remove_lesson,
    write_lesson,
)
from wellset.services.lesson_work import take_setup
from wellset.web.choices import Options, clubs_to_choose, shots_to_choose
from wellset.web.drawn_drills import first_fault
from wellset.web.forms import Form, SentForm
from wellset.web.how_form import HowFields, how_fields, sent_how
from wellset.web.rendering import render
from wellset.web.site import Site, SiteNow
from wellset.web.uploads import keep_upload, kept_before

router = APIRouter(include_in_schema=False)
EMPTY_HOMEWORK = 1
"""Empty lines offered for more homework."""


@frozen(kw_only=True)
class NewLesson:
    """Choosing whose lesson it is.

    Parameters
    ----------
    text : str
        What was searched for.
    students : tuple of StudentCard
    total : int
    zone : str
        What the clock's zone is called.
    """

    text: str
    students: tuple[StudentCard, ...]
    total: int
    zone: str


@frozen(kw_only=True)
class LessonPage:
    """One lesson.

    Parameters
    ----------
    lesson : Lesson
    student : StudentCard
    setups : tuple of SetUp
        Newest first.
    clubs, shots : Options
    club : str
        The club chosen last.
    suited, drills : tuple of Drill
        For the first change found last, and all others by title.
    states : Options
        What can be said of homework.
    titles : mapping of measure id to str
    last_homework : tuple of Homework
        What was given last time, to ask about.
    empty_homework : int
    ahead : bool
        Whether it is still to come.
    now : str
        This moment.
    zone : str
        What the clock's zone is called.
    how : HowFields
        How the next set-up is taken: as the last one as far as that stays.
    views : tuple of View
    """

    lesson: Lesson
    student: StudentCard
    setups: tuple[SetUp, ...]
    clubs: Options
    shots: Options
    club: str
    suited: tuple[Drill, ...]
    drills: tuple[Drill, ...]
    states: Options
    titles: dict[str, str]
    last_homework: tuple[Homework, ...]
    ahead: bool
    now: str
    zone: str
    how: HowFields
    empty_homework: int = EMPTY_HOMEWORK
    views: tuple[View, ...] = tuple(View)


@router.get("/lessons/new")
def new(request: Request, site: SiteNow, text: str = "") -> Response:
    """Choose the student of a new lesson."""
    with site.desk.book.reading() as pages:
        found = pages.find_students(text[:120], limit=30)
    shown = NewLesson(
        text=text[:120],
        students=found.items,
        total=found.total,
        zone=site.local.name(site.now()),
    )
    return render(request, "pages/lesson-new.html", shown=shown)


@router.post("/lessons")
def begin(site: SiteNow, form: SentForm) -> Response:
    """Begin a lesson, or plan one for a day and time."""
    planned = typed_moment(site, form)
    lesson = begin_lesson(
        site.desk,
        student_id=form.text("student"),
        starts_at=planned,
        focus=form.text("focus"),
    )
    goal = f"/lessons/{lesson.id}"
    if planned > site.now():
        goal = f"/students/{lesson.student}#coming"
    return RedirectResponse(goal, status_code=303)


@router.post("/lessons/{lesson_id}/move")
def move(site: SiteNow, lesson_id: str, form: SentForm) -> Response:
    """Give a lesson another day and time, or begin it now."""
    moved = site.now() if form.ticked("now") else typed_moment(site, form)
    if not moved:
        raise InputError(
            "The lesson cannot be moved", why="no day was given.", fix="Give its new day and time."
        )
    move_lesson(site.desk, lesson_id, version=form.number("version"), starts_at=moved)
    return RedirectResponse(f"/lessons/{lesson_id}", status_code=303)


def typed_moment(site: Site, form: Form, /) -> str:
    """The stored moment of a day and time typed here; empty where neither was.

    Raises
    ------
    InputError
    """
    day, at = form.text("day"), form.text("time")
    if not day and not at:
        return ""
    return site.local.moment(day, at)


@router.get("/lessons/{lesson_id}")
def lesson(request: Request, site: SiteNow, lesson_id: str) -> Response:
    """One lesson."""
    now = site.now()
    with site.desk.book.reading() as pages:
        found = pages.lesson(lesson_id)
        setups = pages.setups_of(lesson_id)
        suited, others = _drills_to_choose(drills_in_force(pages), setups)
        student = pages.student(found.student)
        before = [
            each
            for each in pages.lessons_of(found.student, limit=20).items
            if each.starts_at < found.starts_at and each.homework
        ]
        shown = LessonPage(
            lesson=found,
            student=student,
            setups=setups[::-1],
            clubs=clubs_to_choose(pages.bag(found.student)),
            shots=shots_to_choose(),
            club=setups[-1].club if setups else "7-iron",
            suited=suited,
            drills=others,
            states=tuple((state.value, state.value) for state in HomeworkState),
            titles={name: measure.title for name, measure in MEASURES.items()},
            last_homework=before[0].homework if before else (),
            ahead=found.starts_at > now,
            now=now,
            zone=site.local.name(found.starts_at),
            how=how_fields(_stays(setups), inches=student.units == "in"),
        )
    return render(request, "pages/lesson.html", shown=shown)


@router.post("/lessons/{lesson_id}")
def write(site: SiteNow, lesson_id: str, form: SentForm) -> Response:
    """Keep what was written."""
    with site.desk.book.reading() as pages:
        book = drills_in_force(pages)
    written = Written(
        focus=form.text("focus"),
        note=form.text("note"),
        for_student=form.text("for_student"),
        homework=_homework(form, book),
    )
    write_lesson(site.desk, lesson_id, version=form.number("version"), written=written)
    return RedirectResponse(f"/lessons/{lesson_id}", status_code=303)


@router.post("/lessons/{lesson_id}/setups")
def take(site: SiteNow, lesson_id: str, form: SentForm) -> Response:
    """Take a set-up: files of a plain form, or media that scripts sent before."""
    shown = {}
    for view in View:
        sent = _shown(site, form, view=view)
        if sent is not None:
            shown[view] = sent
    setup, _ = take_setup(
        site.desk,
        lesson_id=lesson_id,
        club=form.text("club"),
        shot=form.text("shot"),
        shown=shown,
        how=sent_how(site, form),
    )
    site.line.nudge()
    return RedirectResponse(f"/setups/{setup.id}", status_code=303)


@router.post("/lessons/{lesson_id}/remove")
def remove(site: SiteNow, lesson_id: str, form: SentForm) -> Response:
    """Remove a lesson for good."""
    del form
    student = remove_lesson(site.desk, lesson_id)
    return RedirectResponse(f"/students/{student}", status_code=303)


def _stays(setups: tuple[SetUp, ...]) -> HowTaken:
    """What is said of the last set-up and probably holds for the next one."""
    if not setups:
        return HowTaken()
    last = setups[-1].how
    return HowTaken(phone_level=last.phone_level, sheet_aimed=last.sheet_aimed, ignore=last.ignore)


def _shown(site: Site, form: Form, *, view: View) -> Shown | None:
    upload = form.data.get(view.value)
    if isinstance(upload, UploadFile) and upload.filename:
        return keep_upload(site, upload)
    media = form.text(f"{view.value}_media")
    if not media:
        return None
    return kept_before(site, media=media, name=form.text(f"{view.value}_name"))


def _drills_to_choose(
    book: DrillBook, setups: Sequence[SetUp]
) -> tuple[tuple[Drill, ...], tuple[Drill, ...]]:
    """Drills for the newest first change, and all others by title."""
    fault = next((f for f in map(first_fault, reversed(setups)) if f is not None), None)
    suited = book.serving(fault) if fault is not None else ()
    others = sorted((d for d in book if d not in suited), key=lambda d: d.title)
    return suited, tuple(others)


def _homework(form: Form, book: DrillBook) -> list[Homework]:
    """Lines of homework; empty ones are left out. A drill says by itself what and how often."""
    columns = [
        form.texts(f"homework_{name}") for name in ("words", "dose", "drill", "state", "due")
    ]
    if len({len(column) for column in columns}) != 1:
        raise InputError(
            "The form cannot be used", why="its homework is not whole.", fix="Open it again."
        )
    told = {drill.id: drill for drill in (*book.drills, *book.hidden)}
    return [
        Homework(
            words=words or told[drill].title,
            dose=dose or (told[drill].dose if drill in told else ""),
            drill=drill,
            state=HomeworkState(state) if state in set(HomeworkState) else HomeworkState.GIVEN,
            due=due or None,
        )
        for words, dose, drill, state, due in zip(*columns, strict=True)
        if words or drill in told
    ]
