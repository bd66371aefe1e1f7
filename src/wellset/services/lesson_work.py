"""Use cases of a lesson: take a set-up, assess it, move its points, judge it anew."""

from __future__ import annotations

import json
import uuid
from collections.abc import Callable, Mapping
from contextlib import ExitStack
from typing import Final, Protocol

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from wellset.advise import DrillBook, Verdict
from wellset.equipment import Club, find_club
from wellset.errors import (
    ConflictError,
    EstimationError,
    InputError,
    MissingError,
    PictureError,
    SceneError,
)
from wellset.figure.views import View
from wellset.lessons import (
    Bag,
    Reading,
    SetUp,
    SetUpState,
    Shown,
    StudentCard,
    Summary,
    WrittenUnits,
)
from wellset.measures import Measured
from wellset.services.assess_setup import Request, assess_setup
from wellset.services.assessment import Assessment, Student
from wellset.services.book import Book, Job, MediaStore, Pages
from wellset.services.drills_file import drills_in_force
from wellset.services.landmark_file import LandmarkFile, landmark_file_text, read_landmarks
from wellset.services.plan_bag import BagPlan
from wellset.services.ports import OpenedPicture, PictureReader, Progress, Seen, silent
from wellset.services.student_file import make_student
from wellset.standards import Standards, default_standards, load_standards, shot_named

ASSESS: Final = "assess"
"""Kind of the job that assesses a set-up."""


@frozen(kw_only=True)
class Documents:
    """An assessment as it is kept: its JSON document, and the findings as part of a page."""

    assessment: str
    findings: str


@frozen(kw_only=True)
class PlanWords:
    """A plan as it is kept: its JSON document, and the same as part of a page."""

    document: str
    page: str


class Writer(Protocol):
    """Puts an assessment into words."""

    def documents(
        self, assessment: Assessment, *, pictures: Mapping[View, str], inches: bool
    ) -> Documents:
        """The documents; pictures by the addresses where pages find them."""

    def plan(self, bag: BagPlan, *, inches: bool) -> PlanWords:
        """A plan as its document and as part of a page."""

    def preview(self, rgb: NDArray[np.uint8], /) -> bytes:
        """An upright picture as a file that every browser shows, without any tag."""


def new_id() -> str:
    """A name that nobody can guess and nobody else has."""
    return uuid.uuid4().hex


@frozen(kw_only=True)
class Desk:
    """What every use case of the lesson book works with.

    Parameters
    ----------
    book : Book
    media : MediaStore
    now : callable
        The moment, as text.
    writer : Writer
    """

    book: Book
    media: MediaStore
    now: Callable[[], str]
    writer: Writer


def take_setup(
    desk: Desk, *, lesson_id: str, club: str, shot: str, shown: Mapping[View, Shown]
) -> tuple[SetUp, Job]:
    """Put one or two pictures or clips into a lesson, and the work on them into the line.

    Raises
    ------
    InputError
        Nothing to look at, an unknown club or shot, or pictures nobody allowed.
    MissingError
        The lesson, or a picture, is not there.
    """
    if not shown:
        raise InputError(
            "There is nothing to assess",
            why="neither picture was given.",
            fix="Take or choose the face-on picture, the down-the-line picture, or both.",
        )
    if shot:
        shot_named(shot)
    for each in shown.values():
        desk.media.path(each.media)
    now = desk.now()
    with desk.book.writing() as pages:
        lesson = pages.lesson(lesson_id)
        pages.student(lesson.student).require_pictures_allowed()
        named = club_of(pages.bag(lesson.student), club)
        setup = SetUp(
            id=new_id(),
            lesson=lesson.id,
            student=lesson.student,
            taken_at=now,
            club=named.name,
            shot=shot,
            shown=shown,
        )
        job = Job(id=new_id(), kind=ASSESS, subject=setup.id, created_at=now, changed_at=now)
        pages.add_job(job)
        return pages.save_setup(setup), job


