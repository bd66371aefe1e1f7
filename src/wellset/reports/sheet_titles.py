"""The standing words of a lesson sheet: paper and page use the same."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from wellset.reports.lesson_sheet_model import LessonSheet, Task

PAGE_WORDS: Final = ("Page 1 of 2. Turn over for practice.", "Page 2 of 2")
NO_TASKS: Final = "Nothing new this time. Set up ten times a day just as you did in the lesson."
CHANGE_ALONE: Final = "Work on the one change, just as your coach shows you."
"""Where no drill suits the student, the choice is the coach's."""
UNTOLD_TASKS: Final = "Nothing new yet. Take new pictures first. They will tell what to practise."
TITLES: Final[Mapping[str, object]] = MappingProxyType(
    {
        "kind": "Lesson sheet",
        "note-title": "From your coach",
        "first-title": "Change this first",
        "why-title": "Why this first?",
        "feel-title": "How it should feel",
        "check-title": "Check it by yourself, with a club and a stick",
        "good-title": "Good already: keep it",
        "practise-title": "Practise at home",
        "care-title": "Take care:",
        "cautions-title": "Stay safe",
        "footer": "Made from your pictures. This is no medical advice.",
        "page-words": PAGE_WORDS,
    }
)


def greeting(sheet: LessonSheet, /) -> str:
    """The line the sheet opens with."""
    # a name of signs alone, which no paper can show, is none
    named = any(sign.isalnum() for sign in sheet.name)
    return f"For {sheet.name}" if named else "For you"


def nothing_to_practise(sheet: LessonSheet, /) -> str:
    """What stands where there is no exercise: nobody is told to repeat what nobody could see."""
    if sheet.change is not None:
        return CHANGE_ALONE
    return UNTOLD_TASKS if sheet.untold else NO_TASKS


def facts_of(task: Task, /) -> tuple[tuple[str, str], ...]:
    """What is said under a task's steps, as pairs of title and words."""
    pairs = (
        ("It worked when:", task.works),
        ("How often:", task.dose),
        ("Until:", task.due),
    )
    return tuple((title, words) for title, words in pairs if words)


Card = tuple[str, str, tuple[str, ...], str]
"""Title, first sentence, points, last sentence."""


def cards(sheet: LessonSheet, /) -> tuple[Card, ...]:
    """Later, filming, next lesson."""
    later = tuple(f"{words[0].upper()}{words[1:]}" for words in sheet.later)
    leave = "One thing at a time. These can wait:" if later else "Nothing else has to change now."
    if sheet.untold:
        leave = "Change nothing until new pictures can tell more."
    soon = f"{sheet.next_lesson}." if sheet.next_lesson else "Your coach will tell you when."
    return (
        ("Leave for now", leave, later, sheet.open_checks),
        ("Film again", sheet.film.when, sheet.film.how, " ".join(sheet.film.last_time)),
        ("Next lesson", soon, (), "Bring this sheet, your club and your stick."),
    )
