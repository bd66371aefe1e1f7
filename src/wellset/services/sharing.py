"""Use cases of links: show one lesson to its student, for a while, and take that back."""

from __future__ import annotations

import hashlib
import secrets
from datetime import datetime, timedelta
from typing import Final

from attrs import evolve, frozen

from wellset.errors import InputError, MissingError
from wellset.lessons import Lesson, SetUp, SetUpState
from wellset.services.book import Comparison, Pages, Share
from wellset.services.check_book import comparison_of
from wellset.services.lesson_work import Desk, new_id

USUAL_DAYS: Final = 30
MOST_DAYS: Final = 365
_SECRET_BYTES: Final = 32
_MOST_SECRET: Final = 200
_PATTERN: Final = "%Y-%m-%dT%H:%M:%S.%fZ"


@frozen(kw_only=True)
class NewShare:
    """A link as it is just once: afterwards nobody can tell its secret, not even the book.

    Parameters
    ----------
    share : Share
    secret : str
        256 random bits, fit for an address.
    """

    share: Share
    secret: str


@frozen(kw_only=True)
class SharedLesson:
    """What a link shows: nothing about anyone else, and none of the coach's notes.

    Parameters
    ----------
    share : Share
    lesson : Lesson
        Without the note.
    name : str
        The student's.
    setups : tuple of SetUp
        Assessed ones, newest first.
    compared : frozenset of str
        Ids of those that the coach has compared with the plan.
    """

    share: Share
    lesson: Lesson
    name: str
    setups: tuple[SetUp, ...]
    compared: frozenset[str]


def make_share(desk: Desk, lesson_id: str, *, days: int = USUAL_DAYS) -> NewShare:
    """Make a link to one lesson.

    Parameters
    ----------
    days : int
        How long it holds, 1 to 365.

    Raises
    ------
    MissingError
    InputError
        For a span that is none.
    """
    if not 1 <= days <= MOST_DAYS:
        raise InputError(
            "The link cannot be made",
            why=f"it would hold for {days} days.",
            fix=f"Choose 1 to {MOST_DAYS} days.",
        )
    now, secret = desk.now(), secrets.token_urlsafe(_SECRET_BYTES)
    with desk.book.writing() as pages:
        share = Share(
            id=new_id(),
            lesson=pages.lesson(lesson_id).id,
            secret_digest=digest_of(secret),
            created_at=now,
            expires_at=_later(now, days=days),
        )
        pages.save_share(share)
    return NewShare(share=share, secret=secret)


def revoke_share(desk: Desk, *, lesson_id: str, share_id: str) -> Share:
    """Take a link back; it shows nothing from here on.

    Raises
    ------
    MissingError
    """
    with desk.book.writing() as pages:
        found = [each for each in pages.shares_of(lesson_id) if each.id == share_id]
        if not found:
            raise MissingError(
                "There is no such link", why="this lesson has none of that name.", fix="Go back."
            )
        revoked = evolve(found[0], revoked_at=found[0].revoked_at or desk.now())
        pages.save_share(revoked)
    return revoked


def holds(share: Share, /, *, now: str) -> bool:
    """Whether a link still shows something."""
    return share.revoked_at is None and now < share.expires_at


def shared_lesson(desk: Desk, secret: str, /) -> SharedLesson:
    """What the link with this secret shows.

    Raises
    ------
    MissingError
        For a guessed, expired or revoked link: all alike, so that nobody learns which.
    """
    with desk.book.reading() as pages:
        share = _share(pages, secret, now=desk.now())
        lesson = pages.lesson(share.lesson)
        setups = tuple(
            setup
            for setup in reversed(pages.setups_of(lesson.id))
            if setup.state is SetUpState.ASSESSED
        )
        return SharedLesson(
            share=share,
            lesson=evolve(lesson, note=""),
            name=pages.student(lesson.student).name,
            setups=setups,
            compared=frozenset(each.id for each in setups if comparison_of(pages, each)),
        )


def shared_setup(desk: Desk, secret: str, *, setup_id: str) -> SetUp:
    """A set-up of the lesson that the link shows.

    Raises
    ------
    MissingError
        Also for a set-up of any other lesson.
    """
    with desk.book.reading() as pages:
        return _shared_setup(pages, secret, setup_id=setup_id, now=desk.now())


def shared_comparison(desk: Desk, secret: str, *, setup_id: str) -> tuple[SetUp, Comparison | None]:
    """A set-up of the lesson that the link shows, with the coach's comparison, if there is one.

    Raises
    ------
    MissingError
        Also for a set-up of any other lesson.
    """
    with desk.book.reading() as pages:
        setup = _shared_setup(pages, secret, setup_id=setup_id, now=desk.now())
        return setup, comparison_of(pages, setup)


def _shared_setup(pages: Pages, secret: str, *, setup_id: str, now: str) -> SetUp:
    share = _share(pages, secret, now=now)
    found = [s for s in pages.setups_of(share.lesson) if s.id == setup_id]
    if not found:
        raise _no_link()
    return found[0]


def digest_of(secret: str, /) -> str:
    """What the book keeps of a secret."""
    return hashlib.sha256(secret.encode()).hexdigest()


def _share(pages: Pages, secret: str, *, now: str) -> Share:
    share = pages.share(digest_of(secret)) if len(secret) <= _MOST_SECRET else None
    if share is None or not holds(share, now=now):
        raise _no_link()
    return share


def _no_link() -> MissingError:
    return MissingError(
        "This link shows nothing",
        why="it has expired, was taken back, or is not whole.",
        fix="Ask your coach for a new one.",
    )


def _later(moment: str, *, days: int) -> str:
    pattern = _PATTERN if "." in moment else _PATTERN.replace(".%f", "")
    begin = datetime.strptime(moment, pattern)  # noqa: DTZ007 - moments are universal time
    return (begin + timedelta(days=days)).strftime(pattern)
