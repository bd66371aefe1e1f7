"""From a kept assessment, a plan and a lesson to a student's sheet."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from attrs import frozen

from wellset.advise import take_home
from wellset.figure.views import View
from wellset.measures import COVERAGE_FACTOR, MEASURES, Unit
from wellset.reports.contract import AdvicePart, AssessmentDocument, FindingPart, MeasuredValue
from wellset.reports.hand_measures import by_hand, day_words, tape
from wellset.reports.lesson_sheet_model import (
    MOST_GOOD,
    MOST_LATER,
    MOST_TASKS,
    FirstChange,
    LessonSheet,
    Task,
)
from wellset.reports.moves import moving
from wellset.reports.plan_contract import ClubPlan
from wellset.reports.sheet_figures import figures_of
from wellset.reports.sheet_film import film_again
from wellset.reports.sheet_picture import SheetPicture
from wellset.reports.sheet_scene import pictures_of, points_of
from wellset.reports.sheet_stand import stand_of
from wellset.units import UnitSystem

MOST_NOTE: Final = 420
MOST_WORDS: Final = 300
"""Letters of a coach's note, and of each piece of homework, that two pages have room for."""
TOLD: Final = "“How to stand”"
"""How a check begins that looks up a number of the plan."""
OWN_WORDS: Final = "From your coach"
EXPLAINED: Final = "Lead means the side nearer the target. Trail means the other side."
CAUTIONS: Final = (
    "Stop if anything hurts. See a doctor or a physiotherapist before you go on.",
    "Are you under 18? Then practise with a grown-up beside you.",
    "Look around you before you swing: nobody may stand near.",
)
KEY: Final = (
    ("now", "you now"),
    ("aim", "where to"),
    ("good", "good already"),
)


@frozen(kw_only=True)
class Homework:
    """One exercise that the coach gave.

    Parameters
    ----------
    words, dose : str
    due : str
        Day, or empty.
    drill : Task or None
        The exercise of the coach's drills, with its id.
    drill_id : str
    """

    words: str
    dose: str = ""
    due: str = ""
    drill: Task | None = None
    drill_id: str = ""


@frozen(kw_only=True)
class LessonFacts:
    """What a lesson adds to an assessment.

    Parameters
    ----------
    name : str
        The student's; the assessment's own when empty.
    day, next_day : str
        Days of this lesson and the next, ``2026-11-25``; empty where not known.
    next_time : str
        Hour of the next, as it is said; may be empty.
    note : str
        The coach's words to the student.
    homework : tuple of Homework
    take_care : str
        Old injuries in the coach's words; on the coach's sheet alone.
    """

    name: str = ""
    day: str = ""
    next_day: str = ""
    next_time: str = ""
    note: str = ""
    homework: tuple[Homework, ...] = ()
    take_care: str = ""


def lesson_sheet(
    document: AssessmentDocument,
    /,
    *,
    facts: LessonFacts | None = None,
    plan: ClubPlan | None = None,
    units: UnitSystem = UnitSystem.CENTIMETRES,
) -> LessonSheet:
    """Put an assessment into a student's words.

    Parameters
    ----------
    document : AssessmentDocument
        As published.
    facts : LessonFacts, optional
    plan : ClubPlan, optional
        How this student should stand with this club.
    units : UnitSystem
        The student's unit of length.
    """
    told = facts or LessonFacts()
    first = _first(document)
    amount = _amount(document, first) if first is not None else 0.0
    good = _good(document, first, plan=plan)
    tasks, more = _tasks(first, told.homework)
    views = {View(name): part for name, part in document.pictures.items()}
    shown = pictures_of(document, change=(first.measure, amount) if first else None, good=good)
    return LessonSheet(
        name=(told.name or document.student.name).strip(),
        date=day_words(told.day) if told.day else "",
        club=document.club.name,
        note=clipped(told.note, most=MOST_NOTE),
        explained=EXPLAINED,
        pictures=shown,
        key=_key(shown),
        change=(
            _change(document, first, amount=amount, planned=plan is not None, units=units)
            if first
            else None
        ),
        calm_title="" if first else _calm(document)[0],
        calm="" if first else _calm(document)[1],
        good=tuple(take_home()[name].good for name in good[:MOST_GOOD]),
        tasks=tasks,
        more_tasks=more,
        figures=figures_of(document, plan, measure=first.measure if first else ""),
        stand=stand_of(plan, units=units) if plan is not None else None,
        later=_later(document, first),
        open_checks=_open(document),
        film=film_again(
            views, on=told.day, next_day=told.next_day, units=units, soon=_untold(document)
        ),
        next_lesson=_next(told),
        cautions=CAUTIONS,
        untold=_untold(document),
    )


