"""The durable table of background work."""

from __future__ import annotations

from typing import Any

from attrs import asdict, evolve
from sqlalchemy import Row, insert, select, update

from wellset.services.book import Job, JobState
from wellset.storage.base import Part
from wellset.storage.rows import missing
from wellset.storage.tables import JOB


def _job(row: Row[Any]) -> Job:
    return Job(**row._asdict())


class SqlJobs(Part):
    """See :class:`wellset.services.book.Jobs`."""

    def job(self, job_id: str, /) -> Job:
        """One job."""
        row = self._connection.execute(select(JOB).where(JOB.c.id == job_id)).first()
        if row is None:
            raise missing("piece of work")
        return _job(row)

    def jobs_about(self, subject: str, /) -> tuple[Job, ...]:
        """Jobs on one thing, newest first."""
        asked = select(JOB).where(JOB.c.subject == subject).order_by(JOB.c.created_at.desc())
        return tuple(_job(row) for row in self._connection.execute(asked))

    def add_job(self, job: Job, /) -> None:
        """Put a job at the end of the line."""
        self._connection.execute(insert(JOB).values(**_columns(job)))

    def claim_job(self, *, now: str) -> Job | None:
        """Take the oldest waiting job; SQLite's writers stand in line by themselves."""
        asked = select(JOB).where(JOB.c.state == JobState.WAITING.value)
        asked = asked.order_by(JOB.c.created_at, JOB.c.id).limit(1)
        row = self._connection.execute(asked.with_for_update(skip_locked=True)).first()
        if row is None:
            return None
        waiting = _job(row)
        taken = evolve(waiting, state=JobState.RUNNING, tries=waiting.tries + 1, changed_at=now)
        self.update_job(taken)
        return taken

    def update_job(self, job: Job, /) -> None:
        """Keep what became of a job."""
        change = update(JOB).where(JOB.c.id == job.id).values(**_columns(job))
        if self._connection.execute(change).rowcount == 0:
            raise missing("piece of work")

    def abandoned_jobs(self) -> tuple[Job, ...]:
        """Jobs that are said to run."""
        asked = select(JOB).where(JOB.c.state == JobState.RUNNING.value)
        return tuple(_job(row) for row in self._connection.execute(asked))


def _columns(job: Job) -> dict[str, object]:
    return {**asdict(job), "state": job.state.value}