def again(desk: Desk, setup_id: str, /) -> Job:
    """Put the work on a set-up into the line once more.

    Raises
    ------
    MissingError
    """
    now = desk.now()
    with desk.book.writing() as pages:
        setup = pages.setup(setup_id)
        job = Job(id=new_id(), kind=ASSESS, subject=setup.id, created_at=now, changed_at=now)
        pages.save_setup(evolve(setup, state=SetUpState.WAITING, refusal=""))
        pages.add_job(job)
    return job


def club_of(bag: Bag, name: str, /) -> Club:
    """The club of this name as it was measured in the bag, or a typical one."""
    wanted = find_club(name)
    for entry in bag.clubs:
        club = entry.club()
        if club.name == wanted.name:
            return club
    return wanted


def standards_in_force(pages: Pages, /) -> Standards:
    """The coach's current standards, or the default ones."""
    version = pages.current_standards()
    if version is None:
        return default_standards()
    return load_standards(version.text, where=version.name)


def student_of(card: StudentCard, /) -> Student:
    """The student whose card it is."""
    return make_student(height=None, file_text=card.file, where=card.name)


@frozen(kw_only=True, eq=False)
class Asked:
    """A kept set-up with everything it is assessed by."""

    setup: SetUp
    student: Student
    club: Club
    standards: Standards
    drills: DrillBook
    inches: bool

    def request(self, *, paths: Mapping[View, str], landmarks: LandmarkFile | None) -> Request:
        """What to assess: pictures at these paths, points from this file, or both."""
        return Request(
            pictures=paths,
            student=self.student,
            club=self.club,
            standards=self.standards,
            drills=self.drills,
            shot=self.setup.shot or None,
            hand=self.student.hand,
            landmarks=landmarks,
        )


def asked_about(pages: Pages, setup_id: str, /) -> Asked:
    """A kept set-up with its student, club and the standards in force.

    Raises
    ------
    MissingError
    """
    setup = pages.setup(setup_id)
    card = pages.student(setup.student)
    return Asked(
        setup=setup,
        student=student_of(card),
        inches=card.units is WrittenUnits.INCHES,
        club=club_of(pages.bag(setup.student), setup.club),
        standards=standards_in_force(pages),
        drills=drills_in_force(pages),
    )


def assess_kept(
    desk: Desk, setup_id: str, *, reader: PictureReader, progress: Progress = silent
) -> SetUp:
    """Look at a set-up's pictures, assess it, and keep the result.

    A set-up that cannot be assessed is kept with the reason; it is no error.

    Raises
    ------
    MissingError
        When the set-up was removed.
    """
    with desk.book.reading() as pages:
        asked = asked_about(pages, setup_id)
    try:
        with ExitStack() as lent:
            paths = {
                view: str(lent.enter_context(desk.media.lend(shown.media, name=shown.name)))
                for view, shown in asked.setup.shown.items()
            }
            request = asked.request(paths=paths, landmarks=None)
            assessment = assess_setup(request, reader=reader, progress=progress)
    except (PictureError, SceneError, EstimationError, InputError, MissingError) as error:
        return _refuse(desk, setup_id, why=error.sentence)
    return keep(desk, asked, assessment=assessment)


def refit(desk: Desk, setup_id: str, *, landmarks: str, version: int) -> SetUp:
    """Solve a set-up anew from a landmark file, without looking at the pictures again.

    Parameters
    ----------
    landmarks : str
        The landmark file with the coach's points.
    version : int
        Of the set-up the coach was looking at.

    Raises
    ------
    ConflictError
        When another tab or device moved points meanwhile.
    InputError
        When the file cannot be used.
    """
    with desk.book.reading() as pages:
        asked = asked_about(pages, setup_id)
    require_version(asked.setup, version)
    given = read_landmarks(landmarks, where="landmarks")
    assessment = assess_setup(asked.request(paths={}, landmarks=given), reader=Blind())
    return keep(desk, asked, assessment=assessment, version=version)


