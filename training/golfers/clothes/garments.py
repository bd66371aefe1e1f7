"""Trousers, shorts, skirts, shirts and jackets."""

from __future__ import annotations

import numpy as np

from training.bodies.store import Array, Indices
from training.golfers.clothes.cloth import draped
from training.golfers.clothes.outfit import Outfit
from training.golfers.clothes.wearer import Wearer
from training.golfers.pool import CLASSES
from training.golfers.surface import Mask, Mesh, compact, rings, subdivided

SLEEVES = {"short_sleeves": 0.78, "long_sleeves": 1.93, "sleeveless": 0.12, "jacket": 1.95}
"""Where sleeves end along the arm (1 elbow, 2 wrist)."""

BELT_M = 0.03


def class_of(name: str) -> np.uint8:
    """Number of a class of triangles."""
    return np.uint8(CLASSES.index(name))


def bottom_hem(wearer: Wearer) -> float:
    """Height at rest at which the legs' cloth ends."""
    outfit = wearer.outfit
    if outfit.bottom == "trousers":
        return wearer.ankle - 0.012
    if outfit.bottom == "three_quarter_trousers":
        return wearer.knee - 0.09 * wearer.s
    if outfit.bottom == "shorts":
        return wearer.knee + 0.03 * wearer.s
    return wearer.hip - 0.14 * wearer.s  # what is under a skirt


def shirt_hem(wearer: Wearer) -> float:
    """Height at rest at which the shirt ends."""
    outfit = wearer.outfit
    if outfit.tucked_in:
        return wearer.waist - 0.05
    return wearer.hip - (0.09 if outfit.top == "jacket" else 0.06) * wearer.s


def legs_of_cloth(wearer: Wearer, rng: np.random.Generator) -> Mesh:
    """Trousers of any length."""
    outfit = wearer.outfit
    z, waist = wearer.z, wearer.waist
    hem = bottom_hem(wearer)
    fz = wearer.of_faces(z)
    wanted = (fz < waist + 0.05) & (fz > hem - 0.05)
    wanted &= (wearer.of_faces(wearer.arm) <= 0.5) & (wearer.of_faces(wearer.foot) < 0.8)
    if outfit.bottom == "trousers":
        down, widening = (waist - z) / (waist - wearer.ankle), 0.018
    else:
        down, widening = (waist - z) / (waist - wearer.knee), 0.026
    ease = 0.011 + widening * np.clip(down, 0, 1) * outfit.bottom_ease
    V, F, used = draped(
        wearer,
        wearer.faces[wanted],
        ease=ease,
        least=np.where(z > waist - 0.06, 0.009, 0.005),
        rounds=22,
        rng=rng,
        folds=outfit.folds_m,
        sag=0.3 * outfit.sag,
    )
    V, F, value = subdivided(V, F, values={"z": z[used], "x": wearer.figure.vertices[used, 0]})
    height, across = value["z"][F].mean(1), value["x"][F].mean(1)
    kept = (height > hem) & (height < waist)
    F, height, across = F[kept], height[kept], across[kept]
    belt = height > waist - BELT_M
    shade = _bottom_shade(outfit.bottom_pattern, height=height, across=across)
    F, used = compact(F)
    return Mesh(
        name="trousers",
        vertices=V[used],
        faces=F,
        classes=np.where(belt, class_of("belt"), class_of("bottom")),
        colours=np.repeat(np.where(belt, 1.0, shade)[:, None], 3, axis=1),
    )


def _bottom_shade(pattern: str, *, height: Array, across: Array) -> Array:
    if pattern == "checks":
        rows, columns = np.floor(height / 0.03), np.floor(across / 0.03)
        return np.where((rows + columns) % 2 == 0, 1.0, 0.72)
    if pattern == "seam":
        return np.where(np.abs(np.abs(across) - 0.17) < 0.012, 0.4, 1.0)
    return np.ones(len(height))


