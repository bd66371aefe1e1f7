"""Use case: each measure of a student over lessons, and whether a change is real."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from attrs import frozen

from wellset.lessons import (
    Change,
    Homework,
    Reading,
    SetUp,
    SetUpState,
    StudentCard,
    change_between,
    repeatability,
)
from wellset.measures import MEASURES
from wellset.services.asked import club_of, standards_in_force, student_of
from wellset.services.book import Pages
from wellset.services.lesson_work import Desk
from wellset.services.student_scale import student_scale
from wellset.standards import Window, shot_for


@frozen(kw_only=True)
class Series:
    """One measure over lessons with one club.

    Parameters
    ----------
    measure : str
    readings : tuple of Reading
        One for each lesson, oldest first: its last set-up, the one the lesson ended with.
    change : Change or None
        From the first lesson to the last; ``None`` with one lesson only.
    steadiness : float
        The student's own spread from set-up to set-up within a lesson, in the measure's unit;
        0 when no lesson had several.
    repeats : int
        Set-ups that figure rests on.
    window : Window or None
        Of today's standards.
    """

    measure: str
    readings: tuple[Reading, ...]
    change: Change | None
    steadiness: float
    repeats: int
    window: Window | None


@frozen(kw_only=True)
class Progress:
    """How a student comes along with one club.

    Parameters
    ----------
    student : StudentCard
    club : str
    clubs : tuple of str
        Clubs that set-ups were assessed with.
    series : tuple of Series
        In the order of the catalogue.
    first, last : SetUp or None
        To show side by side.
    homework : tuple of (day, Homework)
        Newest first.
    """

    student: StudentCard
    club: str
    clubs: tuple[str, ...]
    series: tuple[Series, ...]
    first: SetUp | None
    last: SetUp | None
    homework: tuple[tuple[str, Homework], ...]


def progress_of(desk: Desk, student_id: str, *, club: str = "") -> Progress:
    """Measures over lessons with one club; the one used most when none is named.

    Raises
    ------
    MissingError
    """
    with desk.book.reading() as pages:
        student = pages.student(student_id)
        taken = [
            (setup, readings)
            for setup, readings in pages.readings_of(student_id)
            if setup.state is SetUpState.ASSESSED
        ]
        clubs = tuple(dict.fromkeys(setup.club for setup, _ in taken))
        chosen = club if club in clubs else _most_used([setup for setup, _ in taken])
        mine = [(setup, readings) for setup, readings in taken if setup.club == chosen]
        windows = _windows(pages, student, club_name=chosen) if chosen else {}
        lessons = pages.lessons_of(student_id, limit=50).items
    series = (
        _series(
            name,
            [(setup, readings[name]) for setup, readings in mine if name in readings],
            window=windows.get(name),
        )
        for name in MEASURES
    )
    return Progress(
        student=student,
        club=chosen,
        clubs=clubs,
        series=tuple(each for each in series if each is not None),
        first=mine[0][0] if len(mine) > 1 else None,
        last=mine[-1][0] if mine else None,
        homework=tuple((lesson.starts_at, each) for lesson in lessons for each in lesson.homework),
    )


def _most_used(setups: Sequence[SetUp]) -> str:
    counts: dict[str, int] = defaultdict(int)
    for setup in setups:
        counts[setup.club] += 1
    return max(counts, key=lambda name: counts[name], default="")


def _windows(pages: Pages, card: StudentCard, *, club_name: str) -> dict[str, Window]:
    club = club_of(pages.bag(card.id), club_name)
    scale = student_scale(student_of(card).build, club, stance=None)
    found = standards_in_force(pages).windows_for(shot_for(club.kind), scale=scale)
    return {window.measure: window for window in found}


def _series(
    name: str, taken: Sequence[tuple[SetUp, Reading]], *, window: Window | None
) -> Series | None:
    if not taken:
        return None
    lessons: dict[str, list[Reading]] = defaultdict(list)
    for setup, reading in taken:
        lessons[setup.lesson].append(reading)
    spreads = [(found.own_sd, found.count) for r in lessons.values() if (found := repeatability(r))]
    repeats = sum(count for _, count in spreads)
    freedom = sum(count - 1 for _, count in spreads)
    steadiness = (
        (sum(sd**2 * (count - 1) for sd, count in spreads) / freedom) ** 0.5 if freedom else 0.0
    )
    readings = tuple(each[-1] for each in lessons.values())
    change = (
        change_between(readings[0], readings[-1], steadiness=steadiness)
        if len(readings) > 1
        else None
    )
    return Series(
        measure=name,
        readings=readings,
        change=change,
        steadiness=steadiness,
        repeats=repeats,
        window=window,
    )
