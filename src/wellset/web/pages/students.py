"""The list of students, with search."""

from __future__ import annotations

from attrs import frozen
from fastapi import APIRouter, Request, Response

from wellset.lessons import StudentCard
from wellset.web.rendering import render
from wellset.web.site import SiteNow

router = APIRouter(include_in_schema=False)
ON_A_PAGE = 50


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
