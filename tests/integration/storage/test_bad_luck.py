"""Killed programs, killed workers, full disks, locked databases: nothing acknowledged is lost."""

from __future__ import annotations

import errno
import hashlib
import multiprocessing
import os
import random
import signal
import sqlite3
import subprocess
import sys
import threading
import time
from concurrent.futures import ProcessPoolExecutor, ThreadPoolExecutor
from functools import partial
from pathlib import Path

import pytest
from attrs import evolve
from sqlalchemy import event

from tests.support.dying import die, die_once
from wellset.errors import StorageError
from wellset.jobs import JobLine
from wellset.lessons import StudentCard
from wellset.services.book import Job, JobState
from wellset.storage import FolderMedia, SqlBook, sqlite_url, upgrade

WHEN = "2026-11-25T10:00:00Z"
KILLS = 50
LONGEST_S = 0.25
PATIENCE_S = 60.0


def card(name: str) -> StudentCard:
    return StudentCard(id=name, name=name, file="{}", created_at=WHEN, changed_at=WHEN)


def test_fifty_kills_at_random_moments_lose_nothing_that_was_acknowledged(tmp_path: Path) -> None:
    upgrade(sqlite_url(tmp_path / "book.db"))
    acknowledged: list[str] = []
    moments = random.Random(50)  # noqa: S311 - moments, no secret
    with subprocess.Popen(
        [sys.executable, "-m", "tests.support.dying", str(tmp_path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as nursery:
        assert nursery.stdin is not None
        assert nursery.stdout is not None
        for life in range(KILLS):
            nursery.stdin.write(f"life{life}\n")
            nursery.stdin.flush()
            kill_at = None
            for line in nursery.stdout:
                word, _, rest = line.strip().partition(" ")
                if word == "dead":
                    break
                if word == "kept":
                    acknowledged.append(rest)
                if word == "born":
                    kill_at = int(rest)
                    time.sleep(moments.uniform(0.0, LONGEST_S))
                    os.kill(kill_at, signal.SIGKILL)
            assert kill_at is not None
        nursery.stdin.close()
    assert len(acknowledged) > KILLS
    with sqlite3.connect(tmp_path / "book.db") as database:
        assert database.execute("PRAGMA integrity_check").fetchone() == ("ok",)
    book, media = SqlBook(sqlite_url(tmp_path / "book.db")), FolderMedia(tmp_path / "media")
    with book.reading() as pages:
        for name in acknowledged:
            kept = pages.student(name)
            data = media.path(kept.name).read_bytes()
            assert hashlib.sha256(data).hexdigest() == kept.name
            assert hashlib.sha256(kept.name.encode()).hexdigest() == kept.note
    for digest in media.all():
        assert hashlib.sha256(media.path(digest).read_bytes()).hexdigest() == digest
    book.close()


def over(book: SqlBook, *, work: object) -> Job:
    """Put one job into a line of real processes; the job once it has come to an end."""
    job = Job(id="job", kind="assess", subject="setup", created_at=WHEN, changed_at=WHEN)
    with book.writing() as pages:
        pages.add_job(job)
    line = JobLine(
        book=book,
        work=work,  # type: ignore[arg-type]
        new_executor=lambda: ProcessPoolExecutor(
            1, mp_context=multiprocessing.get_context("spawn")
        ),
        workers=1,
        now=lambda: WHEN,
    )
    line.start()
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        with book.reading() as pages:
            job = pages.job("job")
        if job.state not in {JobState.WAITING, JobState.RUNNING}:
            break
        time.sleep(0.05)
    line.stop()
    return job


def test_a_job_whose_worker_is_killed_twice_is_reported(tmp_path: Path) -> None:
    upgrade(sqlite_url(tmp_path / "book.db"))
    book = SqlBook(sqlite_url(tmp_path / "book.db"))
    job = over(book, work=die)
    book.close()
    assert (job.state, job.tries) == (JobState.FAILED, 2)
    assert "stopped 2 times in the midst of it" in job.problem


def test_a_job_whose_worker_is_killed_once_is_done_by_the_next(tmp_path: Path) -> None:
    upgrade(sqlite_url(tmp_path / "book.db"))
    book = SqlBook(sqlite_url(tmp_path / "book.db"))
    job = over(book, work=partial(die_once, str(tmp_path)))
    book.close()
    assert (job.state, job.tries, job.problem) == (JobState.DONE, 2, "")


def test_the_end_of_a_job_is_written_down_once_a_locked_book_is_free_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("wellset.storage.engine.PATIENCE_S", 0.1)
    monkeypatch.setattr("wellset.jobs.line.PAUSE_S", 0.05)
    upgrade(sqlite_url(tmp_path / "book.db"))
    book = SqlBook(sqlite_url(tmp_path / "book.db"))
    with book.writing() as pages:
        pages.add_job(
            Job(id="job", kind="assess", subject="setup", created_at=WHEN, changed_at=WHEN)
        )
    holder = sqlite3.connect(tmp_path / "book.db", isolation_level=None, check_same_thread=False)
    failed = threading.Event()

    def work(_: str) -> None:
        holder.execute("BEGIN IMMEDIATE")
        failed.set()
        raise ZeroDivisionError("by hand")

    line = JobLine(
        book=book,
        work=work,
        new_executor=lambda: ThreadPoolExecutor(1),
        workers=1,
        now=lambda: WHEN,
    )
    line.start()
    assert failed.wait(PATIENCE_S)
    time.sleep(0.3)  # long enough that the first try to write it down has been refused
    with book.reading() as pages:
        assert pages.job("job").state is JobState.RUNNING
    holder.execute("ROLLBACK")
    holder.close()
    line.stop()
    with book.reading() as pages:
        job = pages.job("job")
    book.close()
    assert job.state is JobState.FAILED
    assert "ZeroDivisionError: by hand" in job.problem


def test_a_full_disk_is_told_and_what_was_kept_before_is_there(tmp_path: Path) -> None:
    upgrade(sqlite_url(tmp_path / "book.db"))
    book = SqlBook(sqlite_url(tmp_path / "book.db"))

    @event.listens_for(book._engine, "connect")
    def small(connection: sqlite3.Connection, _: object) -> None:
        (pages,) = connection.execute("PRAGMA page_count").fetchone()
        connection.execute(f"PRAGMA max_page_count = {pages + 10}")

    kept: list[str] = []
    with pytest.raises(StorageError, match="the disk is full"):  # noqa: PT012 - the last of many
        for number in range(1000):
            with book.writing() as pages:
                pages.save_student(evolve(card(str(number)), note="x" * 5000))
            kept.append(str(number))
    with book.reading() as pages:
        assert kept
        assert pages.find_students().total == len(kept)
        assert all(pages.student(name).note for name in kept)
    book.close()


def test_a_disk_that_fills_up_under_a_picture_leaves_no_half_of_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    media = FolderMedia(tmp_path)
    before = media.keep(iter([b"before"]), most=100)

    def full(_: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr("wellset.storage.media.os.fsync", full)
    with pytest.raises(StorageError, match="the disk is full"):
        media.keep(iter([b"picture" * 1000]), most=10**6)
    assert list(media.all()) == [before.media]
    assert [p.name for p in tmp_path.rglob("*") if p.is_file()] == [before.media]


def test_a_locked_database_is_told_and_can_still_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("wellset.storage.engine.PATIENCE_S", 0.1)
    upgrade(sqlite_url(tmp_path / "book.db"))
    book = SqlBook(sqlite_url(tmp_path / "book.db"))
    with book.writing() as pages:
        pages.save_student(card("before"))
    other = sqlite3.connect(tmp_path / "book.db", isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(StorageError, match="another program holds"), book.writing() as pages:
        pages.save_student(card("during"))
    with book.reading() as pages:
        assert pages.student("before").id == "before"
        assert pages.find_students().total == 1
    other.execute("ROLLBACK")
    other.close()
    with book.writing() as pages:
        pages.save_student(card("after"))
    book.close()
