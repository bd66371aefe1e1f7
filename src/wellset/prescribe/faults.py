"""A plan with one thing wrong: the same student, one measure outside its window.

It is the what-if asked the other way round: the measure is driven out, and the body follows in
the way that costs least, bones as long as they are and joints within their range. So a drawing
of a fault is solved for, not drawn by hand.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from numpy.typing import NDArray

from wellset.errors import EstimationError, InputError
from wellset.estimation import Term, solve
from wellset.figure.figure import POINT_COUNT, Figure
from wellset.measures import MEASURES, Unit
from wellset.prescribe.aims import Aim
from wellset.prescribe.model import (
    HINGES,
    RELAXED,
    SEGMENTS,
    WINDOWS,
    BonesTerm,
    Model,
    ModelTerm,
)
from wellset.prescribe.plan import Plan
from wellset.prescribe.pose import place
from wellset.prescribe.what_if import nearness

Array = NDArray[np.float64]

BEYOND: Final = {Unit.METRE: 0.04, Unit.DEGREE: 9.0, Unit.PERCENT: 10.0}
"""How far beyond its window a fault is shown, published unit: enough to be seen in a drawing a
hand high, and seen on lesson tees (our judgement)."""
BEYOND_OF: Final = {
    "stance_width": 0.10,
    "stance_gap": 0.10,
    "ball_to_toes": 0.07,
    "lead_knee_flex": 14.0,
    "trail_knee_flex": 14.0,
    "lead_foot_flare": 15.0,
    "trail_foot_flare": 20.0,
    "ball_position": 14.0,
    "shaft_angle": 5.0,
    "shoulder_line": 10.0,
    "upper_back_curve": 14.0,
    "low_back_curve": 14.0,
    "handle_height": 0.05,
}
"""The same for measures that show less or can't go so far."""
STRAIGHT_KNEE_DEG: Final = 1.0
"""A knee is not shown bent the other way."""
SHOWN_SD: Final = 0.02
"""How exactly the shown value is met, as a share of how far it lies beyond the window."""


def fault_value(plan: Plan, measure: str, *, high: bool) -> float:
    """The value of a measure that a fault is shown with, published unit."""
    planned = plan.measures[measure]
    window = planned.window
    limit = (window.high if high else window.low) if window is not None else None
    start = planned.value if limit is None else limit
    beyond = BEYOND_OF.get(measure, BEYOND[planned.unit])
    shown = start + beyond if high else start - beyond
    return max(shown, STRAIGHT_KNEE_DEG) if measure.endswith("knee_flex") else shown


def with_fault(plan: Plan, measure: str, *, high: bool) -> Figure:
    """The plan's student with one measure outside its window.

    Parameters
    ----------
    plan : Plan
    measure : str
    high : bool
        Whether it lies above the window or below.

    Raises
    ------
    InputError
        For a measure that is none.
    EstimationError
        When the numbers break down.
    """
    if measure not in MEASURES:
        raise InputError(
            "This fault cannot be shown", why=f"{measure} is no measure.", fix="Name a measure."
        )
    wanted = fault_value(plan, measure, high=high)
    width = SHOWN_SD * BEYOND_OF.get(measure, BEYOND[MEASURES[measure].unit])
    aim = Aim(
        quantity=measure, low=wanted - width, high=wanted + width, target=wanted, half_width=width
    )
    model = Model(scene=plan.scene, aims=(aim,))
    terms: list[Term] = [
        BonesTerm(source=SEGMENTS, model=model, hard=True),
        ModelTerm(source=RELAXED, model=model),
        ModelTerm(source=WINDOWS, model=model),
        ModelTerm(source=HINGES, model=model),
        *nearness(plan.parameters),
    ]
    found = solve(terms, plan.parameters, max_iterations=40, tolerance=1e-4)
    values = place(found.parameters, plan.scene)
    if not np.isfinite(values).all():
        raise EstimationError(
            "This fault cannot be shown", why="the numbers broke down.", fix="Choose another club."
        )
    return Figure(
        points=values[: 3 * POINT_COUNT].reshape(-1, 3),
        scalars=values[3 * POINT_COUNT :],
        mass_weights=plan.scene.skeleton.mass_weights,
    )
