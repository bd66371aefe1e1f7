"""From a task to a plan."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from wellset.figure.figure import POINT_COUNT, Figure
from wellset.figure.notes import Note
from wellset.measures import MEASURES
from wellset.prescribe.conflicts import conflicts_of
from wellset.prescribe.floor import floor_of
from wellset.prescribe.holding import TOE_UP, TOE_UP_RANGE
from wellset.prescribe.plan import Plan, Planned
from wellset.prescribe.pose import LAYOUT, place
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
    return _report(*_settled(task, near=near, start=start), asked=task)


def _settled(task: Task, *, near: Array | None, start: Array | None) -> tuple[Task, Found]:
    """The task as it was solved: a toe-up left to the body stays within its range."""
    found = find(task.model(), near=near, start=start)
    held = task.held
    chosen = float(found.parameters[LAYOUT["toe_up"].start])
    most = held.toe_up + np.array([-TOE_UP_RANGE, TOE_UP_RANGE])
    if not held.toe_up_sd or most[0] <= chosen <= most[1]:
        return task, found
    asked = evolve(held, toe_up=float(np.clip(chosen, *most)), toe_up_sd=0.0)
    firm = evolve(task, held=asked)
    return firm, find(firm.model(), near=found.parameters)


def solve_bag(tasks: Iterable[Task], /) -> Iterator[Plan]:
    """One plan for each task, each starting from the one before."""
    near: Array | None = None
    for task in tasks:
        plan = solve_plan(task, near=near)
        near = plan.parameters
        yield plan


def _report(task: Task, found: Found, *, asked: Task) -> Plan:
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
        floor=floor_of(
            figure,
            task.scene,
            club=task.club,
            hand_length=task.hand_length,
            toe_up=float(parameters[LAYOUT["toe_up"].start]),
        ),
        conflicts=conflicts_of(task, found, asked=asked.model()),
        scene=task.scene,
        parameters=parameters,
        converged=found.solution.converged,
        notes=(*_notes(found), *_lie_notes(task)),
    )


def _lie_notes(task: Task) -> tuple[Note, ...]:
    """A club whose lie this body only just holds, at the end of the range left to it."""
    beyond = task.held.toe_up - TOE_UP[task.club.kind].value
    if task.held.toe_up_sd or abs(abs(beyond) - TOE_UP_RANGE) > 1e-9:
        return ()
    degrees = round(math.degrees(abs(beyond)))
    stands = f"its toe stands {math.degrees(task.held.toe_up):.0f}° off flat"
    if beyond > 0:
        return (
            Note(
                code="club_too_upright",
                message=f"The {task.club.name} is upright for this body: {stands}, {degrees}° more "
                "than usual.",
                remedy=f"Have its lie checked: {degrees}° flatter, or a shorter club, may suit "
                "better.",
            ),
        )
    return (
        Note(
            code="club_too_flat",
            message=f"The {task.club.name} is flat for this body: {stands}, {degrees}° less than "
            "usual.",
            remedy=f"Have its lie checked: {degrees}° more upright, or a longer club, may suit "
            "better.",
        ),
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
