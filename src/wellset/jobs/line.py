"""A line of work that survives the program: rows in the book, hands in other processes.

A job is claimed in one transaction, so nobody else has it. If the program dies in its
midst, the row still says that it runs; at the next start it goes back into the line, once,
and after that it is reported. What a job changes it changes in one transaction of its own,
so nothing is ever half written.
"""

from __future__ import annotations

import threading
from collections import deque
from collections.abc import Callable
from concurrent.futures import Executor, Future
from concurrent.futures.process import BrokenProcessPool
from typing import Final

from attrs import evolve

from wellset.errors import MissingError
from wellset.services.book import Book, Job, JobState

Work = Callable[[str], None]
"""Does the job of this id to its end and keeps what became of it; runs in a worker."""

MOST_TRIES: Final = 2
PAUSE_S: Final = 1.0
"""How long the line waits for work before it looks again by itself."""


class JobLine:
    """Gives waiting jobs to an executor, a few at a time.

    Parameters
    ----------
    book : Book
    work : callable
        Can be pickled when the executor is made of processes.
    new_executor : callable
        Makes the executor, also a new one after a worker was killed.
    workers : int
        Jobs given out at a time.
    now : callable
        The moment, as text.
    """

    def __init__(
        self,
        *,
        book: Book,
        work: Work,
        new_executor: Callable[[], Executor],
        workers: int,
        now: Callable[[], str],
    ) -> None:
        self._book = book
        self._work = work
        self._new_executor = new_executor
        self._executor = new_executor()
        self._free = threading.Semaphore(workers)
        self._now = now
        self._wake = threading.Event()
        self._over = threading.Event()
        self._ended = deque[tuple[str, BaseException | None]]()
        self._thread = threading.Thread(target=self._run, name="job line", daemon=True)

    def start(self) -> None:
        """Put back what a killed program left, then begin."""
        self._put_back()
        self._thread.start()

    def nudge(self) -> None:
        """Say that there is new work."""
        self._wake.set()

    def stop(self) -> None:
        """Finish what runs and take nothing new."""
        self._over.set()
        self._wake.set()
        if self._thread.is_alive():
            self._thread.join()
        self._executor.shutdown(wait=True, cancel_futures=True)
        self._tell_ended()

    def _put_back(self) -> None:
        with self._book.writing() as pages:
            for job in pages.abandoned_jobs():
                pages.update_job(after_a_death(job, now=self._now()))

    def _run(self) -> None:
        while not self._over.is_set():
            self._free.acquire()
            self._tell_ended()
            job = None if self._over.is_set() else self._claim()
            if job is None:
                self._free.release()
                self._wake.wait(PAUSE_S)
                self._wake.clear()
            else:
                self._give(job)

    def _claim(self) -> Job | None:
        try:
            with self._book.writing() as pages:
                return pages.claim_job(now=self._now())
        except OSError:  # the book is busy: look again after the pause
            return None

    def _give(self, job: Job) -> None:
        try:
            future = self._executor.submit(self._work, job.id)
        except BrokenProcessPool:
            self._executor = self._new_executor()
            future = self._executor.submit(self._work, job.id)
        future.add_done_callback(lambda done: self._done(job, done))

    def _done(self, job: Job, future: Future[None]) -> None:
        error = None if future.cancelled() else future.exception()
        if future.cancelled() or error is not None:
            self._ended.append((job.id, error))
        self._free.release()
        self._wake.set()

    def _tell_ended(self) -> None:
        """Write down which jobs came to a bad end; what the book refuses is tried again later."""
        while self._ended:
            job_id, error = self._ended[0]
            died = error is None or isinstance(error, BrokenProcessPool)
            try:
                with self._book.writing() as pages:
                    job = pages.job(job_id)
                    if job.state is JobState.RUNNING:
                        now = self._now()
                        pages.update_job(
                            after_a_death(job, now=now) if died else _failed(job, error, now=now)
                        )
            except MissingError:  # its set-up was removed meanwhile
                pass
            except OSError:
                return
            self._ended.popleft()


def after_a_death(job: Job, /, *, now: str) -> Job:
    """A job whose worker died: back into the line once, then given up."""
    if job.tries < MOST_TRIES:
        return evolve(job, state=JobState.WAITING, step="", share=0.0, changed_at=now)
    return evolve(
        job,
        state=JobState.FAILED,
        problem=f"The program stopped {job.tries} times in the midst of it. Try it again; if it "
        "happens again, the machine may lack memory.",
        changed_at=now,
    )


def _failed(job: Job, error: BaseException | None, /, *, now: str) -> Job:
    return evolve(
        job,
        state=JobState.FAILED,
        problem=f"A fault in the program: {type(error).__name__}: {error}",
        changed_at=now,
    )
