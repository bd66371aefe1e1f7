"""Use case: a kept set-up compared with its student's plan, and the comparison kept with it."""

from __future__ import annotations

import hashlib
import json

from attrs import frozen

from wellset import __version__
from wellset.errors import MissingError
from wellset.figure.views import View
from wellset.lessons import SetUp, StudentCard
from wellset.services.asked import Asked, asked_about
from wellset.services.book import Comparison, Pages, PlanRecord
from wellset.services.check_plan import Check, check_setup
from wellset.services.landmark_file import read_landmarks
from wellset.services.lesson_work import Blind, Desk, picture_address
from wellset.services.plan_target import PlanTarget, has_club, target_of_document


@frozen(kw_only=True, eq=False)
class KeptCheck:
    """A comparison with what it is about."""

    comparison: Comparison
    setup: SetUp
    student: StudentCard


def check_kept(desk: Desk, setup_id: str, /) -> KeptCheck:
    """Compare an assessed set-up with the student's kept plan, from its points alone.

    Where the book has no plan for the club, one is worked out for this comparison. It is kept
    with the set-up, so that the student sees it by a link, and worked out anew only when
    something that it follows from has changed.

    Raises
    ------
    MissingError
        When there is no such set-up, or it was not assessed.
    """
    with desk.book.reading() as pages:
        asked = asked_about(pages, setup_id, media=desk.media)
        record = pages.plan(asked.setup.student)
        student = pages.student(asked.setup.student)
        made_of = _made_of(pages, asked, record=record)
        kept = pages.comparison(setup_id)
    if not asked.setup.landmarks:
        raise MissingError(
            "There is nothing to compare yet",
            why="this set-up was not assessed.",
            fix="Wait until it is, or take it again.",
        )
    if kept is None or kept.made_of != made_of:
        kept = _keep(desk, asked, check=_compared(asked, record=record), made_of=made_of)
    return KeptCheck(comparison=kept, setup=asked.setup, student=student)


def comparison_of(pages: Pages, setup: SetUp, /) -> Comparison | None:
    """The kept comparison of a set-up, unless its points were changed since."""
    kept = pages.comparison(setup.id)
    return kept if kept is not None and kept.version == setup.version else None


def _compared(asked: Asked, *, record: PlanRecord | None) -> Check:
    target: PlanTarget | None = None
    where = "the kept plan"
    if record is not None and has_club(record.document, club=asked.club.name, where=where):
        target = target_of_document(
            record.document,
            club=asked.club.name,
            where=where,
            source="book",
            name=record.made_at[:10],
        )
    given = read_landmarks(asked.setup.landmarks, where="landmarks")
    return check_setup(asked.request(paths={}, landmarks=given), target=target, reader=Blind())


def _keep(desk: Desk, asked: Asked, *, check: Check, made_of: str) -> Comparison:
    setup = asked.setup
    addresses: dict[View, str] = {
        view: picture_address(setup.id, view, shown=shown)
        for view, shown in setup.shown.items()
        if shown.preview
    }
    words = desk.writer.comparison(check, pictures=addresses, inches=asked.inches)
    made = Comparison(
        setup=setup.id,
        version=setup.version,
        made_at=desk.now(),
        made_of=made_of,
        document=words.document,
        page=words.page,
    )
    with desk.book.writing() as pages:
        if pages.setup(setup.id).version == setup.version:  # else it is of older points already
            pages.save_comparison(made)
    return made


def _made_of(pages: Pages, asked: Asked, *, record: PlanRecord | None) -> str:
    """Digest of everything that a comparison follows from."""
    drills = pages.current_drills()
    parts = (
        __version__,
        asked.setup.version,
        pages.student(asked.setup.student).version,
        pages.bag(asked.setup.student).version,
        asked.standards.digest,
        drills.digest if drills is not None else "",
        record.made_at if record is not None else "",
        hashlib.sha256(record.document.encode()).hexdigest() if record is not None else "",
    )
    return hashlib.sha256(json.dumps(parts).encode()).hexdigest()