def clipped(text: str, /, *, most: int) -> str:
    """Text that is no longer than the sheet has room for, cut between words."""
    plain = " ".join(text.split())
    if len(plain) <= most:
        return plain
    kept = plain[:most].rsplit(" ", 1)[0] if " " in plain[:most] else plain[:most]
    return f"{kept.rstrip('.,;:')} … (ask your coach for the rest)"


def _first(document: AssessmentDocument) -> AdvicePart | None:
    return next((part for part in document.advice if part.kind == "first_change"), None)


def _finding(document: AssessmentDocument, measure: str) -> FindingPart | None:
    return next((each for each in document.findings if each.measure == measure), None)


def _amount(document: AssessmentDocument, first: AdvicePart) -> float:
    """How far the measure should go: as computed, or to the limit that it passed."""
    if first.amount is not None:
        return first.amount
    result, finding = document.measures[first.measure], _finding(document, first.measure)
    if not isinstance(result, MeasuredValue) or finding is None:
        return 1.0 if first.side == "low" else -1.0
    limit = finding.window.low if first.side == "low" else finding.window.high
    wanted = limit if limit is not None else finding.window.target
    return (wanted if wanted is not None else result.value) - result.value


def _change(
    document: AssessmentDocument,
    first: AdvicePart,
    *,
    amount: float,
    planned: bool,
    units: UnitSystem,
) -> FirstChange:
    words, finding = take_home()[first.measure], _finding(document, first.measure)
    way = words.way(amount)
    return FirstChange(
        headline=way.do,
        what=finding.for_student if finding is not None else f"{way.do}.",
        amount=_how_far(document, first.measure, amount=amount, units=units),
        why=_why(first),
        feel=way.feel,
        check=words.check if planned else _without_plan(words.check),
    )


def _how_far(
    document: AssessmentDocument, measure: str, *, amount: float, units: UnitSystem
) -> str:
    """What moves, how far and which way: never a number without its meaning."""
    words = take_home()[measure]
    metres = (
        abs(amount)
        if MEASURES[measure].unit is Unit.METRE
        else moving(measure, points_of(document), amount=amount).distance
    )
    who = words.moves[0].upper() + words.moves[1:]
    return f"{who}: about {by_hand(metres)} ({tape(metres, units=units)}) {words.way(amount).way}."


def _without_plan(check: str) -> str:
    """A check where no list says how to stand."""
    kept = [each for each in check.split(". ") if not each.startswith(TOLD)]
    if len(kept) == len(check.split(". ")):
        return check
    return f"{'. '.join(kept).rstrip('.')}. Your coach tells you how it should be."


def _why(first: AdvicePart) -> str:
    """The computed reason in plain words."""
    right = [take_home()[name].then for name in first.right if name in MEASURES]
    right = list(dict.fromkeys(right))[:3]
    if not right:
        if first.amount is None:
            return (
                "A set-up is built from the ground up. This is the first thing on the way that "
                "is clearly off. Later things often come right with it."
            )
        return (
            "It is clearly off in your pictures, and it is the best place to start. Work on "
            "this one alone."
        )
    listed = right[0] if len(right) == 1 else f"{', '.join(right[:-1])} and {right[-1]}"
    count = ("", "two", "three", "four")[len(right)]
    return f"When you do it, {listed} too. So you mend {count} things with one change."


def _good(
    document: AssessmentDocument, first: AdvicePart | None, *, plan: ClubPlan | None
) -> tuple[str, ...]:
    """What is good already, the advice's own first; not twice about one part of the body.

    What the plan would have otherwise comes last: one sheet should not say both.
    """
    kept = [part.measure for part in document.advice if part.kind == "keep"]
    inside = [each.measure for each in document.findings if each.verdict == "inside"]
    named = {take_home()[first.measure].moves} if first is not None else set()
    every = list(dict.fromkeys([*kept, *inside]))
    good = []
    for name in sorted(every, key=lambda each: not _agrees(document, each, plan=plan)):
        if name in MEASURES and take_home()[name].moves not in named:
            named.add(take_home()[name].moves)
            good.append(name)
    return tuple(good)


