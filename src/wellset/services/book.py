"""The lesson book as the use cases need it: who keeps it, and how, is behind these ports."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from contextlib import AbstractContextManager
from enum import StrEnum
from typing import Generic, Protocol, TypeVar

from attrs import field, frozen

from wellset.lessons import Bag, Lesson, Reading, SetUp, StudentCard

Item = TypeVar("Item")


@frozen(kw_only=True)
class Slice(Generic[Item]):
    """Part of a long list.

    Parameters
    ----------
    items : tuple
    total : int
        How many there are altogether.
    """

    items: tuple[Item, ...]
    total: int


@frozen(kw_only=True)
class StandardsVersion:
    """A coach's standards as they once were; lessons remember the digest.

    Parameters
    ----------
    digest, name : str
    text : str
        The standards file.
    saved_at : str
        Moment.
    current : bool
        Whether new set-ups are judged by it.
    """

    digest: str
    name: str
    text: str
    saved_at: str
    current: bool = False


@frozen(kw_only=True)
class DrillsVersion:
    """A coach's drills as they once were: what differs from the house's.

    Parameters
    ----------
    digest, name : str
    what : str
        What this version changed, in a few words.
    text : str
        The drill document (``wellset.drills/1``).
    saved_at : str
        Moment.
    current : bool
        Whether drills are taken from it.
    """

    digest: str
    name: str
    what: str
    text: str
    saved_at: str
    current: bool = False


@frozen(kw_only=True)
class PlanRecord:
    """A student's plan as it was worked out.

    Parameters
    ----------
    student : str
    made_at : str
        Moment.
    asked : str
        What it was worked out from, as JSON: limits, shot, slope, standards' digest.
    document : str
        The plan document (``wellset.plan/…``).
    page : str
        The same as a part of a page, so that it is shown at once.
    """

    student: str
    made_at: str
    asked: str
    document: str
    page: str = ""


@frozen(kw_only=True)
class Comparison:
    """A set-up compared with its student's plan, as a coach last saw it.

    Parameters
    ----------
    setup : str
    version : int
        Of the set-up that was compared.
    made_at : str
        Moment.
    made_of : str
        Digest of everything it follows from: it is made anew when that differs.
    document : str
        The comparison (``wellset.check/…``).
    page : str
        The same as a part of a page.
    """

    setup: str
    version: int
    made_at: str
    made_of: str
    document: str
    page: str


@frozen(kw_only=True)
class Share:
    """A read-only link to one lesson. Only the digest of its secret is kept.

    Parameters
    ----------
    id, lesson : str
    secret_digest : str
        SHA-256 of the secret in the link.
    created_at, expires_at : str
        Moments.
    revoked_at : str or None
    """

    id: str
    lesson: str
    secret_digest: str
    created_at: str
    expires_at: str
    revoked_at: str | None = None


class JobState(StrEnum):
    """Where a piece of background work stands."""

    WAITING = "waiting"
    RUNNING = "running"
    DONE = "done"
    FAILED = "failed"
    STOPPED = "stopped"


@frozen(kw_only=True)
class Job:
    """A piece of background work; its row outlives the program.

    Parameters
    ----------
    id : str
    kind : str
        Which use case runs.
    subject : str
        Id of what it works on: a set-up.
    arguments : str
        As JSON.
    state : JobState
    step, share : str, float
        What is being done, and how much of it is done, 0 to 1.
    problem : str
        Why it failed, in a sentence.
    tries : int
        How often it was begun.
    """

    id: str
    kind: str
    subject: str
    arguments: str = "{}"
    state: JobState = field(default=JobState.WAITING, converter=JobState)
    step: str = ""
    share: float = 0.0
    problem: str = ""
    tries: int = 0
    created_at: str
    changed_at: str


class Students(Protocol):
    """Students and their bags."""

    def student(self, student_id: str, /) -> StudentCard:
        """One student. Raises :class:`MissingError`."""

    def find_students(
        self, text: str = "", *, limit: int = 50, offset: int = 0
    ) -> Slice[StudentCard]:
        """Students whose name holds every word of the text, in order of name."""

    def save_student(self, card: StudentCard, /) -> StudentCard:
        """Keep a card; `version` must be the kept one's. Returns it with the next version.

        Raises
        ------
        ConflictError
            When it was changed meanwhile.
        """

    def remove_student(self, student_id: str, /) -> tuple[str, ...]:
        """Remove a student and all of theirs; the media that nothing refers to any more."""

    def bag(self, student_id: str, /) -> Bag:
        """The student's bag; an empty one of version 0 when none was kept."""

    def save_bag(self, bag: Bag, /) -> Bag:
        """Keep a bag, as :meth:`save_student` does."""


