"""Plans for many random bodies: whether everything holds, and how long it takes.

    python benchmarks/plan.py [BODIES]

Men and women in turn, statures and tape measures drawn with the survey's spreads. Every bag of
fourteen is solved; bones, soles, lie and balance are checked, three starting points compared on
every twentieth body, and the processor time set beside scipy's plain solve of the same problem.
"""

from __future__ import annotations

import argparse
import math
import sys
import time
from collections import Counter
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.support.plans import BAG, bag_tasks, random_builds
from wellset.bootstrap import one_blas_thread
from wellset.prescribe import Plan, Task, solve_bag, solve_plan
from wellset.prescribe.aims import HINGE
from wellset.prescribe.model import HINGES, RELAXED, SEGMENTS, WINDOWS
from wellset.prescribe.ordinary import ordinary

Array = NDArray[np.float64]

BONES = (("hip", "knee", "thigh"), ("knee", "ankle", "shank"),
         ("shoulder", "elbow", "upper_arm"), ("elbow", "wrist", "forearm"))  # fmt: skip
HARD_SD_M = 1e-5
"""How scipy is told that bones are exact."""


def bone_error(task: Task, plan: Plan) -> float:
    """Largest error of a bone, metre."""
    worst = 0.0
    for i, side in enumerate(("lead", "trail")):
        for upper, lower, name in BONES:
            ends = plan.figure[f"{side}_{upper}"] - plan.figure[f"{side}_{lower}"]
            worst = max(worst, abs(np.linalg.norm(ends) - getattr(task.skeleton, name)[i]))
    return worst


def lie_error_deg(task: Task, plan: Plan) -> float:
    """Error of the angle between shaft and sole, degree."""
    shaft = plan.figure["grip_end"] - plan.figure["shaft_end"]
    lie = math.acos(shaft[1] / np.linalg.norm(shaft))
    return abs(math.degrees(lie) - (math.degrees(task.club.lie) - plan.floor.toe_up_deg))


def balanced(plan: Plan) -> bool:
    """Whether both windows of balance are kept."""
    found = [plan.measures[name] for name in ("heel_toe_balance", "lead_share")]
    return all(
        p.window is not None
        and (p.window.low is None or p.value >= p.window.low - 1e-6)
        and (p.window.high is None or p.value <= p.window.high + 1e-6)
        for p in found
    )


def spread_of_starts(task: Task) -> float:
    """How far three starting points end apart, metre."""
    starts = (
        None,
        ordinary(task.scene, stance=0.30, ball=0.8, bend=0.25),
        ordinary(task.scene, stance=0.60, ball=0.3, bend=0.95),
    )
    points = [solve_plan(task, start=start).figure.points for start in starts]
    return max(float(np.abs(p - points[0]).max()) for p in points[1:])


def scipy_seconds(task: Task) -> float:
    """Time of scipy's plain least squares on the same residuals, numeric derivatives."""
    model, settled = task.model(), ordinary(task.scene)
    held = np.arange(37)

    def residuals(free: Array) -> Array:
        q = settled.copy()
        q[held] = free
        rows = model.evaluate(q).rows
        return np.concatenate(
            [rows[SEGMENTS][0] / HARD_SD_M, *(rows[n][0] for n in (RELAXED, WINDOWS, HINGES))]
        )

    begin = time.process_time()
    least_squares(residuals, settled[held], x_scale="jac", max_nfev=200)
    return time.process_time() - begin


def main() -> None:
    """Solve, check, time and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("bodies", nargs="?", type=int, default=1000)
    bodies = parser.parse_args().bodies
    named: Counter[str] = Counter()
    noted: Counter[str] = Counter()
    worst_bone = worst_lie = worst_start = 0.0
    unsettled = unbalanced = conflicted = 0
    seconds, fitting_seconds = [], []
    with one_blas_thread():
        for i, build in enumerate(random_builds(bodies, seed=2026)):
            tasks = bag_tasks(build)
            begin = time.process_time()
            plans = list(solve_bag(tasks))
            seconds.append(time.process_time() - begin)
            if all(plan.fits for plan in plans):
                fitting_seconds.append(seconds[-1])
            for task, plan in zip(tasks, plans, strict=True):
                worst_bone = max(worst_bone, bone_error(task, plan))
                worst_lie = max(worst_lie, lie_error_deg(task, plan))
                unsettled += not plan.converged
                unbalanced += not balanced(plan)
                conflicted += not plan.fits
                named.update({c.measure for c in plan.conflicts})
                noted.update(note.code for note in plan.notes)
            if i % 20 == 0:
                worst_start = max(worst_start, spread_of_starts(tasks[i % len(tasks)]))
        plain = [scipy_seconds(task) for task in bag_tasks(build)[::5]]
    count = bodies * len(BAG)
    print(f"{bodies} bodies x {len(BAG)} clubs = {count} plans, hinge {HINGE:g}")
    print(f"with a named conflict  {conflicted} ({100 * conflicted / count:.2f} %) {dict(named)}")
    print(f"not settled            {unsettled}")
    print(f"notes                  {dict(noted)}")
    print(f"out of balance         {unbalanced}")
    print(f"largest bone error     {1e3 * worst_bone:.2g} mm")
    print(f"largest lie error      {worst_lie:.2g} deg")
    print(f"three starts agree to  {1e3 * worst_start:.2g} mm")
    print(f"a bag, median          {np.median(seconds):.3f} s")
    if fitting_seconds:
        print(f"a bag that fits        {np.median(fitting_seconds):.3f} s")
    print(f"scipy, one club        {np.median(plain):.3f} s")
    print(f"ratio, one club        {np.median(plain) / (np.median(seconds) / len(BAG)):.0f}x")


if __name__ == "__main__":
    main()