def _agrees(document: AssessmentDocument, measure: str, *, plan: ClubPlan | None) -> bool:
    """Whether the plan has a measure about where it is."""
    result = document.measures.get(measure)
    planned = plan.measures.get(measure) if plan is not None else None
    if planned is None or not isinstance(result, MeasuredValue):
        return True
    room = max(planned.tolerance, COVERAGE_FACTOR * result.sd)
    return abs(result.value - planned.value) <= room


def _untold(document: AssessmentDocument) -> bool:
    """Whether no check could be decided."""
    return all(each.verdict == "undecided" for each in document.findings)


def _calm(document: AssessmentDocument) -> tuple[str, str]:
    """What is said when nothing must change."""
    if _untold(document):
        return (
            "Your pictures can't tell yet",
            (
                "They do not show enough to say what is right and what is not. That is no fault of "
                "yours. Take them again as it says under “Film again”."
            ),
        )
    return (
        "Keep your set-up as it is",
        (
            "Your pictures show nothing that must change now. Learn how it feels, so that you "
            "find it again each time."
        ),
    )


def _later(document: AssessmentDocument, first: AdvicePart | None) -> tuple[str, ...]:
    """What is off as well and should be left alone for now, as parts of the body."""
    wanted = [part.measure for part in document.advice if part.kind == "next"]
    outside = [each.measure for each in document.findings if each.verdict == "outside"]
    mended = {first.measure, *first.right} if first is not None else set()
    said = {take_home()[name].moves for name in mended if name in MEASURES}
    later = [
        take_home()[name].moves
        for name in dict.fromkeys([*wanted, *outside])
        if name in MEASURES and name not in mended and take_home()[name].moves not in said
    ]
    return tuple(dict.fromkeys(later))[:MOST_LATER]


def _open(document: AssessmentDocument) -> str:
    count = sum(each.verdict == "undecided" for each in document.findings)
    if not count or count == len(document.findings):
        return ""
    return "Some things your pictures did not show well enough. Leave those as they are."


def _key(pictures: Sequence[SheetPicture]) -> tuple[tuple[str, str], ...]:
    used = set()
    for picture in pictures:
        used |= {"now", "aim"} if picture.change is not None else set()
        used |= {"good"} if picture.good else set()
    return tuple((mark, words) for mark, words in KEY if mark in used)


def _tasks(first: AdvicePart | None, homework: Sequence[Homework]) -> tuple[tuple[Task, ...], str]:
    """What to do at home: the change's own drill first, then what the coach gave."""
    drill = first.drill if first is not None else None
    tasks = []
    given = {each.drill_id: each for each in homework if each.drill_id}
    if drill is not None:
        own = given.get(drill.id)
        tasks.append(
            Task(
                title=drill.title,
                purpose=drill.purpose,
                steps=drill.steps,
                works=drill.self_check,
                dose=(own.dose if own is not None and own.dose else drill.dose),
                due=_due(own.due) if own is not None else "",
                caution=drill.caution,
            )
        )
    tasks.extend(_task(each) for each in homework if drill is None or each.drill_id != drill.id)
    more = len(tasks) - MOST_TASKS
    words = "Your coach gave you more than this. Do these three first." if more > 0 else ""
    return tuple(tasks[:MOST_TASKS]), words


def _task(given: Homework) -> Task:
    words = clipped(given.words, most=MOST_WORDS)
    if given.drill is None:
        return Task(title=OWN_WORDS, purpose=words, dose=given.dose, due=_due(given.due))
    return Task(
        title=given.drill.title,
        purpose=words,
        steps=given.drill.steps,
        works=given.drill.works,
        dose=given.dose or given.drill.dose,
        due=_due(given.due),
        caution=given.drill.caution,
    )


def _due(day: str) -> str:
    return day_words(day) if day else ""


def _next(told: LessonFacts) -> str:
    if not told.next_day:
        return ""
    when = f", {told.next_time}" if told.next_time else ""
    return f"{day_words(told.next_day)}{when}"


def plan_for(clubs: Sequence[ClubPlan], /, *, club: str) -> ClubPlan | None:
    """The plan for a club among those of a bag."""
    return next((each for each in clubs if each.club == club), None)
