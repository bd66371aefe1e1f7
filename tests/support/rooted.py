"""Students built with one root fault, everything else following.

Either the plan solver is asked for the set-up that suits a body, with one window moved to where
the fault lies (all other windows, the relaxed body and the ground pull as ever), or one measure
of a good plan is pushed there and the body follows as it costs least. What else is then outside
its ordinary window is a consequence.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from wellset.advise import Finding, Verdict, findings, first_by_order
from wellset.body import Build, Sex
from wellset.equipment import Club, find_club
from wellset.estimation import OneSourceTerm, solve
from wellset.figure.figure import POINT_COUNT, Figure
from wellset.measures import MEASURES, Measured, evaluate_all
from wellset.prescribe import Plan, Task, skeleton_of, solve_plan
from wellset.prescribe.model import RELAXED, SEGMENTS, BonesTerm, Model
from wellset.prescribe.pose import place
from wellset.prescribe.stance_of import stance_of
from wellset.prescribe.what_if import nearness
from wellset.services.assessment import Student
from wellset.services.bag_file import BagEntry
from wellset.services.first_change import ranked_changes
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


@frozen(kw_only=True, eq=False)
class _AtEase(OneSourceTerm):
    """The relaxed body, at ease where it stands: only what changes from there counts."""

    model: Model
    offset: NDArray[np.float64]

    def linearise(
        self, parameters: NDArray[np.float64], /
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        residuals, jacobian = self.model.evaluate(parameters).rows[RELAXED]
        return residuals - self.offset, jacobian


@frozen(kw_only=True, eq=False)
class _Held(OneSourceTerm):
    """One measure held at a value."""

    model: Model
    row: int
    value: float
    sd: float

    def linearise(
        self, parameters: NDArray[np.float64], /
    ) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        now = self.model.evaluate(parameters)
        off = (now.measures[self.row] - self.value) / self.sd
        return np.array([off]), now.gradients[self.row][None, :] / self.sd


def rooted(root: str, *, rng: np.random.Generator, body_follows: bool = False) -> Rooted | None:
    """One student; None where the body doesn't allow the fault, or nothing follows from it.

    Parameters
    ----------
    root : str
    rng : Generator
    body_follows : bool
        The fault is pushed into a good plan and the body follows as in the what-if, but in a
        curve. Otherwise the plan is solved anew, all its windows pulling.
    """
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
    if body_follows:
        figure = _following(solve_plan(task), build=build, root=root, goal=goal)
    else:
        windows = tuple(_moved(w, root, goal=goal) for w in task.windows)
        figure = solve_plan(evolve(task, windows=windows)).figure
    return _as_seen(figure, root=root, build=build, task=task, half=half)


def _following(plan: Plan, *, build: Build, root: str, goal: float) -> Figure:
    """A good plan with one measure pushed; the body follows as it costs least, in a curve."""
    stance = stance_of(plan.figure, skeleton=skeleton_of(build), club=plan.club)
    model, now = stance.model, stance.parameters
    before = model.evaluate(now)
    row = list(MEASURES).index(root)
    off = goal - evaluate_all(plan.figure)[root].value
    found = solve(
        [
            BonesTerm(source=SEGMENTS, model=model, hard=True),
            _AtEase(source=RELAXED, model=model, offset=before.rows[RELAXED][0]),
            *nearness(now),
            _Held(source="root", model=model, row=row, value=before.measures[row] + off,
                  sd=0.01 * abs(off)),
        ],
        now,
        max_iterations=30,
        tolerance=1e-6,
    )  # fmt: skip
    both = place(np.array([now, found.parameters]), model.scene)
    points = both[:, : 3 * POINT_COUNT].reshape(2, POINT_COUNT, 3)
    return evolve(plan.figure, points=plan.figure.points + points[1] - points[0])


def _moved(window: Window, root: str, *, goal: float) -> Window:
    if window.measure != root:
        return window
    slack = 0.02 * (window.half_width or 1.0)
    return evolve(window, low=goal - slack, high=goal + slack, target=goal, weight=30.0)


def _as_seen(true: Figure, *, root: str, build: Build, task: Task, half: float) -> Rooted | None:
    figure = evolve(true, factors={"points": _noise(true)})
    windows = task.windows
    measures = dict(evaluate_all(figure))
    found = findings(measures, windows, decision=default_standards().decision)
    made = Rooted(
        root=root, build=build, club=task.club, figure=figure, measures=measures, findings=found
    )
    by_name = {w.measure: w for w in windows}
    value, limits = measures[root].value, by_name[root]
    far = max(value - (limits.high or np.inf), (limits.low or -np.inf) - value)
    if root not in made.outside or far < 0.7 * half or len(made.outside) < 2:
        return None
    return made


def _noise(figure: Figure) -> NDArray[np.float64]:
    size = figure.points.size
    noise = np.zeros((size + len(figure.scalars), size))
    noise[:size] = POINT_SD_M * np.eye(size)
    return noise


@frozen(kw_only=True)
class Roots:
    """How often the root was named."""

    students: int
    first: int
    first_two: int
    by_order: int


def count_roots(tries: int, *, seed: int, body_follows: bool) -> Roots:
    """Roots named first over so many tries, each root in turn."""
    rng = np.random.default_rng(seed)
    places: list[tuple[bool, bool, bool]] = []
    for i in range(tries):
        root = ROOTS[i % len(ROOTS)]
        one = rooted(root, rng=rng, body_follows=body_follows)
        if one is None:
            continue
        ranked = ranked_changes(
            one.figure, one.findings, measures=one.measures, build=one.build, club=one.club
        )
        names = [c.finding.measure for c in ranked or ()]
        ordered = first_by_order(one.findings).first
        places.append(
            (
                names[:1] == [root],
                root in names[:2],
                ordered is not None and ordered.measure == root,
            )
        )
    first, two, order = (sum(column) for column in zip(*places, strict=True))
    return Roots(students=len(places), first=first, first_two=two, by_order=order)
