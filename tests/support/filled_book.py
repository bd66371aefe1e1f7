"""A lesson book with something on every page: students, a bag, lessons, set-ups, a plan, a link."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from attrs import frozen

import wellset
from tests.support.truth import SCENES
from wellset.bootstrap import picture_reader
from wellset.bootstrap.book import open_desk, place_of
from wellset.equipment import standard_bag
from wellset.errors import PictureError
from wellset.figure.still import Choice
from wellset.figure.views import Hand, View
from wellset.lessons import BagClub, Homework, Shown
from wellset.services.check_book import check_kept
from wellset.services.lesson_book import Written, begin_lesson, write_lesson
from wellset.services.lesson_work import Desk, assess_kept, take_setup
from wellset.services.plan_book import PlanAsked, make_plan
from wellset.services.ports import OpenedPicture, PictureReader, Progress, Seen
from wellset.services.sharing import make_share
from wellset.services.student_book import StudentEntry, keep_bag, keep_student

DEMO: Final = Path(wellset.__file__).parent / "demo"
"""Pictures of the built-in demo."""
SCENE: Final = SCENES / "mid_iron_ball_too_far_back_21"
"""Another pair of pictures."""
NAME: Final = "Robin Vale"
LONG_NAME: Final = "Bartholomew-Alexander Featherstonehaugh-Worthington of the Lower Green"


@frozen(kw_only=True, eq=False)
class Filled:
    """What lies in the book.

    Parameters
    ----------
    desk : Desk
    student, lesson, setup, other : str
        Ids; `other` is the earlier of two assessed set-ups of the lesson.
    minor, minor_lesson : str
        A student whose guardian has not allowed pictures, and their lesson.
    planned : str
        A lesson that is still to come.
    refused, waiting : str
        Set-ups that were refused, and that still wait.
    secret : str
        Of a link to the lesson.
    """

    desk: Desk
    student: str
    lesson: str
    setup: str
    other: str
    minor: str
    minor_lesson: str
    planned: str
    refused: str
    waiting: str
    secret: str


class Unreadable:
    """A reader that finds a golfer in no picture."""

    def choosing(self, choices: Mapping[str, Choice], /) -> PictureReader:
        """The same."""
        del choices
        return self

    def open(self, path: str, /) -> OpenedPicture:
        """Refuse."""
        del path
        raise PictureError("The picture cannot be read", why="it is broken.", fix="Take another.")

    def look(self, paths: Mapping[View, str], *, hand: Hand | None, progress: Progress) -> Seen:
        """Refuse."""
        del paths, hand, progress
        raise PictureError("No golfer was found", why="nobody stands there.", fix="Take another.")


def pictures(folder: Path, /) -> dict[View, Path]:
    """The two pictures in a folder."""
    return {view: folder / f"{view.value}.jpg" for view in View}


def fill(folder: Path, /) -> Filled:
    """Make a book in a folder, with real pictures, assessed as they would be."""
    desk = open_desk(place_of(data=folder))
    student = _student(desk)
    lesson = _lesson(desk, student)
    reader = picture_reader()
    taken = [_take(desk, lesson, source) for source in (DEMO, SCENE, DEMO, DEMO)]
    for setup in taken[:2]:
        assess_kept(desk, setup, reader=reader)
    assess_kept(desk, taken[2], reader=Unreadable())
    make_plan(desk, student, asked=PlanAsked())
    check_kept(desk, taken[1])
    minor = keep_student(desk, StudentEntry(name=LONG_NAME, height="150 cm", minor=True)).id
    return Filled(
        desk=desk,
        student=student,
        lesson=lesson,
        setup=taken[1],
        other=taken[0],
        refused=taken[2],
        waiting=taken[3],
        minor=minor,
        minor_lesson=begin_lesson(desk, student_id=minor, focus="Grip first").id,
        planned=begin_lesson(desk, student_id=student, starts_at=_in_days(2), focus="Driver").id,
        secret=make_share(desk, lesson).secret,
    )


def _student(desk: Desk) -> str:
    entry = StudentEntry(
        name=NAME,
        hand="right",
        height="175 cm",
        weight="76 kg",
        shoe="EU 43",
        tape={"span": "178 cm", "inseam": "81 cm"},
        limits={"max_forward_bend": "40"},
        injuries="Lower back, in spring.",
        note="Comes on Wednesdays.",
    )
    student = keep_student(desk, entry).id
    clubs = tuple(BagClub(name=club.name) for club in standard_bag())
    keep_bag(desk, student, version=0, clubs=clubs)
    return student


def _lesson(desk: Desk, student: str) -> str:
    before = begin_lesson(desk, student_id=student, focus="Distance to the ball")
    task = Homework(words="Drop the arms, then grip", dose="ten times a day", due="2026-12-01")
    written = Written(focus=before.focus, note="Stood too near.", homework=[task])
    write_lesson(desk, before.id, version=before.version, written=written)
    lesson = begin_lesson(desk, student_id=student, focus="Ball position")
    written = Written(
        focus=lesson.focus,
        note="Moved it forward: at ease at once.",
        homework=[Homework(words="Five set-ups over the stick", dose="daily")],
        for_student="Good work today. The ball is the one thing to look after.",
        looked_at=False,
    )
    return write_lesson(desk, lesson.id, version=lesson.version, written=written).id


def _take(desk: Desk, lesson: str, source: Path) -> str:
    shown = {
        view: Shown(
            media=desk.media.keep(iter([path.read_bytes()]), most=10_000_000).media,
            name=path.name,
            kind="image/jpeg",
        )
        for view, path in pictures(source).items()
    }
    return take_setup(desk, lesson_id=lesson, club="7-iron", shot="", shown=shown)[0].id


def _in_days(days: int) -> str:
    return (datetime.now(UTC) + timedelta(days=days)).strftime("%Y-%m-%dT09:00:00.000000Z")
