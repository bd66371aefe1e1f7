"""Estimation: residual terms, robust least squares, covariance by source."""

from wellset.estimation.layout import Block, Layout, lay_out
from wellset.estimation.response import compliance
from wellset.estimation.solve import Solution, solve
from wellset.estimation.terms import (
    Curved,
    DistanceTerm,
    EqualDistancesTerm,
    LinearTerm,
    OneSourceTerm,
    Term,
    prior,
)
from wellset.estimation.uncertainty import Uncertainty, uncertainty

__all__ = [
    "Block",
    "Curved",
    "DistanceTerm",
    "EqualDistancesTerm",
    "Layout",
    "LinearTerm",
    "OneSourceTerm",
    "Solution",
    "Term",
    "Uncertainty",
    "compliance",
    "lay_out",
    "prior",
    "solve",
    "uncertainty",
]
