"""The drill book: look, search, filter, edit, add, hide, restore."""

from __future__ import annotations

import hashlib
import re

from attrs import evolve, frozen
from fastapi import APIRouter, Request, Response
from fastapi.responses import RedirectResponse
from markupsafe import Markup

from wellset.advise import Drill
from wellset.errors import MissingError, WellsetError
from wellset.lessons import StudentCard
from wellset.measures import MEASURES
from wellset.reports.drill_page import drill_fragment, drill_report, drills_pdf
from wellset.services.book import DrillsVersion
from wellset.services.drill_book import (
    drill_of,
    hide_drill,
    kept_drills,
    restore_drill,
    use_drills,
    write_drill,
)
from wellset.services.drill_choice import Wanted, chosen
from wellset.services.drill_target import drawn_for, worked_out
from wellset.services.drills_file import drills_in_force
from wellset.services.student_file import make_student
from wellset.web.choices import Options, clubs_to_choose
from wellset.web.drawn_drills import shown_drill
from wellset.web.drill_forms import (
    DrillEntry,
    Offered,
    entry_for,
    entry_from,
    offered,
    typed_drill,
)
from wellset.web.forms import SentForm
from wellset.web.problems import status_of
from wellset.web.rendering import render
from wellset.web.site import Site, SiteNow

router = APIRouter(include_in_schema=False)

MEASURES_TO_CHOOSE: Options = (
    ("", "everything"),
    *((name, measure.title) for name, measure in MEASURES.items()),
)
LATEST = 12
"""Versions that are offered to go back to."""


@frozen(kw_only=True)
class Listed:
    """One drill of the list.

    Parameters
    ----------
    drill : Drill
    helps : str
        What it helps with, in a few words.
    drawing : str
        Address of its drawing.
    """

    drill: Drill
    helps: str
    drawing: str


@frozen(kw_only=True)
class DrillsPage:
    """The drills.

    Parameters
    ----------
    text, measure : str
        What was asked for.
    measures : Options
    drills, hidden : tuple of Listed
    total : int
    versions : tuple of DrillsVersion
    student : StudentCard or None
        For whom they are looked at.
    """

    text: str
    measure: str
    measures: Options
    drills: tuple[Listed, ...]
    hidden: tuple[Listed, ...]
    total: int
    versions: tuple[DrillsVersion, ...]
    student: StudentCard | None


@frozen(kw_only=True)
class DrillPage:
    """One drill.

    Parameters
    ----------
    drill : Drill
    shown : Markup
        Words and drawings.
    is_hidden : bool
    student : StudentCard or None
        Whose target is drawn.
    club : str
    clubs : Options
    whose : str
        Whom it is drawn for, in words.
    query : str
        What keeps the student in links.
    """

    drill: Drill
    shown: Markup
    is_hidden: bool
    student: StudentCard | None
    club: str
    clubs: Options
    whose: str
    query: str


@frozen(kw_only=True)
class DrillForm:
    """The form of a drill.

    Parameters
    ----------
    drill_id : str
        Empty for a new one.
    entry : DrillEntry
    offered : Offered
    problem : str
    """

    drill_id: str
    entry: DrillEntry
    offered: Offered
    problem: str = ""


@router.get("/drills")
def drills(
    request: Request, site: SiteNow, text: str = "", measure: str = "", student: str = ""
) -> Response:
    """All drills, or those that were asked for."""
    kept = kept_drills(site.desk)
    wanted = Wanted(measure=measure if measure in MEASURES else "", text=text[:120])
    found = chosen(kept.book, wanted)
    shown = DrillsPage(
        text=wanted.text,
        measure=wanted.measure,
        measures=MEASURES_TO_CHOOSE,
        drills=tuple(map(_listed, found)),
        hidden=tuple(map(_listed, kept.book.hidden)),
        total=len(kept.book.drills),
        versions=kept.versions[:LATEST],
        student=_student(site, student),
    )
    return render(request, "pages/drills.html", shown=shown)


@router.get("/drills/new")
def new(request: Request, site: SiteNow) -> Response:
    """An empty drill."""
    book = kept_drills(site.desk).book
    shown = DrillForm(drill_id="", entry=DrillEntry(), offered=offered(book))
    return render(request, "pages/drill-form.html", shown=shown)


@router.post("/drills/new")
def add(request: Request, site: SiteNow, form: SentForm) -> Response:
    """Keep a new drill."""
    return _keep(request, site, form=form, drill_id="")


@router.post("/drills/use")
def use(site: SiteNow, form: SentForm) -> Response:
    """Go back to a version."""
    use_drills(site.desk, form.text("digest"))
    return RedirectResponse("/drills", status_code=303)


