"""Plans, what students take home, comparisons with the plan, and tables of measures."""

from __future__ import annotations

from typing import Annotated, Any, Final

from fastapi import Query, Response
from fastapi.responses import JSONResponse

from wellset.reports.floor.sheets import floor_pdf
from wellset.reports.handover import folder_name
from wellset.reports.plan_drawings import file_stem
from wellset.services.check_book import check_kept
from wellset.services.plan_book import PlanAsked, make_plan
from wellset.services.sheet_book import sheet_matter
from wellset.web.api.models import PlanSent
from wellset.web.api.routing import interface_router
from wellset.web.pages.measures import TableKind, table_answer
from wellset.web.printing import (
    bag_card_of,
    coach_pdf_of,
    floor_of,
    kept_plan,
    pdf_answer,
    student_pdf_of,
)
from wellset.web.site import SiteNow

router = interface_router("Plans and what to take home")

PaperName = Annotated[
    str, Query(description="a4 or letter; empty for the one chosen last.", max_length=20)
]
ClubName = Annotated[str, Query(description="A club of the plan; empty for all.", max_length=60)]
Names = Annotated[bool, Query(description="Whether students' names go along.")]
Kind = Annotated[TableKind, Query(description="How it is written.")]

_PDF: Final[dict[int | str, dict[str, Any]]] = {
    200: {"description": "A PDF file.", "content": {"application/pdf": {}}}
}
_TABLE: Final[dict[int | str, dict[str, Any]]] = {
    200: {
        "description": "A table, a row for each measure of each set-up.",
        "content": {"text/csv": {}, "application/vnd.apache.parquet": {}},
    }
}


@router.get("/api/students/{student_id}/plan")
def get_plan(site: SiteNow, student_id: str) -> Response:
    """The student's plan as it was worked out last: a `wellset.plan` document."""
    _, kept = kept_plan(site, student_id)
    return Response(kept.document, media_type=JSONResponse.media_type)


@router.post("/api/students/{student_id}/plan", status_code=201)
def work_out_plan(site: SiteNow, student_id: str, sent: PlanSent) -> Response:
    """Work out the student's whole bag and keep the plan in place of the last."""
    asked = PlanAsked(slopes=tuple(sent.slopes), wind=sent.wind)
    kept = make_plan(site.desk, student_id, asked=asked)
    return Response(kept.document, status_code=201, media_type=JSONResponse.media_type)


@router.get("/api/students/{student_id}/floor-plan", response_class=Response, responses=_PDF)
def get_floor_plan(
    site: SiteNow, student_id: str, club: ClubName = "", paper: PaperName = ""
) -> Response:
    """The floor plan at true size, on sheets to tape together."""
    card, plan = floor_of(site, student_id, club=club, paper=paper)
    name = f"{folder_name(card)}-{file_stem(club or 'bag')}-floor-plan.pdf"
    return pdf_answer(floor_pdf(plan), name=name)


@router.get("/api/students/{student_id}/bag-card", response_class=Response, responses=_PDF)
def get_bag_card(site: SiteNow, student_id: str, paper: PaperName = "") -> Response:
    """All clubs of the plan on one page, to fold into the bag."""
    card, pdf = bag_card_of(site, student_id, paper=paper)
    return pdf_answer(pdf, name=f"{folder_name(card)}-bag-card.pdf")


@router.get("/api/setups/{setup_id}/sheet", response_class=Response, responses=_PDF)
def get_student_sheet(site: SiteNow, setup_id: str, paper: PaperName = "") -> Response:
    """The student's sheet on two pages."""
    return student_pdf_of(site, sheet_matter(site.desk, setup_id), paper=paper)


@router.get("/api/setups/{setup_id}/coach-sheet", response_class=Response, responses=_PDF)
def get_coach_sheet(site: SiteNow, setup_id: str, paper: PaperName = "") -> Response:
    """The coach's sheet, with all measures, ranges, windows and versions."""
    return coach_pdf_of(site, sheet_matter(site.desk, setup_id), paper=paper)


@router.get("/api/setups/{setup_id}/check")
def get_check(site: SiteNow, setup_id: str) -> Response:
    """The set-up compared with the student's plan: a `wellset.check` document.

    It is worked out where something that it follows from is new, and kept; links to the lesson
    show it from then on.
    """
    document = check_kept(site.desk, setup_id).comparison.document
    return Response(document, media_type=JSONResponse.media_type)


@router.get("/api/students/{student_id}/measures", response_class=Response, responses=_TABLE)
def get_measures_of_student(
    site: SiteNow, *, student_id: str, kind: Kind = TableKind.CSV, names: Names = False
) -> Response:
    """Every measure of a student's set-ups as a table."""
    return table_answer(site, kind, student=student_id, names=names)


@router.get("/api/measures", response_class=Response, responses=_TABLE)
def get_measures(site: SiteNow, *, kind: Kind = TableKind.CSV, names: Names = False) -> Response:
    """Every measure of everybody's set-ups as a table."""
    return table_answer(site, kind, student=None, names=names)
