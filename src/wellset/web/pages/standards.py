"""The coach's standards: look, edit, try on past lessons, keep, go back."""

from __future__ import annotations

from attrs import frozen
from fastapi import APIRouter, Request, Response
from fastapi.responses import RedirectResponse

from wellset.errors import WellsetError
from wellset.measures import MEASURES
from wellset.services.book import StandardsVersion
from wellset.services.standards_book import (
    Limits,
    Trial,
    current,
    edited,
    keep_standards,
    try_standards,
    use_version,
)
from wellset.standards import Shot, Standard, Standards, load_standards, shot_named
from wellset.web.forms import Form, SentForm
from wellset.web.problems import status_of
from wellset.web.rendering import render
from wellset.web.site import SiteNow

router = APIRouter(include_in_schema=False)


@frozen(kw_only=True)
class WindowRow:
    """One window of the form.

    Parameters
    ----------
    measure, title, unit, positive : str
    limits : Limits
    source : str
    """

    measure: str
    title: str
    unit: str
    positive: str
    limits: Limits
    source: str


@frozen(kw_only=True)
class StandardsPage:
    """The standards of one kind of shot.

    Parameters
    ----------
    name : str
    shot : str
    shots : tuple of str
    rows : tuple of WindowRow
        In the order of checking.
    versions : tuple of StandardsVersion
    problem : str
    """

    name: str
    shot: str
    shots: tuple[str, ...]
    rows: tuple[WindowRow, ...]
    versions: tuple[StandardsVersion, ...]
    problem: str = ""


@frozen(kw_only=True)
class TrialPage:
    """What changed standards would say of past lessons.

    Parameters
    ----------
    text : str
        The standards file, to keep.
    name, shot : str
    trial : Trial
    """

    text: str
    name: str
    shot: str
    trial: Trial


@router.get("/standards")
def standards(request: Request, site: SiteNow, shot: str = Shot.MID_IRON) -> Response:
    """The windows of one kind of shot."""
    kept, versions = current(site.desk)
    kind = Shot(shot_named(shot))
    shown = StandardsPage(
        name=kept.name,
        shot=kind.value,
        shots=tuple(each.value for each in kept.shots),
        rows=_rows(kept, kind),
        versions=versions,
    )
    return render(request, "pages/standards.html", shown=shown)


@router.post("/standards/try")
def attempt(request: Request, site: SiteNow, form: SentForm) -> Response:
    """See what a change would do before it is kept."""
    kept, versions = current(site.desk)
    kind = Shot(shot_named(form.text("shot")))
    try:
        text = form.text("text") or edited(
            kept, shot=kind, name=form.text("name"), windows=_typed(form)
        )
        trial = try_standards(site.desk, text)
    except WellsetError as error:
        shown = StandardsPage(
            name=form.text("name") or kept.name,
            shot=kind.value,
            shots=tuple(each.value for each in kept.shots),
            rows=_rows(kept, kind, typed=_typed(form)),
            versions=versions,
            problem=error.sentence,
        )
        return render(request, "pages/standards.html", shown=shown, status=status_of(error))
    name = load_standards(text, where="your standards").name
    tried = TrialPage(text=text, name=name, shot=kind.value, trial=trial)
    return render(request, "pages/standards-try.html", shown=tried)


@router.post("/standards/keep")
def keep(site: SiteNow, form: SentForm) -> Response:
    """Keep a change as the version in force."""
    keep_standards(site.desk, form.text("text"))
    return RedirectResponse(f"/standards?shot={form.text('shot')}", status_code=303)


@router.post("/standards/use")
def use(site: SiteNow, form: SentForm) -> Response:
    """Go back to a version."""
    use_version(site.desk, form.text("digest"))
    return RedirectResponse("/standards", status_code=303)


def _rows(
    standards: Standards, shot: Shot, *, typed: dict[str, Limits] | None = None
) -> tuple[WindowRow, ...]:
    return tuple(
        WindowRow(
            measure=each.measure,
            title=MEASURES[each.measure].title,
            unit=each.unit.value,
            positive=MEASURES[each.measure].positive,
            limits=(typed or {}).get(each.measure) or _limits(each),
            source=each.source,
        )
        for each in standards.for_shot(shot)
    )


def _limits(standard: Standard) -> Limits:
    def number(value: float | None) -> str:
        return "" if value is None else f"{value:g}"

    return Limits(
        low=number(standard.low),
        high=number(standard.high),
        target=number(standard.target),
        weight=number(standard.weight),
        reason=standard.reason,
    )


def _typed(form: Form) -> dict[str, Limits]:
    return {
        measure: Limits(
            low=form.text(f"low_{measure}"),
            high=form.text(f"high_{measure}"),
            target=form.text(f"target_{measure}"),
            weight=form.text(f"weight_{measure}"),
            reason=form.text(f"reason_{measure}"),
        )
        for measure in form.texts("measure")
        if measure in MEASURES
    }
