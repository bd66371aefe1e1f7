"""Drills as a page of their own, as parts of other pages, as a PDF, as JSON and as plain text."""

from __future__ import annotations

import json
import re
import textwrap
from collections.abc import Sequence
from typing import Final

from attrs import frozen
from markupsafe import Markup

from wellset import __version__
from wellset.advise import Drill, DrillBook, Fault, entry_of
from wellset.figure.views import Hand
from wellset.reports.cautions import PLAN_CAUTIONS
from wellset.reports.drill_view import LEAD_AND_TRAIL, DrillView, drill_view
from wellset.reports.page import environment, report_css
from wellset.reports.sheet import PAPERS
from wellset.reports.typesetting import typeset
from wellset.services.drill_choice import Target
from wellset.units import UnitSystem, format_height

SCHEMA: Final = "wellset.drill-sheet/1"
_WIDE: Final = 78
_DRAWN_MM: Final = 84.0
_INSIDE_MM: Final = 76.0
_TALL_MM: Final = 92.0
_A4_MM: Final = 297.0
_FAULT_TALL_MM: Final = 40.0
_SIZE: Final = re.compile(r'viewBox="\S+ \S+ (\S+) (\S+)"')


@frozen(kw_only=True)
class DrillReport:
    """Drills to show together.

    Parameters
    ----------
    title, subtitle, words : str
    facts : tuple of (name, value)
    drills : tuple of DrillView
    cautions : tuple of str
    versions : tuple of (name, value)
    """

    title: str
    subtitle: str
    words: str
    facts: tuple[tuple[str, str], ...]
    drills: tuple[DrillView, ...]
    cautions: tuple[str, ...]
    versions: tuple[tuple[str, str], ...]


def drill_report(
    drills: Sequence[Drill],
    /,
    *,
    book: DrillBook,
    target: Target,
    height: float,
    units: UnitSystem = UnitSystem.CENTIMETRES,
    fault: Fault | None = None,
) -> DrillReport:
    """Put drills into words and drawings.

    Parameters
    ----------
    drills : sequence of Drill
    book : DrillBook
    target : Target
        Whom they are drawn for.
    height : float
        Of the student, metre.
    units : UnitSystem
    fault : Fault, optional
        The finding they are shown for.
    """
    views = tuple(drill_view(d, book=book, target=target, fault=fault) for d in drills)
    whose = target.name or "an ordinary golfer"
    hand = "left" if target.hand is Hand.LEFT else "right"
    club = target.plan.club.name
    return DrillReport(
        title=views[0].title if len(views) == 1 else book.name,
        subtitle=f"Drawn for {whose}, {club}",
        words=f"The drawings are the set-up of the plan with the {club}. {LEAD_AND_TRAIL}",
        facts=(
            ("For", whose),
            ("Height", format_height(height, system=units)),
            ("Club", club),
            ("Stands", f"{hand}-handed"),
        ),
        drills=views,
        cautions=PLAN_CAUTIONS,
        versions=(("Program", f"Wellset {__version__}"), ("Drills", book.name)),
    )


def drills_html(report: DrillReport, /) -> str:
    """A page of its own."""
    css = report_css()
    return (
        environment().get_template("drills.html").render(report=report, css=Markup(css))  # noqa: S704  # our own style sheet
    )


def drill_fragment(view: DrillView, /, *, link: str = "") -> Markup:
    """One drill as a part of another page.

    Parameters
    ----------
    view : DrillView
    link : str
        What stands before the id of another drill to make its address; empty for none.
    """
    page = environment().get_template("drill.html").render(drill=view, link=link)
    return Markup(page)  # noqa: S704  # our own template, everything escaped


def drills_pdf(report: DrillReport, /, *, paper: str = "a4") -> bytes:
    """One drill a page, tagged, the same bytes each time.

    Parameters
    ----------
    report : DrillReport
    paper : str
        ``a4`` or ``letter``.
    """
    size = PAPERS[paper]
    files: dict[str, bytes] = {}
    given = {
        "title": report.title,
        "subtitle": report.subtitle,
        "words": report.words,
        "footer": ", ".join(value for _, value in report.versions),
        "width": size.width_mm,
        "height": size.height_mm,
        "drawn_mm": _DRAWN_MM,
        "drills": [_given(view, files, tall=size.height_mm) for view in report.drills],
    }
    return typeset("drills.typ", given=given, files=files)


