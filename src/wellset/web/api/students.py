"""Students and their bags."""

from __future__ import annotations

from attrs import asdict
from fastapi import Response

from wellset.lessons import Bag, BagClub, StudentCard
from wellset.services.student_book import (
    StudentEntry,
    entry_of,
    keep_bag,
    keep_student,
    remove_student,
)
from wellset.units import degrees, radians
from wellset.web.api.models import (
    BagChanged,
    BagKept,
    ClubPart,
    Listed,
    StudentChanged,
    StudentKept,
    StudentSent,
)
from wellset.web.api.routing import Limit, Offset, interface_router
from wellset.web.site import SiteNow

router = interface_router("Students and bags")


@router.get("/api/students")
def list_students(
    site: SiteNow, *, text: str = "", limit: Limit = 50, offset: Offset = 0
) -> Listed[StudentKept]:
    """Students whose names hold every word of `text`, in order of name."""
    with site.desk.book.reading() as pages:
        found = pages.find_students(text[:120], limit=limit, offset=offset)
    return Listed(items=[_student(card) for card in found.items], total=found.total)


@router.post("/api/students", status_code=201)
def add_student(site: SiteNow, sent: StudentSent) -> StudentKept:
    """Keep a new student."""
    return _student(keep_student(site.desk, StudentEntry(**sent.model_dump())))


@router.get("/api/students/{student_id}")
def get_student(site: SiteNow, student_id: str) -> StudentKept:
    """One student."""
    with site.desk.book.reading() as pages:
        return _student(pages.student(student_id))


@router.put("/api/students/{student_id}")
def change_student(site: SiteNow, student_id: str, sent: StudentChanged) -> StudentKept:
    """Keep changes to a student: the whole of it."""
    entry = StudentEntry(**sent.model_dump(exclude={"version"}))
    return _student(keep_student(site.desk, entry, student_id=student_id, version=sent.version))


@router.delete("/api/students/{student_id}", status_code=204)
def delete_student(site: SiteNow, student_id: str) -> Response:
    """Remove a student for good: lessons, set-ups, plans, links, pictures."""
    remove_student(site.desk, student_id)
    return Response(status_code=204)


@router.get("/api/students/{student_id}/bag")
def get_bag(site: SiteNow, student_id: str) -> BagKept:
    """The clubs of a student."""
    with site.desk.book.reading() as pages:
        pages.student(student_id)
        return _bag(pages.bag(student_id))


@router.put("/api/students/{student_id}/bag")
def change_bag(site: SiteNow, student_id: str, sent: BagChanged) -> BagKept:
    """Keep the clubs of a student: all of them."""
    clubs = tuple(
        BagClub(
            name=club.name,
            length_m=club.length_m,
            lie=None if club.lie_deg is None else radians(club.lie_deg),
            head_length_m=club.head_length_m,
            note=club.note,
        )
        for club in sent.clubs
    )
    return _bag(keep_bag(site.desk, student_id, version=sent.version, clubs=clubs))


def _student(card: StudentCard) -> StudentKept:
    return StudentKept(
        id=card.id,
        version=card.version,
        created_at=card.created_at,
        changed_at=card.changed_at,
        **asdict(entry_of(card)),
    )


def _bag(bag: Bag) -> BagKept:
    return BagKept(
        student=bag.student,
        version=bag.version,
        clubs=[
            ClubPart(
                name=club.name,
                length_m=club.length_m,
                lie_deg=None if club.lie is None else round(degrees(club.lie), 6),
                head_length_m=club.head_length_m,
                note=club.note,
            )
            for club in bag.clubs
        ],
    )
