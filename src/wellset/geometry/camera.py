"""A phone as a pinhole with one term of radial distortion.

Frames: the world is SI with z up. A camera is described from a *base* attitude
(level, looking along a world axis) by yaw, pitch and roll. Camera axes are x right,
y down, z forward; pixels have their origin at the picture's top-left corner and the
first pixel's centre at (0.5, 0.5).
"""

from __future__ import annotations

from functools import cached_property
from typing import Final

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.geometry.rotation import yaw_pitch_roll

Array = NDArray[np.float64]

CAMERA_PARAMETERS: Final = (
    "log_focal",
    "yaw",
    "pitch",
    "roll",
    "x",
    "y",
    "z",
    "k1",
    "centre_x",
    "centre_y",
)
"""Order of a camera's parameter vector. ``log_focal`` is the logarithm of the focal
length in pixels; ``x y z`` the optical centre in the world, metre; ``k1`` the first
radial coefficient; ``centre_*`` the principal point relative to the picture's middle,
as a fraction of the picture's diagonal."""

FULL_FRAME_DIAGONAL_MM: Final = 43.267
"""Diagonal of the 36 mm x 24 mm frame to which 35 mm-equivalent focal lengths refer."""


def focal_px_from_35mm(focal_35mm: float, *, width_px: int, height_px: int) -> float:
    """Focal length in pixels from the 35 mm-equivalent tag, which is on the diagonal."""
    return focal_35mm / FULL_FRAME_DIAGONAL_MM * float(np.hypot(width_px, height_px))


def _read_only(value: object) -> Array:
    array = np.array(value, dtype=np.float64)
    array.setflags(write=False)
    return array


@frozen(kw_only=True, eq=False)
class Camera:
    """One camera: parameters, base attitude, picture size.

    Parameters
    ----------
    parameters : (10,) array
        In the order of :data:`CAMERA_PARAMETERS`.
    base : (3, 3) array
        Rows are the base attitude's right, forward and up axes in the world.
    width_px, height_px : int
    """

    parameters: Array = field(converter=_read_only)
    base: Array = field(converter=_read_only)
    width_px: int
    height_px: int

    @property
    def focal_px(self) -> float:
        """Focal length, pixel."""
        return float(np.exp(self.parameters[0]))

    @property
    def position(self) -> Array:
        """Optical centre in the world, metre, shape (3,)."""
        return self.parameters[4:7]

    @cached_property
    def axes(self) -> Array:
        """Rows: the camera's right, forward and up axes in the world, shape (3, 3)."""
        turn, _ = yaw_pitch_roll(self.parameters[1:4])
        return _read_only(turn.T @ self.base)

    def depth(self, points_world: Array, /) -> Array:
        """Distance along the line of sight, metre, shape (N,)."""
        depth: Array = (points_world - self.position) @ self.axes[1]
        return depth

    def project(self, points_world: Array, /) -> Array:
        """Pixels of world points, shape (N, 2). Points behind the camera give NaN."""
        focal, middle_x, middle_y = self._lens
        seen = (points_world - self.position) @ self.axes.T
        forward = np.where(seen[:, 1] > 0, seen[:, 1], np.nan)
        x, y = seen[:, 0] / forward, -seen[:, 2] / forward
        factor = focal * (1 + self.parameters[7] * (x * x + y * y))
        pixels = np.empty((len(seen), 2))
        pixels[:, 0], pixels[:, 1] = factor * x + middle_x, factor * y + middle_y
        return pixels

    @cached_property
    def _lens(self) -> tuple[float, float, float]:
        """Focal length and where the axis meets the picture, pixel."""
        diagonal = float(np.hypot(self.width_px, self.height_px))
        x, y = (float(shift) * diagonal for shift in self.parameters[8:10])
        return self.focal_px, self.width_px / 2 + x, self.height_px / 2 + y


def project_with_jacobian(camera: Camera, points_world: Array, /) -> tuple[Array, Array, Array]:
    """Project points, with exact derivatives.

    Parameters
    ----------
    camera : Camera
    points_world : (N, 3) array, world frame, metre

    Returns
    -------
    pixels : (N, 2) array
    by_point : (N, 2, 3) array
        Change of the pixels with the points.
    by_camera : (N, 2, 10) array
        Change of the pixels with :data:`CAMERA_PARAMETERS`.
    """
    turn, d_turn = yaw_pitch_roll(camera.parameters[1:4])
    focal, k1 = camera.focal_px, camera.parameters[7]
    offset = (points_world - camera.position) @ camera.base.T  # base frame: right, forward, up
    seen = offset @ turn
    forward = seen[:, 1]
    x, y = seen[:, 0] / forward, -seen[:, 2] / forward
    r2 = x * x + y * y
    factor = 1 + k1 * r2
    diagonal = float(np.hypot(camera.width_px, camera.height_px))
    middle = np.array([camera.width_px, camera.height_px]) / 2
    pixels = focal * factor[:, None] * np.stack([x, y], 1) + middle
    pixels = pixels + camera.parameters[8:10] * diagonal

    # d pixel / d (x, y)
    n = len(points_world)
    by_plane = np.empty((n, 2, 2))
    by_plane[:, 0, 0] = factor + 2 * k1 * x * x
    by_plane[:, 0, 1] = by_plane[:, 1, 0] = 2 * k1 * x * y
    by_plane[:, 1, 1] = factor + 2 * k1 * y * y
    by_plane *= focal
    # d (x, y) / d (right, forward, up)
    by_seen = np.zeros((n, 2, 3))
    by_seen[:, 0, 0] = 1 / forward
    by_seen[:, 0, 1] = -x / forward
    by_seen[:, 1, 1] = -y / forward
    by_seen[:, 1, 2] = -1 / forward
    pixel_by_seen = by_plane @ by_seen
    by_point = pixel_by_seen @ (turn.T @ camera.base)

    by_camera = np.zeros((n, 2, 10))
    by_camera[:, :, 0] = focal * factor[:, None] * np.stack([x, y], 1)
    for i in range(3):
        by_camera[:, :, 1 + i] = np.einsum("nij,nj->ni", pixel_by_seen, offset @ d_turn[i])
    by_camera[:, :, 4:7] = -by_point
    by_camera[:, :, 7] = focal * r2[:, None] * np.stack([x, y], 1)
    by_camera[:, 0, 8] = by_camera[:, 1, 9] = diagonal
    return pixels, by_point, by_camera
