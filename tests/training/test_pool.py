"""The file in which golfers travel from the workers to the pictures."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from training.golfers import pool


def a_golfer(*, hand: str = "right") -> pool.Golfer:
    landmarks = np.arange(37 * 3).reshape(37, 3) / 100
    known = np.ones(37, bool)
    known[pool.LANDMARKS.index("eye_left")] = False
    return pool.Golfer(
        vertices=[[0, 0, 0], [8000, 0, 0], [0, 8000, 0]],
        normals=[[0, 0, 127]] * 3,
        faces=[[0, 1, 2]],
        classes=[pool.CLASSES.index("shirt")],
        colours=[[128, 128, 128]],
        landmarks_m=landmarks,
        hull_m=np.zeros((192, 3)),
        known=known,
        at_address=False,
        kind="walking",
        hand=hand,
        club="driver",
        garments=("jacket", "skirt"),
    )


def test_golfers_come_back_from_a_file_as_they_went_in(tmp_path: Path) -> None:
    pool.save([a_golfer(), a_golfer(hand="left")], tmp_path / "a.npz")
    first, second = pool.load(tmp_path / "a.npz")
    np.testing.assert_array_equal(first.landmarks_m, a_golfer().landmarks_m)
    np.testing.assert_array_equal(first.vertices_m[1], [1.0, 0.0, 0.0])
    np.testing.assert_array_equal(first.known, a_golfer().known)
    assert (first.kind, first.hand, second.hand) == ("walking", "right", "left")
    assert first.garments == ("jacket", "skirt")
    assert not first.at_address


def test_the_arrays_of_a_golfer_cannot_be_changed_by_accident() -> None:
    with pytest.raises(ValueError, match="read-only"):
        a_golfer().vertices[0, 0] = 1


def test_a_mirrored_golfer_plays_from_the_other_side_and_keeps_facing_outward() -> None:
    left = pool.mirrored(a_golfer())
    right = a_golfer()
    assert left.hand == "left"
    a, b, c = left.vertices_m[left.faces[0]]
    assert np.cross(b - a, c - a)[2] > 0
    eye_left, eye_right = (pool.LANDMARKS.index(f"eye_{side}") for side in ("left", "right"))
    np.testing.assert_allclose(
        left.landmarks_m[eye_left], right.landmarks_m[eye_right] * [-1, 1, 1]
    )
    assert (left.known[eye_left], left.known[eye_right]) == (True, False)


def test_mirroring_twice_changes_nothing() -> None:
    twice = pool.mirrored(pool.mirrored(a_golfer()))
    np.testing.assert_array_equal(twice.vertices, a_golfer().vertices)
    np.testing.assert_array_equal(twice.landmarks_m, a_golfer().landmarks_m)
    np.testing.assert_array_equal(twice.faces, a_golfer().faces)
