"""Solids as signed distances, and how they melt, grow, hang, fold and are cut.

Distances are metres, negative inside. They are exact for cones and near enough to exact for
the rest: only their zero is drawn.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

Array = NDArray[np.float64]
Distance = Callable[[Array], Array]

FAR = 0.5
"""Stands for every distance outside a solid's box, metre."""


@frozen(kw_only=True, eq=False)
class Solid:
    """A solid.

    Parameters
    ----------
    distance : callable
        Signed distance of (n, 3) points, metre.
    low, high : (3,) arrays
        Corners of a box around it.
    """

    distance: Distance
    low: Array
    high: Array


def unit(vector: Array, /) -> Array:
    """Vectors of length one, along the last axis."""
    return np.asarray(vector / np.linalg.norm(vector, axis=-1, keepdims=True))


def cone(start: Array, end: Array, *, radii: tuple[float, float]) -> Solid:
    """A limb between two balls of different size."""
    axis, most = end - start, max(radii)
    length2 = float(axis @ axis) + 1e-12

    def distance(p: Array) -> Array:
        share = np.clip((p - start) @ axis / length2, 0.0, 1.0)
        nearest = start + share[:, None] * axis
        radius = radii[0] + share * (radii[1] - radii[0])
        return np.asarray(np.linalg.norm(p - nearest, axis=1) - radius)

    return Solid(
        distance=distance,
        low=np.minimum(start, end) - most,
        high=np.maximum(start, end) + most,
    )


def ellipsoid(centre: Array, *, axes: Array, radii: Sequence[float] | Array) -> Solid:
    """A ball pressed along three axes (rows)."""
    sizes = np.asarray(radii, dtype=np.float64)
    reach = np.sqrt(((sizes[:, None] * axes) ** 2).sum(axis=0))

    def distance(p: Array) -> Array:
        local = (p - centre) @ axes.T
        size = np.linalg.norm(local / sizes, axis=1) + 1e-9
        return np.asarray(np.linalg.norm(local, axis=1) * (1.0 - 1.0 / size))

    return Solid(distance=distance, low=centre - reach, high=centre + reach)


@frozen(kw_only=True, eq=False)
class Sections:
    """Cross-sections of a tube, one a row.

    Parameters
    ----------
    centres : (m, 3) array
    lateral, forward : (m, 3) arrays
        Axes of each section, of length one.
    width, front, back : (m,) arrays
        Half-width, and depths before and behind the centre, metre.
    """

    centres: Array
    lateral: Array
    forward: Array
    width: Array
    front: Array
    back: Array

    @property
    def arc(self) -> Array:
        """Length along the centres, metre, shape (m,)."""
        steps = np.linalg.norm(np.diff(self.centres, axis=0), axis=1)
        return np.concatenate([[0.0], np.cumsum(steps)])

    @property
    def tangent(self) -> Array:
        """Direction of the centre line, shape (m, 3)."""
        return unit(np.gradient(self.centres, axis=0))


def tube(sections: Sections, /, *, power: float = 2.2) -> Solid:
    """A tube with given sections; ``power`` above 2 makes them squarer."""
    arc, tangent = sections.arc, sections.tangent
    sizes = np.column_stack([sections.width, sections.front, sections.back])
    table = np.column_stack([sections.centres, sections.lateral, sections.forward, sizes])
    most = float(sizes.max())
    lengths2 = (sections.centres**2).sum(axis=1)

    def distance(p: Array) -> Array:
        # nearest centre: |p - c|^2 less |p|^2, which is the same for all
        nearest = (lengths2 - 2.0 * p @ sections.centres.T).argmin(axis=1)
        along = ((p - sections.centres[nearest]) * tangent[nearest]).sum(axis=1)
        place = np.clip(arc[nearest] + along, arc[0], arc[-1])
        before = np.clip(np.searchsorted(arc, place) - 1, 0, len(arc) - 2)
        share = ((place - arc[before]) / (arc[before + 1] - arc[before]))[:, None]
        row = table[before] * (1.0 - share) + table[before + 1] * share
        q = p - row[:, :3]
        u, v = (q * row[:, 3:6]).sum(axis=1), (q * row[:, 6:9]).sum(axis=1)
        depth = np.where(v > 0.0, row[:, 10], row[:, 11])
        size = (np.abs(u / row[:, 9]) ** power + np.abs(v / depth) ** power) ** (1 / power)
        across = np.hypot(u, v) * (1.0 - 1.0 / (size + 1e-9))
        across = np.maximum(across, -np.minimum(row[:, 9], depth))
        beyond = np.abs(arc[nearest] + along - place)
        return np.asarray(
            np.where(beyond > 1e-9, np.hypot(np.maximum(across, 0.0), beyond), across)
        )

    return Solid(
        distance=distance,
        low=sections.centres.min(axis=0) - most,
        high=sections.centres.max(axis=0) + most,
    )


def join(*solids: Solid, melt: float) -> Solid:
    """Several solids as one; where they meet they melt over the length ``melt``, metre."""

    def distance(p: Array) -> Array:
        found = np.full(len(p), FAR)
        for each in solids:
            near = ((p > each.low - 3 * melt) & (p < each.high + 3 * melt)).all(axis=1)
            if near.any():
                own, other = each.distance(p[near]), found[near]
                share = np.maximum(melt - np.abs(own - other), 0.0) / max(melt, 1e-9)
                found[near] = np.minimum(own, other) - share**2 * melt / 4.0
        return found

    return Solid(
        distance=distance,
        low=np.min([s.low for s in solids], axis=0) - melt,
        high=np.max([s.high for s in solids], axis=0) + melt,
    )


def grown(solid: Solid, /, *, by: float) -> Solid:
    """The solid, thicker by a length all over."""
    return Solid(
        distance=lambda p: solid.distance(p) - by, low=solid.low - by, high=solid.high + by
    )


def cut(solid: Solid, /, *, at: Array, beyond: Array) -> Solid:
    """What is left when everything beyond a plane is taken away."""
    normal = unit(beyond)
    return Solid(
        distance=lambda p: np.maximum(solid.distance(p), (p - at) @ normal),
        low=solid.low,
        high=solid.high,
    )


def hanging(solid: Solid, /, *, by: float) -> Solid:
    """Cloth that lies on what is below it and hangs free on the underside."""
    drop = np.array([0.0, 0.0, by])
    shifted = Solid(
        distance=lambda p: solid.distance(p + drop), low=solid.low - drop, high=solid.high
    )
    return join(solid, shifted, melt=0.02)


def folded(solid: Solid, /, *, height: float, seed: int, length: float = 0.09) -> Solid:
    """The solid with folds: waves of random direction, of an amplitude and wavelength."""
    random = np.random.default_rng(seed)
    waves = unit(random.normal(size=(5, 3))) * (2 * np.pi / length)
    waves *= random.uniform(0.6, 1.7, size=(5, 1))
    phases = random.uniform(0, 2 * np.pi, 5)

    def distance(p: Array) -> Array:
        found = solid.distance(p)
        near = np.abs(found) < 0.05
        q = p[near]
        bent = q @ waves.T + 1.2 * np.sin(q[:, ::-1] @ waves.T / 2.3) + phases
        found[near] -= height * np.sin(bent).sum(axis=1) / 2.2
        return found

    return Solid(distance=distance, low=solid.low - 2 * height, high=solid.high + 2 * height)
