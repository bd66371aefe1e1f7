"""How a body stands to the camera, from the general model's points."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.vision.crops import square_cutout
from wellset.vision.facing import facing_of
from wellset.vision.general import GENERAL_POINTS, POINTS, Body
from wellset.vision.values import Array

PLACES = {
    "left_shoulder": (0.18, -0.5, 0.0),
    "right_shoulder": (-0.18, -0.5, 0.0),
    "left_hip": (0.11, 0.0, 0.0),
    "right_hip": (-0.11, 0.0, 0.0),
    "left_wrist": (0.05, 0.1, -0.3),
    "right_wrist": (-0.05, 0.1, -0.3),
    "left_ankle": (0.15, 0.8, 0.0),
    "right_ankle": (-0.15, 0.8, 0.0),
    "nose": (0.0, -0.7, -0.1),
}
"""A figure that faces the camera: x right, y down, z away from it, metre. Its own left is on
the right of the picture."""


def turned_about_the_vertical(points: Array, *, degrees: float) -> Array:
    """Turn so that what faced the camera (-z) faces the right of the picture (+x) at 90."""
    c, s = np.cos(np.radians(degrees)), np.sin(np.radians(degrees))
    return np.asarray(points @ np.array([[c, 0.0, -s], [0.0, 1.0, 0.0], [s, 0.0, c]]).T)


def a_body(*, degrees: float = 0.0, in_picture: float = 0.0) -> Body:
    points = np.zeros((POINTS, 3))
    for name, place in PLACES.items():
        points[GENERAL_POINTS[name]] = place
    points = turned_about_the_vertical(points, degrees=degrees)
    c, s = np.cos(in_picture), np.sin(in_picture)
    flat = points[:, :2] @ np.array([[c, -s], [s, c]]).T
    return Body(
        presence=1.0,
        points_px=flat * 300.0 + 500.0,
        visibility=np.ones(POINTS),
        points_m=points,
        outline=np.zeros((256, 256), dtype=np.float32),
        cutout=square_cutout(centre_px=(0.0, 0.0), side_px=256.0, size=256),
    )


@pytest.mark.parametrize("degrees", [-100.0, -90.0, -20.0, 0.0, 35.0, 90.0, 140.0])
def test_the_turn_is_the_turn_of_the_figure(degrees: float) -> None:
    turn = np.degrees(facing_of(a_body(degrees=degrees)).turn)
    assert turn == pytest.approx(degrees)


def test_facing_right_is_facing_the_right_of_the_picture() -> None:
    body = a_body(degrees=90.0)
    ahead = body.points_m[GENERAL_POINTS["nose"], 0] - body.points_m[GENERAL_POINTS["left_hip"], 0]
    assert ahead > 0.0
    assert facing_of(body).to_the_right
    assert not facing_of(a_body(degrees=-90.0)).to_the_right


def test_hands_are_measured_from_the_hips_in_body_heights() -> None:
    facing = facing_of(a_body())
    assert facing.hands_below == pytest.approx(0.1 / 1.5)  # nose to ankle is 1.5 m here
    assert facing.hands_across == pytest.approx(0.0, abs=1e-12)
    assert facing.hands_apart == pytest.approx(0.1 / 1.5)


@pytest.mark.parametrize(("quarters", "lying"), [(0, False), (1, True), (2, True), (3, True)])
def test_a_turned_picture_shows_a_lying_body(quarters: int, lying: bool) -> None:
    assert facing_of(a_body(in_picture=quarters * np.pi / 2)).is_lying == lying


def test_a_figure_turned_away_is_seen_from_behind() -> None:
    assert facing_of(a_body(degrees=175.0)).from_behind
    assert not facing_of(a_body(degrees=100.0)).from_behind
