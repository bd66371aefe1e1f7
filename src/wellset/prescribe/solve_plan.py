"""From a task to a plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

import numpy as np
from numpy.typing import NDArray

from wellset.figure.figure import POINT_COUNT, Figure
from wellset.figure.notes import Note
from wellset.measures import MEASURES
from wellset.prescribe.conflicts import conflicts_of
from wellset.prescribe.floor import floor_of
from wellset.prescribe.plan import Plan, Planned
from wellset.prescribe.pose import place
from wellset.prescribe.search import Found, find
from wellset.prescribe.task import Task
from wellset.prescribe.tolerance import tolerances

Array = NDArray[np.float64]


def solve_plan(task: Task, /, *, near: Array | None = None, start: Array | None = None) -> Plan:
    """The set-up that suits one student, club, ground and set of standards.

    Parameters
    ----------
    task : Task
    near : (n,) array or None
        Parameters of a neighbour's plan; saves time and moves nothing.
    start : (n,) array or None
        Where a search from afar begins.

    Raises
    ------
    EstimationError
        When the numbers break down.
    """
    return _report(task, find(task.model(), near=near, start=start))


def solve_bag(tasks: Iterable[Task], /) -> Iterator[Plan]:
    """One plan for each task, each starting from the one before."""
    near: Array | None = None
    for task in tasks:
        plan = solve_plan(task, near=near)
        near = plan.parameters
        yield plan


def _report(task: Task, found: Found) -> Plan:
    parameters = np.array(found.parameters)
    parameters.setflags(write=False)
    values = place(parameters, task.scene)
    figure = Figure(
        points=values[: 3 * POINT_COUNT].reshape(-1, 3),
        scalars=values[3 * POINT_COUNT :],
        mass_weights=task.skeleton.mass_weights,
    )
    measured = found.model.evaluate(found.parameters).measures
    reach = tolerances(found, task.aims)
    windows = {window.measure: window for window in task.windows}
    measures = {
        id_: Planned(
            measure=id_,
            unit=measure.unit,
            value=float(value),
            tolerance=reach[id_],
            window=windows.get(id_),
        )
        for (id_, measure), value in zip(MEASURES.items(), measured, strict=True)
    }
    return Plan(
        club=task.club,
        shot=task.shot,
        figure=figure,
        measures=measures,
        floor=floor_of(figure, task.scene, club=task.club, hand_length=task.hand_length),
        conflicts=conflicts_of(task, found),
        scene=task.scene,
        parameters=parameters,
        converged=found.solution.converged,
        notes=_notes(found),
    )


def _notes(found: Found) -> tuple[Note, ...]:
    if found.solution.converged:
        return ()
    return (
        Note(
            code="plan_not_settled",
            message="The search for this set-up had not come to rest; its numbers may shift a "
            "little.",
            remedy="Widen the windows that are hardest pressed, or check the student's numbers.",
        ),
    )
