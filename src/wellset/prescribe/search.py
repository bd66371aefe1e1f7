"""Finding the set-up: from far away step by step, from a neighbour at once."""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.errors import EstimationError
from wellset.estimation import Solution, Term, solve
from wellset.prescribe.aims import HINGE
from wellset.prescribe.model import Model, terms
from wellset.prescribe.ordinary import ordinary

Array = NDArray[np.float64]


@frozen(kw_only=True)
class Stage:
    """One pass: slope of the hinges, spread of the segments (0: exact), when to stop."""

    hinge: float
    segment_sd_m: float = 0.0
    tolerance: float
    iterations: int = 60


FROM_AFAR: Final = (
    Stage(hinge=0.5, segment_sd_m=0.01, tolerance=1e-2),
    Stage(hinge=3.0, segment_sd_m=0.003, tolerance=1e-2),
    Stage(hinge=12.0, tolerance=1e-3),
)
"""Elastic segments and soft windows first, so that a start far from the answer can't be caught
between two limits on the way."""
NEAR: Final = (Stage(hinge=12.0, tolerance=0.3, iterations=15),)
LAST: Final = Stage(hinge=HINGE, tolerance=1e-8, iterations=120)
"""The problem itself; every search ends with it, so where it came from leaves no trace."""
TRIAL: Final = Stage(hinge=HINGE, tolerance=1e-5, iterations=40)
"""The same, as far as a remedy needs: its numbers are read to a millimetre or a tenth of a
degree."""


@frozen(kw_only=True, eq=False)
class Found:
    """Where a search ended: the model with its full windows, its terms and the solution."""

    model: Model
    terms: tuple[Term, ...]
    solution: Solution

    @property
    def parameters(self) -> Array:
        """The solved parameters."""
        return self.solution.parameters


def find(
    model: Model,
    /,
    *,
    near: Array | None = None,
    start: Array | None = None,
    free: tuple[str, ...] = (),
    last: Stage = LAST,
) -> Found:
    """Solve one set-up.

    Parameters
    ----------
    model : Model
    near : (n,) array or None
        A set-up close to the answer (the club before). It saves time and, since the last stage
        is solved to the end, moves nothing; when the search from there fails it starts afresh.
    start : (n,) array or None
        Where a search from afar begins; an ordinary set-up by default.
    free : tuple of str
        Blocks of the club that may move.
    last : Stage
        The last stage from nearby; one that stops earlier than :data:`LAST` will do as it ends.

    Raises
    ------
    EstimationError
        When the numbers break down.
    """
    settled = ordinary(model.scene)
    if near is not None:
        stages = (*NEAR, last)
        found = _run(model, near, settled=settled, stages=stages, free=free)
        if found is not None and (last is not LAST or found.solution.converged):
            return found
    begin = settled if start is None else start
    found = _run(model, begin, settled=settled, stages=(*FROM_AFAR, LAST), free=free)
    if found is None:
        raise EstimationError(
            "The set-up could not be solved for",
            why="the search broke down before it came near one.",
            fix="Check the height, the tape measures and the club's length and lie.",
        )
    return found


def _run(
    model: Model,
    start: Array,
    *,
    settled: Array,
    stages: tuple[Stage, ...],
    free: tuple[str, ...],
) -> Found | None:
    """All stages one after the other; None when the numbers break down."""
    at, found = start, None
    try:
        for stage in stages:
            all_terms = tuple(
                terms(
                    model,
                    settled,
                    free=free,
                    segment_sd_m=stage.segment_sd_m,
                    hinge=stage.hinge,
                )
            )
            solution = solve(
                all_terms, at, max_iterations=stage.iterations, tolerance=stage.tolerance
            )
            at = solution.parameters
            found = Found(model=model, terms=all_terms, solution=solution)
    except EstimationError:
        return None
    return found