@router.get("/drills/{drill_id}")
def drill(
    request: Request, site: SiteNow, drill_id: str, student: str = "", club: str = ""
) -> Response:
    """One drill, drawn for a student."""
    with site.desk.book.reading() as pages:
        book = drills_in_force(pages)
        found = drill_of(book, drill_id)
        drawn = drawn_for(pages, student_id=student, club=club)
        card = pages.student(student) if student else None
        clubs = clubs_to_choose(pages.bag(student)) if student else ()
    query = f"?student={student}&club={drawn.club.name}" if student else ""
    view = shown_drill(found, book=book, drawn=drawn)
    shown = DrillPage(
        drill=found,
        shown=drill_fragment(view, link="/drills/"),
        is_hidden=found in book.hidden,
        student=card,
        club=drawn.club.name,
        clubs=clubs,
        whose=card.name if card is not None else "an ordinary golfer",
        query=query,
    )
    return render(request, "pages/drill.html", shown=shown)


@router.get("/drills/{drill_id}/sheet.pdf")
def sheet(site: SiteNow, drill_id: str, student: str = "", club: str = "") -> Response:
    """One drill on paper."""
    with site.desk.book.reading() as pages:
        book = drills_in_force(pages)
        found = drill_of(book, drill_id)
        drawn = drawn_for(pages, student_id=student, club=club)
    target = worked_out(drawn)
    if target is None:
        raise MissingError(
            "This drill cannot be drawn",
            why="no set-up could be worked out for this student and club.",
            fix="Choose another club.",
        )
    height = make_student(height=None, file_text=drawn.file).build.stature
    report = drill_report((found,), book=book, target=target, height=height)
    return Response(
        drills_pdf(report),
        media_type="application/pdf",
        headers={"content-disposition": f'inline; filename="{found.id}.pdf"'},
    )


@router.get("/drills/{drill_id}/drawing.svg")
def drawing(site: SiteNow, drill_id: str) -> Response:
    """A drill's first drawing, for lists."""
    with site.desk.book.reading() as pages:
        book = drills_in_force(pages)
        found = drill_of(book, drill_id)
        drawn = drawn_for(pages)
    small = evolve(
        found,
        drawings=tuple(
            evolve(each, fault=False, props=dict.fromkeys(each.props, ""))
            for each in found.drawings[:1]
        ),
    )
    view = shown_drill(small, book=book, drawn=drawn)
    if not view.drawings:
        raise MissingError("There is no such drawing", why="none was made.", fix="Go back.")
    without_words = re.sub(r"<text.*?</text>", "", str(view.drawings[0].target))
    return Response(
        without_words,
        media_type="image/svg+xml",
        headers={"cache-control": "private, max-age=86400"},
    )


@router.get("/drills/{drill_id}/edit")
def edit(request: Request, site: SiteNow, drill_id: str) -> Response:
    """The form of a drill."""
    book = kept_drills(site.desk).book
    entry = entry_for(drill_of(book, drill_id))
    shown = DrillForm(drill_id=drill_id, entry=entry, offered=offered(book))
    return render(request, "pages/drill-form.html", shown=shown)


@router.post("/drills/{drill_id}/edit")
def change(request: Request, site: SiteNow, drill_id: str, form: SentForm) -> Response:
    """Keep a changed drill."""
    return _keep(request, site, form=form, drill_id=drill_id)


@router.post("/drills/{drill_id}/hide")
def hide(site: SiteNow, drill_id: str, form: SentForm) -> Response:
    """Offer a drill no longer, or again."""
    hide_drill(site.desk, drill_id, hidden=form.text("hidden") == "yes")
    return RedirectResponse(f"/drills/{drill_id}", status_code=303)


@router.post("/drills/{drill_id}/restore")
def restore(site: SiteNow, drill_id: str, form: SentForm) -> Response:
    """Put a drill back as it came, or remove one of the coach's own."""
    del form
    restore_drill(site.desk, drill_id)
    left = kept_drills(site.desk).book.get(drill_id)
    goal = "/drills" if left is None else f"/drills/{drill_id}"
    return RedirectResponse(goal, status_code=303)


def _keep(request: Request, site: Site, *, form: SentForm, drill_id: str) -> Response:
    entry = entry_from(form)
    try:
        name = write_drill(site.desk, drill_id=drill_id, entry=typed_drill(entry))
    except MissingError:
        raise
    except WellsetError as error:
        choices = offered(kept_drills(site.desk).book)
        shown = DrillForm(drill_id=drill_id, entry=entry, offered=choices, problem=error.sentence)
        return render(request, "pages/drill-form.html", shown=shown, status=status_of(error))
    return RedirectResponse(f"/drills/{name}", status_code=303)


def _student(site: Site, student_id: str) -> StudentCard | None:
    if not student_id:
        return None
    with site.desk.book.reading() as pages:
        return pages.student(student_id)


def _listed(drill: Drill) -> Listed:
    mark = hashlib.sha256(repr(drill.drawings).encode()).hexdigest()[:12]
    address = f"/drills/{drill.id}/drawing.svg?v={mark}" if drill.drawings else ""
    titles = [MEASURES[name].title.lower() for name in drill.measures]
    more = len(titles) - _NAMED
    helps = ", ".join(titles[:_NAMED]) + (f" and {more} more" if more > 0 else "")
    return Listed(drill=drill, helps=helps, drawing=address)


_NAMED = 3
