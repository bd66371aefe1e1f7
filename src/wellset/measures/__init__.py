"""The measures: each declared once, used by every other room."""

from wellset.measures.catalogue import MEASURES
from wellset.measures.evaluate import (
    drawn_sd,
    drawn_states,
    evaluate,
    evaluate_all,
    joint_covariance,
    value_and_gradient,
)
from wellset.measures.kinds import (
    COVERAGE_FACTOR,
    Measure,
    Measured,
    MeasureResult,
    NotMeasurable,
    Plane,
    Unit,
)

__all__ = [
    "COVERAGE_FACTOR",
    "MEASURES",
    "Measure",
    "MeasureResult",
    "Measured",
    "NotMeasurable",
    "Plane",
    "Unit",
    "drawn_sd",
    "drawn_states",
    "evaluate",
    "evaluate_all",
    "joint_covariance",
    "value_and_gradient",
]
