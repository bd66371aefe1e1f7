"""What is neither flesh nor cloth: club, ball, tee, sticks, walls."""

from __future__ import annotations

from typing import Final

import numpy as np

from benchmarks.stress.looks import plain
from benchmarks.stress.meshes import Paint, Part, surface
from benchmarks.stress.solids import Array, Solid, cone, ellipsoid, join, unit
from benchmarks.stress.stance import Skeleton

BALL_RADIUS: Final = 0.021335
TEE_HEIGHT: Final = 0.045
STICK_Z: Final = 0.012
"""Height of a stick's middle line: it lies on the tips of the grass."""

HEADS: Final = {
    "driver": ((-0.0777, 0.004, 0.0358), (0.050, 0.056, 0.031)),
    "fairway_wood": ((-0.066, 0.003, 0.024), (0.034, 0.044, 0.022)),
    "putter": ((-0.042, -0.001, 0.018), (0.012, 0.052, 0.014)),
}
IRON: Final = ((-0.0474, 0.0065, 0.0300), (0.011, 0.038, 0.026))
"""Middle of a club head and its half-sizes, metre."""


def ball_centre(club: str, /) -> Array:
    """The ball on its tee or on the ground."""
    return np.array([0.0, 0.0, BALL_RADIUS + (TEE_HEIGHT if club == "driver" else 0.0)])


def club_parts(s: Skeleton, club: str, /) -> list[tuple[Solid, float, Paint, float]]:
    """Shaft, grip and head: solid, mesh step, paint, gloss."""
    butt, end = s["grip_end"], s["shaft_end"]
    axis = unit(end - butt)
    centre, sizes = HEADS.get(club, IRON)
    head = ellipsoid(np.array(centre), axes=np.eye(3), radii=sizes)
    neck = cone(end - 0.05 * axis, 0.4 * (end - 0.02 * axis) + 0.6 * np.array(centre),
                radii=(0.006, 0.008))  # fmt: skip
    steel = (0.30, 0.31, 0.33) if club != "driver" else (0.03, 0.03, 0.035)
    grip = cone(butt, butt + 0.27 * axis, radii=(0.0128, 0.0095))
    shaft = cone(butt + 0.25 * axis, end - 0.03 * axis, radii=(0.0075, 0.0048))
    return [
        (grip, 0.004, plain((0.02, 0.02, 0.02)), 0.05),
        (shaft, 0.0025, plain((0.30, 0.31, 0.33)), 0.5),
        (join(head, neck, melt=0.01), 0.0035, plain(steel), 0.5),
    ]


def ball_parts(club: str, /) -> list[Part]:
    """Ball, and a tee under a driver's."""
    centre = ball_centre(club)
    ball = ellipsoid(centre, axes=np.eye(3), radii=(BALL_RADIUS,) * 3)
    parts = [surface(ball, step=0.003, paint=plain((0.80, 0.80, 0.80)), golfer=False, gloss=0.2)]
    if club == "driver":
        tee = cone(np.zeros(3), np.array([0.0, 0.0, TEE_HEIGHT]), radii=(0.003, 0.004))
        parts.append(surface(tee, step=0.0015, paint=plain((0.75, 0.70, 0.50)), golfer=False))
    return parts


def stick(ends: Array, *, colour: tuple[float, float, float]) -> Part:
    """A stick lying on the ground: an eight-sided rod."""
    start, end = ends
    axis = unit(end - start)
    one = unit(np.cross(axis, [0.0, 0.0, 1.0]))
    two = np.cross(axis, one)
    around = np.linspace(0, 2 * np.pi, 9)[:-1]
    out = np.cos(around)[:, None] * one + np.sin(around)[:, None] * two
    points = np.vstack([start + 0.0045 * out, end + 0.0045 * out])
    faces = [
        face
        for i in range(8)
        for face in ((i, (i + 1) % 8, i + 8), ((i + 1) % 8, (i + 1) % 8 + 8, i + 8))
    ]
    return Part(
        points=points,
        normals=np.vstack([out, out]),
        faces=np.array(faces, dtype=np.int64),
        paint=plain(colour),
        golfer=False,
        gloss=0.1,
    )


def wall(corner: Array, *, along: Array, up: Array, paint: Paint) -> Part:
    """A flat wall."""
    points = np.array([corner, corner + along, corner + along + up, corner + up])
    normal = unit(np.cross(along, up))
    return Part(
        points=points,
        normals=np.tile(normal, (4, 1)),
        faces=np.array([[0, 1, 2], [0, 2, 3]], dtype=np.int64),
        paint=paint,
        golfer=False,
    )
