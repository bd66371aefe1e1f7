"""The drill book: look, search, write, hide, restore."""

from __future__ import annotations

from typing import Annotated

from fastapi import Query, Response

from wellset.advise import Drill, DrillBook, entry_of
from wellset.services.drill_book import (
    drill_of,
    hide_drill,
    kept_drills,
    restore_drill,
    write_drill,
)
from wellset.services.drill_choice import Wanted, chosen
from wellset.web.api.models import DrillHidden, DrillKept, DrillSent, Listed
from wellset.web.api.routing import interface_router
from wellset.web.site import SiteNow

router = interface_router("Drills")

Words = Annotated[str, Query(description="Only drills with all these words.", max_length=120)]
MeasureId = Annotated[str, Query(description="Only drills for this measure.", max_length=60)]


@router.get("/api/drills")
def list_drills(site: SiteNow, text: Words = "", measure: MeasureId = "") -> Listed[DrillKept]:
    """The drills that are offered, those for a measure the best first."""
    book = kept_drills(site.desk).book
    found = chosen(book, Wanted(measure=measure, text=text))
    return Listed(items=[_drill(each, book) for each in found], total=len(found))


@router.post("/api/drills", status_code=201)
def add_drill(site: SiteNow, sent: DrillSent) -> DrillKept:
    """Keep a new drill; its id follows from its title."""
    return _one(site, write_drill(site.desk, drill_id="", entry=sent.entry))


@router.get("/api/drills/{drill_id}")
def get_drill(site: SiteNow, drill_id: str) -> DrillKept:
    """One drill, hidden or not."""
    return _one(site, drill_id)


@router.put("/api/drills/{drill_id}")
def change_drill(site: SiteNow, drill_id: str, sent: DrillSent) -> DrillKept:
    """Keep a drill as it was written, instead of what it was."""
    return _one(site, write_drill(site.desk, drill_id=drill_id, entry=sent.entry))


@router.put("/api/drills/{drill_id}/hidden")
def change_hidden(site: SiteNow, drill_id: str, sent: DrillHidden) -> DrillKept:
    """Offer a drill no longer, or again."""
    hide_drill(site.desk, drill_id, hidden=sent.hidden)
    return _one(site, drill_id)


@router.delete("/api/drills/{drill_id}", status_code=204)
def take_back_drill(site: SiteNow, drill_id: str) -> Response:
    """Put a house drill back as it came, or remove one of the coach's own."""
    restore_drill(site.desk, drill_id)
    return Response(status_code=204)


def _one(site: SiteNow, drill_id: str) -> DrillKept:
    book = kept_drills(site.desk).book
    return _drill(drill_of(book, drill_id), book)


def _drill(drill: Drill, book: DrillBook) -> DrillKept:
    return DrillKept(
        id=drill.id,
        origin=drill.origin.value,
        hidden=drill in book.hidden,
        entry=entry_of(drill),
    )
