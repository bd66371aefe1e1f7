"""The outline's back edge as a second opinion on the points of the back."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.figure.views import View
from wellset.vision.backline import INSIDE, LIMIT, check_back
from wellset.vision.crosscheck import Checked
from wellset.vision.silhouette import Silhouette

HEIGHT = 500.0
LEFT, RIGHT = 300.0, 420.0


def outline(*, height: int = 500) -> Silhouette:
    """A golfer as an upright bar from column 300 to 420."""
    return Silhouette(
        left=int(LEFT),
        top=100,
        mask=np.ones((height, int(RIGHT - LEFT)), dtype=bool),
        width_px=1000,
        height_px=800,
    )


def checked(
    *, away: float, mirrored: bool = False, name: str = "l3", silhouette: Silhouette | None = None,
    view: View = View.DOWN_THE_LINE,
) -> Checked:  # fmt: skip
    """The check of a point so many heights outside the edge behind the golfer."""
    edge, behind = (RIGHT, 1.0) if mirrored else (LEFT, -1.0)
    plain = Checked(
        position_px=np.array([edge + behind * away * HEIGHT, 350.0]),
        covariance_px2=np.eye(2),
        disagreement_px=None,
        replaced=False,
    )
    return check_back(
        name,
        plain,
        silhouette=silhouette or outline(),
        view=view,
        height_px=HEIGHT,
        mirrored=mirrored,
    )


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("name", list(INSIDE))
def test_a_point_on_the_edge_is_confirmed(name: str, mirrored: bool) -> None:
    found = checked(away=-INSIDE[name], name=name, mirrored=mirrored)
    assert found.disagreement_px == 0.0
    np.testing.assert_array_equal(found.covariance_px2, np.eye(2))


@pytest.mark.parametrize("mirrored", [False, True])
@pytest.mark.parametrize("away", [-0.1, 0.1])
def test_a_point_15_cm_off_the_edge_is_doubted_across_and_not_in_height(
    away: float, mirrored: bool
) -> None:
    found = checked(away=away, mirrored=mirrored)
    assert found.disagreement_px is not None
    assert found.disagreement_px > (0.1 - LIMIT - 0.02) * HEIGHT
    assert found.covariance_px2[0, 0] > (0.02 * HEIGHT) ** 2
    assert found.covariance_px2[1, 1] == 1.0


def test_nothing_is_said_of_other_points_other_views_and_broken_outlines() -> None:
    assert checked(away=0.1, name="c7").disagreement_px is None
    assert checked(away=0.1, view=View.FACE_ON).disagreement_px is None
    assert checked(away=0.1, silhouette=outline(height=300)).disagreement_px is None
