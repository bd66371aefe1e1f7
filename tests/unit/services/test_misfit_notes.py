"""What is said of points that everything else contradicts."""

from __future__ import annotations

import pytest

from wellset.assess import Misfit
from wellset.figure.views import View
from wellset.services.misfit_notes import MANY, MOST_NOTES, misfit_notes


def misfit(distance: float, *, weight: float = 1.0, landmark: str = "lead_knee") -> Misfit:
    return Misfit(view=View.FACE_ON, landmark=landmark, distance=distance, weight=weight)


def test_without_misfits_nothing_is_said() -> None:
    assert misfit_notes((), pictures=2) == []


@pytest.mark.parametrize(("weight", "words"), [(0.2, "counted little"), (0.95, "was believed")])
def test_a_note_says_whether_the_point_was_set_aside_or_believed(weight: float, words: str) -> None:
    (note,) = misfit_notes([misfit(6.0, weight=weight)], pictures=2)
    assert words in note.message
    assert note.message.startswith("The lead knee in the face-on picture")


def test_points_that_a_worse_one_pulled_along_are_not_named() -> None:
    found = misfit_notes([misfit(10.0), misfit(4.0, landmark="lead_hip")], pictures=2)
    assert len(found) == 1


def test_many_misfits_say_that_the_pictures_do_not_belong_together() -> None:
    many = [misfit(6.0) for _ in range(MANY)]
    notes = misfit_notes(many, pictures=2)
    assert notes[0].code == "pictures_disagree"
    assert str(MANY) in notes[0].message
    assert len(notes) == 1 + MOST_NOTES
    assert "pictures_disagree" not in [n.code for n in misfit_notes(many, pictures=1)]
