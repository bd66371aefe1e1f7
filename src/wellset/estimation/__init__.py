"""Estimation: residual terms, robust least squares, covariance by source."""

from wellset.estimation.layout import Block, Layout, lay_out
from wellset.estimation.solve import Solution, solve
from wellset.estimation.terms import (
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
    "DistanceTerm",
    "EqualDistancesTerm",
    "Layout",
    "LinearTerm",
    "OneSourceTerm",
    "Solution",
    "Term",
    "Uncertainty",
    "lay_out",
    "prior",
    "solve",
    "uncertainty",
]
