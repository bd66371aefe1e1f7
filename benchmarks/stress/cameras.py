"""Cameras of known place, attitude, focal length and distortion."""

from __future__ import annotations

from math import cos, radians, sin
from typing import Final

import numpy as np
from attrs import frozen

from benchmarks.stress.solids import Array

SIZES: Final = ((720, 1280), (840, 1120), (900, 1200))
DIAGONAL_35MM: Final = 43.267


@frozen(kw_only=True, eq=False)
class Lens:
    """A camera.

    ``Xc = R Xw + t`` (x right, y down, z forward), radial factor ``1 + k1 r^2 + k2 r^4``,
    pixel centres at +0.5.
    """

    width: int
    height: int
    focal: float
    rotation: Array
    translation: Array
    k1: float
    k2: float

    @property
    def place(self) -> Array:
        """Optical centre in the world, metre."""
        return np.asarray(-self.rotation.T @ self.translation)

    def project(self, points: Array) -> tuple[Array, Array]:
        """Pixels, shape (n, 2), and depths, shape (n,), of (n, 3) points."""
        seen = points @ self.rotation.T + self.translation
        plane = seen[:, :2] / seen[:, 2:]
        r2 = (plane**2).sum(axis=1, keepdims=True)
        plane = plane * (1 + self.k1 * r2 + self.k2 * r2**2)
        middle = np.array([self.width, self.height]) / 2
        return np.asarray(self.focal * plane + middle), seen[:, 2]

    def rays(self, pixels: Array) -> Array:
        """Directions of unit length through (n, 2) pixels."""
        bent = (pixels - np.array([self.width, self.height]) / 2) / self.focal
        plane = bent
        for _ in range(6):  # the factor is near 1, so this closes in fast
            r2 = (plane**2).sum(axis=1, keepdims=True)
            plane = bent / (1 + self.k1 * r2 + self.k2 * r2**2)
        seen = np.column_stack([plane, np.ones(len(plane))])
        seen /= np.linalg.norm(seen, axis=1, keepdims=True)
        return np.asarray(seen @ self.rotation)

    def mirrored(self) -> Lens:
        """The camera that sees the mirrored world in the mirrored picture."""
        flip = np.diag([-1.0, 1.0, 1.0])
        return Lens(
            width=self.width, height=self.height, focal=self.focal,
            rotation=flip @ self.rotation @ flip, translation=flip @ self.translation,
            k1=self.k1, k2=self.k2,
        )  # fmt: skip


def _attitude(right: Array, forward: Array, *, yaw: float, pitch: float, roll: float) -> Array:
    """Rows right, down, forward of a camera turned from a level one; degrees."""
    up = np.array([0.0, 0.0, 1.0])
    y, p, r = radians(yaw), radians(pitch), radians(roll)
    ahead = cos(y) * forward + sin(y) * right
    aside = cos(y) * right - sin(y) * forward
    look = cos(p) * ahead + sin(p) * up
    top = cos(p) * up - sin(p) * ahead
    side = cos(r) * aside + sin(r) * top
    return np.array([side, -(cos(r) * top - sin(r) * aside), look])


def draw_lens(
    random: np.random.Generator, /, *, view: str, golfer: Array, held: bool, size: tuple[int, int]
) -> Lens:
    """A random camera on a golfer whose middle is at ``golfer``.

    ``held`` cameras are off square, tilted, high or low; the others nearly square.
    """
    width, height = size
    focal = float(random.uniform(0.72, 1.35)) * height
    fills = float(random.uniform(0.50, 0.64))
    distance = focal * 1.62 / (fills * height)
    spread = 1.0 if held else 0.25
    forward = np.array([0.0, 1.0, 0.0]) if view == "face_on" else np.array([1.0, 0.0, 0.0])
    right = np.cross(forward, [0.0, 0.0, 1.0])
    off = radians(float(random.normal(0, 6 * spread)))
    place = golfer - distance * (cos(off) * forward + sin(off) * right)
    place[2] = float(np.clip(random.normal(1.05, 0.22), 0.55, 1.65))
    target = golfer + np.array([0.0, 0.0, -0.02]) + random.normal(0, 0.05, 3)
    if view == "down_the_line":
        target = target + np.array([0.0, -0.15, 0.0])
    way = target - place
    yaw = float(np.degrees(np.arctan2(way @ right, way @ forward)))
    pitch = float(np.degrees(np.arctan2(way[2], np.hypot(way @ right, way @ forward))))
    rotation = _attitude(
        right, forward, yaw=yaw, pitch=pitch, roll=float(random.normal(0, 2.2 * spread))
    )
    return Lens(
        width=width, height=height, focal=focal, rotation=rotation,
        translation=-rotation @ place,
        k1=float(random.normal(0.0, 0.02)), k2=float(random.normal(0.0, 0.002)),
    )  # fmt: skip
