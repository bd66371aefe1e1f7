"""What a student takes home from a plan: the floor plan, its list, and the bag card."""

from __future__ import annotations

from urllib.parse import urlencode

from attrs import frozen
from fastapi import APIRouter, Request, Response
from fastapi.responses import RedirectResponse
from pydantic import ValidationError

from wellset.errors import InputError, MissingError
from wellset.lessons import StudentCard
from wellset.reports.card import card_pdf
from wellset.reports.floor.listing import Listing, rooms
from wellset.reports.floor.sheets import FloorPlan, floor_pdf, floor_plan
from wellset.reports.handover import folder_name
from wellset.reports.plan_contract import PlanDocument
from wellset.reports.plan_drawings import file_stem
from wellset.reports.sheet import PAPERS
from wellset.services.paper_choice import choose_paper
from wellset.units import UnitSystem
from wellset.web.forms import SentForm
from wellset.web.rendering import render
from wellset.web.site import Site, SiteNow

router = APIRouter(include_in_schema=False)

LADDER = ""
"""In place of a club: all of them."""


@frozen(kw_only=True)
class Laid:
    """How to lay a plan out without paper.

    Parameters
    ----------
    student : StudentCard
    what : str
        The club, or how many.
    listing : Listing
    rooms : tuple of (what, how much)
        For one club.
    """

    student: StudentCard
    what: str
    listing: Listing
    rooms: tuple[tuple[str, str], ...]


@router.post("/students/{student_id}/print")
def choose(site: SiteNow, student_id: str, form: SentForm) -> Response:
    """Remember the paper, and go to what was asked for."""
    paper, club = form.text("paper"), form.text("club")
    choose_paper(site.desk, paper)
    what = form.text("what")
    if what == "list":
        query, place = {"club": club}, "laid-out"
    elif what == "card":
        query, place = {"paper": paper}, "bag-card.pdf"
    else:
        query, place = {"club": club, "paper": paper}, "floor-plan.pdf"
    return RedirectResponse(f"/students/{student_id}/{place}?{urlencode(query)}", status_code=303)


@router.get("/students/{student_id}/floor-plan.pdf")
def floor(site: SiteNow, student_id: str, club: str = LADDER, paper: str = "a4") -> Response:
    """The floor plan of one club, or of the bag."""
    card, document = _kept(site, student_id)
    plan = _floor_plan(card, document, club=club, paper=paper)
    return _pdf(floor_pdf(plan), f"{folder_name(card)}-{file_stem(club or 'bag')}-floor-plan.pdf")


@router.get("/students/{student_id}/bag-card.pdf")
def bag_card(site: SiteNow, student_id: str, paper: str = "a4") -> Response:
    """The bag card."""
    card, document = _kept(site, student_id)
    pdf = card_pdf(document, PAPERS.get(paper, PAPERS["a4"]), units=_units(card))
    return _pdf(pdf, f"{folder_name(card)}-bag-card.pdf")


@router.get("/students/{student_id}/laid-out")
def laid_out(request: Request, site: SiteNow, student_id: str, club: str = LADDER) -> Response:
    """The same as a list, to lay it with sticks and tees."""
    card, document = _kept(site, student_id)
    plan = _floor_plan(card, document, club=club, paper="a4")
    shown = Laid(
        student=card,
        what=plan.what,
        listing=plan.listing,
        rooms=rooms(plan.stances[0], plan.units) if len(plan.stances) == 1 else (),
    )
    return render(request, "pages/laid_out.html", shown=shown)


def _kept(site: Site, student_id: str) -> tuple[StudentCard, PlanDocument]:
    """The student and the plan as it was worked out last."""
    with site.desk.book.reading() as pages:
        card, kept = pages.student(student_id), pages.plan(student_id)
    if kept is None:
        raise MissingError(
            f"There is no plan for {card.name} yet",
            why="nothing was worked out.",
            fix="Open the student’s plan and work it out.",
        )
    try:
        return card, PlanDocument.model_validate_json(kept.document)
    except ValidationError as error:
        raise InputError(
            "This plan cannot be printed",
            why="it was worked out by an earlier version of the program.",
            fix="Open the student’s plan and work it out anew.",
        ) from error


def _floor_plan(card: StudentCard, document: PlanDocument, *, club: str, paper: str) -> FloorPlan:
    return floor_plan(
        document,
        paper=PAPERS.get(paper, PAPERS["a4"]),
        club=club or None,
        units=_units(card),
    )


def _units(card: StudentCard) -> UnitSystem:
    return UnitSystem(card.units.value)


def _pdf(content: bytes, name: str) -> Response:
    return Response(
        content,
        media_type="application/pdf",
        headers={"content-disposition": f'inline; filename="{name}"'},
    )
