"""Use case: say afterwards how a set-up was taken, and see what follows."""

from __future__ import annotations

from wellset.lessons import HowTaken, PlateFile, SetUp, SetUpState
from wellset.services.asked import Asked, asked_about
from wellset.services.assess_setup import assess_setup
from wellset.services.landmark_file import read_landmarks
from wellset.services.lesson_book import forget_media
from wellset.services.lesson_work import Blind, Desk, again, check_how, keep


def say_how(desk: Desk, setup_id: str, *, how: HowTaken) -> bool:
    """Solve a set-up as it was taken by what is said now.

    The kept points stay where another moment of a clip isn't wanted; nothing is looked for
    again then, and the answer is kept at once.

    Returns
    -------
    bool
        Whether the pictures must be looked at again: that work is in the line now.

    Raises
    ------
    MissingError, ConflictError
    InputError, EquipmentError, SceneError, EstimationError
        When it cannot be so; nothing is changed then.
    """
    with desk.book.reading() as pages:
        setup = pages.setup(setup_id)
        asked = asked_about(pages, setup_id, media=desk.media, how=how)
    check_how(desk, how, shown=setup.shown)
    look = _must_look(setup, how=how)
    if look:
        again(desk, setup_id, how=how)
    elif how != setup.how:
        _solve(desk, asked, version=setup.version)
    _forget_plate(desk, setup.how.plate, now=how.plate)
    return look


def _must_look(setup: SetUp, *, how: HowTaken) -> bool:
    assessed = setup.state is SetUpState.ASSESSED and bool(setup.landmarks)
    return not assessed or how.choices != setup.how.choices


def _solve(desk: Desk, asked: Asked, *, version: int) -> None:
    given = read_landmarks(asked.setup.landmarks, where="the kept points")
    assessment = assess_setup(asked.request(paths={}, landmarks=given), reader=Blind())
    keep(desk, asked, assessment=assessment, version=version)


def _forget_plate(desk: Desk, before: PlateFile | None, *, now: PlateFile | None) -> None:
    """Remove a plate's file that was taken out, unless another set-up has the same."""
    if before is None or (now is not None and now.media == before.media):
        return
    with desk.book.reading() as pages:
        gone = pages.unused([before.media])
    forget_media(desk, gone)
