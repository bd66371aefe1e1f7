"""Colours of things: skin and faces, cloth, grass, mats, floors, sky and trees."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

import numpy as np
from attrs import frozen

from benchmarks.stress.meshes import Paint
from benchmarks.stress.solids import Array, unit

Colour = tuple[float, float, float]

SKINS: Final[tuple[Colour, ...]] = (
    (0.56, 0.33, 0.23), (0.62, 0.42, 0.32), (0.41, 0.22, 0.13), (0.22, 0.11, 0.065),
    (0.10, 0.050, 0.031), (0.66, 0.46, 0.38),
)  # fmt: skip
CLOTH: Final[tuple[Colour, ...]] = (
    (0.70, 0.70, 0.68), (0.05, 0.07, 0.16), (0.45, 0.05, 0.06), (0.10, 0.28, 0.42),
    (0.02, 0.02, 0.025), (0.55, 0.44, 0.20), (0.30, 0.32, 0.34), (0.60, 0.33, 0.40),
    (0.12, 0.30, 0.16), (0.42, 0.36, 0.28),
)  # fmt: skip
HAIRS: Final[tuple[Colour, ...]] = (
    (0.02, 0.014, 0.010), (0.10, 0.055, 0.03), (0.32, 0.22, 0.11), (0.33, 0.32, 0.31),
)  # fmt: skip


@frozen(kw_only=True, eq=False)
class Clouds:
    """A tile of rough noise without seams, mean 0 and standard deviation 1."""

    tile: Array

    def at(self, x: Array, y: Array) -> Array:
        """Values between the tile's nodes; one unit is one node."""
        size = len(self.tile)
        left, low = np.floor(x).astype(int), np.floor(y).astype(int)
        u, v = x - left, y - low
        a, b = left % size, low % size
        c, d = (a + 1) % size, (b + 1) % size
        below = self.tile[a, b] * (1 - u) + self.tile[c, b] * u
        above = self.tile[a, d] * (1 - u) + self.tile[c, d] * u
        return np.asarray(below * (1 - v) + above * v)


def draw_clouds(random: np.random.Generator, /, *, slope: float, size: int = 1024) -> Clouds:
    """Noise whose amplitude falls with frequency to the power ``slope``."""
    frequency = np.hypot(np.fft.fftfreq(size)[:, None], np.fft.rfftfreq(size)[None]) * size
    frequency[0, 0] = 1.0
    spectrum = np.fft.rfft2(random.standard_normal((size, size))) / frequency**slope
    spectrum[0, 0] = 0.0
    tile = np.fft.irfft2(spectrum, s=(size, size))
    return Clouds(tile=tile / tile.std())


def plain(colour: Colour, /) -> Paint:
    """One colour all over."""
    return lambda points, _normals: np.tile(colour, (len(points), 1))


def shoe(random: np.random.Generator, /) -> Paint:
    """A shoe with a sole of another colour."""
    white = random.random() < 0.6
    upper = np.array([0.66, 0.66, 0.65] if white else CLOTH[random.integers(len(CLOTH))]) * 0.9
    sole = np.array([0.10, 0.10, 0.11]) if white else np.array([0.65, 0.65, 0.64])

    def paint(points: Array, _normals: Array) -> Array:
        low = (points[:, 2] < 0.020)[:, None]
        lace = ((points[:, 2] > 0.062) & (np.sin(points[:, 1] * 480) > 0.4))[:, None]
        return np.where(low, sole, np.where(lace, 0.7 * upper, upper))

    return paint


def cloth(random: np.random.Generator, /, *, colour: Colour, other: Colour) -> Paint:
    """Plain, striped or checked cloth with a weave."""
    kind = random.choice(["plain", "plain", "striped", "checked"])
    width = float(random.uniform(0.02, 0.06))
    weave = draw_clouds(random, slope=0.3, size=256)
    tilt = unit(np.array([0.1, 0.5, 1.0]) * random.uniform(0.7, 1.3, 3))

    def paint(points: Array, _normals: Array) -> Array:
        along = points @ tilt
        share = np.zeros(len(points))
        if kind != "plain":
            share = (np.sin(2 * np.pi * along / width) > 0.55).astype(np.float64)
        if kind == "checked":
            share = 0.5 * share + 0.5 * (np.sin(2 * np.pi * points[:, 0] / width) > 0.55)
        rgb = np.array(colour) * (1 - share[:, None]) + np.array(other) * share[:, None]
        rough = weave.at(points[:, 0] * 900 + points[:, 1] * 430, points[:, 2] * 900)
        return np.asarray(rgb * (1.0 + 0.06 * rough)[:, None])

    return paint


