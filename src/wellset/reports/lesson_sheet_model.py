"""A student's lesson sheet as words and drawings: paper and page show the same.

Every sentence is for a reader of twelve, and no number stands without its meaning.
"""

from __future__ import annotations

from typing import Final

from attrs import frozen
from markupsafe import Markup

from wellset.reports.sheet_picture import SheetPicture

MOST_TASKS: Final = 3
"""Things to do in all: the first change with its drill counts as one."""
MOST_GOOD: Final = 3
MOST_LATER: Final = 3


@frozen(kw_only=True)
class FirstChange:
    """The one thing to change.

    Parameters
    ----------
    headline : str
        In a few words.
    what : str
        What is not as it should be, and what to do.
    amount : str
        What moves, how far and which way, in what a student has at hand.
    why : str
        What comes right with it.
    feel, check : str
        How it should feel; how to see it alone, with a club and a stick.
    """

    headline: str
    what: str
    amount: str
    why: str
    feel: str
    check: str


@frozen(kw_only=True)
class Task:
    """One thing to do at home.

    Parameters
    ----------
    title : str
    purpose : str
        What it is good for; may be empty.
    steps : tuple of str
        One after the other; empty for a coach's own words.
    works : str
        How to see that it worked; may be empty.
    dose, due, caution : str
        How often, until when, what to take care of; may be empty.
    """

    title: str
    purpose: str = ""
    steps: tuple[str, ...] = ()
    works: str = ""
    dose: str = ""
    due: str = ""
    caution: str = ""


@frozen(kw_only=True)
class Drawn:
    """A drawing of a figure.

    Parameters
    ----------
    title : str
    svg : Markup
    width, height : float
        Size of the drawing, centimetres of the world: two figures are shown at one scale.
    alt : str
    """

    title: str
    svg: Markup
    width: float
    height: float
    alt: str


@frozen(kw_only=True)
class StandLine:
    """One thing of how to stand: what, in hand measures, and on a tape."""

    what: str
    by_hand: str
    tape: str


@frozen(kw_only=True)
class Stand:
    """How to stand with this club.

    Parameters
    ----------
    title, club : str
        The title ends with the club.
    lines : tuple of StandLine
    explained : str
        What the words mean.
    doubt : str
        Where body, club and standards don't quite agree; may be empty.
    """

    title: str
    club: str
    lines: tuple[StandLine, ...]
    explained: str
    doubt: str


@frozen(kw_only=True)
class FilmAgain:
    """When and how to take the next pictures."""

    when: str
    how: tuple[str, ...]
    last_time: tuple[str, ...]


@frozen(kw_only=True, eq=False)
class LessonSheet:
    """A whole sheet.

    Parameters
    ----------
    name : str
        The student's; empty when nobody said.
    date, club : str
    note : str
        The coach's words to the student; may be empty.
    explained : str
        What lead and trail mean.
    pictures : tuple of SheetPicture
        None to two.
    key : tuple of (mark, words)
        What the marks mean: ``now``, ``aim``, ``good``.
    change : FirstChange or None
    calm_title, calm : str
        What stands in its place when there is nothing to change, or nothing could be told.
    good : tuple of str
        What was good already.
    tasks : tuple of Task
        At most three.
    more_tasks : str
        Said when there was more homework than that; usually empty.
    figures : tuple of Drawn
        Themselves, and their plan.
    stand : Stand or None
    later : tuple of str
        What to leave alone for now.
    open_checks : str
        What the pictures could not tell; may be empty.
    film : FilmAgain
    next_lesson : str
        Empty when none is planned.
    cautions : tuple of str
    untold : bool
        Whether the pictures decided nothing at all.
    """

    name: str
    date: str
    club: str
    note: str
    explained: str
    pictures: tuple[SheetPicture, ...]
    key: tuple[tuple[str, str], ...]
    change: FirstChange | None
    calm_title: str
    calm: str
    good: tuple[str, ...]
    tasks: tuple[Task, ...]
    more_tasks: str
    figures: tuple[Drawn, ...]
    stand: Stand | None
    later: tuple[str, ...]
    open_checks: str
    film: FilmAgain
    next_lesson: str
    cautions: tuple[str, ...]
    untold: bool = False

    @property
    def title(self) -> str:
        """Of the document."""
        return f"Lesson sheet: {self.name}" if self.name else "Lesson sheet"
