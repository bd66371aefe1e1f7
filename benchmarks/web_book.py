"""A large lesson book, made quickly: rows go straight into the tables."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Final

from attrs import frozen
from sqlalchemy import Connection, Table, func, insert, select

from wellset.bootstrap import assess_demo
from wellset.bootstrap.book import moment_now, open_desk, place_of
from wellset.figure.views import View
from wellset.lessons import HowTaken
from wellset.measures import Measured
from wellset.reports.kept import ReportWriter
from wellset.services.assessment import Assessment
from wellset.services.landmark_file import landmark_file_text
from wellset.storage.engine import open_engine
from wellset.storage.how import how_text
from wellset.storage.packing import pack, sort_name
from wellset.storage.tables import BAG, DOCUMENT, LESSON, SETUP, SHOWN, STUDENT
from wellset.web.security.passwords import Passwords

PASSWORD: Final = "three-small-words"  # noqa: S105 - of a book that is thrown away
_AT_ONCE: Final = 1000
_CLUBS: Final = ("driver", "5-iron", "7-iron", "9-iron", "pitching wedge", "putter")
_FIRST: Final = ("Robin", "Sam", "Kim", "Alex", "Jo", "Ashley", "Noor", "Zoë", "Bela", "Mika")
_LAST: Final = ("Vale", "Reed", "Okafor", "Lind", "Moss", "Ångström", "Hale", "Ito", "Brook", "Ray")

Row = dict[str, object]


@frozen(kw_only=True)
class Filled:
    """What a filled book holds.

    Parameters
    ----------
    students : int
    student_ids, lesson_ids, setup_ids : tuple of str
        Some of them, spread over the book.
    names : tuple of str
        To search for.
    """

    students: int
    student_ids: tuple[str, ...]
    lesson_ids: tuple[str, ...]
    setup_ids: tuple[str, ...]
    names: tuple[str, ...] = _LAST


def fill(folder: Path, *, students: int, lessons: int) -> Filled:
    """Fill the book in a folder, unless it is filled already."""
    place = place_of(data=folder)
    desk = open_desk(place)
    engine = open_engine(place.url)
    with engine.connect() as connection, connection.begin():
        if not connection.scalar(select(func.count()).select_from(STUDENT)):
            _fill(connection, students=students, lessons=lessons)
    Passwords(book=desk.book).choose(PASSWORD)
    engine.dispose()
    step = max(lessons // 500, 1)
    return Filled(
        students=students,
        student_ids=tuple(f"s{i}" for i in range(0, students, max(students // 500, 1))),
        lesson_ids=tuple(f"l{i}" for i in range(0, lessons, step)),
        setup_ids=tuple(f"u{i}" for i in range(0, lessons, step)),
    )


def _fill(connection: Connection, *, students: int, lessons: int) -> None:
    chance = random.Random(11)  # noqa: S311 - repeatable, no secret
    made = _Made(assess_demo(), chance=chance, students=students, lessons=lessons)
    for table, rows in (
        (STUDENT, made.student_rows()),
        (BAG, made.bag_rows()),
        (LESSON, made.lesson_rows()),
        (SETUP, made.setup_rows()),
        (DOCUMENT, made.document_rows()),
        (SHOWN, made.shown_rows()),
    ):
        _insert(connection, table, rows=rows)


def _insert(connection: Connection, table: Table, *, rows: Iterator[Row]) -> None:
    waiting: list[Row] = []
    for row in rows:
        waiting.append(row)
        if len(waiting) == _AT_ONCE:
            connection.execute(insert(table), waiting)
            waiting = []
    if waiting:
        connection.execute(insert(table), waiting)


class _Made:
    """Rows of a book whose every set-up is the demo's, its numbers shaken."""

    def __init__(
        self, assessment: Assessment, *, chance: random.Random, students: int, lessons: int
    ) -> None:
        self._chance, self._students, self._lessons = chance, students, lessons
        documents = ReportWriter().documents(assessment, pictures={}, inches=False)
        sightings = {view: p.sighting for view, p in assessment.pictures.items()}
        self._packed = {
            "landmarks": pack(landmark_file_text(assessment.hand, sightings)),
            "assessment": pack(documents.assessment),
            "findings": pack(documents.findings),
        }
        self._measures: Mapping[str, Measured] = {
            name: each for name, each in assessment.measures.items() if isinstance(each, Measured)
        }
        self._now = moment_now()

    def _when(self, number: int) -> str:
        """The moment of a lesson: over three years back, the newest today."""
        if number >= self._lessons - 8:
            return f"{self._now[:10]}T{9 + number % 8:02}:00:00Z"
        year = int(self._now[:4]) - 1 - number % 3
        return f"{year}-{1 + number % 12:02}-{1 + number % 28:02}T{8 + number % 10:02}:15:00Z"

    def student_rows(self) -> Iterator[Row]:
        for i in range(self._students):
            name = f"{self._chance.choice(_FIRST)} {self._chance.choice(_LAST)} {i}"
            file = {"schema": "wellset.student/1", "name": name, "height": "178 cm"}
            yield {
                "id": f"s{i}",
                "version": 1,
                "name": name,
                "sort_name": sort_name(name),
                "hand": "right",
                "file": json.dumps({**file, "hand": "right"}),
                "units": "cm",
                "injuries": "",
                "note": "Comes on Tuesdays.",
                "minor": False,
                "guardian": None,
                "created_at": self._now,
                "changed_at": self._now,
            }

    def bag_rows(self) -> Iterator[Row]:
        clubs = json.dumps([{"name": name} for name in _CLUBS])
        for i in range(self._students):
            yield {"student": f"s{i}", "version": 1, "clubs": clubs}

    def lesson_rows(self) -> Iterator[Row]:
        task = {"drill": "", "words": "Ten bends a day", "dose": "daily", "state": "given"}
        for i in range(self._lessons):
            yield {
                "id": f"l{i}",
                "student": f"s{i % self._students}",
                "version": 1,
                "starts_at": self._when(i),
                "focus": "Bend from the hips",
                "note": "Went well. " * 20,
                "for_student": "Well done today.",
                "homework": json.dumps([{**task, "due": None}]),
                "looked_at": i % 1000 != 0,
                "created_at": self._now,
                "changed_at": self._now,
            }

    def setup_rows(self) -> Iterator[Row]:
        for i in range(self._lessons):
            readings = {
                name: [each.value + each.sd * self._chance.gauss(0, 1), each.sd]
                for name, each in self._measures.items()
            }
            yield {
                "id": f"u{i}",
                "lesson": f"l{i}",
                "student": f"s{i % self._students}",
                "version": 1,
                "taken_at": self._when(i),
                "club": _CLUBS[i // self._students % len(_CLUBS)],
                "shot": "",
                "standards": "",
                "assessed_at": self._when(i),
                "first_change": "hand_gap",
                "inside": 16,
                "outside": 6,
                "undecided": 4,
                "state": "assessed",
                "refusal": "",
                "how": how_text(HowTaken()),
                "plate": "",
                "readings": json.dumps(readings),
            }

    def document_rows(self) -> Iterator[Row]:
        for i in range(self._lessons):
            yield {"setup": f"u{i}", **self._packed}

    def shown_rows(self) -> Iterator[Row]:
        for i in range(self._lessons):
            for view in View:
                yield {
                    "setup": f"u{i}",
                    "view": view.value,
                    "media": f"{i:064x}",
                    "name": f"{view.value}.jpg",
                    "kind": "image/jpeg",
                    "preview": f"{i:064x}",
                }
