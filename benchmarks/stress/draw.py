"""A small ray tracer: soft sun, light from the sky, one bounce off the ground.

Rays are cast by embreex (Embree); all else is NumPy. It shares nothing with the renderer of
the training pictures or with the path tracer of the published scenes.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from attrs import frozen
from embreex import rtcore_scene
from embreex.mesh_construction import TriangleMesh
from numpy.typing import NDArray

from benchmarks.stress.cameras import Lens
from benchmarks.stress.looks import Backdrop, Ground
from benchmarks.stress.meshes import Part
from benchmarks.stress.solids import Array, unit

LIFT = 0.003
"""How far a shadow ray starts from its surface, metre: triangles are flat, surfaces round."""

RAYS = 4
"""Rays over the half-sphere for each sample of a pixel."""


@frozen(kw_only=True, eq=False)
class Light:
    """Sun (or lamp), sky and exposure; colours linear.

    Parameters
    ----------
    direction : (3,) array
        To the sun.
    softness : float
        Radius of the sun as seen, radian.
    sun, fill : (3,) arrays
        Irradiance of the sun; factor on the light from everywhere else.
    exposure : float
    reach : float
        Beyond this distance from the golfer the ground is taken as open, metre.
    """

    direction: Array
    softness: float
    sun: Array
    fill: Array
    exposure: float
    reach: float = 2.6


class World:
    """Parts, ground and backdrop, ready for rays."""

    def __init__(
        self, parts: Sequence[Part], *, ground: Ground, backdrop: Backdrop, light: Light
    ) -> None:
        self._parts = parts
        self._ground, self._backdrop, self._light = ground, backdrop, light
        corners = [part.points[part.faces] for part in parts]
        self._first = np.cumsum([0, *(len(c) for c in corners)])
        self._corner_normals = np.concatenate([part.normals[part.faces] for part in parts])
        self._scene = rtcore_scene.EmbreeScene()
        TriangleMesh(self._scene, np.concatenate(corners).astype(np.float32))

    def _cast(self, origins: Array, directions: Array) -> dict[str, Array]:
        found = self._scene.run(
            origins.astype(np.float32), directions.astype(np.float32), output=True
        )
        return {name: np.asarray(value) for name, value in found.items()}

    def _blocked(self, origins: Array, directions: Array) -> NDArray[np.bool_]:
        found = self._scene.run(
            origins.astype(np.float32), directions.astype(np.float32), query="OCCLUDED"
        )
        return np.asarray(np.asarray(found) == 0)

    def _incoming(self, normals: Array, *, points: Array, random: np.random.Generator) -> Array:
        """Light from everywhere but the sun, by a few rays over the half-sphere."""
        total = np.zeros((len(points), 3))
        start = points + LIFT * normals
        beneath = self._ground(np.zeros((1, 2)), np.ones(1))[0]
        lit = beneath * (self._light.sun * max(self._light.direction[2], 0.0) + 0.8)
        for _ in range(RAYS):
            way = unit(normals + 0.999 * unit(random.standard_normal(points.shape)))
            blocked = self._blocked(start, way)
            down = way[:, 2] < 0.0
            total += np.where(
                blocked[:, None],
                0.10 * self._light.fill,  # what stands near gives back a little
                np.where(down[:, None], lit * 0.75, self._backdrop(way) * self._light.fill),
            )
        return np.asarray(total / RAYS)

    def _lit(
        self, points: Array, *, normals: Array, albedo: Array, random: np.random.Generator
    ) -> tuple[Array, Array]:
        """Radiance of dull surfaces, and the direction to the part of the sun each one saw."""
        light = self._light
        sun = unit(light.direction + light.softness * random.standard_normal(points.shape) / 1.5)
        facing = np.clip((normals * sun).sum(axis=1), 0.0, None)
        lit = facing > 0
        lit[lit] = ~self._blocked(points[lit] + LIFT * normals[lit], sun[lit])
        direct = (facing * lit)[:, None] * light.sun
        return albedo * (direct + self._incoming(normals, points=points, random=random)), sun * lit[
            :, None
        ]

    def _surfaces(
        self, hits: dict[str, Array], *, origin: Array, ways: Array, random: np.random.Generator
    ) -> tuple[Array, Array]:
        """Radiance of what the rays hit, and whether it is golfer."""
        triangle = hits["primID"].astype(np.int64)
        u, v = hits["u"][:, None], hits["v"][:, None]
        corners = self._corner_normals[triangle]
        normals = unit(corners[:, 0] * (1 - u - v) + corners[:, 1] * u + corners[:, 2] * v)
        facing = (normals * ways).sum(axis=1, keepdims=True)
        # seen from inside (walls, openings) or, by interpolation, from just behind the edge
        normals = np.where(facing > 0.3, -normals, normals)
        grazing = (facing > 0.0) & (facing <= 0.3)
        normals = np.where(grazing, unit(normals - 1.02 * facing * ways), normals)
        points = origin + hits["tfar"][:, None] * ways
        owner = np.searchsorted(self._first, triangle, side="right") - 1
        albedo, gloss = np.zeros((len(points), 3)), np.zeros(len(points))
        golfer = np.zeros(len(points))
        for i, part in enumerate(self._parts):
            mine = owner == i
            if mine.any():
                albedo[mine] = np.clip(part.paint(points[mine], normals[mine]), 0.0, 0.95)
                gloss[mine], golfer[mine] = part.gloss, float(part.golfer)
        radiance, sun = self._lit(points, normals=normals, albedo=albedo, random=random)
        half = (normals * unit(sun - ways)).sum(axis=1).clip(0.0, 1.0)
        shine = gloss * half**40 * (np.abs(sun).sum(axis=1) > 0)
        mirror = gloss[:, None] * 0.3 * self._backdrop(unit(ways + 1.4 * normals))
        return radiance + shine[:, None] * self._light.sun + mirror, golfer

    def _floor(
        self,
        origin: Array,
        *,
        ways: Array,
        focal: float,
        middle: Array,
        random: np.random.Generator,
    ) -> Array:
        """Radiance of the ground along rays that reach it."""
        far = -origin[2] / ways[:, 2]
        points = origin + far[:, None] * ways
        footprint = far / focal / np.sqrt(np.abs(ways[:, 2]))
        albedo = np.clip(self._ground(points[:, :2], footprint), 0.0, 0.9)
        up = np.tile([0.0, 0.0, 1.0], (len(points), 1))
        light = self._light
        open_light = self._backdrop(np.array([[0.3, 0.2, 0.93], [-0.4, 0.3, 0.86]])).mean(axis=0)
        rgb = albedo * (light.sun * max(light.direction[2], 0.0) + 0.9 * open_light * light.fill)
        near = np.linalg.norm(points - middle * (1, 1, 0), axis=1) < light.reach
        if near.any():
            rgb[near] = self._lit(
                points[near], normals=up[near], albedo=albedo[near], random=random
            )[0]
        haze = (1.0 - np.exp(-far / 260.0))[:, None]
        return np.asarray(rgb * (1 - haze) + 0.6 * haze)

    def picture(
        self, lens: Lens, *, passes: int, random: np.random.Generator, middle: Array
    ) -> tuple[Array, Array]:
        """Linear picture, shape (height, width, 3), and the golfer's cover, 0 to 1."""
        rows, columns = np.mgrid[0 : lens.height, 0 : lens.width]
        corner = np.column_stack([columns.ravel(), rows.ravel()]).astype(np.float64)
        total, cover = np.zeros((len(corner), 3)), np.zeros(len(corner))
        origin = lens.place
        for _ in range(passes):
            ways = lens.rays(corner + random.uniform(0, 1, corner.shape))
            hits = self._cast(np.tile(origin, (len(ways), 1)), ways)
            reach = np.where(ways[:, 2] < -1e-4, -origin[2] / np.minimum(ways[:, 2], -1e-4), 1e9)
            solid = (hits["primID"] >= 0) & (hits["tfar"] < reach)
            ground = ~solid & (reach < 400.0)
            rgb = self._backdrop(ways)
            if ground.any():
                rgb[ground] = self._floor(
                    origin, ways=ways[ground], focal=lens.focal, random=random, middle=middle
                )
            if solid.any():
                some = {name: value[solid] for name, value in hits.items()}
                rgb[solid], golfer = self._surfaces(
                    some, origin=origin, ways=ways[solid], random=random
                )
                cover[solid] += golfer
            total += rgb
        shape = (lens.height, lens.width)
        return (total / passes).reshape(*shape, 3), (cover / passes).reshape(shape)


def developed(linear: Array, *, exposure: float, random: np.random.Generator) -> NDArray[np.uint8]:
    """What a phone makes of it: exposure, shoulder, gamma, darker corners and noise."""
    height, width = linear.shape[:2]
    y, x = np.mgrid[-1 : 1 : height * 1j, -1 : 1 : width * 1j]
    light = linear * exposure * (1.0 - 0.10 * (x**2 + y**2))[..., None]
    bent = light * (2.51 * light + 0.03) / (light * (2.43 * light + 0.59) + 0.14)
    shown = np.clip(bent, 0.0, 1.0) ** (1 / 2.2)
    shown += random.normal(0.0, 0.006, shown.shape)
    return np.asarray(np.clip(shown * 255 + 0.5, 0, 255), dtype=np.uint8)
