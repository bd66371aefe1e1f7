"""Processes that are killed in the midst of their work."""

from __future__ import annotations

import hashlib
import os
import signal
import sys
from pathlib import Path

from attrs import evolve

from wellset.lessons import StudentCard
from wellset.services.book import JobState
from wellset.storage import FolderMedia, SqlBook, sqlite_url

WHEN = "2026-11-25T10:00:00Z"


def nursery(folder: Path) -> None:
    """Start a saving process for every line read, and say when it is dead.

    Each of them keeps a picture and a student, over and over, and writes the student's id
    once the book has acknowledged the save. They are forked, so that fifty of them cost no
    more than one start of the program.
    """
    _save(folder, "warm", times=3)  # what is loaded and prepared once; all connections closed
    for line in sys.stdin:
        child = os.fork()
        if child == 0:
            _save(folder, line.strip(), times=1_000_000)
        _say(f"born {child}")
        os.waitpid(child, 0)
        _say("dead")


def _save(folder: Path, name: str, *, times: int) -> None:
    book, media = SqlBook(sqlite_url(folder / "book.db")), FolderMedia(folder / "media")
    for number in range(times):
        picture = f"{name} {number} ".encode() * 2000
        kept = media.keep(iter([picture]), most=10**6)
        card = StudentCard(
            id=f"{name}-{number}",
            name=kept.media,
            file="{}",
            note=hashlib.sha256(kept.media.encode()).hexdigest(),
            created_at=WHEN,
            changed_at=WHEN,
        )
        with book.writing() as pages:
            pages.save_student(card)
        _say(f"kept {card.id}")
    book.close()


def _say(words: str) -> None:
    os.write(1, f"{words}\n".encode())


def die(job_id: str) -> None:
    """A worker that is killed at every job."""
    del job_id
    os.kill(os.getpid(), signal.SIGKILL)


def die_once(folder: str, job_id: str) -> None:
    """A worker that is killed at its first job and does the second."""
    mark = Path(folder) / "died"
    if not mark.exists():
        mark.touch()
        die(job_id)
    book = SqlBook(sqlite_url(Path(folder) / "book.db"))
    with book.writing() as pages:
        pages.update_job(evolve(pages.job(job_id), state=JobState.DONE))


if __name__ == "__main__":
    nursery(Path(sys.argv[1]))
