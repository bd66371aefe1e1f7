"""Today: who comes, what each works on, what awaits a look."""

from __future__ import annotations

from attrs import frozen
from fastapi import APIRouter, Request, Response

from wellset.lessons import Lesson, StudentCard
from wellset.web.rendering import render
from wellset.web.site import SiteNow

router = APIRouter(include_in_schema=False)


@frozen(kw_only=True)
class Coming:
    """One lesson with whose it is."""

    lesson: Lesson
    student: StudentCard


@frozen(kw_only=True)
class Today:
    """The start page.

    Parameters
    ----------
    coming : tuple of Coming
        Lessons of this day.
    waiting : tuple of Coming
        What came in and awaits a look.
    waiting_total : int
    students : int
        How many students the book has.
    """

    coming: tuple[Coming, ...]
    waiting: tuple[Coming, ...]
    waiting_total: int
    students: int


@router.get("/")
def today(request: Request, site: SiteNow) -> Response:
    """The start page."""
    day = site.now()[:10]
    with site.desk.book.reading() as pages:
        coming = pages.lessons_between(f"{day}T00:00:00Z", f"{day}T23:59:60Z")
        waiting = pages.lessons_to_look_at(limit=10)
        found = {
            lesson.student: pages.student(lesson.student) for lesson in (*coming, *waiting.items)
        }
        total = pages.find_students(limit=1).total
    shown = Today(
        coming=tuple(Coming(lesson=each, student=found[each.student]) for each in coming),
        waiting=tuple(Coming(lesson=each, student=found[each.student]) for each in waiting.items),
        waiting_total=waiting.total,
        students=total,
    )
    return render(request, "pages/today.html", shown=shown)
