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
from wellset.figure.figure import POINT_COUNT, Figure, FigureState
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
from wellset.prescribe.natural import bones, lengths
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
SHOWN_SD: Final = 0.04
"""How exactly the shown value is met, as a share of how far it lies beyond the window."""
FIRST_STEP: Final = 0.2
"""A fault is reached in steps, from one near by to the next: shares of the whole way. A step
that fails is taken half as long."""
MOST_STEPS: Final = 14
LESS_RELAXED: Final = 2.5
"""A golfer with a fault strains: what a relaxed body does counts by this much less."""
BONE_OFF_M: Final = 0.0005
"""How far a bone's length may be off before the search counts as broken down."""


def fault_value(plan: Plan, measure: str, *, high: bool) -> float:
    """The value of a measure that a fault is shown with, published unit."""
    planned = plan.measures[measure]
    beyond = BEYOND_OF.get(measure, BEYOND[planned.unit])
    limit = _limit(plan, measure, high=high)
    shown = limit + beyond if high else limit - beyond
    return max(shown, STRAIGHT_KNEE_DEG) if measure.endswith("knee_flex") else shown


def _limit(plan: Plan, measure: str, *, high: bool) -> float:
    """The end of the window, or the planned value where that end is open."""
    planned = plan.measures[measure]
    window = planned.window
    limit = (window.high if high else window.low) if window is not None else None
    return planned.value if limit is None else limit


def with_fault(plan: Plan, measure: str, *, high: bool) -> Figure:
    """The plan's student with one measure outside its window.

    Where the body can't go as far as a fault is usually shown, it goes less far.

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
        When no body of this size gets outside the window, or the numbers break down.
    """
    if measure not in MEASURES:
        raise InputError(
            "This fault cannot be shown", why=f"{measure} is no measure.", fix="Name a measure."
        )
    values = _farthest(plan, measure, high=high)
    if values is not None:
        return Figure(
            points=values[: 3 * POINT_COUNT].reshape(-1, 3),
            scalars=values[3 * POINT_COUNT :],
            mass_weights=plan.scene.skeleton.mass_weights,
        )
    raise EstimationError(
        "This fault cannot be shown",
        why=f"no body of this size gets {measure} outside its window with this club.",
        fix="Choose another club.",
    )


def _farthest(plan: Plan, measure: str, *, high: bool) -> Array | None:
    """Points and scalars with the fault as far as usual, or as far as the body goes."""
    start, goal = plan.measures[measure].value, fault_value(plan, measure, high=high)
    at, best, done, step = plan.parameters, None, 0.0, FIRST_STEP
    for _ in range(MOST_STEPS):
        share = min(done + step, 1.0)
        found = _moved(plan, measure, wanted=start + share * (goal - start), begin=at)
        if found is None:
            step /= 2
            continue
        at, done = found, share
        values = place(found, plan.scene)
        best = values if _is_out(plan, measure, values=values, high=high) else best
        if done >= 1.0:
            break
    return best


def _moved(plan: Plan, measure: str, *, wanted: float, begin: Array) -> Array | None:
    """Parameters with the measure near the value; ``None`` where the search broke down."""
    width = SHOWN_SD * BEYOND_OF.get(measure, BEYOND[MEASURES[measure].unit])
    aim = Aim(
        quantity=measure, low=wanted - width, high=wanted + width, target=wanted, half_width=width
    )
    model = Model(scene=plan.scene, aims=(aim,))
    terms: list[Term] = [
        BonesTerm(source=SEGMENTS, model=model, hard=True),
        ModelTerm(source=RELAXED, model=model, sd=LESS_RELAXED),
        ModelTerm(source=WINDOWS, model=model),
        ModelTerm(source=HINGES, model=model),
        *nearness(plan.parameters),
    ]
    try:
        found = solve(terms, begin, max_iterations=30, tolerance=1e-3)
    except EstimationError:
        return None
    values = place(found.parameters, plan.scene)
    off = lengths(bones(values), plan.scene)
    whole = bool(np.isfinite(values).all()) and float(np.abs(off).max()) < BONE_OFF_M
    return found.parameters if whole else None


def _is_out(plan: Plan, measure: str, *, values: Array, high: bool) -> bool:
    state = FigureState(values=values, mass_weights=plan.scene.skeleton.mass_weights)
    one = MEASURES[measure]
    value = float(one.published_per_si * np.asarray(one.formula(state)))
    limit = _limit(plan, measure, high=high)
    return value > limit if high else value < limit
