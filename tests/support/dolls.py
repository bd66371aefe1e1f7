"""Golfers made of balls and bars: enough to draw, label and train on in seconds."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Final

import numpy as np
from numpy.typing import NDArray

from training.golfers.pool import CLASSES, LANDMARKS, VERTICES_PER_METRE, Golfer, save

Array = NDArray[np.float64]

RINGS: Final = 6
AROUND: Final = 10

JOINTS: Final = {
    "nose": (0.0, 0.38, 1.52),
    "eye": (0.03, 0.40, 1.55),
    "ear": (0.07, 0.48, 1.53),
    "shoulder": (0.19, 0.52, 1.32),
    "elbow": (0.15, 0.50, 1.05),
    "wrist": (0.04, 0.42, 0.85),
    "hip": (0.09, 0.85, 0.92),
    "knee": (0.16, 0.72, 0.50),
    "ankle": (0.20, 0.78, 0.09),
    "shoe_heel": (0.20, 0.86, 0.03),
    "shoe_toe": (0.24, 0.58, 0.03),
    "foot_ball": (0.23, 0.64, 0.03),
    "armpit": (0.16, 0.54, 1.26),
    "C7_cloth": (0.0, 0.60, 1.40),
    "T8_cloth": (0.0, 0.76, 1.28),
    "T12L1_cloth": (0.0, 0.88, 1.14),
    "L3_cloth": (0.0, 0.94, 1.03),
    "S1_cloth": (0.0, 0.99, 0.92),
    "sternum_cloth": (0.0, 0.52, 1.18),
    "head_top": (0.0, 0.48, 1.66),
    "grip_mid": (0.02, 0.38, 0.76),
    "grip_end": (0.02, 0.45, 0.88),
    "shaft_end": (0.0, 0.03, 0.05),
    "club_head": (0.0, 0.0, 0.03),
    "ball": (0.0, 0.0, 0.0213),
}
"""A right-hander's left side and middle, metres, in the frame of the pool."""

BARS: Final = (
    ("shoulder", "elbow", "shirt", 0.05),
    ("elbow", "wrist", "skin", 0.035),
    ("hip", "knee", "bottom", 0.08),
    ("knee", "ankle", "bottom", 0.055),
    ("shoe_heel", "shoe_toe", "shoe", 0.045),
)


def landmarks(*, reach: float = 0.0) -> Array:
    """The 37 points of a doll whose hands are lifted by ``reach`` metres, (37, 3)."""
    points = []
    for name in LANDMARKS:
        stem, _, side = name.rpartition("_")
        x, y, z = JOINTS[stem] if side in {"left", "right"} else JOINTS[name]
        lift = reach if (stem or name) in {"elbow", "wrist", "grip", "club"} else 0.0
        points.append((-x if side == "right" else x, y, z + lift))
    return np.array(points)


def doll(*, at_address: bool = True, reach: float = 0.0, hand: str = "right") -> Golfer:
    """One doll as a golfer of a pool."""
    points = landmarks(reach=reach)
    at = {name: points[i] for i, name in enumerate(LANDMARKS)}
    parts = [
        (_bar(at[f"{a}_{s}"], at[f"{b}_{s}"], radius), name)
        for a, b, name, radius in BARS
        for s in ("left", "right")
    ]
    trunk = 0.5 * (at["hip_left"] + at["hip_right"]), 0.5 * (at["C7_cloth"] + at["sternum_cloth"])
    head = 0.5 * (at["ear_left"] + at["ear_right"])
    parts += [
        (_bar(*trunk, 0.14), "shirt"),
        (_bar(head - 0.02, head + 0.02, 0.11), "skin"),
        (_bar(at["grip_end"], at["shaft_end"], 0.008), "shaft"),
        (_bar(at["ball"] - 0.001, at["ball"] + 0.001, 0.0213), "ball"),
    ]
    vertices = np.concatenate([mesh[0] for mesh, _ in parts])
    return Golfer(
        vertices=np.round(vertices * VERTICES_PER_METRE),
        normals=np.round(127 * np.concatenate([mesh[1] for mesh, _ in parts])),
        faces=np.concatenate([_faces() + i * len(parts[0][0][0]) for i in range(len(parts))]),
        classes=np.repeat([CLASSES.index(name) for _, name in parts], len(_faces())),
        colours=np.full((len(parts) * len(_faces()), 3), 128),
        landmarks_m=points,
        hull_m=np.resize(points[:32], (192, 3)),
        known=np.ones(len(LANDMARKS), dtype=bool),
        at_address=at_address,
        kind="address" if at_address else "waggle",
        hand=hand,
        club="mid_iron",
        garments=("trousers",),
    )


def write_pool(folder: Path, *, golfers: Sequence[Golfer]) -> Path:
    """A pool of two golfers a file."""
    folder.mkdir(parents=True, exist_ok=True)
    for i in range(0, len(golfers), 2):
        save(golfers[i : i + 2], folder / f"{i:03}.npz")
    return folder


def _bar(start: Array, end: Array, radius: float) -> tuple[Array, Array]:
    """Vertices and normals of a bar with round ends between two points."""
    axis = (end - start) / np.linalg.norm(end - start)
    side = np.cross(axis, [0.3, 0.9, 0.2])
    side /= np.linalg.norm(side)
    other = np.cross(axis, side)
    polar = np.linspace(0.02, np.pi - 0.02, 2 * RINGS)
    turn = np.linspace(0.0, 2.0 * np.pi, AROUND, endpoint=False)
    across = np.outer(np.cos(turn), side) + np.outer(np.sin(turn), other)
    normals = np.concatenate([np.sin(p) * across - np.cos(p) * axis for p in polar])
    middles = np.repeat([start] * RINGS + [end] * RINGS, AROUND, axis=0)
    return middles + radius * normals, normals


def _faces() -> NDArray[np.int64]:
    """Triangles of a bar, counter-clockwise seen from outside."""
    faces = []
    for ring in range(2 * RINGS - 1):
        for i in range(AROUND):
            a, b = ring * AROUND + i, ring * AROUND + (i + 1) % AROUND
            faces += [(a, b, a + AROUND), (b, b + AROUND, a + AROUND)]
    return np.array(faces)
