"""Use case: say afterwards how a set-up was taken, and see what follows."""

from __future__ import annotations

from wellset.lessons import HowTaken, SetUpState
from wellset.services.asked import asked_about
from wellset.services.assess_setup import assess_setup
from wellset.services.landmark_file import read_landmarks
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
    points = setup.landmarks if setup.state is SetUpState.ASSESSED else ""
    if not points or how.choices != setup.how.choices:
        again(desk, setup_id, how=how)
        return True
    if how != setup.how:
        given = read_landmarks(points, where="the kept points")
        assessment = assess_setup(asked.request(paths={}, landmarks=given), reader=Blind())
        keep(desk, asked, assessment=assessment, version=setup.version)
    return False
