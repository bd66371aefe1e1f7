"""A set-up beside its student's plan: for the coach, and for the student by a link."""

from __future__ import annotations

from functools import cache

from attrs import frozen
from fastapi import APIRouter, Request, Response
from markupsafe import Markup

from wellset.errors import MissingError
from wellset.lessons import SetUp, StudentCard
from wellset.reports.check_page import check_css
from wellset.reports.kept import at_addresses
from wellset.reports.page import report_css
from wellset.services.check_book import check_kept
from wellset.services.sharing import shared_comparison
from wellset.web.pages.sharing import UNSEEN, Knock, shared_addresses
from wellset.web.rendering import render
from wellset.web.site import SiteNow

router = APIRouter(include_in_schema=False)
"""Pages of the coach."""
door = APIRouter(include_in_schema=False)
"""What whoever has a link may see, without signing in."""


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


@frozen(kw_only=True)
class SharedCheck:
    """The same on the student's own phone.

    Parameters
    ----------
    setup : SetUp
    shown : Markup
    back : str
        Address of the shared lesson.
    """

    setup: SetUp
    shown: Markup
    back: str


@router.get("/setups/{setup_id}/check")
def check(request: Request, site: SiteNow, setup_id: str) -> Response:
    """The set-up compared with the plan; worked out when something of it is new, and kept."""
    found = check_kept(site.desk, setup_id)
    shown = CheckPage(
        setup=found.setup,
        student=found.student,
        shown=Markup(found.comparison.page),  # noqa: S704 - made by our own templates
    )
    return render(request, "pages/check.html", shown=shown)


@door.get("/s/check.css")
def shared_css() -> Response:
    """The style sheets of findings and comparisons; they tell nobody anything."""
    return Response(_css(), media_type="text/css", headers={"cache-control": "no-cache"})


@door.get("/s/{secret}/check/{setup_id}")
def shared_check(request: Request, site: SiteNow, secret: str, setup_id: str) -> Response:
    """The comparison that the coach made, by a link; nothing is worked out for whoever looks."""
    with Knock(request, site):
        setup, kept = shared_comparison(site.desk, secret, setup_id=setup_id)
    if kept is None:
        raise MissingError(
            "There is nothing to compare yet",
            why="your coach has not compared these pictures with your plan.",
            fix="Go back to your lesson.",
        )
    page = at_addresses(kept.page, shared_addresses(setup, secret=secret))
    shown = SharedCheck(
        setup=setup,
        shown=Markup(page),  # noqa: S704 - made by our own templates
        back=f"/s/{secret}",
    )
    answer = render(request, "pages/shared-check.html", shown=shown)
    answer.headers.update(UNSEEN)
    return answer


@cache
def _css() -> bytes:
    return (report_css() + check_css()).encode()


@router.get("/check.css")
def css() -> Response:
    """The style sheet of a comparison."""
    return Response(
        check_css().encode(), media_type="text/css", headers={"cache-control": "no-cache"}
    )
