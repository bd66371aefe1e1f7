"""The marker sheet as a PDF at exact scale.

The square, the ruler and the words come from one place each: what is looked for in
pictures from :mod:`wellset.equipment.sheet`, the layout from here.
"""

from __future__ import annotations

from typing import Final

from attrs import frozen

from wellset.equipment.sheet import RULER_M, SHEET_MARKER, Marker
from wellset.reports.typesetting import typeset

TOP_MM: Final = 46.0
"""From the paper's top edge to the square: room for the arrow, and white above the square."""
CLEAR_MM: Final = 16.0
"""White paper below the square, at least as wide as half a cell of it."""

TITLE: Final = "Marker sheet for set-up pictures"
ARROW: Final = ("To the", "target")
HEADING: Final = "How to use this sheet"
CHECK: Final = "This line is 100 mm long. If it isn’t, print again at 100 %."
STEPS: Final = (
    "Print at 100 % (“actual size”, not “fit to page”) on plain, dull white paper.",
    (
        "Lay it flat on the ground, half a step to a step from the ball, where both pictures show "
        "all of it and nobody steps on it. Hold it down at the white corners."
    ),
    (
        "Point the arrow at the target. If you aimed it with care, say so when you assess: "
        "--sheet-aimed."
    ),
    "Leave it where it is for both pictures. Take it away before a ball is hit.",
)


@frozen(kw_only=True)
class Paper:
    """A size of paper, portrait, millimetre."""

    name: str
    width_mm: float
    height_mm: float


PAPERS: Final = {
    "a4": Paper(name="a4", width_mm=210.0, height_mm=297.0),  # ISO 216
    "letter": Paper(name="letter", width_mm=215.9, height_mm=279.4),  # ANSI/ASME Y14.1, 8.5 x 11 in
}


@frozen(kw_only=True)
class Placed:
    """Where the square and the ruler lie on the paper, millimetre from its top left."""

    square_left: float
    square_top: float
    square_side: float
    ruler_left: float
    ruler_top: float
    ruler_length: float


def placed(paper: Paper, /, *, marker: Marker = SHEET_MARKER) -> Placed:
    """Where things lie on the paper."""
    side = 1000 * marker.side_m
    left = (paper.width_mm - side) / 2
    return Placed(
        square_left=left,
        square_top=TOP_MM,
        square_side=side,
        ruler_left=left,
        ruler_top=TOP_MM + side + CLEAR_MM,
        ruler_length=1000 * RULER_M,
    )


def sheet_pdf(paper: Paper, /, *, marker: Marker = SHEET_MARKER) -> bytes:
    """The marker sheet as a tagged PDF (PDF/UA-1), the same bytes each time.

    Parameters
    ----------
    paper : Paper
    marker : Marker
        The square on it.
    """
    at = placed(paper, marker=marker)
    given: dict[str, object] = {
        "title": TITLE,
        "width": paper.width_mm,
        "height": paper.height_mm,
        "side": at.square_side,
        "top": at.square_top,
        "clear": CLEAR_MM,
        "ruler": at.ruler_length,
        "bits": marker.bits,
        "arrow": ARROW,
        "heading": HEADING,
        "check": CHECK,
        "steps": STEPS,
    }
    return typeset("sheet.typ", given=given)
