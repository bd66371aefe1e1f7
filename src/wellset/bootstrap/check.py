"""Wiring of the comparison with a plan: from what a person types to pages and files."""

from __future__ import annotations

from pathlib import Path
from typing import Final, Unpack

from wellset.bootstrap import UNITS, Delivery, Typed, _text, one_blas_thread, typed_request
from wellset.reports.check_json import check_json_text
from wellset.reports.check_model import check_report
from wellset.reports.check_page import check_html
from wellset.reports.check_terminal import check_text
from wellset.reports.writing import write_each
from wellset.services.check_plan import Check, check_setup
from wellset.services.landmark_file import landmark_file_text
from wellset.services.plan_target import plan_stature, target_of_document
from wellset.services.ports import Progress, silent

PAGE: Final = "check.html"
DATA: Final = "check.json"


def check_request(
    *, plan: str | Path | None = None, progress: Progress = silent, **typed: Unpack[Typed]
) -> Check:
    """Compare a set-up with a plan from what a person types; see :func:`wellset.check`."""
    text = _text(str(plan), what="plan") if plan is not None else None
    if text is not None and typed.get("height") is None and typed.get("student") is None:
        typed["height"] = f"{plan_stature(text, where=str(plan)):.4f} m"
    request, reader = typed_request(typed)
    target = (
        target_of_document(text, club=request.club.name, where=str(plan))
        if text is not None
        else None
    )
    with one_blas_thread():
        return check_setup(request, target=target, reader=reader, progress=progress)


def deliver_check(
    check: Check,
    /,
    *,
    folder: str | Path | None,
    json_path: str | Path | None,
    units: str = "cm",
) -> Delivery:
    """Write what was asked for; what cannot be written is reported, the rest is kept."""
    json_text, report = check_json_text(check), check_report(check, units=UNITS[units])
    pictures = check.assessment.pictures
    wanted: list[tuple[Path, str]] = []
    page: Path | None = None
    if json_path is not None:
        wanted.append((Path(json_path), json_text))
    if folder is not None:
        place = Path(folder)
        page = place / PAGE
        sightings = {view: picture.sighting for view, picture in pictures.items()}
        pixels = {view: picture.rgb for view, picture in pictures.items()}
        wanted += [
            (place / DATA, json_text),
            (page, check_html(report, pixels=pixels)),
            (
                place / "landmarks.json",
                landmark_file_text(check.assessment.hand, sightings),
            ),
        ]
    tried = write_each((path, text.encode()) for path, text in wanted)
    return Delivery(
        page=tried.page(page),
        json_text=json_text,
        terminal_text=check_text(report, files=tried.files),
        failures=tried.failures,
    )