class Lessons(Protocol):
    """Lessons, set-ups and their measures."""

    def lesson(self, lesson_id: str, /) -> Lesson:
        """One lesson. Raises :class:`MissingError`."""

    def lessons_of(self, student_id: str, *, limit: int = 50, offset: int = 0) -> Slice[Lesson]:
        """A student's lessons, newest first."""

    def lessons_between(self, begin: str, end: str) -> tuple[Lesson, ...]:
        """Lessons that start at or after one moment and before another, in order."""

    def lessons_to_look_at(self, *, limit: int = 50) -> Slice[Lesson]:
        """Lessons that await a look, oldest first."""

    def save_lesson(self, lesson: Lesson, /) -> Lesson:
        """Keep a lesson, as :meth:`Students.save_student` does."""

    def remove_lesson(self, lesson_id: str, /) -> tuple[str, ...]:
        """Remove a lesson and its set-ups; the media that nothing refers to any more."""

    def setup(self, setup_id: str, /) -> SetUp:
        """One set-up. Raises :class:`MissingError`."""

    def setups_of(self, lesson_id: str, /) -> tuple[SetUp, ...]:
        """A lesson's set-ups in the order they were taken."""

    def save_setup(self, setup: SetUp, *, readings: Mapping[str, Reading] | None = None) -> SetUp:
        """Keep a set-up with its measures, as :meth:`Students.save_student` does."""

    def remove_setup(self, setup_id: str, /) -> tuple[str, ...]:
        """Remove a set-up; the media that nothing refers to any more."""

    def unused(self, media: Iterable[str], /) -> tuple[str, ...]:
        """Those media that no set-up refers to any more."""

    def readings_of(
        self, student_id: str, *, measure: str | None = None, club: str | None = None
    ) -> Sequence[tuple[SetUp, Mapping[str, Reading]]]:
        """Measures of a student's set-ups, oldest first; set-ups come without documents."""


class Shelf(Protocol):
    """Standards, drills, plans and links."""

    def standards_versions(self) -> tuple[StandardsVersion, ...]:
        """All kept versions, newest first."""

    def current_standards(self) -> StandardsVersion | None:
        """The version in force; ``None`` for the default that comes with the program."""

    def save_standards(self, version: StandardsVersion, /) -> None:
        """Keep a version; when it is current, no other is."""

    def drills_versions(self) -> tuple[DrillsVersion, ...]:
        """All kept versions of the drills, newest first."""

    def current_drills(self) -> DrillsVersion | None:
        """The version in force; ``None`` for the house's that come with the program."""

    def save_drills(self, version: DrillsVersion, /) -> None:
        """Keep a version; when it is current, no other is."""

    def recent_setups(self, *, limit: int = 200) -> tuple[SetUp, ...]:
        """Assessed set-ups with their documents, newest first, to try standards on."""

    def plan(self, student_id: str, /) -> PlanRecord | None:
        """The student's latest plan."""

    def save_plan(self, plan: PlanRecord, /) -> None:
        """Keep a plan in place of the last."""

    def comparison(self, setup_id: str, /) -> Comparison | None:
        """The comparison of a set-up that was kept last."""

    def save_comparison(self, comparison: Comparison, /) -> None:
        """Keep a comparison in place of the last."""

    def share(self, secret_digest: str, /) -> Share | None:
        """The link with this secret, whether it still holds or not."""

    def shares_of(self, lesson_id: str, /) -> tuple[Share, ...]:
        """A lesson's links, newest first."""

    def save_share(self, share: Share, /) -> None:
        """Keep a link or what became of it."""

    def setting(self, name: str, /) -> str | None:
        """A setting of the book, such as the coach's hashed password."""

    def save_setting(self, name: str, value: str | None, /) -> None:
        """Keep a setting; ``None`` removes it."""


class Jobs(Protocol):
    """The durable table of background work."""

    def job(self, job_id: str, /) -> Job:
        """One job. Raises :class:`MissingError`."""

    def jobs_about(self, subject: str, /) -> tuple[Job, ...]:
        """Jobs on one thing, newest first."""

    def add_job(self, job: Job, /) -> None:
        """Put a job at the end of the line."""

    def claim_job(self, *, now: str) -> Job | None:
        """Take the oldest waiting job: it is running from here on, and nobody else has it."""

    def update_job(self, job: Job, /) -> None:
        """Keep what became of a job."""

    def abandoned_jobs(self) -> tuple[Job, ...]:
        """Jobs that are said to run; after a start of the program nobody runs them."""


class Pages(Students, Lessons, Shelf, Jobs, Protocol):
    """Everything in the book, inside one transaction."""


class Book(Protocol):
    """Opens the book for one consistent look or one change that happens whole or not."""

    def reading(self) -> AbstractContextManager[Pages]:
        """Look at the book."""

    def writing(self) -> AbstractContextManager[Pages]:
        """Change the book; everything is undone when an error leaves the block.

        Raises
        ------
        StorageError
            When the change could not be kept (disk full, database locked).
        """
