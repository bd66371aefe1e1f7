"""A pressure plate beside the pictures: what each says of the balance, and whether they agree."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from attrs import evolve, frozen

from wellset.assess import Fit, PlateSays, judge_all, plate_says
from wellset.figure.notes import Note
from wellset.figure.sighting import Sighting
from wellset.figure.views import Hand
from wellset.measures import MeasureResult
from wellset.services.plate_file import read_plate

PLATE_MEASURES: Final = ("heel_toe_balance", "lead_share")
"""Measures shown beside a plate's own reading."""


@frozen(kw_only=True)
class PlateText:
    """A plate file as it was given: its text, and where it lies, for messages."""

    text: str
    where: str

    @property
    def name(self) -> str:
        """The file's own name, without its folder."""
        return self.where.replace("\\", "/").rsplit("/", 1)[-1]


@frozen(kw_only=True, eq=False)
class Weighed:
    """A plate's readings with what the pictures alone say.

    Parameters
    ----------
    says : PlateSays
    pictures_alone : mapping of id to Measured or NotMeasurable
        Of :data:`PLATE_MEASURES`, before the plate was added.
    used : bool
        Whether the plate went into the estimate; not when the two disagree.
    """

    says: PlateSays
    pictures_alone: Mapping[str, MeasureResult]
    used: bool

    @property
    def notes(self) -> tuple[Note, ...]:
        """A warning when plate and pictures disagree."""
        if self.used:
            return ()
        along, back = (100 * abs(v) for v in self.says.apart_m)
        lead, heel = self.says.apart_m
        return (
            Note(
                code="plate_disagrees",
                message="The pressure plate and the pictures do not fit together: the pictures "
                f"put the centre of mass {back:.1f} cm nearer the {'heels' if heel > 0 else 'toes'}"
                f" and {along:.1f} cm nearer the {'lead' if lead > 0 else 'trail'} foot than the "
                "plate does, which honest ones do in fewer than 1 of 100 cases. The plate was "
                "left out.",
                remedy="Check which foot is which, where the plate counts from, and that it was "
                "read while the pictures were taken.",
                where=self.says.means.name,
            ),
        )


def check_plate(plate: PlateText | None, /) -> None:
    """Refuse a file that cannot be used.

    Raises
    ------
    InputError
    """
    if plate is not None:
        read_plate(plate.text, where=plate.where, hand=Hand.RIGHT)  # either hand reads alike


def weigh(
    plate: PlateText | None, solved: Fit, *, hand: Hand, sightings: Sequence[Sighting]
) -> Weighed | None:
    """Set a plate's readings, if there are any, beside a solution from the pictures.

    Raises
    ------
    InputError
        When the file cannot be used.
    """
    if plate is None:
        return None
    means = read_plate(plate.text, where=plate.where, hand=hand)
    says = plate_says(solved, evolve(means, name=plate.name))
    alone = judge_all(solved, sightings)
    return Weighed(
        says=says,
        pictures_alone={id_: alone[id_] for id_ in PLATE_MEASURES},
        used=says.agrees,
    )
