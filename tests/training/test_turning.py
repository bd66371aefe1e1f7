"""Rotations."""

from __future__ import annotations

import numpy as np

from training.golfers import turning

X, Y, Z = np.eye(3)


def test_a_quarter_turn_about_each_axis_follows_the_right_hand() -> None:
    np.testing.assert_allclose(turning.about_x(np.pi / 2) @ Y, Z, atol=1e-12)
    np.testing.assert_allclose(turning.about_y(np.pi / 2) @ Z, X, atol=1e-12)
    np.testing.assert_allclose(turning.about_z(np.pi / 2) @ X, Y, atol=1e-12)
    np.testing.assert_allclose(turning.about(np.array([0, 0, 2.0]), np.pi / 2) @ X, Y, atol=1e-12)


def test_two_thirds_of_a_turn_then_one_third_is_the_whole() -> None:
    R = turning.about(np.array([1.0, 2.0, -0.5]), 1.1)
    parts = turning.part_of(R, 2 / 3) @ turning.part_of(R, 1 / 3)
    np.testing.assert_allclose(parts, R, atol=1e-9)


def test_the_twist_of_a_turn_about_its_own_axis_is_its_angle() -> None:
    axis = turning.unit(np.array([1.0, 2.0, -0.5]))
    assert np.isclose(turning.twist_about(turning.about(axis, 0.7), axis), 0.7)


def test_the_smallest_turn_between_two_directions_carries_one_to_the_other() -> None:
    a, b = turning.unit(np.array([1.0, 2, 3])), turning.unit(np.array([-1.0, 0.3, 2]))
    np.testing.assert_allclose(turning.between(a, b) @ a, b, atol=1e-12)
    np.testing.assert_allclose(turning.between(a, a), np.eye(3))
