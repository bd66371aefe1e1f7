"""Small rotations composed in a fixed order, with derivatives."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def yaw_pitch_roll(angles: Array, /) -> tuple[Array, Array]:
    """World-from-camera turn of a camera that starts level, and its derivatives.

    Parameters
    ----------
    angles : (3,) array, radian
        Yaw about the vertical (+ turns the view to its left), pitch (+ looks up),
        roll about the line of sight (+ tips the camera's right side up).

    Returns
    -------
    rotation : (3, 3) array
        Columns are the camera's right, forward and up axes in its base frame.
    derivatives : (3, 3, 3) array
        ``derivatives[i]`` is the change of ``rotation`` with ``angles[i]``.
    """
    (cy, cp, cr), (sy, sp, sr) = np.cos(angles), np.sin(angles)
    yaw = np.array([[cy, -sy, 0], [sy, cy, 0], [0, 0, 1]])
    pitch = np.array([[1, 0, 0], [0, cp, -sp], [0, sp, cp]])
    roll = np.array([[cr, 0, -sr], [0, 1, 0], [sr, 0, cr]])
    d_yaw = np.array([[-sy, -cy, 0], [cy, -sy, 0], [0, 0, 0]])
    d_pitch = np.array([[0, 0, 0], [0, -sp, -cp], [0, cp, -sp]])
    d_roll = np.array([[-sr, 0, -cr], [0, 0, 0], [cr, 0, -sr]])
    turn = yaw @ pitch @ roll
    return turn, np.array([d_yaw @ pitch @ roll, yaw @ d_pitch @ roll, yaw @ pitch @ d_roll])
