"""Use case: what points that a coach is moving would change, before anything is kept."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock
from typing import Final

from attrs import define, evolve, field, frozen

from wellset.advise import first_change as advised_change
from wellset.assess import Fit
from wellset.errors import MissingError
from wellset.lessons import HowTaken, SetUp
from wellset.services.asked import Asked, asked_about
from wellset.services.assess_setup import assess_setup
from wellset.services.assessment import Assessment
from wellset.services.book import Pages
from wellset.services.first_change import ranked_changes
from wellset.services.landmark_file import LandmarkFile, read_landmarks
from wellset.services.lesson_work import (
    Blind,
    Desk,
    keep,
    require_version,
)
from wellset.services.memory import Memory

REMEMBERED: Final = 6
"""Set-ups whose solution is kept ready: a coach moves points of one, rarely of two at once."""

_Key = tuple[int, int, int, str, str, HowTaken]


@frozen(kw_only=True, eq=False)
class Moved:
    """A set-up as it is kept, and with the points as they are being moved.

    Parameters
    ----------
    before, after : Assessment
        Their advice follows the order of checking alone.
    first_before : str
        The measure to change first as it was kept, or ``""``.
    first : str or None
        The same with the moved points; ``None`` when it was not asked for.
    inches : bool
        Whether the student's lengths are written in inches.
    """

    before: Assessment
    after: Assessment
    first_before: str
    first: str | None
    inches: bool


@frozen(kw_only=True, eq=False)
class _Ready:
    """A kept set-up with all it is judged by, solved."""

    key: _Key
    asked: Asked
    kept: Assessment
    memory: Memory = field(factory=Memory)


@define(eq=False)
class Bench:
    """Where points are tried: the solutions of the last few set-ups stay here.

    Every trial starts from the solution of the points as they are kept, so that its result
    depends on nothing that was tried before.
    """

    _ready: OrderedDict[str, _Ready] = field(factory=OrderedDict, init=False)
    _lock: Lock = field(factory=Lock, init=False)

    def preview(
        self, desk: Desk, setup_id: str, *, landmarks: str, first_change: bool = False
    ) -> Moved:
        """Solve a set-up with other points, and keep nothing.

        Parameters
        ----------
        landmarks : str
            The landmark file with the points as they are now.
        first_change : bool
            Whether to tell what to change first too; it takes as long as all the rest.

        Raises
        ------
        MissingError
            When the set-up, or its points, are not there.
        InputError, SceneError, EstimationError
            When the points cannot be used.
        """
        given = read_landmarks(landmarks, where="landmarks")
        ready = self._made_ready(desk, setup_id)
        request = ready.asked.request(paths={}, landmarks=given)
        after = assess_setup(request, reader=Blind(), near=_near(ready, given), thorough=False)
        return Moved(
            before=ready.kept,
            after=after,
            first_before=ready.asked.setup.summary.first_change,
            first=_first(after) if first_change else None,
            inches=ready.asked.inches,
        )

    def keep(self, desk: Desk, setup_id: str, *, landmarks: str, version: int) -> SetUp:
        """Solve a set-up with other points, and keep it: :func:`lesson_work.refit`, made ready.

        The search begins at the solution of the points as they were kept, where it is
        remembered, and what doesn't hang on the moved points is not worked out again.

        Parameters
        ----------
        landmarks : str
            The landmark file with the coach's points.
        version : int
            Of the set-up the coach was looking at.

        Raises
        ------
        MissingError, ConflictError
        InputError, SceneError, EstimationError
            When the points cannot be used.
        """
        with desk.book.reading() as pages:
            setup = pages.setup(setup_id)
            require_version(setup, version)
            ready = self._remembered(setup_id, key=_key(pages, setup))
            asked = (
                ready.asked if ready is not None else asked_about(pages, setup_id, media=desk.media)
            )
        given = read_landmarks(landmarks, where="landmarks")
        memory = ready.memory if ready is not None else Memory()
        assessment = assess_setup(
            asked.request(paths={}, landmarks=given),
            reader=Blind(),
            near=_near(ready, given),
            memory=memory,
        )
        after = keep(desk, asked, assessment=assessment, version=version)
        with desk.book.reading() as pages:
            key = _key(pages, after)
        self._remember(
            setup_id,
            _Ready(key=key, asked=evolve(asked, setup=after), kept=assessment, memory=memory),
        )
        return after

    def _remembered(self, setup_id: str, *, key: _Key) -> _Ready | None:
        with self._lock:
            ready = self._ready.get(setup_id)
            if ready is None or ready.key != key:
                return None
            self._ready.move_to_end(setup_id)
            return ready

    def _remember(self, setup_id: str, ready: _Ready) -> None:
        with self._lock:
            self._ready[setup_id] = ready
            self._ready.move_to_end(setup_id)
            while len(self._ready) > REMEMBERED:
                self._ready.popitem(last=False)

    def _made_ready(self, desk: Desk, setup_id: str) -> _Ready:
        with desk.book.reading() as pages:
            setup = points_of(pages, setup_id)
            key = _key(pages, setup)
            ready = self._remembered(setup_id, key=key)
            if ready is not None:
                return ready
            asked = asked_about(pages, setup_id, media=desk.media)
        request = asked.request(paths={}, landmarks=kept_points(setup))
        kept = assess_setup(request, reader=Blind(), thorough=False)
        ready = _Ready(key=key, asked=asked, kept=kept)
        self._remember(setup_id, ready)
        return ready


def _near(ready: _Ready | None, given: LandmarkFile) -> Fit | None:
    """Where the search for these points begins: the kept solution, if it is of the same views."""
    if ready is None or set(given.sightings) != set(ready.kept.pictures):
        return None
    return ready.kept.fit


def _first(assessment: Assessment, /) -> str:
    """The measure to change first, by what each change would bring along."""
    ranked = ranked_changes(
        assessment.fit.figure,
        assessment.findings,
        measures=assessment.measures,
        build=assessment.student.build,
        club=assessment.club,
    )
    first = advised_change(assessment.findings, ranked).first
    return first.measure if first is not None else ""


def points_of(pages: Pages, setup_id: str, /) -> SetUp:
    """A set-up that has points.

    Raises
    ------
    MissingError
    """
    setup = pages.setup(setup_id)
    if not setup.landmarks:
        raise MissingError(
            "There are no points to move yet",
            why="the pictures of this set-up were not assessed.",
            fix="Wait until they are, or take them again.",
        )
    return setup


def kept_points(setup: SetUp, /) -> LandmarkFile:
    """The points of a set-up as they are kept."""
    return read_landmarks(setup.landmarks, where="the kept points")


def _key(pages: Pages, setup: SetUp, /) -> _Key:
    """What a solution and its judgement rest on; another one when any of it changes."""
    standards, drills = pages.current_standards(), pages.current_drills()
    return (
        setup.version,
        pages.student(setup.student).version,
        pages.bag(setup.student).version,
        standards.digest if standards is not None else "",
        drills.digest if drills is not None else "",
        setup.how,
    )
