"""Progress: each measure over lessons, before and after, homework."""

from __future__ import annotations

from attrs import frozen
from fastapi import APIRouter, Request, Response
from markupsafe import Markup

from wellset.lessons import Reading
from wellset.measures import MEASURES
from wellset.services.progress_book import Progress, Series, progress_of
from wellset.web.chart import chart
from wellset.web.rendering import render
from wellset.web.shown_units import shown_unit
from wellset.web.site import SiteNow

router = APIRouter(include_in_schema=False)


@frozen(kw_only=True)
class SeriesRow:
    """One measure of the page.

    Parameters
    ----------
    title : str
    latest, window, verdict, steadiness : str
        Sentences or numbers, ready to show.
    real : bool
        Whether the change from first to last lesson is real.
    drawing : Markup
    """

    title: str
    latest: str
    window: str
    verdict: str
    steadiness: str
    real: bool
    drawing: Markup


@frozen(kw_only=True)
class ProgressPage:
    """A student's progress with one club.

    Parameters
    ----------
    progress : Progress
    rows : tuple of SeriesRow
        Real changes first.
    """

    progress: Progress
    rows: tuple[SeriesRow, ...]


@router.get("/students/{student_id}/progress")
def progress(request: Request, site: SiteNow, student_id: str, club: str = "") -> Response:
    """Measures over lessons."""
    found = progress_of(site.desk, student_id, club=club)
    rows = [_row(each, inches=found.student.units == "in") for each in found.series]
    shown = ProgressPage(progress=found, rows=tuple(sorted(rows, key=lambda row: not row.real)))
    return render(request, "pages/progress.html", shown=shown)


def _row(series: Series, *, inches: bool) -> SeriesRow:
    measure = MEASURES[series.measure]
    factor, unit = shown_unit(measure.unit, inches=inches)
    readings = [
        Reading(when=r.when, value=r.value * factor, sd=r.sd * factor) for r in series.readings
    ]
    low, high = (
        None if limit is None else limit * factor
        for limit in ((series.window.low, series.window.high) if series.window else (None, None))
    )
    last = readings[-1]
    latest = f"{last.value:.1f} ± {1.96 * last.sd:.1f} {unit}"
    verdict = _verdict(series, factor=factor, unit=unit)
    window = _window(low, high, unit=unit)
    return SeriesRow(
        title=measure.title,
        latest=latest,
        window=window,
        verdict=verdict,
        steadiness=(
            f"{series.steadiness * factor:.1f} {unit} from set-up to set-up"
            if series.repeats
            else ""
        ),
        real=series.change is not None and series.change.real,
        drawing=chart(
            readings,
            low=low,
            high=high,
            words=f"{measure.title}: {', '.join(f'{r.value:.1f}' for r in readings)} {unit}. "
            f"{window}. {verdict}",
        ),
    )


def _verdict(series: Series, *, factor: float, unit: str) -> str:
    change = series.change
    if change is None:
        return "One lesson so far."
    amount, needed = change.amount * factor, change.needed * factor
    if change.real:
        return f"Changed by {amount:+.1f} {unit}: a real change."
    return f"{amount:+.1f} {unit}: not surely a change; {needed:.1f} {unit} would be."


def _window(low: float | None, high: float | None, *, unit: str) -> str:
    if low is None and high is None:
        return "No window"
    if low is None or high is None:
        return f"Window to {high:.1f} {unit}" if low is None else f"Window from {low:.1f} {unit}"
    return f"Window {low:.1f} to {high:.1f} {unit}"
