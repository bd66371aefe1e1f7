"""Clothes as solids over the flesh: shirts, jackets, trousers, shorts, skirts, hats, shoes."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from attrs import frozen

from benchmarks.stress import flesh
from benchmarks.stress.person import Person
from benchmarks.stress.solids import (
    Array,
    Sections,
    Solid,
    cone,
    cut,
    ellipsoid,
    folded,
    grown,
    hanging,
    join,
    tube,
    unit,
)
from benchmarks.stress.stance import HEEL_TO_ANKLE, Skeleton


@frozen(kw_only=True)
class Outfit:
    """What is worn. Lengths in metre.

    Parameters
    ----------
    top : str
        For the name of the scene.
    ease, hang, fold : float
        Room between cloth and skin; how far cloth hangs below what carries it; height of folds.
    sleeve : float
        Share of the arm covered: 0.5 to above the elbow, 1 to the wrist.
    hem : float
        How far below the hips the top ends; nothing shows above the belt.
    legs : str
        ``trousers``, ``shorts`` or ``skirt``.
    hat : str
        ``none``, ``cap``, ``brim``.
    hair : str
        ``short``, ``tail``, ``bob``.
    """

    top: str
    ease: float
    hang: float
    fold: float
    sleeve: float
    hem: float
    legs: str
    hat: str
    hair: str


OUTFITS: Final = (
    Outfit(top="loose_shirt", ease=0.014, hang=0.045, fold=0.006, sleeve=0.52, hem=0.05,
           legs="shorts", hat="cap", hair="short"),
    Outfit(top="polo", ease=0.009, hang=0.018, fold=0.004, sleeve=0.45, hem=-0.09,
           legs="skirt", hat="cap", hair="tail"),
    Outfit(top="rain_jacket", ease=0.024, hang=0.040, fold=0.007, sleeve=0.97, hem=0.08,
           legs="trousers", hat="brim", hair="short"),
    Outfit(top="jumper", ease=0.016, hang=0.025, fold=0.005, sleeve=0.97, hem=0.0,
           legs="trousers", hat="none", hair="bob"),
    Outfit(top="polo", ease=0.008, hang=0.015, fold=0.004, sleeve=0.45, hem=-0.10,
           legs="trousers", hat="none", hair="short"),
    Outfit(top="loose_shirt", ease=0.018, hang=0.055, fold=0.007, sleeve=0.50, hem=0.06,
           legs="skirt", hat="brim", hair="tail"),
)  # fmt: skip


def top(person: Person, s: Skeleton, *, outfit: Outfit, seed: int) -> Solid:
    """Shirt, jumper or jacket."""
    down = unit(s.spine[1] - s.spine[2])
    body = cut(flesh.trunk(person, s), at=s.spine[1] + outfit.hem * down, beyond=down)
    up = unit(s.spine[7] - s.spine[6])
    body = cut(grown(body, by=outfit.ease), at=s.spine[7] + 0.03 * up, beyond=up)
    end = s.spine[1] + outfit.hem * down
    parts = [cut(body, at=end, beyond=down)]
    if outfit.hem > -0.06:  # worn over the belt, so it goes round what is worn below
        parts.append(cut(grown(_lower(person, s, outfit=outfit), by=0.010), at=end, beyond=down))
    for side in flesh.SIDES:
        shoulder, elbow, wrist = (s[f"{side}_{j}"] for j in ("shoulder", "elbow", "wrist"))
        wide = 0.031 * person.stature * person.girth**0.6 + 0.8 * outfit.ease
        if outfit.sleeve < 0.6:
            end = shoulder + outfit.sleeve / 0.53 * (elbow - shoulder) * 0.85
            sleeve = cone(shoulder, end, radii=(wide, wide + 0.2 * outfit.ease))
            parts.append(cut(sleeve, at=end, beyond=end - shoulder))
        else:
            end = elbow + 0.92 * (wrist - elbow)
            middle = 0.84 * wide
            parts.append(cone(shoulder, elbow, radii=(wide, middle)))
            lower = cone(elbow, end, radii=(middle, 0.62 * wide))
            parts.append(cut(lower, at=end, beyond=end - elbow))
    whole = hanging(join(*parts, melt=0.035), by=outfit.hang)
    return folded(whole, height=0.6 * outfit.fold, seed=seed, length=0.12)


def collar(person: Person, s: Skeleton, /) -> Solid:
    """A band round the neck."""
    up = unit(s["head"] - 0.05 * s.head_axes[2] - s.spine[7])
    neck = grown(flesh.head_parts(person, s)["neck"], by=0.006)
    base = s.spine[7] + 0.012 * person.stature * s.forward[7]
    return cut(cut(neck, at=base + 0.030 * up, beyond=up), at=base - 0.03 * up, beyond=-up)


def _pelvis(person: Person, s: Skeleton, *, by: float) -> Solid:
    """Seat and hips up to the belt."""
    up = unit(s.spine[3] - s.spine[1])
    return cut(grown(flesh.trunk(person, s), by=by), at=s.spine[3] - 0.02 * up, beyond=up)


def legs(person: Person, s: Skeleton, *, outfit: Outfit, seed: int) -> Solid:
    """Trousers, shorts or skirt."""
    return folded(_lower(person, s, outfit=outfit), height=0.0035, seed=seed, length=0.11)


def _lower(person: Person, s: Skeleton, *, outfit: Outfit) -> Solid:
    """Trousers, shorts or skirt without folds."""
    if outfit.legs == "skirt":
        return _skirt(person, s)
    parts = [_pelvis(person, s, by=0.010)]
    for side in flesh.SIDES:
        thigh, shank = flesh.leg(person, s, side=side)
        hip, knee, ankle = (s[f"{side}_{joint}"] for joint in ("hip", "knee", "ankle"))
        if outfit.legs == "shorts":
            end = hip + 0.84 * (knee - hip)
            wide = 0.046 * person.stature * person.girth + 0.016
            loose = join(grown(thigh, by=0.012), cone(hip, end, radii=(wide, wide)), melt=0.03)
            parts.append(cut(loose, at=end, beyond=end - hip))
        else:
            parts.append(grown(thigh, by=0.015))
            end = ankle + np.array([0.0, 0.0, -0.015])
            loose = cone(
                knee, end, radii=(0.032 * person.stature * person.girth**0.6 + 0.018, 0.062)
            )
            lower = join(grown(shank, by=0.012), loose, melt=0.03)
            parts.append(cut(lower, at=end, beyond=np.array([0.0, 0.0, -1.0])))
    return join(*parts, melt=0.03)


def _skirt(person: Person, s: Skeleton) -> Solid:
    """One tube round both thighs."""
    share = np.linspace(0.0, 0.66, 8)
    lead, trail = (
        s[f"{side}_hip"] + share[:, None] * (s[f"{side}_knee"] - s[f"{side}_hip"])
        for side in flesh.SIDES
    )
    apart = np.linalg.norm(lead - trail, axis=1) / 2
    thick = (0.050 - 0.012 * share) * person.stature * person.girth
    middle = (lead + trail) / 2
    flat = np.tile(s.lateral[1], (len(share), 1))
    ahead = np.cross(unit(np.gradient(middle, axis=0)), flat)
    ahead *= np.sign(-ahead[:, 1:2])
    around = tube(
        Sections(
            centres=middle,
            lateral=flat,
            forward=ahead,
            width=apart + thick + 0.016 + 0.02 * share,
            front=thick + 0.042 + 0.03 * share,
            back=thick + 0.020 + 0.03 * share,
        ),
        power=2.8,
    )
    end = middle[-1]
    whole = join(_pelvis(person, s, by=0.012), around, melt=0.04)
    return cut(whole, at=end, beyond=end - middle[0])


def shoe(person: Person, s: Skeleton, *, side: str) -> Solid:
    """A low shoe with a flat sole on the ground."""
    toe, length = s.toes[side], person.shoe
    across = np.array([-toe[1], toe[0], 0.0])
    ankle = s[f"{side}_ankle"]
    heel = np.array([ankle[0], ankle[1], 0.03]) - HEEL_TO_ANKLE * length * toe
    share = np.array([0.0, 0.03, 0.10, 0.23, 0.45, 0.70, 0.86, 0.96, 1.0])
    wide = np.array([0.010, 0.024, 0.033, 0.036, 0.038, 0.047, 0.043, 0.024, 0.008])
    high = np.array([0.020, 0.040, 0.055, 0.062, 0.050, 0.026, 0.018, 0.010, 0.004])
    scale = length / 0.29
    # the big toe is the longest: the tip lies inside the foot's middle line
    inward = -across * np.sign(across[0]) * (1.0 if side == "lead" else -1.0)
    aside = np.interp(share, [0.35, 0.7, 1.0], [0.0, 0.0, 0.011])[:, None] * scale * inward
    upright = np.tile([0.0, 0.0, 1.0], (len(share), 1))
    upper = tube(
        Sections(
            centres=heel + (0.008 + share * (length - 0.016))[:, None] * toe + aside,
            lateral=np.tile(across, (len(share), 1)),
            forward=upright,
            width=wide * scale,
            front=high * scale,
            back=np.full(len(share), 0.045),
        ),
        power=2.6,
    )
    leg_ends = cone(ankle - np.array([0.0, 0.0, 0.03]), ankle, radii=(0.038 * scale, 0.036 * scale))
    whole = join(upper, leg_ends, melt=0.02)
    return cut(whole, at=np.zeros(3), beyond=np.array([0.0, 0.0, -1.0]))


def headwear(person: Person, s: Skeleton, *, outfit: Outfit) -> Mapping[str, Solid]:
    """Hair, and a hat where one is worn."""
    _, look, up = s.head_axes
    size = person.head * (0.5 * person.stature + 0.9) / 1.8

    def at(*place: float) -> Array:
        return np.asarray(s["head"] + size * (np.array(place) @ s.head_axes))

    skull = flesh.head_parts(person, s)["skull"]
    hair = cut(grown(skull, by=0.009), at=at(0, 0.035, 0.02), beyond=look - 0.62 * up)
    if outfit.hair == "tail":
        tail = cone(at(0, -0.10, 0.01), at(0, -0.135, -0.13), radii=(0.03 * size, 0.016 * size))
        hair = join(hair, tail, melt=0.02)
    if outfit.hair == "bob":
        fall = ellipsoid(
            at(0, -0.035, -0.055), axes=s.head_axes, radii=np.array([0.088, 0.068, 0.085]) * size
        )
        hair = join(hair, cut(fall, at=at(0, 0.005, 0), beyond=look), melt=0.02)
    worn = {"hair": hair}
    if outfit.hat != "none":
        crown = cut(grown(skull, by=0.015), at=at(0, 0.0, 0.035), beyond=-up - 0.12 * look)
        ahead, wide = (0.105, 0.072) if outfit.hat == "cap" else (0.0, 0.150)
        brim = ellipsoid(
            at(0, ahead, 0.040), axes=s.head_axes, radii=np.array([wide, wide, 0.009]) * size
        )
        worn["hat"] = join(crown, brim, melt=0.008)
    return worn