def skin(
    random: np.random.Generator,
    /,
    *,
    colour: Colour,
    hair: Colour,
    face: Mapping[str, Array],
    axes: Array,
) -> Paint:
    """Skin with eyes, brows and lips."""
    spots = draw_clouds(random, slope=1.0, size=256)
    eyes = np.array([face["lead_eye"], face["trail_eye"]])
    lips = face["nose"] - 0.034 * axes[2] - 0.022 * axes[1]
    iris = np.array([0.05, 0.03, 0.02]) * random.uniform(0.7, 3.0)

    def paint(points: Array, _normals: Array) -> Array:
        rough = spots.at(points[:, 0] * 300 + points[:, 1] * 170, points[:, 2] * 300)
        rgb = np.array(colour) * (1.0 + 0.05 * rough)[:, None]
        for eye in eyes:
            local = (points - eye) @ axes.T
            near = local[:, 1] > -0.03
            white = near & (np.hypot(local[:, 0] / 0.014, local[:, 2] / 0.0065) < 1.0)
            rgb[white] = (0.62, 0.60, 0.58)
            rgb[near & (np.hypot(local[:, 0], local[:, 2]) < 0.0060)] = iris
            brow = near & (np.abs(local[:, 0]) < 0.020)
            brow &= np.abs(local[:, 2] - 0.020 + 8 * local[:, 0] ** 2) < 0.0045
            rgb[brow] = np.array(hair) * 0.8 + 0.1 * np.array(colour)
        local = (points - lips) @ axes.T
        mouth = (np.hypot(local[:, 0] / 0.024, local[:, 2] / 0.008) < 1.0) & (local[:, 1] > -0.03)
        rgb[mouth] = np.array(colour) * (0.95, 0.55, 0.55)
        return np.asarray(rgb)

    return paint


Ground = Callable[[Array, Array], Array]
"""Colour of the ground at (n, 2) places, seen by pixels of a given size on it, metre."""

Backdrop = Callable[[Array], Array]
"""Radiance from (n, 3) directions."""


def grass(random: np.random.Generator, /, *, dry: float) -> Ground:
    """Mown grass: blades, tufts and patches; what a pixel can't resolve is left out."""
    fine, rough = draw_clouds(random, slope=0.25), draw_clouds(random, slope=1.3)
    green = np.array([0.085, 0.16, 0.030]) * (1 - dry) + np.array([0.24, 0.20, 0.085]) * dry
    stripes = float(random.uniform(0.0, 0.12))

    def colour(place: Array, footprint: Array) -> Array:
        x, y = place.T
        sharp = np.exp(-((footprint / 0.006) ** 2))
        tufts = np.exp(-((footprint / 0.05) ** 2))
        light = 0.30 * sharp * fine.at(x / 0.0045, y / 0.0062)
        light += 0.16 * tufts * rough.at(x / 0.02, y / 0.02)
        light += 0.10 * rough.at(x / 0.4 + 300, y / 0.4)
        light += stripes * np.sign(np.sin(y * 1.3))
        warm = 0.12 * rough.at(x / 0.15 + 100, y / 0.15 + 50)
        rgb = green * np.exp(light)[:, None]
        rgb[:, 0] *= np.exp(warm)
        return np.asarray(rgb)

    return colour


def floor(
    random: np.random.Generator, /, *, around: Ground | None, mat: Colour, base: Colour
) -> Ground:
    """A mat of artificial turf on grass or on a floor."""
    rough, fine = draw_clouds(random, slope=1.2), draw_clouds(random, slope=0.2)
    low = np.array([random.uniform(-1.1, -0.8), random.uniform(-0.5, -0.3)])
    high = np.array([random.uniform(0.8, 1.1), random.uniform(1.4, 1.8)])

    def colour(place: Array, footprint: Array) -> Array:
        x, y = place.T
        plain_floor = np.array(base) * np.exp(0.10 * rough.at(x / 0.02, y / 0.02))[:, None]
        rgb = around(place, footprint) if around else plain_floor
        on = ((place > low) & (place < high)).all(axis=1)
        blades = np.exp(-((footprint / 0.005) ** 2)) * fine.at(x / 0.004, y / 0.004)
        rgb[on] = (np.array(mat) * np.exp(0.22 * blades)[:, None])[on]
        edge = on & ~((place > low + 0.03) & (place < high - 0.03)).all(axis=1)
        rgb[edge] = (0.02, 0.02, 0.02)
        return np.asarray(rgb)

    return colour


def outdoors(random: np.random.Generator, /, *, grey: float) -> Backdrop:
    """Sky with clouds over trees, or over a hedge."""
    clouds, leaves = draw_clouds(random, slope=1.6), draw_clouds(random, slope=0.9)
    height = float(random.uniform(0.03, 0.14))
    uneven = float(random.uniform(0.0, 0.05))
    turn = float(random.uniform(0, 1000))
    blue = np.array([0.22, 0.42, 0.85]) * (1 - grey) + np.array([0.62, 0.66, 0.72]) * grey

    def radiance(direction: Array) -> Array:
        azimuth = np.arctan2(direction[:, 1], direction[:, 0])
        up = np.arcsin(np.clip(direction[:, 2], -1, 1))
        haze = np.exp(-np.maximum(up, 0.0) / 0.25)[:, None]
        sky = 1.35 * (blue * (1 - haze) + np.array([0.78, 0.84, 0.92]) * haze)
        over = clouds.at(azimuth * 160 + turn, up * 300)
        white = np.clip(0.45 * over + 0.1 + 0.5 * grey, 0, 1)[:, None]
        sky = sky * (1 - white) + 1.25 * white
        tops = height + uneven * clouds.at(azimuth * 700 + turn, np.full(len(up), 7.5))
        tops = tops + 0.006 * leaves.at(azimuth * 2500, np.full(len(up), 3.5))
        tree = (
            np.array([0.035, 0.065, 0.022])
            * np.exp(0.55 * leaves.at(azimuth * 900 + turn, up * 900))[:, None]
        )
        tree = tree + 0.05 * np.array([0.7, 0.85, 1.0]) * (1 - grey / 2)
        return np.where((up < tops)[:, None], tree, sky)

    return radiance


def indoors(colour: Colour, /) -> Backdrop:
    """Light from everywhere in a room."""
    return lambda direction: np.tile(np.array(colour), (len(direction), 1))
