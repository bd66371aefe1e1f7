"""Angles and lengths: hand-solvable cases and complex steps."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.geometry import angle, bend, length


def test_the_angle_of_a_3_4_5_triangle_is_the_arc_tangent_of_three_quarters() -> None:
    assert float(angle(np.array(3.0), np.array(4.0))) == pytest.approx(np.arctan(0.75))


def test_the_angle_keeps_its_quadrant() -> None:
    found = angle(np.array([1.0, 1.0, -1.0, -1.0]), np.array([1.0, -1.0, -1.0, 1.0]))
    np.testing.assert_allclose(np.degrees(found), [45, 135, -135, -45])


@pytest.mark.parametrize("turn", [0.1, 1.4, 1.6, 3.0, -0.4, -1.7, -3.0])
def test_the_complex_step_through_an_angle_is_its_exact_derivative(turn: float) -> None:
    step = 1e-30
    y, x = np.sin(turn), np.cos(turn)
    by_y = np.imag(angle(np.array(y + 1j * step), np.array(x + 0j))) / step
    by_x = np.imag(angle(np.array(y + 0j), np.array(x + 1j * step))) / step
    # d atan2 / dy = x / r^2, d atan2 / dx = -y / r^2, with r = 1
    assert float(by_y) == pytest.approx(x, rel=1e-14)
    assert float(by_x) == pytest.approx(-y, rel=1e-14)


def test_the_length_of_3_4_12_is_13() -> None:
    assert float(length(np.array([3.0, 4.0, 12.0]))) == pytest.approx(13.0)


def test_the_complex_step_through_a_length_is_the_direction() -> None:
    vector, step = np.array([3.0, 4.0, 12.0]), 1e-30
    slope = np.imag(length(vector + 1j * step * np.eye(3))) / step
    np.testing.assert_allclose(slope, vector / 13, rtol=1e-14)


@pytest.mark.parametrize("turn_deg", [0.5, 30.0, 90.0, 150.0, 179.5])
def test_the_bend_between_two_vectors_is_the_angle_between_them(turn_deg: float) -> None:
    turn = np.radians(turn_deg)
    first = np.array([2.0, 0.0, 0.0])
    second = 3 * np.array([np.cos(turn), np.sin(turn) * 0.6, np.sin(turn) * 0.8])
    assert float(bend(first, second)) == pytest.approx(turn, rel=1e-12)


def test_the_complex_step_through_a_bend_turns_the_second_vector() -> None:
    turn, step = 0.7, 1e-30
    first = np.array([1.0, 0.0, 0.0], dtype=np.complex128)
    second = np.array([np.cos(turn), np.sin(turn), 0.0], dtype=np.complex128)
    ahead = second + 1j * step * np.array([-np.sin(turn), np.cos(turn), 0.0])
    assert float(np.imag(bend(first, ahead)) / step) == pytest.approx(1.0, rel=1e-14)


def test_angles_of_a_batch_are_the_angles_of_its_members() -> None:
    rng = np.random.default_rng(1)
    first, second = rng.normal(size=(2, 5, 4, 3))
    batch = bend(first, second)
    assert batch.shape == (5, 4)
    assert float(batch[3, 2]) == pytest.approx(float(bend(first[3, 2], second[3, 2])))
