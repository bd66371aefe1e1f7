"""Sway over the frames of a still moment."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.figure.views import View
from wellset.vision.film_reading import covariance_over, sway_mm
from wellset.vision.noise import covariances_px2
from wellset.vision.reading import Reading

COUNT = len(LANDMARKS)


def reading(*, sway_px2: np.ndarray[tuple[int, ...], np.dtype[np.float64]]) -> Reading:
    return Reading(
        points_px=np.zeros((COUNT, 2)),
        spread_px=np.ones((COUNT, 2)),
        scatter_px2=np.zeros((COUNT, 2, 2)),
        clipped=np.zeros(COUNT, dtype=bool),
        crops=10,
        height_px=500.0,
        sway_px2=sway_px2,
    )


def test_points_that_stay_have_no_sway() -> None:
    one = np.random.default_rng(0).normal(0.0, 100.0, (COUNT, 2))
    np.testing.assert_allclose(covariance_over([one, one, one]), 0.0, atol=1e-20)
    np.testing.assert_array_equal(covariance_over([one]), np.zeros((COUNT, 2, 2)))


def test_sway_is_the_covariance_over_the_frames() -> None:
    rng = np.random.default_rng(1)
    frames = [rng.normal(0.0, (3.0, 1.0), (COUNT, 2)) for _ in range(6)]
    row = INDEX["nose"]
    expected = np.cov(np.array([frame[row] for frame in frames]).T)  # numpy's own estimate
    np.testing.assert_allclose(covariance_over(frames)[row], expected)


def test_sway_widens_every_points_covariance_by_itself() -> None:
    sway = np.tile(np.diag([4.0, 1.0]), (COUNT, 1, 1))
    still = covariances_px2(reading(sway_px2=np.zeros((COUNT, 2, 2))), view=View.FACE_ON)
    swaying = covariances_px2(reading(sway_px2=sway), view=View.FACE_ON)
    np.testing.assert_allclose(swaying - still, sway)


def test_sway_is_told_in_millimetres_at_the_golfer() -> None:
    sway = np.tile(np.diag([9.0, 16.0]), (COUNT, 1, 1))  # 3 and 4 pixels: 5 together
    assert sway_mm(reading(sway_px2=sway), mm_per_px=2.0) == pytest.approx(10.0)
