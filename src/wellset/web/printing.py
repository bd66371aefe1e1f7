"""What is printed out of the book: for pages and for programs alike."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from pathlib import Path

from fastapi import Response
from pydantic import ValidationError

from wellset.errors import InputError, MissingError
from wellset.figure.views import View
from wellset.lessons import SetUp, StudentCard
from wellset.reports.book_sheet import BookSheet, Days, book_sheet, paper_named
from wellset.reports.card import card_pdf
from wellset.reports.floor.sheets import FloorPlan, floor_plan
from wellset.reports.plan_contract import PlanDocument
from wellset.reports.sheet import Paper
from wellset.services.book import PlanRecord
from wellset.services.paper_choice import paper_of
from wellset.services.sheet_book import SheetMatter
from wellset.units import UnitSystem
from wellset.web.site import Site


def paper_for(site: Site, card: StudentCard, *, name: str = "") -> Paper:
    """The paper of that name; where none is named, the one chosen last or usual for the student.

    Raises
    ------
    InputError
    """
    return paper_named(name or usual_paper(site, card))


def usual_paper(site: Site, card: StudentCard) -> str:
    """The name of the paper chosen last, or of the one usual for the student."""
    return paper_of(site.desk, inches=card.units == "in")


def sheet_of(site: Site, matter: SheetMatter) -> BookSheet:
    """A set-up's sheets, with days as the coach's clock has them."""
    local = site.local
    days = Days(day=local.typed_day(matter.lesson.starts_at))
    if matter.next_at:
        days = Days(
            day=days.day,
            next_day=local.typed_day(matter.next_at),
            next_time=local.time(matter.next_at),
        )
    return book_sheet(matter, days=days)


def student_pdf_of(site: Site, matter: SheetMatter, *, paper: str = "") -> Response:
    """The student's sheet as an answer.

    Raises
    ------
    InputError
    """
    data = sheet_of(site, matter).student_pdf(
        paper=paper_for(site, matter.student, name=paper),
        pictures=picture_files(site, matter.setup),
    )
    return pdf_answer(data, name=named_for("lesson-sheet", matter.student.name))


def coach_pdf_of(site: Site, matter: SheetMatter, *, paper: str = "") -> Response:
    """The coach's sheet as an answer.

    Raises
    ------
    InputError
    """
    data = sheet_of(site, matter).coach_pdf(
        paper=paper_for(site, matter.student, name=paper),
        pictures=picture_files(site, matter.setup),
    )
    return pdf_answer(data, name=named_for("coach-sheet", matter.student.name))


def picture_files(site: Site, setup: SetUp) -> Mapping[View, Path]:
    """The upright pictures that are still here."""
    found = {}
    for view, shown in setup.shown.items():
        if shown.preview:
            try:
                found[view] = site.desk.media.path(shown.preview)
            except MissingError:
                continue  # the sheet draws the body instead
    return found


def kept_plan(site: Site, student_id: str) -> tuple[StudentCard, PlanRecord]:
    """A student and the plan as it was worked out last.

    Raises
    ------
    MissingError
    """
    with site.desk.book.reading() as pages:
        card, kept = pages.student(student_id), pages.plan(student_id)
    if kept is None:
        raise MissingError(
            f"There is no plan for {card.name} yet",
            why="nothing was worked out.",
            fix="Open the student’s plan and work it out.",
        )
    return card, kept


def printable_plan(site: Site, student_id: str) -> tuple[StudentCard, PlanDocument]:
    """The same, its document read.

    Raises
    ------
    MissingError
    InputError
        When it was kept by an earlier version.
    """
    card, kept = kept_plan(site, student_id)
    try:
        return card, PlanDocument.model_validate_json(kept.document)
    except ValidationError as error:
        raise InputError(
            "This plan cannot be printed",
            why="it was worked out by an earlier version of the program.",
            fix="Open the student’s plan and work it out anew.",
        ) from error


def floor_of(
    site: Site, student_id: str, *, club: str = "", paper: str = ""
) -> tuple[StudentCard, FloorPlan]:
    """The floor plan of one club, or of the bag where none is named.

    Raises
    ------
    MissingError, InputError
    """
    card, document = printable_plan(site, student_id)
    plan = floor_plan(
        document,
        paper=paper_for(site, card, name=paper),
        club=club or None,
        units=UnitSystem(card.units.value),
    )
    return card, plan


def bag_card_of(site: Site, student_id: str, *, paper: str = "") -> tuple[StudentCard, bytes]:
    """The bag card as PDF.

    Raises
    ------
    MissingError, InputError
    """
    card, document = printable_plan(site, student_id)
    chosen = paper_for(site, card, name=paper)
    return card, card_pdf(document, chosen, units=UnitSystem(card.units.value))


def named_for(what: str, name: str) -> str:
    """A file's name that every system takes."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode()
    word = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:60]
    return f"{what}-{word}.pdf" if word else f"{what}.pdf"


def pdf_answer(data: bytes, *, name: str) -> Response:
    """A PDF file to look at or to save."""
    return Response(
        data,
        media_type="application/pdf",
        headers={
            "content-disposition": f'inline; filename="{name}"',
            "cache-control": "private, no-cache",
        },
    )
