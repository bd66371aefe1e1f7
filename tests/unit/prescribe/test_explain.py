"""How a student would stand if one thing alone were off."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from attrs import evolve

from tests.support.plans import task
from wellset.measures import MEASURES
from wellset.prescribe import Explanation, Plan, explanations, solve_plan, what_if
from wellset.prescribe.search import find

ORDER = list(MEASURES)
USEFUL = np.array([one.useful_sd for one in MEASURES.values()])


@cache
def plan() -> Plan:
    return solve_plan(task())


def explained(**seen: float) -> dict[str, Explanation]:
    answer = what_if(plan().figure, skeleton=plan().scene.skeleton, club=task().club)
    assert answer is not None
    return {one.measure: one for one in explanations(task(), seen, answer=answer)}


def planned(measure: str) -> float:
    return plan().measures[measure].value


def test_a_value_as_planned_is_explained_by_the_plan() -> None:
    now = np.array([planned(name) for name in ORDER])
    bend = explained(forward_bend=planned("forward_bend"))["forward_bend"]
    for way in bend.ways:
        assert np.all(np.abs(way - now) < 0.1 * USEFUL)


@pytest.mark.parametrize(
    ("measure", "off"),
    [("forward_bend", 12.0), ("stance_width", 0.10), ("ball_position", -18.0), ("arm_hang", 9.0)],
)
def test_the_measure_stands_where_it_was_seen_whichever_way_the_rest_follows(
    measure: str, off: float
) -> None:
    seen = planned(measure) + off
    ways = explained(**{measure: seen})[measure].ways
    assert len(ways) == 2
    at = ORDER.index(measure)
    for way in ways:
        assert way[at] == pytest.approx(seen, abs=0.05 * USEFUL[at])
        assert np.all(np.isfinite(way))


def test_where_habits_hold_the_explanation_is_that_of_the_whole_curved_problem() -> None:
    # the same problem solved by the plan's own search, to its end
    seen = planned("forward_bend") + 8.0
    habits = explained(forward_bend=seen)["forward_bend"].ways[0]
    model = task().model()
    held = tuple(
        evolve(aim, low=None, high=None, target=seen, weight=2e4 * aim.weight)
        if aim.quantity == "forward_bend"
        else aim
        for aim in model.aims
    )
    found = find(evolve(model, aims=held), near=plan().parameters)
    whole = found.model.evaluate(found.parameters).measures
    assert np.median(np.abs(habits - whole) / USEFUL) < 0.1
    assert np.max(np.abs(habits - whole) / USEFUL) < 0.6


def test_the_two_ways_of_following_differ() -> None:
    free, habits = explained(arm_hang=planned("arm_hang") + 9.0)["arm_hang"].ways
    assert np.max(np.abs(free - habits) / USEFUL) > 0.3
