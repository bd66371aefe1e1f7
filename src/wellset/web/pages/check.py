"""A set-up beside its student's plan."""

from __future__ import annotations

from functools import cache

from attrs import frozen
from fastapi import APIRouter, Request, Response
from markupsafe import Markup

from wellset.lessons import SetUp, StudentCard
from wellset.reports.check_model import check_report
from wellset.reports.check_page import check_css, check_part
from wellset.reports.page import WholePicture
from wellset.services.check_book import KeptCheck, check_kept
from wellset.services.lesson_work import picture_address
from wellset.units import UnitSystem
from wellset.web.rendering import render
from wellset.web.site import SiteNow

router = APIRouter(include_in_schema=False)


@frozen(kw_only=True)
class CheckPage:
    """A comparison with the plan.

    Parameters
    ----------
    setup : SetUp
    student : StudentCard
    shown : Markup
        Ready part of the page.
    """

    setup: SetUp
    student: StudentCard
    shown: Markup


@router.get("/setups/{setup_id}/check")
def check(request: Request, site: SiteNow, setup_id: str) -> Response:
    """The set-up compared with the plan, worked out when it is asked for."""
    found = check_kept(site.desk, setup_id)
    shown = CheckPage(
        setup=found.setup,
        student=found.student,
        shown=Markup(_shown(found)),  # noqa: S704 - made by our own templates
    )
    return render(request, "pages/check.html", shown=shown)


def _shown(found: KeptCheck) -> str:
    images = {
        view: WholePicture(
            address=picture_address(found.setup.id, view, shown=found.setup.shown[view]),
            width_px=picture.sighting.picture.width_px,
            height_px=picture.sighting.picture.height_px,
        )
        for view, picture in found.check.assessment.pictures.items()
        if view in found.setup.shown and found.setup.shown[view].preview
    }
    units = UnitSystem.INCHES if found.inches else UnitSystem.CENTIMETRES
    return check_part(check_report(found.check, units=units), images=images)


@cache
def _css() -> bytes:
    return check_css().encode()


@router.get("/check.css")
def css() -> Response:
    """The style sheet of a comparison."""
    return Response(_css(), media_type="text/css", headers={"cache-control": "no-cache"})
