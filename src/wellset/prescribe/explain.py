"""How a student would stand if one thing alone were off: the plan with that thing held there.

For one measure and the value seen, two ways in which everything else may follow:

- *habits hold*: the plan is solved anew with the measure held, all windows, balance and the
  relaxed body pulling as ever;
- *the body follows*: from the plan the body moves as it costs least
  (:mod:`wellset.prescribe.what_if`).

Which of all explanations comes nearest to what was seen is for
:mod:`wellset.advise.roots` to weigh.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from wellset.errors import EstimationError
from wellset.estimation import solve
from wellset.prescribe.model import Model, straightened
from wellset.prescribe.ordinary import ordinary
from wellset.prescribe.search import TRIAL, find
from wellset.prescribe.stance_of import Stance
from wellset.prescribe.task import Task
from wellset.prescribe.what_if import ORDER, WhatIf, answer_of_pose

Array = NDArray[np.float64]

STRAIGHTENED: Final = 2
"""So many times the problem is straightened and solved for an explanation: measures then lie
within about a tenth of what they are useful to of the curved problem's."""
HELD: Final = 2e4
"""Weight of the held measure: it stays within a hundredth of its window."""


@frozen(kw_only=True, eq=False)
class Explanation:
    """All measures as they would be with one of them alone held where it was seen.

    Parameters
    ----------
    measure : str
    ways : tuple of (k,) arrays
        Published units, catalogue order; one for each way of following that could be solved.
    """

    measure: str
    ways: tuple[Array, ...]


def explanations(
    task: Task, seen: Mapping[str, float], *, answer: WhatIf
) -> tuple[Explanation, ...]:
    """Explanations of a set-up, one for each measure given.

    Parameters
    ----------
    task : Task
        The student's body, club and windows.
    seen : mapping of id to float
        Measures that may be at fault, with the values seen, published unit.
    answer : WhatIf
        How the student answers to a change where he or she stands. Its mean with the plan's own
        answer follows the curve from one to the other to second order.

    Raises
    ------
    EstimationError
        When the plan itself can't be solved for.
    """
    model = task.model()
    near = None if answer.stance is None else answer.stance.parameters
    plan = find(model, near=near, last=TRIAL)
    now = plan.model.evaluate(plan.parameters).measures
    pose = Model(scene=task.scene, aims=())
    planned = answer_of_pose(Stance(model=pose, parameters=plan.parameters, misfit_m=0.0))
    result = []
    for measure, value in seen.items():
        row = ORDER.index(measure)
        follow = (planned.moves[row] + answer.moves[row]) / 2
        ways = (
            _habits_hold(model, held={measure: value}, near=plan.parameters),
            now + (value - now[row]) * follow,
        )
        kept = tuple(way for way in ways if way is not None and np.all(np.isfinite(way)))
        result.append(Explanation(measure=measure, ways=kept))
    return tuple(result)


def _habits_hold(model: Model, *, held: Mapping[str, float], near: Array) -> Array | None:
    """The plan solved anew with something held; None when the search breaks down."""
    aims = tuple(
        evolve(aim, low=None, high=None, target=held[aim.quantity], weight=HELD * aim.weight)
        if aim.quantity in held
        else aim
        for aim in model.aims
    )
    problem = evolve(model, aims=aims)
    settled, at = ordinary(model.scene), near
    try:
        for _ in range(STRAIGHTENED):
            lines = straightened(problem, settled, at=at)
            at = solve(lines, at, max_iterations=12, tolerance=1e-2).parameters
    except EstimationError:
        return None
    return problem.evaluate(at).measures
