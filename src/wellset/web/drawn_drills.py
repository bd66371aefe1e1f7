"""Drills as pages show them: drawn for a student, and remembered."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from wellset.advise import Drill, DrillBook, Fault
from wellset.lessons import SetUp
from wellset.reports.drill_view import DrillView, drill_view
from wellset.services.drill_target import Drawn, worked_out
from wellset.services.lesson_work import document_of

_REMEMBERED: Final = 128


class _ById:
    """A drill of a book as a key: equal when it says the same."""

    def __init__(self, drill: Drill, book: DrillBook) -> None:
        self.drill, self.book = drill, book

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _ById) and self.drill == other.drill

    def __hash__(self) -> int:
        return hash((self.drill.id, self.drill.title, self.drill.steps))


def shown_drill(
    drill: Drill, *, book: DrillBook, drawn: Drawn, fault: Fault | None = None
) -> DrillView:
    """A drill in words and drawings.

    Parameters
    ----------
    drill : Drill
    book : DrillBook
    drawn : Drawn
        Whom it is drawn for.
    fault : Fault, optional
        The finding it is given for.
    """
    return _shown(_ById(drill, book), drawn, fault if fault in drill.serves else None)


@lru_cache(maxsize=_REMEMBERED)
def _shown(key: _ById, drawn: Drawn, fault: Fault | None) -> DrillView:  # noqa: PLR0917
    return drill_view(key.drill, book=key.book, target=worked_out(drawn), fault=fault)


def first_fault(setup: SetUp | None, /) -> Fault | None:
    """The finding that an assessed set-up's first change mends."""
    advice = document_of(setup).get("advice") if setup is not None else None
    for part in advice if isinstance(advice, list) else []:
        if isinstance(part, dict) and part.get("kind") == "first_change" and part.get("side"):
            return Fault(measure=str(part["measure"]), side=part["side"])
    return None
