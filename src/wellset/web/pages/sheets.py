"""Sheets to take home: the student's as PDF and page, the coach's, and the student's by a link."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import frozen
from fastapi import APIRouter, Request, Response
from markupsafe import Markup

from wellset.figure.views import View
from wellset.lessons import Lesson, SetUp, StudentCard
from wellset.reports.book_sheet import BookSheet
from wellset.reports.lesson_sheet_page import lesson_sheet_css, lesson_sheet_part
from wellset.reports.page import WholePicture
from wellset.services.lesson_work import picture_address
from wellset.services.sharing import shared_setup
from wellset.services.sheet_book import sheet_matter
from wellset.web.pages.sharing import UNSEEN, Knock, shared_addresses
from wellset.web.printing import (
    coach_pdf_of,
    sheet_of,
    student_pdf_of,
    usual_paper,
)
from wellset.web.rendering import render
from wellset.web.site import SiteNow

router = APIRouter(include_in_schema=False)
"""Pages of the coach."""
door = APIRouter(include_in_schema=False)
"""What whoever has a link may see, without signing in."""


@frozen(kw_only=True)
class SheetPage:
    """The student's sheet as the coach sees it.

    Parameters
    ----------
    sheet : Markup
        Ready part of the page.
    setup : SetUp
    lesson : Lesson
    student : StudentCard
    paper : str
        What the coach chose last, or what is most likely in the printer.
    """

    sheet: Markup
    setup: SetUp
    lesson: Lesson
    student: StudentCard
    paper: str


@frozen(kw_only=True)
class SharedSheet:
    """The student's sheet on their own phone.

    Parameters
    ----------
    sheet : Markup
    back, pdf : str
        Addresses of the shared lesson and of the same sheet to print.
    """

    sheet: Markup
    back: str
    pdf: str


@router.get("/setups/{setup_id}/sheet")
def sheet(request: Request, site: SiteNow, setup_id: str) -> Response:
    """The student's sheet as a page."""
    matter = sheet_matter(site.desk, setup_id)
    addresses = {
        view: picture_address(setup_id, view, shown=shown)
        for view, shown in matter.setup.shown.items()
        if shown.preview
    }
    shown = SheetPage(
        sheet=_part(sheet_of(site, matter), addresses),
        setup=matter.setup,
        lesson=matter.lesson,
        student=matter.student,
        paper=usual_paper(site, matter.student),
    )
    return render(request, "pages/sheet.html", shown=shown)


@router.get("/setups/{setup_id}/sheet.pdf")
def sheet_pdf(site: SiteNow, setup_id: str, paper: str = "") -> Response:
    """The student's sheet on two pages."""
    return student_pdf_of(site, sheet_matter(site.desk, setup_id), paper=paper)


@router.get("/setups/{setup_id}/coach.pdf")
def coach_pdf(site: SiteNow, setup_id: str, paper: str = "") -> Response:
    """The coach's sheet."""
    return coach_pdf_of(site, sheet_matter(site.desk, setup_id), paper=paper)


@router.get("/sheet.css")
@door.get("/s/sheet.css")
def sheet_css() -> Response:
    """The style sheet of the student's sheet."""
    return Response(
        lesson_sheet_css(), media_type="text/css", headers={"cache-control": "no-cache"}
    )


@door.get("/s/{secret}/sheet/{setup_id}")
def shared_sheet(request: Request, site: SiteNow, secret: str, setup_id: str) -> Response:
    """The student's sheet as a page, by a link."""
    with Knock(request, site):
        setup = shared_setup(site.desk, secret, setup_id=setup_id)
    matter = sheet_matter(site.desk, setup.id)
    kept = shared_addresses(setup, secret=secret)
    addresses = {
        view: kept[picture_address(setup.id, view, shown=shown)]
        for view, shown in setup.shown.items()
        if shown.preview
    }
    shown = SharedSheet(
        sheet=_part(sheet_of(site, matter), addresses),
        back=f"/s/{secret}",
        pdf=f"/s/{secret}/sheet/{setup.id}/print",
    )
    page = render(request, "pages/shared-sheet.html", shown=shown)
    page.headers.update(UNSEEN)
    return page


@door.get("/s/{secret}/sheet/{setup_id}/print")
def shared_sheet_pdf(
    request: Request, site: SiteNow, secret: str, setup_id: str, paper: str = ""
) -> Response:
    """The student's sheet on two pages, by a link."""
    with Knock(request, site):
        setup = shared_setup(site.desk, secret, setup_id=setup_id)
    answer = student_pdf_of(site, sheet_matter(site.desk, setup.id), paper=paper)
    answer.headers.update(UNSEEN)
    return answer


def _part(made: BookSheet, addresses: Mapping[View, str]) -> Markup:
    sizes = {p.view: p.size_px for p in made.student.pictures}
    images = {
        view: WholePicture(address=address, width_px=sizes[view][0], height_px=sizes[view][1])
        for view, address in addresses.items()
        if view in sizes
    }
    return lesson_sheet_part(made.student, images=images)
