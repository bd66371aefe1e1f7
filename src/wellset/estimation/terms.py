"""What is known, as residuals.

A term turns the parameter vector into residuals that have unit variance where the
knowledge is soft, together with their exact derivatives. Rows belong to groups of
``group`` residuals that are trusted or distrusted together (the two coordinates of one
landmark). A *hard* term is met exactly.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

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
        """Size of a group's residual, in standard deviations, beyond which it is
        increasingly distrusted; ``None`` for plain least squares."""

    @property
    def shares(self) -> Mapping[str, Array | float]:
        """Share of each row's variance that comes from each named source; sums to 1."""

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """Residuals, shape (m,), and their Jacobian, shape (m, n)."""


def _column(value: object) -> Array:
    array = np.atleast_1d(np.array(value, dtype=np.float64))
    array.setflags(write=False)
    return array


@frozen(kw_only=True, eq=False)
class LinearTerm:
    """``matrix @ parameters`` is ``target`` within ``sd`` (or exactly, when hard)."""

    source: str
    matrix: Array
    target: Array = field(converter=_column)
    sd: Array = field(converter=_column, default=1.0)
    hard: bool = False
    group: int = 1
    robust_scale: float | None = None

    @property
    def shares(self) -> Mapping[str, Array | float]:
        """All from the one source."""
        return {self.source: 1.0}

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
class DistanceTerm:
    """Distances between points are known.

    Parameters
    ----------
    points : slice
        The block of ``(N, 3)`` points inside the parameter vector.
    first, second : (m,) int arrays
        Which pairs of points.
    lengths, sd : (m,) arrays, metre
    scale_column : int or None
        Parameter ``s`` that multiplies all lengths by ``1 + s`` (a body built a little
        larger than the table); ``None`` for none.
    """

    source: str
    points: slice
    first: NDArray[np.intp]
    second: NDArray[np.intp]
    lengths: Array = field(converter=_column)
    sd: Array = field(converter=_column)
    scale_column: int | None = None
    hard: bool = False
    group: int = 1
    robust_scale: float | None = None

    @property
    def shares(self) -> Mapping[str, Array | float]:
        """All from the one source."""
        return {self.source: 1.0}

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`Term.linearise`."""
        points = parameters[self.points].reshape(-1, 3)
        between = points[self.first] - points[self.second]
        distance = np.linalg.norm(between, axis=1)
        direction = between / distance[:, None]
        wanted = self.lengths
        jacobian = np.zeros((len(distance), len(parameters)))
        rows = np.arange(len(distance))
        for axis in range(3):
            jacobian[rows, self.points.start + 3 * self.first + axis] += direction[:, axis]
            jacobian[rows, self.points.start + 3 * self.second + axis] -= direction[:, axis]
        if self.scale_column is not None:
            wanted = wanted * (1 + parameters[self.scale_column])
            jacobian[:, self.scale_column] = -self.lengths
        return (distance - wanted) / self.sd, jacobian / self.sd[:, None]


@frozen(kw_only=True, eq=False)
class EqualDistancesTerm:
    """Pairs of distances are alike (the lead thigh and the trail thigh).

    ``first[k]`` and ``second[k]`` each name two points; their distances differ by no
    more than ``sd[k]``, metre.
    """

    source: str
    points: slice
    first: NDArray[np.intp]
    second: NDArray[np.intp]
    sd: Array = field(converter=_column)
    hard: bool = False
    group: int = 1
    robust_scale: float | None = None

    @property
    def shares(self) -> Mapping[str, Array | float]:
        """All from the one source."""
        return {self.source: 1.0}

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`Term.linearise`."""
        residuals = 0.0
        jacobian = 0.0
        for sign, pairs in ((1.0, self.first), (-1.0, self.second)):
            one = DistanceTerm(
                source=self.source,
                points=self.points,
                first=pairs[:, 0],
                second=pairs[:, 1],
                lengths=np.zeros(len(pairs)),
                sd=self.sd,
            )
            value, change = one.linearise(parameters)
            residuals = residuals + sign * value
            jacobian = jacobian + sign * change
        return np.asarray(residuals), np.asarray(jacobian)