def top(wearer: Wearer, rng: np.random.Generator) -> Mesh:
    """A shirt or jacket."""
    outfit = wearer.outfit
    z, t, waist = wearer.z, wearer.along_arm, wearer.waist
    end, hem = SLEEVES[outfit.top], shirt_hem(wearer)
    fz, arm = wearer.of_faces(z), wearer.of_faces(wearer.arm) > 0.5
    neck_top = wearer.figure.head("neck01")[2] + 0.09 + 0.012 * wearer.s
    wanted = np.where(arm, wearer.of_faces(t) < end + 0.3, (fz > hem - 0.04) & (fz < neck_top))
    at_waist = (z < waist + 0.012) & (t < -0.5)
    V, F, used = draped(
        wearer,
        wearer.faces[wanted],
        ease=_top_ease(wearer),
        least=np.where(at_waist, 0.003 if outfit.tucked_in else 0.011, 0.0055),
        rounds=30,
        rng=rng,
        folds=outfit.folds_m,
        sag=outfit.sag if outfit.top_ease > 1.5 else 0.3 * outfit.sag,
    )
    values = {
        "z": z[used], "t": t[used], "arm": wearer.arm[used],
        "below": (wearer.collar - z)[used], "x": wearer.figure.vertices[used, 0],
    }  # fmt: skip
    V, F, values = subdivided(V, F, values=values)
    g = {name: value[F].mean(1) for name, value in values.items()}
    sleeve = g["arm"] > 0.5
    kept = np.where(sleeve, g["t"] < end, (g["z"] > hem) & (g["below"] > 0))
    g, sleeve = {name: value[kept] for name, value in g.items()}, sleeve[kept]
    F, used = compact(F[kept])
    second = _second_colour(wearer, g)
    shade = np.where((g["below"] < 0.03) & ~sleeve, 0.7, 1.0)
    if outfit.top == "jacket":  # the zip
        front = (np.abs(g["x"]) < 0.006) & ~sleeve
        shade = np.where(front, 0.45, shade)
    return Mesh(
        name="shirt",
        vertices=V[used],
        faces=F,
        classes=np.where(second, class_of("shirt2"), class_of("shirt")),
        colours=np.repeat(shade[:, None], 3, axis=1),
    )


def _top_ease(wearer: Wearer) -> Array:
    outfit = wearer.outfit
    z, t, waist = wearer.z, wearer.along_arm, wearer.waist
    sleeve = np.full(len(z), 0.006)
    if outfit.top == "short_sleeves":
        sleeve += 0.016 * np.clip((t - 0.25) / 0.5, 0, 1)
    if outfit.top in {"long_sleeves", "jacket"}:
        sleeve += 0.008 * np.clip(t, 0, 1)
    if outfit.tucked_in:
        body = 0.007 + 0.006 * np.exp(-(((z - waist - 0.05) / 0.05) ** 2))
    else:
        body = 0.007 + 0.012 * np.clip((waist + 0.12 * wearer.s - z) / 0.15, 0, 1)
    # sleeves grow with the shirt, but less
    wide = 1 + 0.45 * max(outfit.top_ease - 1, 0)
    ease = np.where(t > -0.5, sleeve * wide, body * outfit.top_ease)
    if outfit.tucked_in:
        ease = np.where((t < -0.5) & (z < waist + 0.012), 0.0045, ease)
    return ease


def _second_colour(wearer: Wearer, g: dict[str, Array]) -> Mask:
    pattern = wearer.outfit.pattern
    sleeve = g["arm"] > 0.5
    if pattern == "stripes":
        return np.asarray((np.floor((g["z"] - wearer.hip) / 0.035) % 2 == 0) & ~sleeve)
    if pattern == "upright":
        return np.asarray((np.floor(g["x"] / 0.03) % 2 == 0) & ~sleeve)
    if pattern == "block":
        return np.asarray((g["z"] > wearer.figure.head("spine01")[2] - 0.02) | sleeve)
    if pattern == "sleeves":
        return sleeve
    return np.zeros(len(sleeve), bool)


LEVELS, AROUND = 18, 72


