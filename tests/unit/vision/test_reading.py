"""Several looks make one reading; a look tells rest from a swing."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.vision.crops import Box, square_cutout
from wellset.vision.looks import ARMS, LEGS, Look
from wellset.vision.reading import JITTER, combine, held_points, lay_cutouts
from wellset.vision.values import Array

COUNT = len(LANDMARKS)
CUTOUT = square_cutout(centre_px=(500.0, 500.0), side_px=710.0, size=320)


def a_look(*, points: Array | None = None, spread: Array | None = None) -> Look:
    if points is None:
        points = np.tile([500.0, 500.0], (COUNT, 1))
    if spread is None:
        spread = np.full((COUNT, 2), 1.0)
    return Look(
        points_px=points,
        spread_px=spread,
        cutout=CUTOUT,
        height_px=500.0,
        picture_px=(1000.0, 1000.0),
    )


def test_the_jitter_pattern_of_five_and_of_nine_has_no_preferred_side() -> None:
    for count in (5, 9):
        np.testing.assert_allclose(np.mean(JITTER[:count], axis=0)[:2], 0.0, atol=1e-12)


def test_a_cutout_lies_as_the_network_was_trained() -> None:
    golfer = Box(left=300.0, top=200.0, right=500.0, bottom=700.0)
    plain = lay_cutouts(golfer, crops=1, mirrored=False)[0]
    middle = plain.to_picture(np.array([[160.0, 160.0]]))[0]
    np.testing.assert_allclose(middle, [400.0 + 0.08 * 500.0, 450.0 + 0.05 * 500.0])
    assert 320.0 / plain.scale == pytest.approx(1.42 * 500.0)


def test_a_mirrored_cutout_leans_to_the_other_side() -> None:
    golfer = Box(left=300.0, top=200.0, right=500.0, bottom=700.0)
    other = lay_cutouts(golfer.mirrored(1000.0), crops=5, mirrored=False)
    for here, there in zip(lay_cutouts(golfer, crops=5, mirrored=True), other, strict=True):
        points = here.to_picture(np.array([[10.0, 20.0], [300.0, 50.0]]))
        points[:, 0] = 1000.0 - points[:, 0]
        np.testing.assert_allclose(
            there.to_picture(np.array([[10.0, 20.0], [300.0, 50.0]])), points
        )


@pytest.mark.parametrize("crops", [0, 10])
def test_no_more_cutouts_than_the_pattern_has(crops: int) -> None:
    with pytest.raises(ValueError, match="crops must be 1 to 9"):
        lay_cutouts(Box(left=0.0, top=0.0, right=1.0, bottom=2.0), crops=crops, mirrored=False)


def test_a_ball_beneath_the_cutout_pulls_every_cutout_down_to_it() -> None:
    golfer = Box(left=300.0, top=200.0, right=500.0, bottom=700.0)
    ball = np.array([[400.0, 850.0], [400.0, 200.0]])
    for cutout in lay_cutouts(golfer, crops=5, mirrored=False, held_px=ball):
        inside = cutout.to_cutout(ball) / cutout.size
        assert (inside > 0.0).all()
        assert (inside < 1.0).all()
    plain = lay_cutouts(golfer, crops=1, mirrored=False)[0]
    assert plain.to_cutout(ball)[0, 1] > plain.size


def test_points_piled_at_the_edge_are_looked_for_beyond_it() -> None:
    points = np.tile([500.0, 500.0], (COUNT, 1))
    bottom = CUTOUT.to_picture(np.array([[160.0, 319.0]]))[0]
    points[INDEX["ball"]] = bottom
    seen = a_look(points=points)
    assert seen.clipped[INDEX["ball"]]
    assert held_points(seen)[INDEX["ball"], 1] == pytest.approx(bottom[1] + 0.06 * 500.0)


def test_one_cutout_that_jumps_to_another_limb_hardly_moves_the_mean() -> None:
    looks = [a_look() for _ in range(4)]
    astray = np.tile([500.0, 500.0], (COUNT, 1))
    astray[3] = [600.0, 500.0]
    reading = combine([*looks, a_look(points=astray)])
    assert abs(reading.points_px[3, 0] - 500.0) < 0.1
    # ... but it is seen in the scatter: 100 px off in one of five is a variance of 2000 px²
    assert reading.scatter_px2[3, 0, 0] == pytest.approx(100.0**2 / 4, rel=0.01)
    np.testing.assert_allclose(reading.scatter_px2[4], 0.0)


def test_a_clipped_point_counts_only_where_no_cutout_holds_it() -> None:
    low = np.tile([500.0, 500.0], (COUNT, 1))
    low[INDEX["ball"]] = CUTOUT.to_picture(np.array([[160.0, 319.5]]))[0]
    held = np.tile([500.0, 500.0], (COUNT, 1))
    held[INDEX["ball"]] = [500.0, 840.0]
    reading = combine([a_look(points=low), a_look(points=held)])
    np.testing.assert_allclose(reading.points_px[INDEX["ball"]], [500.0, 840.0])
    assert not reading.clipped.any()
    assert combine([a_look(points=low)]).clipped[INDEX["ball"]]


def test_unrest_is_nothing_at_rest_and_the_log_ratio_of_arms_to_legs_in_a_swing() -> None:
    assert a_look().unrest == 0.0
    spread = np.full((COUNT, 2), 1.0)
    spread[list(ARMS)] = np.e**2
    swinging = a_look(spread=spread)
    body = INDEX["grip_mid"]
    # Four of the 31 body points are arms; the grip is the fifth arm point and one of five
    # of the club, whose mean is 2/5 against the body's 8/31.
    assert body == 31
    assert swinging.unrest == pytest.approx(2.0 + 2.0 / 5.0 - 8.0 / 31.0)
    assert evolve(swinging, spread_px=spread * 7.0).unrest == pytest.approx(swinging.unrest)


def test_points_outside_the_picture_say_nothing_about_rest() -> None:
    points = np.tile([500.0, 500.0], (COUNT, 1))
    points[INDEX["shaft_end"] :] = [500.0, 998.0]
    spread = np.full((COUNT, 2), 1.0)
    spread[INDEX["shaft_end"] :] = 50.0
    assert a_look(points=points, spread=spread).unrest == 0.0
    assert not a_look(points=points).visible[INDEX["ball"]]


def test_the_turn_is_read_off_shoes_and_widths() -> None:
    points = np.tile([500.0, 500.0], (COUNT, 1))
    points[INDEX["lead_shoulder"], 0] += 0.233 * 500.0
    points[INDEX["lead_hip"], 0] += 0.136 * 500.0
    assert np.degrees(a_look(points=points).turn) == pytest.approx(0.0)
    along = np.tile([500.0, 500.0], (COUNT, 1))
    for side in ("lead", "trail"):
        along[INDEX[f"{side}_shoe_toe"], 0] += 0.175 * 500.0
    assert np.degrees(a_look(points=along).turn) == pytest.approx(90.0)


def test_arms_and_legs_are_different_points() -> None:
    assert not set(ARMS) & set(LEGS)
