"""Wiring of the plan: from what a person types to plans, and where they are written."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final, TypedDict

from wellset.bootstrap import UNITS, Delivery, _hand, _text, one_blas_thread
from wellset.equipment import find_club
from wellset.errors import InputError
from wellset.reports.plan_drawings import plan_drawings
from wellset.reports.plan_json import plan_json_text
from wellset.reports.plan_model import plan_report
from wellset.reports.plan_page import plan_html
from wellset.reports.plan_terminal import plan_text
from wellset.reports.writing import write_each
from wellset.services.bag_file import BagEntry, read_bag, usual_bag
from wellset.services.place_words import ground_from_words, wind_from_words
from wellset.services.plan_bag import BagPlan, PlanRequest, plan_bag
from wellset.services.student_file import make_student
from wellset.standards import default_standards, load_standards

DATA: Final = "plan.json"
TABLE: Final = "plan.txt"
PAGE: Final = "plan.html"
DRAWINGS: Final = "drawings"
"""Folder of the drawings, inside the folder asked for."""


class Asked(TypedDict, total=False):
    """What a person types; see :func:`wellset.prescribe`."""

    height: str | None
    student: str | Path | None
    bag: str | Path | None
    clubs: Sequence[str]
    hand: str | None
    shot: str | None
    slopes: Sequence[str]
    wind: str | None
    standards: str | Path | None


def plan_request(
    *,
    height: str | None = None,
    student: str | Path | None = None,
    bag: str | Path | None = None,
    clubs: Sequence[str] = (),
    hand: str | None = None,
    shot: str | None = None,
    slopes: Sequence[str] = (),
    wind: str | None = None,
    standards: str | Path | None = None,
) -> BagPlan:
    """Plan from what a person types; see :func:`wellset.prescribe`."""
    request = PlanRequest(
        student=make_student(
            height=height,
            file_text=_text(str(student), what="student") if student is not None else None,
            where=str(student) if student is not None else "student",
        ),
        clubs=_clubs(bag, clubs),
        standards=(
            load_standards(_text(str(standards), what="standards"), where=str(standards))
            if standards is not None
            else default_standards()
        ),
        shot=shot,
        hand=_hand(hand),
        ground=ground_from_words(slopes),
        wind=wind_from_words(wind),
    )
    with one_blas_thread():
        return plan_bag(request)


def _clubs(bag: str | Path | None, clubs: Sequence[str]) -> tuple[BagEntry, ...]:
    """Named clubs, those of a bag file, or the usual fourteen."""
    if bag is not None and clubs:
        raise InputError(
            "The clubs are said twice",
            why="both a bag and single clubs were given.",
            fix="Give --bag or --club, not both.",
        )
    if bag is not None:
        return read_bag(_text(str(bag), what="bag"), where=str(bag))
    if clubs:
        # a club that is named twice, perhaps in two ways, is one club
        named = {club.name: club for club in map(find_club, clubs)}
        return tuple(BagEntry(club=club) for club in named.values())
    return usual_bag()


def deliver_plan(
    bag: BagPlan,
    /,
    *,
    folder: str | Path | None,
    json_path: str | Path | None,
    units: str = "cm",
) -> Delivery:
    """Write what was asked for; what cannot be written is reported, the rest is kept."""
    json_text = plan_json_text(bag)
    wanted: list[tuple[Path, str]] = []
    page: Path | None = None
    if json_path is not None:
        wanted.append((Path(json_path), json_text))
    if folder is not None:
        place = Path(folder)
        page = place / PAGE
        wanted += [
            (place / DATA, json_text),
            (place / TABLE, plan_text(bag, units=UNITS[units])),
            (page, plan_html(plan_report(bag, units=UNITS[units]))),
            *((place / DRAWINGS / name, svg) for name, svg in plan_drawings(bag).items()),
        ]
    tried = write_each((path, text.encode()) for path, text in wanted)
    return Delivery(
        page=tried.page(page),
        json_text=json_text,
        terminal_text=plan_text(bag, units=UNITS[units], files=tried.files),
        failures=tried.failures,
    )
