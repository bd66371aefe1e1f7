"""A student's plan: the bag as a ladder, its drawings, what doesn't fit."""

from __future__ import annotations

import json
from functools import cache

from attrs import frozen
from fastapi import APIRouter, Request, Response
from fastapi.responses import RedirectResponse
from markupsafe import Markup

from wellset.errors import WellsetError
from wellset.lessons import StudentCard
from wellset.reports.plan_page import plan_css
from wellset.services.book import PlanRecord
from wellset.services.paper_choice import PAPER_NAMES, paper_of
from wellset.services.plan_book import PlanAsked, asked_of, make_plan
from wellset.web.forms import Form, SentForm
from wellset.web.problems import status_of
from wellset.web.rendering import render
from wellset.web.site import Site, SiteNow

router = APIRouter(include_in_schema=False)

LINES = (("", "level"), ("uphill", "uphill"), ("downhill", "downhill"))
ACROSS = (("", "level"), *((words, words) for words in ("ball above feet", "ball below feet")))
WINDS = (("none", "none"), ("against", "against"), ("with", "from behind"))


@frozen(kw_only=True)
class PlanPage:
    """A student's plan.

    Parameters
    ----------
    student : StudentCard
    plan : PlanRecord or None
    asked : PlanAsked
    shown : Markup
        Ready part of the page.
    typed : mapping
        What the form holds.
    problem : str
    printable : tuple of (value, words)
        What a floor plan can be printed of.
    paper : str
        The paper chosen last.
    papers, lines, across, winds : tuple of (value, words)
    """

    student: StudentCard
    plan: PlanRecord | None
    asked: PlanAsked
    shown: Markup
    typed: dict[str, str]
    problem: str = ""
    printable: tuple[tuple[str, str], ...] = ()
    paper: str = ""
    papers: tuple[tuple[str, str], ...] = tuple(PAPER_NAMES.items())
    lines: tuple[tuple[str, str], ...] = LINES
    across: tuple[tuple[str, str], ...] = ACROSS
    winds: tuple[tuple[str, str], ...] = WINDS


@router.get("/students/{student_id}/plan")
def plan(request: Request, site: SiteNow, student_id: str) -> Response:
    """The student's plan, as it was worked out last."""
    return _page(request, site, student_id=student_id)


@router.post("/students/{student_id}/plan")
def work_out(request: Request, site: SiteNow, student_id: str, form: SentForm) -> Response:
    """Solve the bag anew."""
    try:
        make_plan(site.desk, student_id, asked=_asked(form))
    except WellsetError as error:
        return _page(request, site, student_id=student_id, form=form, error=error)
    return RedirectResponse(f"/students/{student_id}/plan", status_code=303)


@cache
def _css() -> bytes:
    return plan_css().encode()


@router.get("/plan.css")
def css() -> Response:
    """The style sheet of a plan."""
    return Response(_css(), media_type="text/css", headers={"cache-control": "no-cache"})


def _asked(form: Form) -> PlanAsked:
    slopes = [
        f"{form.text(name)} {form.text(f'{name}_degrees')}"
        for name in ("line", "across")
        if form.text(name)
    ]
    return PlanAsked(slopes=tuple(slopes), wind=form.text("wind") or "none")


def _page(
    request: Request,
    site: Site,
    *,
    student_id: str,
    form: Form | None = None,
    error: WellsetError | None = None,
) -> Response:
    with site.desk.book.reading() as pages:
        card, kept = pages.student(student_id), pages.plan(student_id)
    asked = asked_of(kept) if kept is not None else PlanAsked()
    names = ("line", "line_degrees", "across", "across_degrees", "wind")
    typed = {name: form.text(name) for name in names} if form is not None else _typed(asked)
    shown = PlanPage(
        student=card,
        plan=kept,
        asked=asked,
        shown=Markup(kept.page if kept is not None else ""),  # noqa: S704 - our own templates
        typed=typed,
        problem=error.sentence if error is not None else "",
        printable=_printable(kept) if kept is not None else (),
        paper=paper_of(site.desk, inches=card.units == "in"),
    )
    status = status_of(error) if error is not None else 200
    return render(request, "pages/plan.html", shown=shown, status=status)


def _printable(kept: PlanRecord) -> tuple[tuple[str, str], ...]:
    """The clubs of a kept plan, and all of them."""
    names = [str(club["club"]) for club in json.loads(kept.document)["clubs"]]
    ladder = (("", f"the whole bag ({len(names)} clubs)"),) if len(names) > 1 else ()
    return (*ladder, *((name, name) for name in names))


def _typed(asked: PlanAsked) -> dict[str, str]:
    typed = {"line": "", "line_degrees": "", "across": "", "across_degrees": "", "wind": asked.wind}
    for slope in asked.slopes:
        way, _, amount = slope.rpartition(" ")
        name = "line" if way.endswith("hill") else "across"
        typed[name], typed[f"{name}_degrees"] = way, amount
    return typed
