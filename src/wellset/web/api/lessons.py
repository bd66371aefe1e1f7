"""Lessons, what is written into them, and links to them."""

from __future__ import annotations

from attrs import asdict
from fastapi import Request, Response

from wellset.lessons import Homework, Lesson
from wellset.services.book import Share
from wellset.services.lesson_book import Written, begin_lesson, remove_lesson, write_lesson
from wellset.services.sharing import holds, make_share, revoke_share
from wellset.web.api.models import (
    HomeworkPart,
    LessonChanged,
    LessonKept,
    LessonSent,
    LinkKept,
    LinkSent,
    Listed,
)
from wellset.web.api.routing import Limit, Offset, interface_router
from wellset.web.links import address_for_phones
from wellset.web.site import SiteNow

router = interface_router("Lessons")


@router.get("/api/students/{student_id}/lessons")
def list_lessons(
    site: SiteNow, student_id: str, *, limit: Limit = 50, offset: Offset = 0
) -> Listed[LessonKept]:
    """A student's lessons, newest first."""
    with site.desk.book.reading() as pages:
        pages.student(student_id)
        found = pages.lessons_of(student_id, limit=limit, offset=offset)
    return Listed(items=[_lesson(each) for each in found.items], total=found.total)


@router.post("/api/lessons", status_code=201)
def add_lesson(site: SiteNow, sent: LessonSent) -> LessonKept:
    """Begin a lesson, now or at a moment to come."""
    return _lesson(
        begin_lesson(site.desk, student_id=sent.student, starts_at=sent.starts_at, focus=sent.focus)
    )


@router.get("/api/lessons/{lesson_id}")
def get_lesson(site: SiteNow, lesson_id: str) -> LessonKept:
    """One lesson."""
    with site.desk.book.reading() as pages:
        return _lesson(pages.lesson(lesson_id))


@router.put("/api/lessons/{lesson_id}")
def change_lesson(site: SiteNow, lesson_id: str, sent: LessonChanged) -> LessonKept:
    """Keep what is written into a lesson: the whole of it."""
    written = Written(
        focus=sent.focus,
        note=sent.note,
        for_student=sent.for_student,
        homework=[Homework(**each.model_dump()) for each in sent.homework],
        looked_at=sent.looked_at,
        starts_at=sent.starts_at,
    )
    return _lesson(write_lesson(site.desk, lesson_id, version=sent.version, written=written))


@router.delete("/api/lessons/{lesson_id}", status_code=204)
def delete_lesson(site: SiteNow, lesson_id: str) -> Response:
    """Remove a lesson for good: its set-ups, pictures and links too."""
    remove_lesson(site.desk, lesson_id)
    return Response(status_code=204)


@router.get("/api/lessons/{lesson_id}/links")
def list_links(site: SiteNow, lesson_id: str) -> Listed[LinkKept]:
    """The links to a lesson, newest first."""
    with site.desk.book.reading() as pages:
        pages.lesson(lesson_id)
        found = pages.shares_of(lesson_id)
    now = site.now()
    return Listed(items=[_link(each, now=now) for each in found], total=len(found))


@router.post("/api/lessons/{lesson_id}/links", status_code=201)
def add_link(request: Request, site: SiteNow, lesson_id: str, sent: LinkSent) -> LinkKept:
    """Make a link that shows the lesson to its student; its address is told this once."""
    made = make_share(site.desk, lesson_id, days=sent.days)
    address = f"{address_for_phones(request, lan=site.options.lan)}/s/{made.secret}"
    return _link(made.share, now=site.now(), address=address)


@router.delete("/api/lessons/{lesson_id}/links/{link_id}")
def delete_link(site: SiteNow, lesson_id: str, link_id: str) -> LinkKept:
    """Take a link back."""
    revoked = revoke_share(site.desk, lesson_id=lesson_id, share_id=link_id)
    return _link(revoked, now=site.now())


def _lesson(lesson: Lesson) -> LessonKept:
    return LessonKept(
        id=lesson.id,
        student=lesson.student,
        version=lesson.version,
        starts_at=lesson.starts_at,
        focus=lesson.focus,
        note=lesson.note,
        for_student=lesson.for_student,
        homework=[HomeworkPart(**asdict(each)) for each in lesson.homework],
        looked_at=lesson.looked_at,
        created_at=lesson.created_at,
        changed_at=lesson.changed_at,
    )


def _link(share: Share, *, now: str, address: str = "") -> LinkKept:
    return LinkKept(
        id=share.id,
        created_at=share.created_at,
        expires_at=share.expires_at,
        holds=holds(share, now=now),
        address=address,
    )
