"""An invented person: proportions, wider than a survey of adults would give."""

from __future__ import annotations

import numpy as np
from attrs import frozen

from benchmarks.stress.solids import Array

SPREAD = 0.035
"""Standard deviation of each length's share of stature: about half as wide again as among
adults, by common practice, no source."""


@frozen(kw_only=True)
class Person:
    """Lengths in metre.

    Shares of stature follow textbook figures (Drillis & Contini's for limbs, from memory);
    each varies on its own.
    """

    stature: float
    female: bool
    girth: float
    belly: float
    thigh: float
    shank: float
    hip_half: float
    shoulder_half: float
    upper_arm: float
    forearm: float
    trunk: float
    head: float
    foot: float
    shoulder_fall: float

    @property
    def ankle_height(self) -> float:
        """Ankle joint above the ground, shoe included."""
        return 0.040 * self.stature + 0.028

    @property
    def shoe(self) -> float:
        """Length of the shoe."""
        return self.foot + 0.025


def draw_person(random: np.random.Generator, /, *, female: bool) -> Person:
    """A random adult or big junior."""
    stature = float(np.clip(random.normal(1.64 if female else 1.77, 0.11), 1.42, 2.06))
    factor = iter(1.0 + SPREAD * random.standard_normal(9))

    def length(share: float) -> float:
        return float(share * stature * next(factor))

    return Person(
        stature=stature,
        female=female,
        girth=float(random.choice([0.86, 0.95, 1.04, 1.18])) * float(random.uniform(0.96, 1.04)),
        belly=float(max(0.0, random.normal(0.15, 0.4))),
        thigh=length(0.245),
        shank=length(0.246),
        hip_half=length(0.052 if female else 0.050),
        shoulder_half=length(0.094 if female else 0.102),
        upper_arm=length(0.168),
        forearm=length(0.148),
        trunk=length(1.0),
        head=length(0.5) / 0.5 / stature,
        foot=length(0.150),
        shoulder_fall=float(random.uniform(-0.008, 0.012)),
    )


def mass_points(person: Person, /) -> tuple[Array, ...]:
    """Shares of body mass: head, pelvis, belly, chest, arm, forearm, thigh, shank (one side).

    Textbook shares, from memory; used only to stand the skeleton in balance. The truth's
    centre of mass is that of the flesh itself.
    """
    shares = np.array([0.08, 0.13, 0.14, 0.22, 0.028, 0.022, 0.105, 0.06])
    shares[2] *= 1.0 + 0.3 * person.belly
    return tuple(shares)
