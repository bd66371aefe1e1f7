"""Wiring of the lesson book: where it lies, who works on it."""

from __future__ import annotations

import multiprocessing
import time
from concurrent.futures import ProcessPoolExecutor
from datetime import UTC, datetime
from functools import cache, partial
from pathlib import Path
from typing import Final

from attrs import evolve, frozen
from platformdirs import user_data_path

from wellset.bootstrap import one_blas_thread, picture_reader
from wellset.errors import InputError, MissingError, OutputError
from wellset.jobs import JobLine
from wellset.reports.kept import ReportWriter
from wellset.services.book import Job, JobState
from wellset.services.lesson_work import ASSESS, Desk, assess_kept
from wellset.services.ports import PictureReader
from wellset.storage import (
    Counted,
    FolderMedia,
    SqlBook,
    back_up,
    restore,
    sqlite_url,
    upgrade,
)

_DATABASE: Final = "book.db"
_MEDIA: Final = "media"
_TELL_EVERY_S: Final = 0.25


@frozen(kw_only=True)
class Place:
    """Where a lesson book lies.

    Parameters
    ----------
    folder : Path
        Holds the media, and the database unless `url` leads elsewhere.
    url : str
        Address of the database.
    """

    folder: Path
    url: str


def moment_now() -> str:
    """The moment in universal time, to the microsecond."""
    return datetime.now(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")


def place_of(*, data: str | Path | None = None, database: str | None = None) -> Place:
    """Where the lesson book lies: the person's data folder, unless told otherwise.

    Raises
    ------
    OutputError
        When the folder cannot be made.
    """
    folder = Path(data) if data is not None else user_data_path("wellset", appauthor=False)
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise OutputError(
            "The folder of the lesson book cannot be made",
            why=f"the system says: {error.strerror}.",
            fix="Choose another one with --data.",
            where=str(folder),
        ) from error
    return Place(folder=folder.resolve(), url=database or sqlite_url(folder / _DATABASE))


def open_desk(place: Place, /) -> Desk:
    """The lesson book, brought to the tables of this version."""
    upgrade(place.url)
    FolderMedia(place.folder / _MEDIA).sweep()
    return _desk(place)


def back_up_book(place: Place, goal: str | Path) -> Counted:
    """Write a whole lesson book into one file.

    Raises
    ------
    WellsetError
    """
    require_book(place, what="back up")
    upgrade(place.url)
    return back_up(place.url, media=FolderMedia(place.folder / _MEDIA), goal=Path(goal))


def require_book(place: Place, /, *, what: str) -> None:
    """Stop before an empty book is made where one was looked for.

    Raises
    ------
    InputError
    """
    if (
        place.url == sqlite_url(place.folder / _DATABASE)
        and not (place.folder / _DATABASE).exists()
    ):
        raise InputError(
            f"There is nothing to {what}",
            why="no lesson book lies there.",
            fix="Give its folder with --data.",
            where=str(place.folder),
        )


def restore_book(place: Place, source: str | Path) -> Counted:
    """Fill an empty lesson book from a backup.

    Raises
    ------
    WellsetError
    """
    upgrade(place.url)
    return restore(place.url, media=FolderMedia(place.folder / _MEDIA), source=Path(source))


def _desk(place: Place) -> Desk:
    return Desk(
        book=SqlBook(place.url),
        media=FolderMedia(place.folder / _MEDIA),
        now=moment_now,
        writer=ReportWriter(),
    )


def job_line(place: Place, desk: Desk, *, workers: int = 1) -> JobLine:
    """The line of background work, in processes that load the networks once."""
    return JobLine(
        book=desk.book,
        work=partial(do_job, place),
        new_executor=lambda: ProcessPoolExecutor(
            workers, mp_context=multiprocessing.get_context("spawn")
        ),
        workers=workers,
        now=moment_now,
    )


@cache
def _at_work(place: Place) -> tuple[Desk, PictureReader]:
    """What a worker keeps from job to job."""
    return _desk(place), picture_reader()


def do_job(place: Place, job_id: str) -> None:
    """Do one job to its end; runs in a worker."""
    desk, reader = _at_work(place)
    with desk.book.reading() as pages:
        job = pages.job(job_id)
    if job.kind != ASSESS:
        raise InputError(
            "This piece of work is not known", why=f"its kind is {job.kind}.", fix="Update."
        )
    told = _Told(desk, job)
    try:
        with one_blas_thread():
            assess_kept(desk, job.subject, reader=reader, progress=told)
        told.over(JobState.DONE)
    except MissingError as error:
        told.over(JobState.STOPPED, problem=error.sentence)


class _Told:
    """Progress as the job's row shows it, not more often than anybody can see."""

    def __init__(self, desk: Desk, job: Job) -> None:
        self._desk = desk
        self._job = job
        self._last = 0.0

    def __call__(self, step: str, share: float) -> None:
        now = time.monotonic()
        if step != self._job.step or now - self._last >= _TELL_EVERY_S:
            self._last = now
            self._save(evolve(self._job, step=step, share=share))

    def over(self, state: JobState, *, problem: str = "") -> None:
        """The job has come to an end."""
        self._save(evolve(self._job, state=state, step="", share=1.0, problem=problem))

    def _save(self, job: Job) -> None:
        self._job = evolve(job, changed_at=moment_now())
        with self._desk.book.writing() as pages:
            pages.update_job(self._job)