def _given(view: DrillView, files: dict[str, bytes], *, tall: float) -> dict[str, object]:
    drawings = []
    # a shorter paper, and a second drawing, leave each less room: one drill fits one page
    room = _TALL_MM - (_A4_MM - tall)
    room *= 0.6 if len(view.drawings) > 1 else 1.0
    for i, each in enumerate(view.drawings):
        name = f"{view.id}-{i}.svg"
        files[name] = str(each.target).encode()
        part = {
            "target": name,
            "alt": f"{view.title}: your target. {each.caption}",
            "width_mm": _fitted(each.target, tall=room),
            "caption": each.caption,
            "fault": "",
            "fault_caption": each.fault_caption,
            "fault_width_mm": 0.0,
        }
        if each.fault is not None:
            part["fault"] = f"{view.id}-{i}-fault.svg"
            files[str(part["fault"])] = str(each.fault).encode()
            part["fault_width_mm"] = _fitted(each.fault, tall=_FAULT_TALL_MM, wide=34.0)
        drawings.append(part)
    return {
        "title": view.title,
        "purpose": view.purpose,
        "needs": "; ".join(view.needs),
        "steps": list(view.steps),
        "feel": view.feel,
        "check": view.self_check,
        "dose": view.dose,
        "easier": view.easier,
        "harder": view.harder,
        "caution": view.caution,
        "instead": [f"With {each.who}: take “{each.title}” instead." for each in view.instead],
        "drawings": drawings,
    }


def _fitted(svg: str, *, tall: float, wide: float = _INSIDE_MM) -> float:
    """How broad a drawing is set, millimetre, to lie inside a box."""
    found = _SIZE.search(svg)
    assert found is not None  # noqa: S101 - every drawing of ours has its box
    width, height = float(found[1]), float(found[2])
    return round(min(wide, tall * width / height), 1)


def drills_json(report: DrillReport, drills: Sequence[Drill], /) -> str:
    """The drills as a document: what the drill document has, and the drawings."""
    parts = [
        {
            "id": drill.id,
            **entry_of(drill),
            "caution": drill.caution,
            "drawings": [
                {
                    "target": str(each.target),
                    "fault": None if each.fault is None else str(each.fault),
                    "caption": each.caption,
                    "fault_caption": each.fault_caption,
                }
                for each in view.drawings
            ],
        }
        for drill, view in zip(drills, report.drills, strict=True)
    ]
    whole = {
        "schema": SCHEMA,
        "for": dict(report.facts),
        "drills": parts,
        "versions": dict(report.versions),
    }
    return json.dumps(whole, indent=1, ensure_ascii=False) + "\n"


def drills_text(report: DrillReport, /, *, files: Sequence[str] = ()) -> str:
    """The drills as plain text: whole when there are few, otherwise as a list."""
    lines = [report.title, report.subtitle, ""]
    if len(report.drills) > _FEW:
        for view in report.drills:
            lines += [view.title, *_indented(view.purpose), ""]
    else:
        for view in report.drills:
            lines += _one(view)
    lines += _wrapped(LEAD_AND_TRAIL)
    if files:
        lines += ["", "Written:", *(f"  {name}" for name in files)]
    return "\n".join(lines) + "\n"


_FEW: Final = 6


def _one(view: DrillView) -> list[str]:
    lines = [view.title, "-" * len(view.title), *_wrapped(view.purpose)]
    if view.needs:
        lines += _wrapped(f"You need: {'; '.join(view.needs)}.")
    for number, step in enumerate(view.steps, start=1):
        lines += textwrap.wrap(step, _WIDE, initial_indent=f"{number}. ", subsequent_indent="   ")
    for name, words in (
        ("How it feels", view.feel),
        ("It worked when", view.self_check),
        ("How often", view.dose),
        ("Easier", view.easier),
        ("Harder", view.harder),
        ("Take care", view.caution),
    ):
        lines += _wrapped(f"{name}: {words}") if words else []
    lines += [line for each in view.instead for line in _wrapped(
        f'With {each.who}: take "{each.title}" instead.')]  # fmt: skip
    return [*lines, ""]


def _wrapped(words: str) -> list[str]:
    return textwrap.wrap(words, _WIDE)


def _indented(words: str) -> list[str]:
    return textwrap.wrap(words, _WIDE, initial_indent="  ", subsequent_indent="  ")
