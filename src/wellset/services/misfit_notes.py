"""Remarks on points of the networks that everything else contradicts."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from wellset.assess import Misfit
from wellset.figure.notes import Note

MOST_NOTES: Final = 3
SHARE_OF_WORST: Final = 0.6
"""One wrong point pulls others along, which then seem to misfit too; those that lie less than
this share of the worst one's distance away are not named."""

MANY: Final = 5
"""Misfits from which the pictures themselves seem not to belong together. Of 22 pairs made of
two different scenes, 21 have 6 to 24; pairs that belong together have none, with one point
moved by 15 cm at most 4."""


def misfit_notes(misfits: Sequence[Misfit], /, *, pictures: int) -> list[Note]:
    """What to say of the misfits of a solution, the worst first.

    Parameters
    ----------
    misfits : sequence of Misfit
        The farthest first.
    pictures : int
        How many pictures there are.
    """
    notes = [_disagree(len(misfits))] if pictures == 2 and len(misfits) >= MANY else []
    named = [m for m in misfits if m.distance >= SHARE_OF_WORST * misfits[0].distance]
    return [*notes, *(_misfit(misfit) for misfit in named[:MOST_NOTES])]


def _disagree(count: int) -> Note:
    return Note(
        code="pictures_disagree",
        message=f"The two pictures do not fit together: {count} points lie where the other "
        "picture does not allow them. The numbers may be worth nothing.",
        remedy="See whether both show the same student with the same club in the same set-up, "
        "and whether the club and the height are right; take both again, one right after the "
        "other.",
    )


def _misfit(misfit: Misfit) -> Note:
    used = (
        "so it counted little"
        if misfit.counted_little
        else "but little else holds it, so it was believed: what depends on it is doubtful"
    )
    return Note(
        code="landmark_misfit",
        message=f"The {misfit.landmark.replace('_', ' ')} in the {misfit.view.words} picture does "
        f"not fit the rest ({misfit.distance:.1f} times the uncertainty from where that expects "
        f"it), {used}.",
        remedy="Look at that point in the picture; if it is wrong, place it by hand in the "
        "landmark file and run again.",
        where=misfit.view.value,
    )