def skirt(wearer: Wearer, rng: np.random.Generator) -> Mesh:
    """A skirt: rings around the hull of pelvis and both legs, widening toward the hem."""
    outfit = wearer.outfit
    start = wearer.waist + 0.005
    hem = wearer.hip - 0.10 * wearer.s
    hem += outfit.skirt_length * (wearer.knee - 0.08 * wearer.s - hem)
    levels = np.linspace(start, hem, LEVELS)
    body = (wearer.arm < 0.3) & np.isin(np.arange(len(wearer.z)), wearer.figure.on_skin)
    slabs = [wearer.posed[body & (np.abs(wearer.z - z) < 0.022 * wearer.s)] for z in levels]
    middles = _smooth_line(np.array([(p.max(0) + p.min(0)) / 2 for p in slabs]))
    along = np.gradient(middles, axis=0)
    along /= np.linalg.norm(along, axis=1, keepdims=True)
    side = wearer.pose.turn("root")[:, 0]
    across = side - along * (along @ side)[:, None]
    across /= np.linalg.norm(across, axis=1, keepdims=True)
    front = np.cross(along, across)
    radius = np.array(
        [
            _radius(points - middle, across=a, front=b)
            for points, middle, a, b in zip(slabs, middles, across, front, strict=True)
        ]
    )
    radius = _hung(radius, outfit=outfit, rng=rng)
    angle = np.arange(AROUND) * 2 * np.pi / AROUND
    out = (
        np.cos(angle)[None, :, None] * across[:, None]
        + np.sin(angle)[None, :, None] * front[:, None]
    )
    grid = middles[:, None] + radius[:, :, None] * out
    F = rings(grid)[:, ::-1]
    band = np.repeat([levels[:-1] > start - BELT_M], AROUND, axis=0).T.ravel()
    band = np.concatenate([band, band])
    if outfit.bottom == "dress":
        kinds = np.full(len(F), class_of("shirt"))
    else:
        kinds = np.where(band, class_of("belt"), class_of("bottom"))
    return _outward(
        Mesh(
            name="skirt",
            vertices=grid.reshape(-1, 3),
            faces=F,
            classes=kinds,
            colours=np.ones((len(F), 3)),
        ),
        out.reshape(-1, 3),
    )


def _outward(m: Mesh, out: Array) -> Mesh:
    a, b, c = (m.vertices[m.faces[:, k]] for k in range(3))
    facing = np.einsum("ij,ij->i", np.cross(b - a, c - a), out[m.faces[:, 0]]).sum()
    faces: Indices = m.faces if facing > 0 else m.faces[:, ::-1]
    return Mesh(name=m.name, vertices=m.vertices, faces=faces, classes=m.classes, colours=m.colours)


def _smooth_line(points: Array) -> Array:
    for _ in range(4):
        inner = (points[:-2] + 2 * points[1:-1] + points[2:]) / 4
        points = np.concatenate([points[:1], inner, points[-1:]])
    return points


def _radius(points: Array, *, across: Array, front: Array) -> Array:
    """(AROUND,) how far the hull of points reaches, by its support function."""
    angle = np.arange(AROUND) * 2 * np.pi / AROUND
    out = np.cos(angle)[:, None] * across + np.sin(angle)[:, None] * front
    support = (points @ out.T).max(0)
    # the hull's radius is the nearest of its tangents, seen along the ray
    facing = np.cos(angle[:, None] - angle[None])
    tangent = np.where(facing > 0.05, support[None] / np.maximum(facing, 0.05), np.inf)
    return np.asarray(tangent.min(1))


def _hung(radius: Array, *, outfit: Outfit, rng: np.random.Generator) -> Array:
    """Fall from the widest level above, widen toward the hem, pleat."""
    down = np.linspace(0, 1, LEVELS)[:, None]
    keep = rng.uniform(0.9, 1.0)
    hung = radius.copy()
    for k in range(1, LEVELS):
        hung[k] = np.maximum(hung[k], keep * hung[k - 1])
    hung += 0.006 + 0.008 * outfit.bottom_ease * down + outfit.skirt_flare * down
    angle = np.arange(AROUND) * 2 * np.pi / AROUND
    waves = np.sin(rng.integers(3, 8) * angle + rng.uniform(0, 6)) * 0.012 * outfit.bottom_ease
    if outfit.pleats:
        waves = waves + 0.006 * np.sign(np.sin(outfit.pleats * angle))
    return np.asarray(hung + down**1.5 * waves * 0.6)
