"""Wiring of the drills: from what a person types to pages, and where they are written."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from attrs import frozen

from wellset.advise import BodyLimit, Drill, DrillBook, Fault, Side, house_book
from wellset.bootstrap import UNITS, Delivery, _hand, _student, _text, one_blas_thread, standards_of
from wellset.equipment import find_club
from wellset.errors import EstimationError, InputError
from wellset.measures import MEASURES
from wellset.reports.drill_page import (
    drill_report,
    drills_html,
    drills_json,
    drills_pdf,
    drills_text,
)
from wellset.reports.writing import write_each
from wellset.services.bag_file import BagEntry
from wellset.services.drill_choice import Target, Wanted, chosen, limits_of, target_of
from wellset.services.drills_file import read_drills

ORDINARY_HEIGHT: Final = "175 cm"
USUAL_CLUB: Final = "7-iron"
DATA: Final = "drills.json"
PAGE: Final = "drills.html"
PAPER: Final = "drills.pdf"
TABLE: Final = "drills.txt"


@frozen(kw_only=True, eq=False)
class DrillsAsked:
    """Drills, and whom they are drawn for.

    Parameters
    ----------
    book : DrillBook
    drills : tuple of Drill
    target : Target
    height : float
        Metre.
    fault : Fault or None
        The finding they are shown for.
    """

    book: DrillBook
    drills: tuple[Drill, ...]
    target: Target
    height: float
    fault: Fault | None


def drills_request(
    *,
    height: str | None = None,
    student: str | Path | None = None,
    club: str | None = None,
    measure: str | None = None,
    drill: str | None = None,
    text: str = "",
    careful_with: tuple[str, ...] = (),
    drills: str | Path | None = None,
    hand: str | None = None,
    shot: str | None = None,
    standards: str | Path | None = None,
) -> DrillsAsked:
    """Choose drills and work out the target they are drawn from.

    Raises
    ------
    WellsetError
        When a value or file is wrong, or nothing is left to show.
    """
    ordinary = None if student is not None else height or ORDINARY_HEIGHT
    who = _student(student, height=height or ordinary)
    book = house_book() if drills is None else _own(drills)
    name, fault = _measure_and_side(measure)
    limits = limits_of(who) | frozenset(_limit(each) for each in careful_with)
    found = chosen(book, Wanted(measure=name, text=text, limits=limits))
    if drill:
        found = _named(book, drill)
    elif fault is not None:
        found = tuple(each for each in found if fault in each.serves)
    if not found:
        raise InputError(
            "There is no such drill",
            why="none of the book is for this, holds these words and suits the student.",
            fix="Ask for less, or look at all of them with `wellset drills`.",
        )
    with one_blas_thread():
        target = target_of(
            who,
            BagEntry(club=find_club(club or USUAL_CLUB)),
            standards=standards_of(standards),
            shot=shot,
            hand=_hand(hand),
        )
    if target is None:
        raise EstimationError(
            "The drills cannot be drawn",
            why="no set-up could be worked out for this student and club.",
            fix="Check the height, the tape measures and the club, or try another shot.",
        )
    return DrillsAsked(
        book=book, drills=found, target=target, height=who.build.stature, fault=fault
    )


def _own(path: str | Path) -> DrillBook:
    return read_drills(_text(str(path), what="drill"), where=str(path))


def _limit(word: str) -> BodyLimit:
    if word not in set(BodyLimit):
        raise InputError(
            "This limit is not known", why=f"it is {word!r}.", fix=f"Say {', '.join(BodyLimit)}."
        )
    return BodyLimit(word)


def _measure_and_side(asked: str | None) -> tuple[str, Fault | None]:
    """``forward_bend``, ``forward bend`` or ``forward_bend low``."""
    if not asked:
        return "", None
    words = asked.lower().replace("-", " ").replace("_", " ").split()
    side = Side(words.pop()) if words and words[-1] in set(Side) else None
    name = "_".join(words)
    if side is None or name not in MEASURES:
        return name, None
    return name, Fault(measure=name, side=side)


def _named(book: DrillBook, name: str) -> tuple[Drill, ...]:
    plain = name.casefold().strip()
    return tuple(d for d in book if plain in (d.id, d.title.casefold()))


def deliver_drills(
    asked: DrillsAsked,
    /,
    *,
    folder: str | Path | None,
    json_path: str | Path | None,
    units: str = "cm",
    paper: str = "a4",
) -> Delivery:
    """Write what was asked for; what cannot be written is reported, the rest is kept."""
    with one_blas_thread():
        report = drill_report(
            asked.drills,
            book=asked.book,
            target=asked.target,
            height=asked.height,
            units=UNITS[units],
            fault=asked.fault,
        )
    json_text = drills_json(report, asked.drills)
    wanted: list[tuple[Path, bytes]] = []
    page: Path | None = None
    if json_path is not None:
        wanted.append((Path(json_path), json_text.encode()))
    if folder is not None:
        place = Path(folder)
        page = place / PAGE
        wanted += [
            (place / DATA, json_text.encode()),
            (place / TABLE, drills_text(report).encode()),
            (place / PAPER, drills_pdf(report, paper=paper)),
            (page, drills_html(report).encode()),
        ]
    tried = write_each(wanted)
    return Delivery(
        page=tried.page(page),
        json_text=json_text,
        terminal_text=drills_text(report, files=tried.files),
        failures=tried.failures,
    )
