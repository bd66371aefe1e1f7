"""Read-only arrays of the shapes that this room's values hold."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from wellset.figure.landmarks import LANDMARKS
from wellset.figure.sighting import frozen_array

Array = NDArray[np.float64]
Flags = NDArray[np.bool_]
Float32 = NDArray[np.float32]
Mask = NDArray[np.bool_]
Pixels = NDArray[np.uint8]

COUNT = len(LANDMARKS)


def pair(value: object) -> Array:
    """A read-only ``(2,)`` array."""
    return frozen_array(2)(value)


def affine(value: object) -> Array:
    """A read-only ``(2, 3)`` array."""
    return frozen_array(2, 3)(value)


def landmark_pairs(value: object) -> Array:
    """A read-only ``(36, 2)`` array, one row a landmark."""
    return frozen_array(COUNT, 2)(value)


def landmark_covariances(value: object) -> Array:
    """A read-only ``(36, 2, 2)`` array, one block a landmark."""
    return frozen_array(COUNT, 2, 2)(value)


def landmark_flags(value: object) -> Flags:
    """A read-only ``(36,)`` bool array."""
    flags = np.array(value, dtype=np.bool_)
    if flags.shape != (COUNT,):
        raise ValueError(f"expected {COUNT} flags, got an array of shape {flags.shape}")
    flags.setflags(write=False)
    return flags


def mask(value: object) -> Mask:
    """A read-only bool array of any two-dimensional shape."""
    inside = np.array(value, dtype=np.bool_)
    if inside.ndim != 2:
        raise ValueError(f"expected a two-dimensional mask, got shape {inside.shape}")
    inside.setflags(write=False)
    return inside
