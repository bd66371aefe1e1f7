"""Our own goals beside what was measured: met or not, and the budget of what was not.

Figures are of the held-out half; errors count scenes with a stick on the ground only.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any, Final

import numpy as np
import yaml

from benchmarks.rows import (
    Row,
    budget,
    by_measure,
    coverage,
    errors,
    rms,
    select,
    share_given,
    shown_unit,
)
from benchmarks.scenes import Scene
from wellset.measures import MEASURES, Unit

TARGETS: Final = Path(__file__).with_name("targets.yaml")
STICKS: Final = {1: "one_stick", 2: "two_sticks"}


@cache
def read_targets() -> dict[str, Any]:
    """Our own goals."""
    return dict(yaml.safe_load(TARGETS.read_text(encoding="utf-8")))


def naive_ratios(rows: Sequence[Row]) -> dict[str, float]:
    """How many times the naive reading's RMSE is ours, for each measure that it can read.

    Both are taken over the same scenes: those where both gave a number.
    """
    ratios = {}
    for id_, some in by_measure(rows).items():
        both = [r for r in some if r.naive is not None and r.value is not None]
        if both:
            naive = rms(np.array([r.naive - r.truth for r in both if r.naive is not None]))
            ratios[id_] = naive / rms(errors(both)[:, 0])
    return ratios


def pooled_ratio(ratios: Mapping[str, float]) -> float:
    """Geometric mean over measures: every measure counts alike, whatever its unit."""
    return float(np.exp(np.mean(np.log(list(ratios.values()))))) if ratios else float("nan")


def ratio_in_goals(rows: Sequence[Row]) -> float:
    """Naive error against ours, root mean square over measures in units of each one's goal.

    Where the geometric mean asks how many times better a typical measure is, this one asks
    how much of the whole error that a coach would meet is gone.
    """
    naive, ours = [], []
    for id_, some in by_measure(rows).items():
        goal = _goal_of(id_)
        both = [r for r in some if r.naive is not None and r.value is not None]
        if both and goal is not None:
            naive.append(
                rms(np.array([r.naive - r.truth for r in both if r.naive is not None])) / goal
            )
            ours.append(rms(errors(both)[:, 0]) / goal)
    return rms(np.array(naive)) / rms(np.array(ours)) if ours else float("nan")


def _goal_of(measure: str) -> float | None:
    """A measure's goal in its published unit; the strictest where there are several."""
    goal = read_targets()["measures"].get(measure)
    if goal is None:
        return None
    least = min(goal.values()) if isinstance(goal, dict) else goal
    return float(least) / (100.0 if MEASURES[measure].unit is Unit.METRE else 1.0)


def _mark(met: bool) -> str:  # noqa: FBT001  # a verdict, printed
    return "met" if met else "NOT MET"


def _with_sticks(scenes: Sequence[Scene], counts: set[int]) -> list[Scene]:
    return [s for s in scenes if s.sticks in counts]


def _goals(scenes: Sequence[Scene]) -> list[tuple[str, str, float, list[Scene]]]:
    """Measure, label, goal, and the scenes it is judged on."""
    goals = []
    for id_, goal in read_targets()["measures"].items():
        if isinstance(goal, dict):
            for count, words in STICKS.items():
                label = f"{id_}, {'T' if count == 2 else '1 stick'}"
                goals.append((id_, label, float(goal[words]), _with_sticks(scenes, {count})))
        else:
            goals.append((id_, id_, float(goal), _with_sticks(scenes, {1, 2})))
    return goals


def _budget_line(rows: Sequence[Row], *, factor: float) -> str:
    parts = [f"{name} {factor * size:.2f}" for name, size in list(budget(rows).items())[:6]]
    return "      stated, by source: " + ", ".join(parts)


def _measure_lines(rows: Sequence[Row], scenes: Sequence[Scene]) -> list[str]:
    least = read_targets()["overall"]["measure_coverage_percent"]
    given_least = read_targets()["overall"]["given_percent"]
    ratios = naive_ratios(rows)
    lines = []
    for id_, label, goal, judged in _goals(scenes):
        mine = [r for r in rows if r.measure == id_]
        with_stick = select(mine, judged, keep=lambda _: True)
        unit, factor = shown_unit(id_)
        found = factor * rms(errors(with_stick)[:, 0])
        inside, bare = 100 * coverage(mine), 100 * coverage([r.bare for r in mine])
        given = 100 * share_given(mine)
        naive = f"{ratios[id_]:6.1f}x" if id_ in ratios else f"{'-':>7}"
        verdicts = [_mark(found <= goal)] if len(errors(with_stick)) else ["no scene"]
        verdicts += ["covers too rarely"] if bare < least else []
        verdicts += ["given too rarely"] if given < given_least else []
        lines.append(
            f"{label:22}{unit:>4}{found:8.2f}{goal:7.1f}{bare:8.0f} %{inside:7.0f} %"
            f"{given:7.0f} %{naive}  {', '.join(verdicts)}"
        )
        if len(verdicts) > 1 or verdicts[0] == "NOT MET":
            lines.append(_budget_line(with_stick or mine, factor=factor))
    return lines


def _overall_lines(rows: Sequence[Row]) -> list[str]:
    goals = read_targets()["overall"]
    low, high = goals["pooled_coverage_percent"]
    bare = 100 * coverage([r.bare for r in rows])
    with_term = 100 * coverage(rows)
    given = 100 * share_given(rows)
    ratios = naive_ratios(rows)
    times = pooled_ratio(ratios)
    return [
        (
            f"pooled coverage, rendered-to-real term left out: {bare:.1f} % "
            f"(goal {low} to {high} %): {_mark(low <= bare <= high)}"
            f"{', the ranges are too wide' if bare > high else ''}"
        ),
        f"pooled coverage, term included: {with_term:.1f} %",
        (
            f"given where everything is in the pictures: {given:.1f} % "
            f"(goal {goals['given_percent']} %): {_mark(given >= goals['given_percent'])}"
        ),
        (
            f"naive RMSE against ours, geometric mean over {len(ratios)} measures: {times:.1f}x "
            f"(goal {goals['times_better_than_naive']}x): "
            f"{_mark(times >= goals['times_better_than_naive'])}"
        ),
        (
            "the same, root mean square over measures in units of their goals: "
            f"{ratio_in_goals(rows):.1f}x"
        ),
    ]


def summary(rows: Sequence[Row], scenes: Sequence[Scene], *, title: str) -> str:
    """One table: every goal, what was found, met or not, with the budget of what was not."""
    head = (
        f"\n{title} beside our own goals: {len(scenes)} scenes, "
        f"{len(_with_sticks(scenes, {1, 2}))} of them with a stick\n"
        f"{'measure':22}{'unit':>4}{'RMSE':>8}{'goal':>7}{'cover':>10}{'+term':>9}{'given':>9}"
        f"{'naive':>7}"
    )
    return "\n".join([head, *_measure_lines(rows, scenes), *_overall_lines(rows)])
