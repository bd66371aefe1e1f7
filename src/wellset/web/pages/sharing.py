"""Links to a lesson: making them, taking them back, and what the student's phone shows."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import frozen
from fastapi import APIRouter, Request, Response
from fastapi.responses import FileResponse, RedirectResponse
from markupsafe import Markup

from wellset.errors import MissingError
from wellset.figure.views import View
from wellset.lessons import Homework, Lesson, SetUp, StudentCard
from wellset.reports.drill_page import drill_fragment
from wellset.reports.kept import drawn_drill, drawn_pictures
from wellset.reports.page import drill_css
from wellset.services.book import Share
from wellset.services.drill_target import drawn_for
from wellset.services.drills_file import drills_in_force
from wellset.services.for_student import ForStudent, for_student
from wellset.services.lesson_work import picture_address
from wellset.services.sharing import (
    USUAL_DAYS,
    SharedLesson,
    holds,
    make_share,
    revoke_share,
    shared_lesson,
    shared_setup,
)
from wellset.web.drawn_drills import first_fault, shown_drill
from wellset.web.forms import SentForm
from wellset.web.links import address_for_phones
from wellset.web.rendering import render
from wellset.web.site import Site, SiteNow

router = APIRouter(include_in_schema=False)
"""Pages of the coach."""
door = APIRouter(include_in_schema=False)
"""What whoever has a link may see, without signing in."""

SPANS = (("1", "1 day"), ("7", "1 week"), ("30", "30 days"), ("90", "3 months"))
UNSEEN = {"referrer-policy": "no-referrer", "x-robots-tag": "noindex"}
"""The address is the secret: no page it leads to may learn it."""


@frozen(kw_only=True)
class Sharing:
    """The links of a lesson.

    Parameters
    ----------
    lesson : Lesson
    student : StudentCard
    holding : tuple of Share
        Links that show something.
    spans : tuple of (value, words)
    span : str
    lan : bool
        Whether other devices can come in at all.
    address : str
        The new link, once.
    code : str or Markup
        The new link as a square code to point a phone at; empty without one.
    expires_at : str
        When the new link ends.
    """

    lesson: Lesson
    student: StudentCard
    holding: tuple[Share, ...]
    lan: bool
    spans: tuple[tuple[str, str], ...] = SPANS
    span: str = str(USUAL_DAYS)
    address: str = ""
    code: str = ""
    expires_at: str = ""


@frozen(kw_only=True)
class SharedPart:
    """One set-up on the student's page.

    Parameters
    ----------
    setup : SetUp
    words : ForStudent
    pictures : tuple of Markup
        With what is drawn over them.
    drill : Markup
        The drill's drawing; empty without one.
    compared : bool
        Whether the coach has compared it with the plan.
    """

    setup: SetUp
    words: ForStudent
    pictures: tuple[Markup, ...]
    drill: Markup
    compared: bool


@frozen(kw_only=True)
class SharedTask:
    """One exercise of the homework on the student's page.

    Parameters
    ----------
    given : Homework
    title : str
        Of its drill; empty without one.
    drill : str or Markup
        The whole drill, drawn for this student; empty without one.
    """

    given: Homework
    title: str = ""
    drill: str = ""


@frozen(kw_only=True)
class SharedPage:
    """The student's page.

    Parameters
    ----------
    name : str
    lesson : Lesson
    parts : tuple of SharedPart
        Newest first.
    homework : tuple of SharedTask
    expires_at : str
    """

    name: str
    lesson: Lesson
    parts: tuple[SharedPart, ...]
    homework: tuple[SharedTask, ...]
    expires_at: str


@router.get("/lessons/{lesson_id}/share")
def links(request: Request, site: SiteNow, lesson_id: str) -> Response:
    """The links of a lesson."""
    return render(request, "pages/share.html", shown=_links(site, lesson_id))


@router.post("/lessons/{lesson_id}/share")
def make(request: Request, site: SiteNow, lesson_id: str, form: SentForm) -> Response:
    """Make a link; it is shown this once."""
    made = make_share(site.desk, lesson_id, days=form.number("days"))
    address = f"{address_for_phones(request, lan=site.options.lan)}/s/{made.secret}"
    shown = _links(site, lesson_id, address=address, expires_at=made.share.expires_at)
    return render(request, "pages/share.html", shown=shown)


@router.post("/lessons/{lesson_id}/share/{share_id}/revoke")
def revoke(site: SiteNow, lesson_id: str, share_id: str, form: SentForm) -> Response:
    """Take a link back."""
    del form
    revoke_share(site.desk, lesson_id=lesson_id, share_id=share_id)
    return RedirectResponse(f"/lessons/{lesson_id}/share", status_code=303)


@door.get("/s/drill.css")
def css() -> Response:
    """The style sheet of drills; it tells nobody anything."""
    return Response(drill_css(), media_type="text/css", headers={"cache-control": "no-cache"})


@door.get("/s/{secret}")
def shared(request: Request, site: SiteNow, secret: str) -> Response:
    """One lesson, for its student."""
    with Knock(request, site):
        found = shared_lesson(site.desk, secret)
    page = render(request, "pages/shared.html", shown=_page(site, found, secret=secret))
    page.headers.update(UNSEEN)
    return page


@door.get("/s/{secret}/media/{setup_id}/{view}")
def shared_picture(
    request: Request, site: SiteNow, secret: str, setup_id: str, view: View
) -> Response:
    """A picture of that lesson, without tags."""
    with Knock(request, site):
        setup = shared_setup(site.desk, secret, setup_id=setup_id)
    shown = setup.shown.get(view)
    if shown is None or not shown.preview:
        raise MissingError("There is no such picture", why="none was taken.", fix="Go back.")
    return FileResponse(
        site.desk.media.path(shown.preview),
        media_type="image/jpeg",
        headers={"cache-control": "private, no-cache", **UNSEEN},
    )


class Knock:
    """Lets a secret be tried, slower with every wrong one.

    A right one doesn't pay for wrong ones: whoever has a link could go on guessing others.
    """

    def __init__(self, request: Request, site: Site) -> None:
        caller = request.client.host if request.client is not None else "unknown"
        self._who, self._site = f"link {caller}", site

    def __enter__(self) -> None:
        if self._site.throttle.wait_s(self._who) > 0:
            raise MissingError(
                "This link shows nothing just now",
                why="too many wrong links were tried from this device.",
                fix="Wait a few minutes, then open it again.",
            )

    def __exit__(self, kind: type[BaseException] | None, *_: object) -> None:
        if kind is not None and issubclass(kind, MissingError):
            self._site.throttle.wrong(self._who)


def _links(site: Site, lesson_id: str, *, address: str = "", expires_at: str = "") -> Sharing:
    now = site.now()
    with site.desk.book.reading() as pages:
        lesson = pages.lesson(lesson_id)
        return Sharing(
            lesson=lesson,
            student=pages.student(lesson.student),
            holding=tuple(s for s in pages.shares_of(lesson_id) if holds(s, now=now)),
            lan=site.options.lan,
            address=address,
            code=_code(address) if address else "",
            expires_at=expires_at,
        )


def _code(address: str) -> Markup:
    # Loaded only when a link is made: it would cost a tenth of a second at every start.
    import segno  # noqa: PLC0415

    drawn = segno.make_qr(address, error="m").svg_inline(
        scale=6, border=4, dark="#10261f", light="#ffffff", omitsize=True, svgclass="qr"
    )
    return Markup(drawn)  # noqa: S704 - numbers of a drawing


def _page(site: Site, found: SharedLesson, *, secret: str) -> SharedPage:
    return SharedPage(
        name=found.name,
        lesson=found.lesson,
        parts=tuple(
            SharedPart(
                setup=setup,
                words=for_student(setup),
                pictures=drawn_pictures(
                    setup.findings, addresses=shared_addresses(setup, secret=secret)
                ),
                drill=drawn_drill(setup.findings),
                compared=setup.id in found.compared,
            )
            for setup in found.setups
        ),
        homework=_tasks(site, found),
        expires_at=found.share.expires_at,
    )


def _tasks(site: Site, found: SharedLesson) -> tuple[SharedTask, ...]:
    """The homework, each drill drawn from this student's own target."""
    newest = found.setups[0] if found.setups else None
    with site.desk.book.reading() as pages:
        book = drills_in_force(pages)
        drawn = drawn_for(
            pages,
            student_id=found.lesson.student,
            club=newest.club if newest is not None else "",
        )
    fault, tasks = first_fault(newest), []
    for given in found.lesson.homework:
        drill = book.get(given.drill)
        if drill is None:
            tasks.append(SharedTask(given=given))
            continue
        view = shown_drill(drill, book=book, drawn=drawn, fault=fault)
        tasks.append(SharedTask(given=given, title=drill.title, drill=drill_fragment(view)))
    return tuple(tasks)


def shared_addresses(setup: SetUp, *, secret: str) -> Mapping[str, str]:
    """Where each picture of a set-up lies for whoever has the link."""
    return {
        picture_address(setup.id, view, shown=shown): (
            f"/s/{secret}/media/{setup.id}/{view.value}?v={shown.preview[:12]}"
        )
        for view, shown in setup.shown.items()
    }
