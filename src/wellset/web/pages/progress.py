"""Progress: each measure over lessons, before and after, homework."""

from __future__ import annotations

from attrs import frozen
from fastapi import APIRouter, Request, Response
from markupsafe import Markup

from wellset.lessons import Reading
from wellset.measures import COVERAGE_FACTOR, MEASURES
from wellset.services.progress_book import Progress, Series, progress_of
from wellset.web.chart import chart
from wellset.web.rendering import render
from wellset.web.shown_units import quantity, shown_unit
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
    latest = f"{quantity(last.value)} ± {quantity(COVERAGE_FACTOR * last.sd, unit)}"
    verdict = _verdict(series, factor=factor, unit=unit)
    window = _window(low, high, unit=unit)
    return SeriesRow(
        title=measure.title,
        latest=latest,
        window=window,
        verdict=verdict,
        steadiness=(
            f"{quantity(series.steadiness * factor, unit)} from set-up to set-up"
            if series.repeats
            else ""
        ),
        real=series.change is not None and series.change.real,
        drawing=chart(
            readings,
            low=low,
            high=high,
            words=f"{measure.title}: {', '.join(quantity(r.value, unit) for r in readings)}. "
            f"{window}. {verdict}",
        ),
    )


def _verdict(series: Series, *, factor: float, unit: str) -> str:
    change = series.change
    if change is None:
        return "One lesson so far."
    amount, needed = change.amount * factor, change.needed * factor
    if change.real:
        return f"Changed by {quantity(amount, unit, signed=True)}: a real change."
    moved, real = quantity(amount, unit, signed=True), quantity(needed, unit)
    return f"{moved}: not surely a change; {real} would be."


def _window(low: float | None, high: float | None, *, unit: str) -> str:
    if low is not None and high is not None:
        return f"Window {quantity(low)} to {quantity(high, unit)}"
    if low is not None:
        return f"Window from {quantity(low, unit)}"
    return "No window" if high is None else f"Window to {quantity(high, unit)}"
