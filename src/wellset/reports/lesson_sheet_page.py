"""A student's lesson sheet as a web page, or as part of one."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from functools import cache
from typing import Final

from markupsafe import Markup

from wellset.figure.views import View
from wellset.reports.lesson_sheet_model import LessonSheet
from wellset.reports.marks import AMBER, CHALK, INK, Box
from wellset.reports.page import WholePicture, environment
from wellset.reports.sheet_picture import MOSS, sheet_picture_svg
from wellset.reports.sheet_titles import (
    TITLES,
    cards,
    facts_of,
    greeting,
    nothing_to_practise,
)

_ALONE: Final = (
    "body { margin: 0; background: #fff; } "
    "main { max-width: 66rem; margin: 0 auto; padding: 1rem; } "
)


@cache
def lesson_sheet_css() -> str:
    """The style sheet of the page."""
    source, _, _ = environment().loader.get_source(environment(), "lesson-sheet.css")  # type: ignore[union-attr]
    return source


def swatch(mark: str, /) -> Markup:
    """A sample of a mark, for the key."""
    if mark == "now":
        shape = (
            f'<path d="M3 11H33" stroke="{INK}" stroke-width="7"/>'
            f'<path d="M3 11H33" stroke="{CHALK}" stroke-width="4"/>'
        )
    elif mark == "aim":
        shape = (
            f'<path d="M3 11H33" stroke="{INK}" stroke-width="7"/>'
            f'<path d="M3 11H33" stroke="{AMBER}" stroke-width="4" stroke-dasharray="8 4"/>'
        )
    else:
        shape = (
            f'<circle cx="18" cy="11" r="10" fill="{MOSS}"/>'
            f'<path d="M13 11.5L16.6 15L23 7.5" stroke="{CHALK}" stroke-width="2.4"/>'
        )
    return Markup(  # noqa: S704  # numbers and fixed words only
        '<svg class="sheet-swatch" viewBox="0 0 36 22" aria-hidden="true" focusable="false">'
        f'<g fill="none">{shape}</g></svg>'
    )


def _render(sheet: LessonSheet, *, images: Mapping[View, tuple[str, Box | None]], css: str) -> str:
    pictures = [
        (
            each.title,
            sheet_picture_svg(
                each,
                image=images[each.view][0] if each.view in images else "",
                image_box=images[each.view][1] if each.view in images else None,
            ),
        )
        for each in sheet.pictures
    ]
    return (
        environment()
        .get_template("lesson-sheet.html")
        .render(
            sheet=sheet,
            titles=TITLES,
            nothing=nothing_to_practise(sheet),
            greeting=greeting(sheet),
            pictures=pictures,
            cards=cards(sheet),
            facts_of=facts_of,
            swatch=swatch,
            css=Markup(css),  # noqa: S704  # our own style sheet
            fragment=not css,
        )
    )


def lesson_sheet_html(
    sheet: LessonSheet, /, *, pictures: Mapping[View, bytes] | None = None
) -> str:
    """The sheet as one self-contained page.

    Parameters
    ----------
    sheet : LessonSheet
    pictures : mapping of View to bytes, optional
        JPEG of the shown part of each picture; a body is drawn where there is none.
    """
    images: dict[View, tuple[str, Box | None]] = {
        view: (f"data:image/jpeg;base64,{base64.b64encode(data).decode('ascii')}", None)
        for view, data in (pictures or {}).items()
    }
    return _render(sheet, images=images, css=_ALONE + lesson_sheet_css())


def lesson_sheet_part(sheet: LessonSheet, /, *, images: Mapping[View, WholePicture]) -> Markup:
    """The sheet as part of another page, whose style sheet is :func:`lesson_sheet_css`.

    Parameters
    ----------
    sheet : LessonSheet
    images : mapping of View to WholePicture
        Where the whole upright pictures lie, with their size as taken.
    """
    boxed: dict[View, tuple[str, Box | None]] = {
        view: (each.address, Box(x=0, y=0, width=each.width_px, height=each.height_px))
        for view, each in images.items()
    }
    return Markup(_render(sheet, images=boxed, css=""))  # noqa: S704  # made by our own template
