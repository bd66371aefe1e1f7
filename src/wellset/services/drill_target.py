"""The target that a student's drills are drawn from, worked out once and remembered."""

from __future__ import annotations

from functools import lru_cache
from typing import Final

from attrs import frozen

from wellset.equipment import Club, find_club
from wellset.services.asked import club_of
from wellset.services.bag_file import BagEntry
from wellset.services.book import Pages
from wellset.services.drill_choice import Target, target_of
from wellset.services.student_file import make_student
from wellset.standards import default_standards, load_standards

ORDINARY: Final = '{"schema": "wellset.student/1", "height": "175 cm"}'
"""Whom drills are drawn for when nobody is named."""
USUAL_CLUB: Final = "7-iron"


@frozen(kw_only=True)
class Drawn:
    """Everything a target follows from.

    Parameters
    ----------
    file : str
        The student file.
    club : Club
    standards : str
        The standards file, or ``""`` for the default ones.
    """

    file: str
    club: Club
    standards: str


def drawn_for(pages: Pages, *, student_id: str = "", club: str = "") -> Drawn:
    """Whom drills are drawn for.

    Parameters
    ----------
    student_id : str
        Empty for an ordinary golfer.
    club : str
        A mid iron when left out.

    Raises
    ------
    MissingError, InputError
    """
    version = pages.current_standards()
    standards = version.text if version is not None else ""
    name = club or USUAL_CLUB
    if not student_id:
        return Drawn(file=ORDINARY, club=find_club(name), standards=standards)
    card = pages.student(student_id)
    return Drawn(file=card.file, club=club_of(pages.bag(student_id), name), standards=standards)


@lru_cache(maxsize=64)
def worked_out(drawn: Drawn, /) -> Target | None:
    """The target; ``None`` when there is none for this student and club."""
    standards = (
        load_standards(drawn.standards, where="your standards")
        if drawn.standards
        else default_standards()
    )
    student = make_student(height=None, file_text=drawn.file, where="student")
    return target_of(student, BagEntry(club=drawn.club), standards=standards)
