"""Students built with one root fault, everything else following as a body follows.

The plan solver is asked for the set-up that suits a body, with one window moved to where the
fault lies; all other windows, the relaxed body and the ground pull as ever. What else is
then outside its ordinary window is a consequence.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from wellset.advise import Finding, Verdict, findings
from wellset.body import Build, Sex
from wellset.equipment import Club, find_club
from wellset.figure.figure import Figure
from wellset.measures import MEASURES, Measured, evaluate_all
from wellset.prescribe import Plan, solve_plan
from wellset.services.assessment import Student
from wellset.services.bag_file import BagEntry
from wellset.services.plan_bag import PlanRequest, tasks_of
from wellset.standards import Window, default_standards

ROOTS: Final = (
    "stance_width", "ball_position", "ball_to_toes", "foot_line", "forward_bend", "arm_hang",
    "hand_gap", "heel_toe_balance", "lead_share", "chest_shift", "side_bend", "shoulder_line",
)  # fmt: skip
CLUBS: Final = ("driver", "5-iron", "7-iron", "pitching wedge")
POINT_SD_M: Final = 0.003
HOW_FAR: Final = (1.5, 2.5)
"""Half-widths beyond the limit at which the fault lies."""


@frozen(kw_only=True, eq=False)
class Rooted:
    """A student with one root fault."""

    root: str
    build: Build
    club: Club
    figure: Figure
    measures: dict[str, Measured]
    findings: tuple[Finding, ...]

    @property
    def outside(self) -> list[str]:
        """Measures that are surely outside."""
        return [f.measure for f in self.findings if f.verdict is Verdict.OUTSIDE]


def rooted(root: str, *, rng: np.random.Generator) -> Rooted | None:
    """One student; None where the body doesn't allow the fault, or nothing follows from it."""
    build = Build(
        stature=float(np.clip(rng.normal(1.74, 0.08), 1.5, 1.98)),
        sex=(Sex.MEN, Sex.WOMEN)[rng.integers(2)],
    )
    club = find_club(CLUBS[rng.integers(len(CLUBS))])
    request = PlanRequest(
        student=Student(build=build), clubs=(BagEntry(club=club),), standards=default_standards()
    )
    task = tasks_of(request)[0]
    window = next((w for w in task.windows if w.measure == root), None)
    half = window.half_width if window is not None else None
    if window is None or half is None or window.low is None or window.high is None:
        return None
    beyond = half * rng.uniform(*HOW_FAR)
    goal = window.high + beyond if rng.random() < 0.5 else window.low - beyond
    plan = solve_plan(evolve(task, windows=tuple(_moved(w, root, goal=goal) for w in task.windows)))
    return _as_seen(plan, root=root, build=build, windows=task.windows, half=half)


def _moved(window: Window, root: str, *, goal: float) -> Window:
    if window.measure != root:
        return window
    slack = 0.02 * (window.half_width or 1.0)
    return evolve(window, low=goal - slack, high=goal + slack, target=goal, weight=30.0)


def _as_seen(
    plan: Plan, *, root: str, build: Build, windows: tuple[Window, ...], half: float
) -> Rooted | None:
    figure = evolve(plan.figure, factors={"points": _noise(plan.figure)})
    measures = dict(evaluate_all(figure))
    found = findings(measures, windows, decision=default_standards().decision)
    made = Rooted(
        root=root, build=build, club=plan.club, figure=figure, measures=measures, findings=found
    )
    by_name = {w.measure: w for w in windows}
    value, limits = measures[root].value, by_name[root]
    far = max(value - (limits.high or np.inf), (limits.low or -np.inf) - value)
    assert MEASURES[root].id == root
    if root not in made.outside or far < 0.7 * half or len(made.outside) < 2:
        return None
    return made


def _noise(figure: Figure) -> NDArray[np.float64]:
    size = figure.points.size
    noise = np.zeros((size + len(figure.scalars), size))
    noise[:size] = POINT_SD_M * np.eye(size)
    return noise
