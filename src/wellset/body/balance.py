"""Centre of mass: from segments, and from a board on a scale."""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from wellset.body.deleva import DE_LEVA, de_leva
from wellset.body.dempster import DEMPSTER_WINTER, dempster_winter
from wellset.body.segments import MassModel
from wellset.body.sex import Sex
from wellset.errors import InputError

_MODELS: Final = {DE_LEVA.name: de_leva, DEMPSTER_WINTER.name: dempster_winter}
MASS_EDITIONS: Final = tuple(_MODELS)
"""Names of the mass tables; the first is the default."""


def mass_model(sex: Sex, *, edition: str = DE_LEVA.name) -> MassModel:
    """The mass table of that name for that population.

    Raises
    ------
    InputError
        For an unknown edition.

    Examples
    --------
    >>> round(mass_model(Sex.MEN).total, 4)
    1.0
    """
    if edition not in _MODELS:
        raise InputError(
            f'No mass table is called "{edition}"',
            why=f"the tables are {' and '.join(MASS_EDITIONS)}.",
            fix="Name one of them.",
        )
    return _MODELS[edition](sex)


def segment_centres(
    upper: ArrayLike, lower: ArrayLike, *, fractions: ArrayLike
) -> NDArray[np.float64]:
    """Centres of segments between their ends.

    Parameters
    ----------
    upper, lower : (N, D) array, metre
        End points, one row a segment, any frame.
    fractions : (N,) array
        Distance of each centre from its upper end, as a share of the segment.

    Returns
    -------
    (N, D) array, metre
        ``upper + fraction * (lower - upper)``.
    """
    u, v = np.asarray(upper, dtype=np.float64), np.asarray(lower, dtype=np.float64)
    f = np.asarray(fractions, dtype=np.float64)[:, np.newaxis]
    return np.asarray(u + f * (v - u), dtype=np.float64)


def centre_of_mass(points: ArrayLike, *, masses: ArrayLike) -> NDArray[np.float64]:
    """The centre of several point masses.

    Parameters
    ----------
    points : (N, D) array, metre
        Where the masses are, any frame.
    masses : (N,) array
        Kilograms or shares; only their ratios count.

    Returns
    -------
    (D,) array, metre

    Raises
    ------
    InputError
        If the masses do not fit the points, one is negative, or all are zero.

    References
    ----------
    Winter 2009, Biomechanics and Motor Control of Human Movement, 4th ed., equation 4.5.
    """
    p, m = np.asarray(points, dtype=np.float64), np.asarray(masses, dtype=np.float64)
    if p.ndim != 2 or m.shape != p.shape[:1]:
        raise InputError(
            "Cannot find the centre of mass",
            why=f"{m.shape} masses do not fit points of shape {p.shape}.",
            fix="Give one mass for each point.",
        )
    if not np.all(m >= 0) or not m.sum() > 0:
        raise InputError(
            "Cannot find the centre of mass",
            why="the masses are negative or all zero.",
            fix="Give masses of which at least one is above zero.",
        )
    return np.asarray(m @ p / m.sum(), dtype=np.float64)


def reaction_board_distance(
    *, reading_with: float, reading_without: float, span: float, mass: float
) -> float:
    """Distance of a person's centre of mass from the pivot of a board on a scale.

    One end of a stiff board rests on a pivot, the other on a scale; a person stands or
    lies on it.

    Parameters
    ----------
    reading_with, reading_without : float
        Scale with and without the person, kilograms.
    span : float
        Distance from the pivot to the scale, metres.
    mass : float
        The person's mass, kilograms.

    Returns
    -------
    float
        Metres from the pivot: ``(R2 - R1) L / W``, by moments about the pivot.

    Raises
    ------
    InputError
        If the mass or the board's length is not above zero.
    """
    if not mass > 0 or not span > 0:
        raise InputError(
            "Cannot read the board",
            why=f"the person weighs {mass} kg and the board is {span} m long.",
            fix="Give a mass and a length above zero.",
        )
    return (reading_with - reading_without) * span / mass