def require_version(setup: SetUp, version: int) -> None:
    """Stop where the points are no longer those that somebody was looking at.

    Raises
    ------
    ConflictError
    """
    if setup.version != version:
        raise ConflictError(
            "The points of this set-up were changed meanwhile",
            why="another tab or device saved them after you opened the picture.",
            fix="Load the newer points, or save yours over them.",
        )


def keep(desk: Desk, asked: Asked, *, assessment: Assessment, version: int | None = None) -> SetUp:
    """Keep an assessment; with a version, only over what had it."""
    sightings = {view: p.sighting for view, p in assessment.pictures.items()}
    verdicts = [finding.verdict for finding in assessment.findings]
    now, first = desk.now(), assessment.advice.first
    shown = _with_previews(desk, asked.setup, assessment=assessment)
    documents = desk.writer.documents(
        assessment,
        pictures={
            view: picture_address(asked.setup.id, view, shown=each) for view, each in shown.items()
        },
        inches=asked.inches,
    )
    with desk.book.writing() as pages:
        setup = pages.setup(asked.setup.id)
        readings = {
            name: Reading(when=setup.taken_at, value=result.value, sd=result.sd)
            for name, result in assessment.measures.items()
            if isinstance(result, Measured)
        }
        done = evolve(
            setup,
            version=setup.version if version is None else version,
            landmarks=landmark_file_text(assessment.hand, sightings),
            shown=shown,
            assessment=documents.assessment,
            findings=documents.findings,
            standards=asked.standards.digest,
            assessed_at=now,
            state=SetUpState.ASSESSED,
            refusal="",
            summary=Summary(
                first_change=first.measure if first is not None else "",
                inside=verdicts.count(Verdict.INSIDE),
                outside=verdicts.count(Verdict.OUTSIDE),
                undecided=verdicts.count(Verdict.UNDECIDED),
            ),
        )
        return pages.save_setup(done, readings=readings)


def _with_previews(desk: Desk, setup: SetUp, *, assessment: Assessment) -> Mapping[View, Shown]:
    """What is shown, with the pictures that were looked at kept as browsers show them."""
    shown = dict(setup.shown)
    for view, picture in assessment.pictures.items():
        if picture.rgb is not None and view in shown:
            data = desk.writer.preview(picture.rgb)
            kept = desk.media.keep(iter([data]), most=len(data))
            shown[view] = evolve(shown[view], preview=kept.media)
    return shown


def picture_address(setup_id: str, view: View, *, shown: Shown) -> str:
    """Where pages find a set-up's picture; changes with it, so it may be kept."""
    return f"/setups/{setup_id}/{view.value}.jpg?v={shown.preview[:12]}"


def _refuse(desk: Desk, setup_id: str, *, why: str) -> SetUp:
    with desk.book.writing() as pages:
        setup = pages.setup(setup_id)
        return pages.save_setup(evolve(setup, state=SetUpState.REFUSED, refusal=why))


class Blind:
    """Stands in for the reader where no picture is looked at."""

    def open(self, path: str, /) -> OpenedPicture:
        """Refuse."""
        raise InputError(
            "A picture cannot be opened here",
            why=f"{path} was given where only points are.",
            fix="Assess the pictures again.",
        )

    def look(self, paths: Mapping[View, str], **_: object) -> Seen:
        """Refuse: the landmark file was not whole."""
        missing = ", ".join(view.words for view in paths)
        raise InputError(
            "The points of a picture are missing",
            why=f"the landmark file does not place the {missing} picture whole.",
            fix="Send all points of each picture.",
        )


def document_of(setup: SetUp, /) -> dict[str, object]:
    """The assessment document of a set-up; empty before there is one."""
    data: dict[str, object] = json.loads(setup.assessment) if setup.assessment else {}
    return data
