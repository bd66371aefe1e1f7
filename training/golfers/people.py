"""Random people: bodies of the file, mixed and stretched out of proportion."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from training.bodies.store import VERTICES_PER_METRE, Array, Bodies
from training.golfers.figure import Figure, blend
from training.golfers.turning import unit

STRETCHED: Mapping[str, tuple[Sequence[str], float, float]] = {
    # bones (without side), spread of length, spread of girth: chosen, three times what
    # the first network saw, so that no body is too odd
    "trunk": (("spine05", "spine04", "spine03", "spine02", "spine01"), 0.04, 0.05),
    "shoulders": (("clavicle", "shoulder01"), 0.06, 0.03),
    "hips": (("pelvis",), 0.05, 0.03),
    "neck": (("neck01", "neck02", "neck03"), 0.08, 0.05),
    "upper_arms": (("upperarm01", "upperarm02"), 0.05, 0.06),
    "forearms": (("lowerarm01", "lowerarm02"), 0.05, 0.06),
    "thighs": (("upperleg01", "upperleg02"), 0.045, 0.06),
    "shanks": (("lowerleg01", "lowerleg02"), 0.045, 0.06),
}


def random_stretch(rng: np.random.Generator) -> dict[str, tuple[float, float]]:
    """Length and girth factors of each part of the body; both sides alike."""
    how_odd = rng.choice([0.0, 0.5, 1.0, 1.5])
    return {
        part: (float(np.exp(how_odd * a * rng.normal())), float(np.exp(how_odd * b * rng.normal())))
        for part, (_, a, b) in STRETCHED.items()
    }


def stretched(figure: Figure, factors: Mapping[str, tuple[float, float]]) -> Figure:
    """A figure with parts of other length and girth, joined smoothly by the weights."""
    count = len(figure.heads)
    S = np.tile(np.eye(3), (count, 1, 1))
    for part, (length, girth) in factors.items():
        for bone, i in figure.index.items():
            if bone.split(".")[0] in STRETCHED[part][0]:
                u = _along(figure, i)
                S[i] = girth * np.eye(3) + (length - girth) * np.outer(u, u)
    heads = figure.heads.copy()
    for i, parent in enumerate(figure.rig.parents):
        if parent >= 0:
            heads[i] = heads[parent] + S[parent] @ (figure.heads[i] - figure.heads[parent])
    vertices = blend(figure, A=S, heads=heads)
    return Figure(rig=figure.rig, vertices=vertices, heads=heads, female=figure.female)


def _along(figure: Figure, bone: int) -> Array:
    """Direction of a bone: to the middle of its children."""
    children = [i for i, parent in enumerate(figure.rig.parents) if parent == bone]
    return unit(figure.heads[children].mean(0) - figure.heads[bone])


def random_figure(bodies: Bodies, rng: np.random.Generator) -> Figure:
    """A body from the file, or a mixture of two, with odd proportions of its own."""
    first, second = rng.integers(len(bodies), size=2)
    share = float(rng.choice([0.0, rng.uniform(0, 0.5)]))
    scale = rng.uniform(0.97, 1.03)
    mixed = [
        ((1 - share) * array[first] + share * array[second]) * scale
        for array in (bodies.vertices / VERTICES_PER_METRE, bodies.heads.astype(np.float64))
    ]
    female = bool((1 - share) * bodies.genders[first] + share * bodies.genders[second] > 0.5)
    figure = Figure(rig=bodies.rig, vertices=mixed[0], heads=mixed[1], female=female)
    return stretched(figure, random_stretch(rng))
