"""Today: who comes, what each works on, what awaits a look."""

from __future__ import annotations

from itertools import groupby

from attrs import frozen
from fastapi import APIRouter, Request, Response

from wellset.lessons import Lesson, StudentCard
from wellset.web.rendering import render
from wellset.web.site import SiteNow

router = APIRouter(include_in_schema=False)
AHEAD = 7
"""Days after this one whose lessons are shown."""
MOST_LATER = 30


@frozen(kw_only=True)
class Coming:
    """One lesson with whose it is."""

    lesson: Lesson
    student: StudentCard


@frozen(kw_only=True)
class Day:
    """One of the next days, in words, with its lessons."""

    words: str
    lessons: tuple[Coming, ...]


@frozen(kw_only=True)
class Today:
    """The start page.

    Parameters
    ----------
    coming : tuple of Coming
        Lessons of this day here.
    later : tuple of Day
        Lessons of the next days.
    more : int
        Lessons of those days that are not listed.
    today : str
        The day in words.
    waiting : tuple of Coming
        What came in and awaits a look.
    waiting_total : int
    students : int
        How many students the book has.
    """

    coming: tuple[Coming, ...]
    later: tuple[Day, ...]
    more: int
    today: str
    waiting: tuple[Coming, ...]
    waiting_total: int
    students: int


@router.get("/")
def today(request: Request, site: SiteNow) -> Response:
    """The start page."""
    now, local = site.now(), site.local
    with site.desk.book.reading() as pages:
        coming = pages.lessons_between(*local.days_from(now))
        later = pages.lessons_between(*local.days_from(now, first=1, last=AHEAD))
        waiting = pages.lessons_to_look_at(limit=10)
        found = {
            lesson.student: pages.student(lesson.student)
            for lesson in (*coming, *later[:MOST_LATER], *waiting.items)
        }
        total = pages.find_students(limit=1).total
    shown = Today(
        coming=tuple(Coming(lesson=each, student=found[each.student]) for each in coming),
        later=tuple(
            Day(
                words=words,
                lessons=tuple(Coming(lesson=each, student=found[each.student]) for each in day),
            )
            for words, day in groupby(
                later[:MOST_LATER], key=lambda each: local.day_seen_from(now, each.starts_at)
            )
        ),
        more=max(len(later) - MOST_LATER, 0),
        today=local.day(now),
        waiting=tuple(Coming(lesson=each, student=found[each.student]) for each in waiting.items),
        waiting_total=waiting.total,
        students=total,
    )
    return render(request, "pages/today.html", shown=shown)
