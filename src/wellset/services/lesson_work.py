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

from wellset.advise import Verdict
from wellset.errors import (
    ConflictError,
    EstimationError,
    InputError,
    MissingError,
    PictureError,
    SceneError,
)
from wellset.figure.still import Choice
from wellset.figure.views import View
from wellset.lessons import (
    HowTaken,
    Reading,
    SetUp,
    SetUpState,
    Shown,
    Summary,
)
from wellset.measures import Measured
from wellset.services.asked import Asked, asked_about, club_used, plate_text
from wellset.services.assess_setup import assess_setup
from wellset.services.assessment import Assessment
from wellset.services.book import Book, Job
from wellset.services.check_plan import Check
from wellset.services.landmark_file import landmark_file_text, read_landmarks
from wellset.services.media_store import MediaStore
from wellset.services.plan_bag import BagPlan
from wellset.services.ports import OpenedPicture, PictureReader, Progress, Seen, silent
from wellset.services.weighing import check_plate
from wellset.standards import shot_named

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


@frozen(kw_only=True)
class CheckWords:
    """A comparison with a plan as it is kept: its JSON document, and the same as part of a page."""

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

    def comparison(self, check: Check, *, pictures: Mapping[View, str], inches: bool) -> CheckWords:
        """A comparison as its document and as part of a page."""

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
    desk: Desk,
    *,
    lesson_id: str,
    club: str,
    shot: str,
    shown: Mapping[View, Shown],
    how: HowTaken | None = None,
) -> tuple[SetUp, Job]:
    """Put one or two pictures or clips into a lesson, and the work on them into the line.

    Raises
    ------
    InputError
        Nothing to look at, an unknown club or shot, pictures nobody allowed, or a choice
        among the set-ups of what is no clip.
    EquipmentError
        A club that breaks the rules.
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
    how = how if how is not None else HowTaken()
    check_how(desk, how, shown=shown)
    now = desk.now()
    with desk.book.writing() as pages:
        lesson = pages.lesson(lesson_id)
        pages.student(lesson.student).require_pictures_allowed()
        named = club_used(pages.bag(lesson.student), club, how=how)
        setup = SetUp(
            id=new_id(),
            lesson=lesson.id,
            student=lesson.student,
            taken_at=now,
            club=named.name,
            shot=shot,
            shown=shown,
            how=how,
        )
        job = Job(id=new_id(), kind=ASSESS, subject=setup.id, created_at=now, changed_at=now)
        pages.add_job(job)
        return pages.save_setup(setup), job


def check_how(desk: Desk, how: HowTaken, /, *, shown: Mapping[View, Shown]) -> None:
    """Refuse what cannot be so.

    Raises
    ------
    InputError
        A choice among the set-ups of what is no clip, or a plate's file that cannot be read.
    MissingError
        The plate's file is not there.
    """
    for view, _ in how.choices:
        if view not in shown or not shown[view].moves:
            raise InputError(
                "There is nothing to choose from",
                why=f"no {view.words} video was given, and a picture shows one moment.",
                fix="Leave the start and the swing empty, or give a video.",
            )
    check_plate(plate_text(desk.media, how.plate))


def again(desk: Desk, setup_id: str, /, *, how: HowTaken | None = None) -> Job:
    """Put the work on a set-up into the line once more.

    Parameters
    ----------
    how : HowTaken, optional
        How it was taken, where that was said wrongly before.

    Raises
    ------
    MissingError, InputError, EquipmentError
    """
    now = desk.now()
    with desk.book.writing() as pages:
        setup = pages.setup(setup_id)
        if how is not None:
            check_how(desk, how, shown=setup.shown)
            club_used(pages.bag(setup.student), setup.club, how=how)
            setup = evolve(setup, how=how)
        job = Job(id=new_id(), kind=ASSESS, subject=setup.id, created_at=now, changed_at=now)
        pages.save_setup(evolve(setup, state=SetUpState.WAITING, refusal=""))
        pages.add_job(job)
    return job


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
        asked = asked_about(pages, setup_id, media=desk.media)
    try:
        with ExitStack() as lent:
            paths = {
                view: str(lent.enter_context(desk.media.lend(shown.media, name=shown.name)))
                for view, shown in asked.setup.shown.items()
            }
            choices = {paths[view]: choice for view, choice in asked.setup.how.choices}
            assessment = assess_setup(
                asked.request(paths=paths, landmarks=None),
                reader=reader.choosing(choices) if choices else reader,
                progress=progress,
            )
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
        asked = asked_about(pages, setup_id, media=desk.media)
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
            how=setup.how if version is None else asked.setup.how,
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

    def choosing(self, choices: Mapping[str, Choice], /) -> Blind:
        """The same: it looks at nothing."""
        del choices
        return self

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
