"""What is known, as residuals.

A term turns the parameter vector into residuals that have unit variance where the
knowledge is soft, together with their exact derivatives. Rows belong to groups of
``group`` residuals that are trusted or distrusted together (the two coordinates of one
landmark). A *hard* term is met exactly.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping
from typing import Protocol

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.estimation.layout import Block

Array = NDArray[np.float64]


class Term(Protocol):
    """One kind of knowledge about the parameters."""

    @property
    def hard(self) -> bool:
        """Whether the residuals must vanish."""

    @property
    def group(self) -> int:
        """How many rows are weighted together by the robust loss."""

    @property
    def robust_scale(self) -> float | None:
        """Residual of a group, in standard deviations, beyond which it is distrusted.

        ``None`` for plain least squares.
        """

    @property
    def shares(self) -> Mapping[str, Array | float]:
        """Share of each row's variance that comes from each named source; sums to 1."""

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """Residuals, shape (m,), and their Jacobian, shape (m, n)."""


class Curved(ABC):
    """What a term inherits that tells how its rows curve; it counts when the term is hard."""

    __slots__ = ()

    @abstractmethod
    def curvature(self, parameters: Array, multipliers: Array, /) -> Array:
        """Sum of multiplier times second derivative of each row, shape (n, n)."""


def _column(value: object) -> Array:
    array = np.atleast_1d(np.array(value, dtype=np.float64))
    array.setflags(write=False)
    return array


@frozen(kw_only=True, eq=False)
class OneSourceTerm:
    """What terms have in common whose whole variance comes from one named source."""

    source: str
    hard: bool = False
    group: int = 1
    robust_scale: float | None = None

    @property
    def shares(self) -> Mapping[str, Array | float]:
        """All from the one source."""
        return {self.source: 1.0}


@frozen(kw_only=True, eq=False)
class LinearTerm(OneSourceTerm):
    """``matrix @ parameters`` is ``target`` within ``sd`` (or exactly, when hard).

    ``mix`` splits each row's variance over several named sources; without it all of it is
    from ``source``.
    """

    matrix: Array
    target: Array = field(converter=_column)
    sd: Array = field(converter=_column, default=1.0)
    mix: Mapping[str, Array] | None = None

    @property
    def shares(self) -> Mapping[str, Array | float]:
        """All from the one source, or as mixed."""
        return {self.source: 1.0} if self.mix is None else dict(self.mix)

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`Term.linearise`."""
        residuals = (self.matrix @ parameters - self.target) / self.sd
        return residuals, self.matrix / self.sd[:, None]


def prior(
    source: str,
    *,
    size: int,
    columns: object,
    mean: object,
    sd: object,
    hard: bool = False,
) -> LinearTerm:
    """Some parameters are near ``mean`` within ``sd`` before anything is looked at.

    Parameters
    ----------
    source : str
        Name in the error budget.
    size : int
        Length of the whole parameter vector.
    columns : slice or sequence of int
        Which parameters.
    mean, sd : float or (k,) array, unit of the parameter
    hard : bool
        Hold them exactly.
    """
    index = np.arange(size)[columns]  # type: ignore[call-overload]
    matrix = np.zeros((len(index), size))
    matrix[np.arange(len(index)), index] = 1
    return LinearTerm(
        source=source,
        matrix=matrix,
        target=np.broadcast_to(mean, len(index)),  # type: ignore[call-overload]
        sd=np.broadcast_to(sd, len(index)),  # type: ignore[call-overload]
        hard=hard,
    )


@frozen(kw_only=True, eq=False)
class DistanceTerm(OneSourceTerm):
    """Distances between points, or between means of points, are known.

    Parameters
    ----------
    points : slice
        The block of ``(N, 3)`` points inside the parameter vector.
    combinations : (m, N) array
        Row ``k`` times the points is the vector whose length is known; its entries sum
        to zero (``+1`` and ``-1`` for two points, halves for midpoints).
    lengths, sd : (m,) arrays, metre
    scale_column : int or None
        Parameter ``s`` that multiplies all lengths by ``1 + s`` (a body built a little
        larger than the table); ``None`` for none.
    """

    points: Block
    combinations: Array
    lengths: Array = field(converter=_column)
    sd: Array = field(converter=_column)
    scale_column: int | None = None

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`Term.linearise`."""
        distance, by_points = _distances(parameters[self.points], self.combinations)
        jacobian = np.zeros((len(distance), len(parameters)))
        jacobian[:, self.points] = by_points
        wanted = self.lengths
        if self.scale_column is not None:
            wanted = wanted * (1 + parameters[self.scale_column])
            jacobian[:, self.scale_column] = -self.lengths
        return (distance - wanted) / self.sd, jacobian / self.sd[:, None]


def _distances(flat_points: Array, combinations: Array) -> tuple[Array, Array]:
    between = combinations @ flat_points.reshape(-1, 3)
    distance = np.linalg.norm(between, axis=1)
    direction = between / distance[:, None]
    by_points = combinations[:, :, None] * direction[:, None, :]
    return distance, by_points.reshape(len(distance), -1)


@frozen(kw_only=True, eq=False)
class EqualDistancesTerm(OneSourceTerm):
    """Pairs of distances are alike (the lead thigh and the trail thigh).

    ``first`` and ``second`` are (m, N) combinations as in :class:`DistanceTerm`; their
    lengths differ by no more than ``sd``, metre.
    """

    points: Block
    first: Array
    second: Array
    sd: Array = field(converter=_column)

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`Term.linearise`."""
        one, by_one = _distances(parameters[self.points], self.first)
        two, by_two = _distances(parameters[self.points], self.second)
        jacobian = np.zeros((len(one), len(parameters)))
        jacobian[:, self.points] = by_one - by_two
        return (one - two) / self.sd, jacobian / self.sd[:, None]
