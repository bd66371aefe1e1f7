"""The true golfer of a scene, drawn through the camera that was estimated from its points.

The scenes' points and pixels were written by their renderer, an independent program; OpenCV's
``projectPoints`` draws the same points with the estimated camera once more.
"""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from tests.support.standing import standing
from tests.support.truth import SOME_SCENES, load, points, scene_name
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import View

FEET = tuple(f"{side}_shoe_{end}" for side in ("lead", "trail") for end in ("heel", "toe"))
WITHIN = 5.991
"""95 % point of chi-square with two degrees of freedom."""


@pytest.mark.parametrize("view", list(View))
@pytest.mark.parametrize("scene", SOME_SCENES)
def test_the_true_golfer_is_drawn_near_the_true_pixels(scene: str, view: View) -> None:
    found, truth = standing(scene), load(scene)
    drawn = found.pictures[view].project(points(truth))
    seen = truth["views"][view.value]["landmarks_px"]
    true = np.array([seen[scene_name(truth, name)] for name in LANDMARKS])
    tall = float(np.ptp(true[:, 1]))
    off = np.linalg.norm(drawn - true, axis=1) / tall
    # the scenes' points were given 4 mm of noise: a hundredth of a golfer is 1.5 cm
    assert np.median(off) < 0.01
    assert off.max() < 0.03


def test_the_true_feet_lie_in_the_claimed_ranges() -> None:
    inside = []
    for scene in SOME_SCENES:
        found, truth = standing(scene), load(scene)
        assert found.stand is not None
        at = points(truth)[[LANDMARKS.index(name) for name in FEET]]
        for view in View:
            seen = truth["views"][view.value]["landmarks_px"]
            true = np.array([seen[scene_name(truth, name)] for name in FEET])
            off = found.pictures[view].project(at) - true
            off[:, 0] *= -1 if found.pictures[view].mirrored else 1
            spread = found.stand.views[view].projection.spread_px(at)
            squared = np.einsum("ni,nij,nj->n", off, np.linalg.inv(spread), off)
            inside.append(squared <= WITHIN)
    # 48 ranges, correlated in each picture: 95 % are expected, fewer than 80 % are a defect
    assert np.mean(inside) > 0.8


@pytest.mark.parametrize("view", list(View))
@pytest.mark.parametrize(
    "scene", ["mid_iron_neutral_21", "mid_iron_left_handed_weight_in_heels_01"]
)
def test_the_plan_is_drawn_where_opencv_would_draw_it(scene: str, view: View) -> None:
    found = standing(scene)
    assert found.stand is not None
    assert found.stand.plan is not None
    at, picture = found.stand.plan.figure.points, found.pictures[view]
    camera = picture.camera
    right, forward, up = camera.axes
    turn = np.stack([right, -up, forward])
    shift = camera.parameters[8:10] * np.hypot(camera.width_px, camera.height_px)
    centre = np.array([camera.width_px, camera.height_px]) / 2 + shift - 0.5
    matrix = np.array([[camera.focal_px, 0, centre[0]], [0, camera.focal_px, centre[1]], [0, 0, 1]])
    lens = np.array([camera.parameters[7], 0.0, 0.0, 0.0])
    expected, _ = cv2.projectPoints(
        at, cv2.Rodrigues(turn)[0], -turn @ camera.position, matrix, lens
    )
    pixels = expected.reshape(-1, 2) + 0.5
    if picture.mirrored:  # a left-hander's picture as it was taken
        pixels[:, 0] = camera.width_px - pixels[:, 0]
    np.testing.assert_allclose(picture.project(at), pixels, atol=1e-6)
