"""The whole-body centre of mass as a weighted mean of the landmarks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.body.segments import MassModel
from wellset.figure.landmarks import INDEX, LANDMARKS

Array = NDArray[np.float64]

_STAND_IN: Final[Mapping[str, str]] = {
    "heel": "shoe_heel",
    "toe": "shoe_toe",
    "knuckle": "grip_mid",
}
"""Ends of the mass tables that a picture doesn't show, and the landmark nearest to them:
the foot fills the shoe to within a centimetre or two, and the knuckles close on the grip."""


def mass_weights(model: MassModel, /) -> Array:
    """Weight of every landmark in the centre of mass, shape (N,); sums to 1.

    Parameters
    ----------
    model : MassModel
        A cut whose ends are all landmarks, midpoints of landmarks or stand-ins.

    Raises
    ------
    KeyError
        When a segment ends at a point that no landmark stands for.
    """
    weights = np.zeros(len(LANDMARKS))
    for end, weight in model.point_weights().items():
        for name, part in _landmarks_of(end):
            weights[INDEX[name]] += weight * part
    return weights


def _landmarks_of(end: str) -> tuple[tuple[str, float], ...]:
    if end == "vertex":
        # the head's centre lies near the line of the ears, half-way from C7 to the vertex
        return (("lead_ear", 1.0), ("trail_ear", 1.0), ("c7", -1.0))
    side, _, stem = end.partition("_")
    if side == "mid":
        return (("lead_" + stem, 0.5), ("trail_" + stem, 0.5))
    if side in ("lead", "trail"):
        stand_in = _STAND_IN.get(stem, stem)
        return ((stand_in if stand_in in INDEX else f"{side}_{stand_in}", 1.0),)
    return ((end, 1.0),)
