"""Triangles from solids."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray
from skimage.measure import marching_cubes

from benchmarks.stress.solids import Array, Solid

Paint = Callable[[Array, Array], Array]
"""Colour (linear, 0 to 1) of surface points with their normals."""


@frozen(kw_only=True, eq=False)
class Part:
    """One painted surface.

    Parameters
    ----------
    points, normals : (n, 3) arrays
    faces : (m, 3) array of int
    paint : callable
    golfer : bool
        Whether it counts for the outline of the golfer.
    gloss : float
        Strength of the highlight, 0 to 1.
    """

    points: Array
    normals: Array
    faces: NDArray[np.int64]
    paint: Paint
    golfer: bool = True
    gloss: float = 0.0


COARSER: Final = 4
NEAR: Final = 0.05
CHUNK: Final = 200_000
"""A first look is taken on a grid this much coarser; only where it finds the surface within
this many metres is the fine grid filled, so many points at a time."""


def _lattice(low: Array, counts: NDArray[np.int64], *, step: float) -> Array:
    """Points of a grid, shape (nx, ny, nz, 3)."""
    axes = [low[k] + step * np.arange(counts[k]) for k in range(3)]
    return np.stack(np.meshgrid(*axes, indexing="ij"), axis=-1)


def grid(solid: Solid, /, *, step: float) -> tuple[Array, Array]:
    """Distances on a grid round a solid, and the grid's first corner."""
    low, high = solid.low - 2.5 * step, solid.high + 2.5 * step
    coarse = np.ceil((high - low) / (COARSER * step)).astype(np.int64) + 1
    first = _lattice(low, coarse, step=COARSER * step).reshape(-1, 3)
    rough = solid.distance(first).reshape(*coarse)
    volume = rough
    for axis in range(3):
        volume = np.repeat(volume, COARSER, axis=axis)
    # a coarse point stands in the middle of its block
    volume = volume[COARSER // 2 :, COARSER // 2 :, COARSER // 2 :]
    where = np.argwhere(np.abs(volume) < NEAR)
    for start in range(0, len(where), CHUNK):
        some = where[start : start + CHUNK]
        volume[some[:, 0], some[:, 1], some[:, 2]] = solid.distance(low + some * step)
    return volume, low


def surface(
    solid: Solid, /, *, step: float, paint: Paint, golfer: bool = True, gloss: float = 0.0
) -> Part:
    """The zero of a solid's distance as triangles."""
    volume, low = grid(solid, step=step)
    points, faces, normals, _ = marching_cubes(
        volume, 0.0, spacing=(step,) * 3, gradient_direction="ascent"
    )
    return Part(
        points=points.astype(np.float64) + low,
        normals=-normals.astype(np.float64),  # the library's point inward
        faces=faces.astype(np.int64),
        paint=paint,
        golfer=golfer,
        gloss=gloss,
    )


def centre_of_mass(solids: list[tuple[Solid, float]], /, *, step: float = 0.012) -> Array:
    """Centre of mass of solids with their densities, by counting cells, metre.

    Where solids overlap, the first one counts.
    """
    low = np.min([s.low for s, _ in solids], axis=0)
    high = np.max([s.high for s, _ in solids], axis=0)
    axes = [np.arange(low[k], high[k], step) for k in range(3)]
    mass, moment = 0.0, np.zeros(3)
    for height in axes[2]:
        plane = np.stack(np.meshgrid(axes[0], axes[1], indexing="ij"), axis=-1).reshape(-1, 2)
        points = np.column_stack([plane, np.full(len(plane), height)])
        weight = np.zeros(len(points))
        for solid, density in reversed(solids):
            near = ((points > solid.low) & (points < solid.high)).all(axis=1)
            if near.any():
                inside = np.flatnonzero(near)[solid.distance(points[near]) < 0.0]
                weight[inside] = density
        mass += float(weight.sum())
        moment += weight @ points
    return np.asarray(moment / mass)
