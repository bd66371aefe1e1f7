"""How a set-up was taken, as a value and as a column."""

from __future__ import annotations

import pytest

from wellset.errors import InputError
from wellset.figure.ground import GroundKind, GroundUse
from wellset.figure.still import Choice
from wellset.figure.views import View
from wellset.lessons import HowTaken, PlateFile
from wellset.storage.how import how_of, how_text

EVERYTHING = HowTaken(
    phone_level=True,
    sheet_aimed=True,
    ignore=[GroundKind.SHEET, GroundKind.STICK],
    choices={View.DOWN_THE_LINE: Choice(start_s=12.5), View.FACE_ON: Choice(swing=2)},
    club_length_m=0.94,
    lie=1.09,
    plate=PlateFile(media="a" * 64, name="feet.csv"),
)


@pytest.mark.parametrize(
    "how", [HowTaken(), EVERYTHING, HowTaken(choices={View.FACE_ON: Choice(start_s=0.0)})]
)
def test_what_was_said_comes_back_from_its_column(how: HowTaken) -> None:
    plate = how.plate.media if how.plate is not None else ""
    assert how_of(how_text(how), plate=plate) == how


def test_nothing_said_is_nothing_kept() -> None:
    assert HowTaken().as_data() == {}
    assert HowTaken(choices={View.FACE_ON: Choice()}) == HowTaken()


def test_what_is_said_of_the_ground_is_what_the_estimate_asks_for() -> None:
    assert EVERYTHING.ground == GroundUse(
        ignore=frozenset({GroundKind.SHEET, GroundKind.STICK}), sheet_aimed=True
    )
    assert EVERYTHING.choice(View.FACE_ON) == Choice(swing=2)
    assert HowTaken().choice(View.FACE_ON) == Choice()


@pytest.mark.parametrize(
    "choice",
    [Choice(start_s=-1.0), Choice(start_s=1e9), Choice(swing=0), Choice(start_s=float("nan"))],
)
def test_a_moment_that_is_in_no_clip_is_refused(choice: Choice) -> None:
    with pytest.raises(InputError):
        HowTaken(choices={View.FACE_ON: choice})
