"""A comparison with a plan as one self-contained page, or as a part of another."""

from __future__ import annotations

from collections.abc import Mapping

from markupsafe import Markup

from wellset.figure.views import View
from wellset.reports.check_model import CheckReport
from wellset.reports.page import (
    WholePicture,
    embedded_picture,
    environment,
    linked_picture,
    report_css,
)
from wellset.reports.paint import Pixels


def check_html(report: CheckReport, /, *, pixels: Mapping[View, Pixels | None]) -> str:
    """The page as text.

    Parameters
    ----------
    report : CheckReport
    pixels : mapping of view to (height, width, 3) uint8 array or None
        The upright pictures as taken.
    """
    figures = {
        pair.picture.view: embedded_picture(
            pair.picture,
            pixels.get(View(pair.picture.view)),
            held=pair.picture.drawing.frame,
        )
        for pair in report.pairs
    }
    return _render(report, figures=figures, fragment=False)


def check_part(report: CheckReport, /, *, images: Mapping[View, WholePicture]) -> str:
    """The same as a part of another page; nothing lies behind a view without an image."""
    figures = {
        pair.picture.view: linked_picture(pair.picture, images.get(View(pair.picture.view)))
        for pair in report.pairs
    }
    return _render(report, figures=figures, fragment=True)


def check_css() -> str:
    """The style sheet of a comparison that is part of another page."""
    env = environment()
    source, _, _ = env.loader.get_source(env, "check.css")  # type: ignore[union-attr]
    return source


def _render(report: CheckReport, *, figures: Mapping[str, Markup], fragment: bool) -> str:
    css = "" if fragment else report_css() + check_css()
    return (
        environment()
        .get_template("check.html")
        .render(
            report=report,
            figures=figures,
            css=Markup(css),  # noqa: S704  # our own style sheets
            fragment=fragment,
        )
    )
