"""Rotations as 3 × 3 matrices; angles in radians."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def about_x(angle: float) -> Array:
    """Turn about X, Y toward Z."""
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[1, 0, 0], [0, c, -s], [0, s, c]])


def about_y(angle: float) -> Array:
    """Turn about Y, Z toward X."""
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, 0, s], [0, 1, 0], [-s, 0, c]])


def about_z(angle: float) -> Array:
    """Turn about Z, X toward Y."""
    c, s = np.cos(angle), np.sin(angle)
    return np.array([[c, -s, 0], [s, c, 0], [0, 0, 1]])


def unit(vector: Array) -> Array:
    """The vector scaled to length one."""
    scaled: Array = vector / length(vector)
    return scaled


def length(vector: Array) -> float:
    """Length of a vector."""
    return float(np.sqrt(vector @ vector))


def cross(a: Array, b: Array) -> Array:
    """Cross product of two 3-vectors (several times faster than numpy's general one)."""
    return np.array(
        [
            a[1] * b[2] - a[2] * b[1],
            a[2] * b[0] - a[0] * b[2],
            a[0] * b[1] - a[1] * b[0],
        ]
    )


def about(axis: Array, angle: float) -> Array:
    """Turn about any axis by the right-hand rule (Rodrigues' formula)."""
    x, y, z = unit(axis)
    K = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    return np.asarray(np.eye(3) + np.sin(angle) * K + (1 - np.cos(angle)) * (K @ K))


def frame(first: Array, second: Array) -> Array:
    """Right-handed frame, as columns: along ``first``, then ``second`` made square to it."""
    a = unit(first)
    b = unit(second - a * (a @ second))
    return np.stack([a, b, cross(a, b)], axis=1)


def between(start: Array, end: Array) -> Array:
    """The smallest turn that carries one direction to another."""
    axis = cross(start, end)
    if np.linalg.norm(axis) < 1e-9:
        return np.eye(3)
    return about(axis, float(np.arctan2(np.linalg.norm(axis), start @ end)))


def part_of(R: Array, share: float) -> Array:
    """The same turn carried out only in part."""
    angle = np.arccos(np.clip((np.trace(R) - 1) / 2, -1, 1))
    if angle < 1e-6:
        return np.eye(3)
    return about(_axis(R), angle * share)


def twist_about(R: Array, axis: Array) -> float:
    """How far a turn twists about a (unit) axis."""
    return float(2 * np.arctan2(_axis(R) @ axis, 1 + np.trace(R)))


def _axis(R: Array) -> Array:
    """Axis of a turn, times twice the sine of its angle."""
    return np.array([R[2, 1] - R[1, 2], R[0, 2] - R[2, 0], R[1, 0] - R[0, 1]])
