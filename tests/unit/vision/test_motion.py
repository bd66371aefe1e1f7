"""How far things moved between two samples, whatever the camera did."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from wellset.vision.camera_motion import CameraMotion, camera_motion, corners
from wellset.vision.crops import Box
from wellset.vision.general import Detection
from wellset.vision.motion import Compared, Stage, compare, prepared, stage_of
from wellset.vision.values import Array, Pixels

SHAPE = (640, 360)
HIPS = (180.0, 300.0)
REACH = 150.0


@pytest.fixture(scope="module")
def ground() -> Pixels:
    """Rich texture: noise, smoothed to a few pixels."""
    noise = np.random.default_rng(7).normal(0.0, 1.0, SHAPE)
    smooth = cv2.GaussianBlur(noise, (0, 0), 3.0)
    return np.asarray(np.clip(128.0 + 40.0 * smooth / np.std(smooth), 0, 255), dtype=np.uint8)


@pytest.fixture
def stage() -> Stage:
    hips = np.array(HIPS)
    head = Box(left=170.0, top=160.0, right=190.0, bottom=180.0)
    up = Detection(score=1.0, head=head, hips_px=hips, top_px=hips - np.array([0.0, REACH]))
    return stage_of(up, shape=SHAPE)


def with_club(ground: Pixels, *, right: float) -> Pixels:
    """The ground with a dark disc of a club head's size near the ball, at a part of a pixel."""
    drawn = ground.copy()
    at = (round((250.0 + right) * 16.0), round(430.0 * 16.0))
    cv2.circle(drawn, at, 6 * 16, 10, -1, cv2.LINE_AA, 4)
    return drawn


def seen_by_a_moved_camera(picture: Pixels, *, right: float, down: float, turn: float) -> Pixels:
    matrix = cv2.getRotationMatrix2D((180.0, 320.0), float(np.degrees(turn)), 1.0)
    matrix[:, 2] += np.array([right, down])
    moved = cv2.warpAffine(picture, matrix, SHAPE[::-1], borderMode=cv2.BORDER_REFLECT)
    return np.asarray(moved, dtype=np.uint8)


def compared(earlier: Pixels, later: Pixels, stage: Stage) -> Compared:
    followed = corners(earlier, where=stage.still)
    return compare(prepared(earlier), prepared(later), stage=stage, followed=followed)


def test_two_equal_samples_show_no_motion(ground: Pixels, stage: Stage) -> None:
    found = compared(ground, ground, stage)
    assert found.camera.at_rest
    assert found.largest(stage.golfer) == 0.0


@pytest.mark.parametrize("shift", [0.5, 1.0, 2.0])
def test_a_club_head_that_moves_is_seen_to_move_about_so_far(
    ground: Pixels, stage: Stage, shift: float
) -> None:
    found = compared(with_club(ground, right=0.0), with_club(ground, right=shift), stage)
    assert 0.4 * shift < found.largest(stage.golfer) < 2.0 * shift


def test_a_moved_camera_is_not_taken_for_a_moved_club(ground: Pixels, stage: Stage) -> None:
    still = with_club(ground, right=0.0)
    other = seen_by_a_moved_camera(still, right=6.0, down=-4.0, turn=0.01)
    found = compared(still, other, stage)
    assert not found.camera.at_rest
    assert found.largest(stage.golfer) < 0.5


def test_a_moved_club_is_seen_through_a_moved_camera(ground: Pixels, stage: Stage) -> None:
    still = with_club(ground, right=0.0)
    other = seen_by_a_moved_camera(with_club(ground, right=3.0), right=6.0, down=-4.0, turn=0.01)
    assert compared(still, other, stage).largest(stage.golfer) > 1.0


def test_the_cameras_motion_is_found_to_a_tenth_of_a_pixel(ground: Pixels, stage: Stage) -> None:
    other = seen_by_a_moved_camera(ground, right=6.3, down=-4.2, turn=0.0)
    followed = corners(ground, where=stage.still)
    found = camera_motion(ground, other, followed=followed, at_feet=stage.feet)
    points = np.array([[180.0, 300.0], [40.0, 600.0]])
    np.testing.assert_allclose(found.forth(points) - points, [[6.3, -4.2]] * 2, atol=0.1)
    np.testing.assert_allclose(found.back(found.forth(points)), points, atol=1e-9)


def test_the_ground_at_the_feet_wins_over_a_far_background(ground: Pixels, stage: Stage) -> None:
    # A camera carried sideways moves what is near by 4 pixels and what is far by 1.
    near = seen_by_a_moved_camera(ground, right=4.0, down=0.0, turn=0.0)
    other = seen_by_a_moved_camera(ground, right=1.0, down=0.0, turn=0.0)
    feet_row = int(HIPS[1] + 0.62 * REACH)
    other[feet_row:] = near[feet_row:]
    followed = corners(ground, where=stage.still)
    found = camera_motion(ground, other, followed=followed, at_feet=stage.feet)
    hips: Array = np.array([HIPS])
    assert (found.forth(hips) - hips)[0, 0] == pytest.approx(4.0, abs=0.4)


def test_a_cloud_is_no_motion(ground: Pixels, stage: Stage) -> None:
    bright = np.clip(ground, 35, 220)
    found = compared(bright, np.asarray(bright - 30, dtype=np.uint8), stage)
    assert found.largest(stage.golfer) < 0.1


def test_nothing_to_follow_leaves_the_camera_at_rest_and_says_so(stage: Stage) -> None:
    plain = np.full(SHAPE, 90, dtype=np.uint8)
    found = camera_motion(
        plain, plain, followed=corners(plain, where=stage.still), at_feet=stage.feet
    )
    assert isinstance(found, CameraMotion)
    assert not found.known
    assert found.at_rest
