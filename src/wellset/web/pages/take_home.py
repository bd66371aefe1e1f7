"""What a student takes home from a plan: the floor plan, its list, and the bag card."""

from __future__ import annotations

from urllib.parse import urlencode

from attrs import frozen
from fastapi import APIRouter, Request, Response
from fastapi.responses import RedirectResponse

from wellset.lessons import StudentCard
from wellset.reports.floor.listing import Listing, rooms
from wellset.reports.floor.sheets import floor_pdf
from wellset.reports.handover import folder_name
from wellset.reports.plan_drawings import file_stem
from wellset.services.paper_choice import choose_paper
from wellset.web.forms import SentForm
from wellset.web.printing import bag_card_of, floor_of, pdf_answer
from wellset.web.rendering import render
from wellset.web.site import SiteNow

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
def floor(site: SiteNow, student_id: str, club: str = LADDER, paper: str = "") -> Response:
    """The floor plan of one club, or of the bag."""
    card, plan = floor_of(site, student_id, club=club, paper=paper)
    name = f"{folder_name(card)}-{file_stem(club or 'bag')}-floor-plan.pdf"
    return pdf_answer(floor_pdf(plan), name=name)


@router.get("/students/{student_id}/bag-card.pdf")
def bag_card(site: SiteNow, student_id: str, paper: str = "") -> Response:
    """The bag card."""
    card, pdf = bag_card_of(site, student_id, paper=paper)
    return pdf_answer(pdf, name=f"{folder_name(card)}-bag-card.pdf")


@router.get("/students/{student_id}/laid-out")
def laid_out(request: Request, site: SiteNow, student_id: str, club: str = LADDER) -> Response:
    """The same as a list, to lay it with sticks and tees."""
    card, plan = floor_of(site, student_id, club=club)
    shown = Laid(
        student=card,
        what=plan.what,
        listing=plan.listing,
        rooms=rooms(plan.stances[0], plan.units) if len(plan.stances) == 1 else (),
    )
    return render(request, "pages/laid_out.html", shown=shown)
