"""A set-up: work in progress, the findings, before and after."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from attrs import frozen
from fastapi import APIRouter, Request, Response
from fastapi.responses import FileResponse, JSONResponse, RedirectResponse
from markupsafe import Markup

from wellset.errors import MissingError
from wellset.figure.views import View
from wellset.lessons import Lesson, Reading, SetUp, SetUpState, StudentCard, change_between
from wellset.measures import MEASURES
from wellset.reports.page import report_css
from wellset.services.asked import kept_stills
from wellset.services.book import Job, JobState
from wellset.services.how_taken import say_how
from wellset.services.lesson_book import remove_setup
from wellset.services.lesson_work import again
from wellset.web.forms import SentForm
from wellset.web.how_form import HowFields, how_fields, sent_how
from wellset.web.rendering import render
from wellset.web.shown_units import quantity, shown_unit
from wellset.web.site import SiteNow

router = APIRouter(include_in_schema=False)
_FOREVER = "private, max-age=31536000, immutable"


@frozen(kw_only=True)
class SetUpPage:
    """One set-up.

    Parameters
    ----------
    setup : SetUp
    lesson : Lesson
    student : StudentCard
    job : Job or None
        The latest work on it.
    findings : Markup
        Ready part of the page.
    others : tuple of SetUp
        The lesson's other assessed set-ups with the same club, to compare with.
    how : HowFields
        How it was taken.
    """

    setup: SetUp
    lesson: Lesson
    student: StudentCard
    job: Job | None
    findings: Markup
    others: tuple[SetUp, ...]
    how: HowFields


@router.get("/setups/{setup_id}")
def setup(request: Request, site: SiteNow, setup_id: str) -> Response:
    """Progress, findings or refusal."""
    with site.desk.book.reading() as pages:
        found = pages.setup(setup_id)
        jobs = pages.jobs_about(setup_id)
        student = pages.student(found.student)
        others = tuple(
            each
            for each, _ in pages.readings_of(found.student, club=found.club)
            if each.id != found.id and each.state is SetUpState.ASSESSED
        )
        shown = SetUpPage(
            setup=found,
            lesson=pages.lesson(found.lesson),
            student=student,
            job=jobs[0] if jobs else None,
            findings=Markup(found.findings),  # noqa: S704 - made by our own templates
            others=others[::-1][:20],
            how=how_fields(
                found.how,
                inches=student.units == "in",
                clips=tuple(view for view, each in found.shown.items() if each.moves),
                stills=kept_stills(found),
            ),
        )
    return render(request, "pages/setup.html", shown=shown)


@router.get("/setups/{setup_id}/progress")
def progress(site: SiteNow, setup_id: str) -> Response:
    """How far the work is, for scripts."""
    with site.desk.book.reading() as pages:
        jobs = pages.jobs_about(setup_id)
    if not jobs:
        return JSONResponse({"state": "done", "step": "", "share": 1.0, "problem": ""})
    job = jobs[0]
    waiting = job.state in {JobState.WAITING, JobState.RUNNING}
    return JSONResponse(
        {
            "state": "working" if waiting else "done",
            "step": job.step or "Waiting in line",
            "share": round(job.share, 3),
            "problem": job.problem,
        }
    )


@router.post("/setups/{setup_id}/again")
def assess_again(site: SiteNow, setup_id: str, form: SentForm) -> Response:
    """Look at the pictures once more."""
    del form
    again(site.desk, setup_id)
    site.line.nudge()
    return RedirectResponse(f"/setups/{setup_id}", status_code=303)


@router.post("/setups/{setup_id}/how")
def say(site: SiteNow, setup_id: str, form: SentForm) -> Response:
    """Say how it was taken; it is solved anew."""
    with site.desk.book.reading() as pages:
        before = pages.setup(setup_id).how
    if say_how(site.desk, setup_id, how=sent_how(site, form, before=before)):
        site.line.nudge()
    return RedirectResponse(f"/setups/{setup_id}", status_code=303)


@router.post("/setups/{setup_id}/remove")
def remove(site: SiteNow, setup_id: str, form: SentForm) -> Response:
    """Remove a set-up for good."""
    del form
    lesson = remove_setup(site.desk, setup_id)
    return RedirectResponse(f"/lessons/{lesson}", status_code=303)


@router.get("/setups/{setup_id}/{view}.jpg")
def picture(site: SiteNow, setup_id: str, view: View) -> Response:
    """The upright picture, without tags."""
    with site.desk.book.reading() as pages:
        shown = pages.setup(setup_id).shown.get(view)
    if shown is None or not shown.preview:
        raise MissingError(
            "There is no such picture", why="it was not looked at yet.", fix="Wait a moment."
        )
    return FileResponse(
        site.desk.media.path(shown.preview),
        media_type="image/jpeg",
        headers={"cache-control": _FOREVER},
    )


@router.get("/setups/{setup_id}/{view}/original")
def original(site: SiteNow, setup_id: str, view: View) -> Response:
    """The picture or clip as it came."""
    with site.desk.book.reading() as pages:
        shown = pages.setup(setup_id).shown.get(view)
    if shown is None:
        raise MissingError("There is no such picture", why="none was taken.", fix="Take one.")
    return FileResponse(
        site.desk.media.path(shown.media), media_type=shown.kind, filename=shown.name
    )


@cache
def _css() -> bytes:
    return report_css().encode()


@router.get("/findings.css")
def findings_css() -> Response:
    """The style sheet of the findings."""
    return Response(_css(), media_type="text/css", headers={"cache-control": "no-cache"})


@frozen(kw_only=True)
class ChangeRow:
    """One measure before and after.

    Parameters
    ----------
    title, before, after, amount, needed : str
        Quantities ready to show: both readings, what changed, and what would be real.
    real : bool
    """

    title: str
    before: str
    after: str
    amount: str
    needed: str
    real: bool


@frozen(kw_only=True)
class ComparePage:
    """Two set-ups side by side.

    Parameters
    ----------
    before, after : SetUp
        The older one first.
    student : StudentCard
    rows : tuple of ChangeRow
        Real changes first.
    views : tuple of View
        Views that both show.
    """

    before: SetUp
    after: SetUp
    student: StudentCard
    rows: tuple[ChangeRow, ...]
    views: tuple[View, ...]


@router.get("/setups/{setup_id}/compare")
def compare(request: Request, site: SiteNow, setup_id: str, other: str) -> Response:
    """Before and after."""
    with site.desk.book.reading() as pages:
        pair = sorted((pages.setup(setup_id), pages.setup(other)), key=lambda s: s.taken_at)
        every = {found.id: readings for found, readings in pages.readings_of(pair[0].student)}
        student = pages.student(pair[0].student)
    before, after = pair
    shown = ComparePage(
        before=before,
        after=after,
        student=student,
        rows=_changes(every[before.id], every.get(after.id, {}), inches=student.units == "in"),
        views=tuple(view for view in View if view in before.shown and view in after.shown),
    )
    return render(request, "pages/compare.html", shown=shown)


def _changes(
    before: Mapping[str, Reading], after: Mapping[str, Reading], *, inches: bool
) -> tuple[ChangeRow, ...]:
    rows = []
    for name, measure in MEASURES.items():
        if name not in before or name not in after:
            continue
        factor, unit = shown_unit(measure.unit, inches=inches)
        change = change_between(before[name], after[name])
        rows.append(
            ChangeRow(
                title=measure.title,
                before=quantity(before[name].value * factor, unit),
                after=quantity(after[name].value * factor, unit),
                amount=quantity(change.amount * factor, unit, signed=True),
                needed=quantity(change.needed * factor, unit),
                real=change.real,
            )
        )
    return tuple(sorted(rows, key=lambda row: not row.real))
