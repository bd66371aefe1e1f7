"""Two models, one landmark: agreement costs nothing, disagreement is paid for."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wellset.figure.views import View
from wellset.vision.crosscheck import HABITS, LIMITS, STAND_INS, Checked, check
from wellset.vision.values import Array

HEIGHT = 500.0
OWN = np.eye(2)
HERE = np.array([300.0, 400.0])


def checked(
    *,
    away: float,
    visibility: float = 0.99,
    name: str = "lead_hip",
    own: Array = OWN,
    mirrored: bool = False,
) -> Checked:
    """The check with the general point so far off, its habit already taken into account."""
    right, down, _ = HABITS[View.FACE_ON].get(name, (0.0, 0.0, 0.0))
    ahead = -1.0 if mirrored else 1.0
    other = HERE + np.array([ahead * right, down]) * HEIGHT + np.array([away, 0.0])
    return check(
        name,
        position_px=HERE,
        covariance_px2=own,
        other=(other, visibility),
        view=View.FACE_ON,
        height_px=HEIGHT,
        mirrored=mirrored,
    )


@pytest.mark.parametrize("mirrored", [False, True])
def test_within_the_general_models_own_error_nothing_changes(mirrored: bool) -> None:
    result = checked(away=0.9 * LIMITS[0] * HEIGHT, mirrored=mirrored)
    assert result.disagreement_px == 0.0
    np.testing.assert_array_equal(result.covariance_px2, OWN)
    np.testing.assert_array_equal(result.position_px, HERE)


@given(st.floats(0.08, 0.5))
def test_beyond_it_the_covariance_grows_along_the_line_between_the_points(away: float) -> None:
    result = checked(away=away * HEIGHT)
    assert result.disagreement_px is not None
    assert 0.0 < result.disagreement_px < away * HEIGHT
    assert result.covariance_px2[1, 1] == OWN[1, 1]
    # Never more than a mixture of the two points at three to seven, variance 0.21 d².
    assert OWN[0, 0] < result.covariance_px2[0, 0] <= 0.21 * (away * HEIGHT) ** 2 + OWN[0, 0]
    np.testing.assert_array_equal(result.position_px, HERE)


def test_the_covariance_does_not_jump_where_disagreement_begins() -> None:
    limit = LIMITS[0] * HEIGHT + 2.0  # two standard deviations of our own point are allowed too
    just = checked(away=limit + 0.01)
    assert just.disagreement_px == pytest.approx(0.01, abs=1e-6)
    assert just.covariance_px2[0, 0] == pytest.approx(OWN[0, 0], abs=0.3)


def test_a_point_the_general_model_does_not_see_has_no_second_opinion() -> None:
    assert checked(away=200.0, visibility=0.2).disagreement_px is None
    assert checked(away=200.0, name="ball").disagreement_px is None
    unseen = check(
        "lead_hip",
        position_px=HERE,
        covariance_px2=OWN,
        other=None,
        view=View.FACE_ON,
        height_px=HEIGHT,
        mirrored=False,
    )
    assert unseen.disagreement_px is None


def test_where_the_network_is_lost_the_general_point_takes_over_with_a_wide_error() -> None:
    lost = np.eye(2) * (0.05 * HEIGHT) ** 2
    result = checked(away=100.0, own=lost)
    assert result.replaced
    assert result.position_px[0] == pytest.approx(400.0)
    assert result.covariance_px2[0, 0] > (0.02 * HEIGHT) ** 2 + 0.2 * 100.0**2
    assert not checked(away=100.0, own=lost, visibility=0.6).replaced


def test_every_habit_is_of_the_size_of_a_convention() -> None:
    for habits in HABITS.values():
        for name, (right, down, spread) in habits.items():
            # Under 9 cm of a golfer 1.5 m tall at address; an armpit lies that far below the
            # shoulder it is held against.
            assert np.hypot(right, down) < (0.08 if name in STAND_INS else 0.06)
            assert 0.003 < spread < 0.03
