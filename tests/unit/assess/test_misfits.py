"""Points that everything else expects elsewhere, told without solving anew."""

from __future__ import annotations

import numpy as np
import pytest

from tests.support.sightings import changed, hidden, moved, scene_setting, scene_sightings
from wellset.assess import expected, fit
from wellset.figure.sighting import NotSeen, Sighting
from wellset.figure.views import View

SCENE = "mid_iron_neutral_21"
FRONT, SIDE = scene_sightings(SCENE)
PIXELS_FOR_15_CM = 50.0
"""The golfer of the scene is 540 pixels tall at address and stands 1.55 m tall."""


def solved(*sightings: Sighting) -> tuple[tuple[str, str, float], ...]:
    found = fit(scene_setting(SCENE), sightings, rendered_to_real=False)
    return tuple((m.view.value, m.landmark, m.distance) for m in found.misfits)


def test_points_that_belong_together_have_no_misfit() -> None:
    assert not solved(FRONT, SIDE)


@pytest.mark.parametrize("landmark", ["lead_knee", "trail_hip", "c7", "lead_ankle"])
def test_a_point_15_cm_off_in_the_line_picture_alone_is_the_worst_misfit(landmark: str) -> None:
    """Across the down-the-line picture, where the face-on picture sees next to nothing."""
    wrong = changed(SIDE, landmark, to=moved((PIXELS_FOR_15_CM, 0.0)))
    view, named, _ = solved(FRONT, wrong)[0]
    assert (view, named) == ("down_the_line", landmark)


@pytest.mark.parametrize(("landmark", "pixels"), [("trail_hip", 50.0), ("trail_knee", 30.0)])
def test_the_distance_is_the_one_to_a_solution_without_the_point(
    landmark: str, pixels: float
) -> None:
    wrong = changed(SIDE, landmark, to=moved((pixels, 0.0)))
    (_, named, distance), *_ = solved(FRONT, wrong)
    assert named == landmark
    rest = fit(scene_setting(SCENE), [FRONT, hidden(SIDE, landmark)], rendered_to_real=False)
    place = wrong.landmarks[landmark]
    assert not isinstance(place, NotSeen)
    there = expected(rest, landmark, view=View.DOWN_THE_LINE)
    anew = there.distance(place.position_px, covariance_px2=place.covariance_px2)
    # The shortcut is linear, and leaves the robust weights of other points as they are.
    assert distance == pytest.approx(anew, rel=0.35)
    assert anew > 3.0


def test_a_point_that_nothing_else_holds_cannot_misfit() -> None:
    wrong = changed(SIDE, "l3", to=moved((PIXELS_FOR_15_CM, 0.0)))
    assert "l3" not in {landmark for _, landmark, _ in solved(FRONT, wrong)}


def test_the_weight_tells_whether_the_solution_set_a_point_aside() -> None:
    shift = np.array([0.0, -PIXELS_FOR_15_CM])  # up and down both pictures see it
    wrong = changed(SIDE, "lead_elbow", to=moved((float(shift[0]), float(shift[1]))))
    worst = fit(scene_setting(SCENE), [FRONT, wrong], rendered_to_real=False).misfits[0]
    assert worst.counted_little
