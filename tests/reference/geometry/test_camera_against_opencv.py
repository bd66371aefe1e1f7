"""Our projection against OpenCV's ``projectPoints`` (an independent program).

OpenCV: camera x right, y down, z forward; pixel centres on whole numbers. Ours: camera
right, forward, up; first pixel's centre at (0.5, 0.5). Distortion: the first radial
coefficient is the same in both.
"""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from wellset.assess.cameras import BASE
from wellset.figure.views import View
from wellset.geometry import Camera


@pytest.mark.parametrize("view", list(View))
@pytest.mark.parametrize("seed", range(10))
def test_our_pixels_are_opencvs_pixels_plus_half(view: View, seed: int) -> None:
    rng = np.random.default_rng(seed)
    yaw, pitch, roll = rng.uniform(-0.3, 0.3, 3)
    back = {View.FACE_ON: [0, -3.0, 1.1], View.DOWN_THE_LINE: [-3.5, 0.5, 1.1]}[view]
    position = np.array(back) + rng.uniform(-0.5, 0.5, 3)
    focal, k1 = rng.uniform(900, 1800), rng.uniform(-0.1, 0.1)
    shift = rng.uniform(-0.02, 0.02, 2)
    width, height = 1512, 2016
    camera = Camera(
        parameters=np.array([np.log(focal), yaw, pitch, roll, *position, k1, *shift]),
        base=BASE[view],
        width_px=width,
        height_px=height,
    )
    points = rng.uniform([-0.5, -0.2, 0.0], [0.5, 0.9, 1.8], (20, 3))

    right, forward, up = camera.axes
    world_to_camera = np.stack([right, -up, forward])
    assert float(np.linalg.det(world_to_camera)) == pytest.approx(1.0)
    turn, _ = cv2.Rodrigues(world_to_camera)
    centre = np.array([width, height]) / 2 + shift * np.hypot(width, height) - 0.5
    matrix = np.array([[focal, 0, centre[0]], [0, focal, centre[1]], [0, 0, 1.0]])
    expected, _ = cv2.projectPoints(
        points, turn, -world_to_camera @ position, matrix, np.array([k1, 0.0, 0.0, 0.0])
    )
    np.testing.assert_allclose(camera.project(points), expected.reshape(-1, 2) + 0.5, atol=1e-8)


@pytest.mark.parametrize("view", list(View))
def test_the_axes_of_a_turned_camera_are_turned_about_its_own_axes_in_order(view: View) -> None:
    # yaw about the vertical, then pitch about the new right axis, then roll about the new
    # line of sight, by OpenCV's Rodrigues formula; roll + tips the right side up, which is
    # a turn about the line of sight with the opposite hand
    yaw, pitch, roll = 0.25, -0.15, 0.1
    right, forward, up = BASE[view]
    for axis_of, turn in (("up", yaw), ("right", pitch), ("sight", -roll)):
        axis = {"up": up, "right": right, "sight": forward}[axis_of]
        rotation, _ = cv2.Rodrigues(axis * turn)
        right, forward, up = rotation @ right, rotation @ forward, rotation @ up
    camera = Camera(
        parameters=np.array([7.0, yaw, pitch, roll, 0, 0, 0, 0, 0, 0]),
        base=BASE[view],
        width_px=100,
        height_px=100,
    )
    np.testing.assert_allclose(camera.axes, [right, forward, up], atol=1e-12)
