"""Cloth that follows the skin at a distance, smoothed, creased, and never through it."""

from __future__ import annotations

import numpy as np

from training.bodies.store import Array, Indices
from training.golfers.clothes.wearer import Wearer
from training.golfers.surface import compact, smoother, vertex_normals


def draped(
    wearer: Wearer,
    faces: Indices,
    *,
    ease: Array | float,
    least: Array | float,
    rounds: int,
    rng: np.random.Generator,
    folds: float = 0.0,
    sag: float = 0.0,
    frequency: float = 28.0,
) -> tuple[Array, Indices, Indices]:
    """Lay cloth over some triangles of the skin.

    Parameters
    ----------
    wearer : Wearer
    faces : (F, 3) int array
    ease, least : (V,) arrays or floats, metre
        Wanted and least distance from the skin.
    rounds : int
        Rounds of smoothing: many bridge hollows.
    rng : Generator
    folds : float
        Depth of the creases, metre.
    sag : float
        Share by which the ease grows where skin faces down and shrinks where it faces up.
    frequency : float
        Of the creases, radian per metre.

    Returns
    -------
    vertices : (v, 3) array, metre
    faces : (F, 3) int array
    of_body : (v,) int array
        The body's vertex under each vertex of the cloth.
    """
    f, used = compact(faces)
    skin, N = wearer.posed[used], wearer.normals[used]
    wanted = np.broadcast_to(ease, wearer.z.shape)[used] * (1 - sag * N[:, 2])
    gap = np.broadcast_to(least, wearer.z.shape)[used]
    S = smoother(f, count=len(used))

    def pushed_out(V: Array) -> Array:
        inside = gap - np.einsum("ij,ij->i", V - skin, N)
        return np.asarray(V + N * np.maximum(inside, 0)[:, None])

    V = skin + N * np.maximum(wanted, gap)[:, None]
    for _ in range(rounds):
        V = pushed_out(V + 0.6 * (S @ V - V))
    if folds:
        V += vertex_normals(V, faces=f) * _creases(V, rng, frequency=frequency, depth=folds)
        for _ in range(2):
            V += 0.4 * (S @ V - V)
        V = pushed_out(V)
    return V, f, used


def _creases(V: Array, rng: np.random.Generator, *, frequency: float, depth: float) -> Array:
    """(v, 1) a sum of seven random waves, folded to be positive."""
    waves = rng.normal(size=(7, 3)) * frequency * [1, 1, 0.6]
    total = np.sin(V @ waves.T + rng.uniform(0, 2 * np.pi, size=7)).sum(1)
    return np.asarray(np.abs(total / 2.6) * depth)[:, None]
