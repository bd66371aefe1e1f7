"""Shoes, soles and socks."""

from __future__ import annotations

import numpy as np
from scipy.spatial import ConvexHull

from training.bodies.store import Array
from training.golfers.bones import foot_bones
from training.golfers.clothes.cloth import draped
from training.golfers.clothes.wearer import Wearer
from training.golfers.pose import SOLE_M
from training.golfers.surface import Mesh, Solid, extruded, hull, joined, mesh

SLICES = 9
SOLE_MARGIN_M = 0.010


def foot_frame(wearer: Wearer, side: str) -> tuple[Array, Array]:
    """(3, 3) turn and (3,) origin of a foot: toes along −Y, its sole on Z = 0."""
    R, ankle = wearer.pose.turn(f"foot.{side}"), wearer.pose.joint(f"foot.{side}")
    height = wearer.ankle - wearer.figure.floor + SOLE_M
    return R, ankle - R @ np.array([0, 0, height])


def shoe(wearer: Wearer, side: str) -> list[Mesh]:
    """Upper and sole, both in the foot's own frame, then carried to the foot."""
    outfit = wearer.outfit
    R, origin = foot_frame(wearer, side)
    faces = wearer.faces
    on_foot = wearer.of_faces(wearer.figure.share(*foot_bones(side))) > 0.5
    used = np.unique(faces[on_foot & (wearer.of_faces(wearer.z) < wearer.ankle + 0.012)])
    skin = (wearer.posed[used] - origin) @ R
    around = skin + (wearer.normals[used] @ R) * outfit.shoe_ease_m
    meshes = (
        mesh(f"shoe{side}", _upper(around), of_class="shoe"),
        mesh(f"sole{side}", _sole(skin[:, :2]), of_class="sole"),
    )
    return [
        Mesh(
            name=m.name,
            vertices=m.vertices @ R.T + origin,
            faces=m.faces,
            classes=m.classes,
            colours=m.colours,
        )
        for m in meshes
    ]


def _upper(around: Array) -> Solid:
    """Hulls of overlapping slices from toe to heel, each down to the sole."""
    along = -around[:, 1]
    low, step = along.min(), np.ptp(along) / SLICES
    slices = []
    for k in range(SLICES - 1):
        inside = around[(along >= low + step * (k - 0.15)) & (along <= low + step * (k + 2.15))]
        ground = np.column_stack([inside[:, :2], np.full(len(inside), SOLE_M - 0.008)])
        slices.append(hull(np.concatenate([inside, ground])))
    return joined(slices)


def _sole(outline: Array) -> Solid:
    """The foot's outline, widened and rounded, as thick as a sole."""
    corners = outline[ConvexHull(outline).vertices]
    middle = corners.mean(0)
    far = np.linalg.norm(corners - middle, axis=1, keepdims=True)
    wide = middle + (corners - middle) * (1 + SOLE_MARGIN_M / far)
    n = len(wide)
    at = np.linspace(0, n, 48, endpoint=False)
    closed = np.concatenate([wide, wide[:1]])
    smooth = np.stack([np.interp(at, np.arange(n + 1), closed[:, k]) for k in (0, 1)], axis=1)
    for _ in range(3):
        smooth = 0.5 * smooth + 0.25 * (np.roll(smooth, 1, 0) + np.roll(smooth, -1, 0))
    ground = np.array([0, 0, 0.001])
    return extruded(smooth, origin=ground, axes=np.eye(3), depth=SOLE_M + 0.004)


def sock(wearer: Wearer, side: str, *, rng: np.random.Generator) -> Mesh:
    """A sock, to above the ankle or to below the knee."""
    outfit = wearer.outfit
    tall = outfit.socks == "knee_socks"
    top = wearer.knee - 0.06 * wearer.s if tall else wearer.ankle + 0.06 * wearer.s
    names = (f"lowerleg01.{side}", f"lowerleg02.{side}", f"foot.{side}")
    shank = wearer.of_faces(wearer.figure.share(*(names if tall else names[1:])))
    z = wearer.of_faces(wearer.z)
    wanted = (shank > 0.5) & (z < top) & (z > wearer.ankle - 0.03)
    V, F, _ = draped(wearer, wearer.faces[wanted], ease=0.003, least=0.002, rounds=4, rng=rng)
    return mesh(f"sock{side}", (V, F), of_class="sock")
