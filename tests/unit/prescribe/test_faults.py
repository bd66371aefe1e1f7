"""A plan with one thing wrong."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from wellset.equipment import find_club
from wellset.errors import InputError
from wellset.measures import MEASURES
from wellset.prescribe import Plan, fault_value, with_fault
from wellset.services.bag_file import BagEntry
from wellset.services.drill_choice import target_of
from wellset.services.student_file import make_student
from wellset.standards import default_standards


@cache
def plan() -> Plan:
    club = BagEntry(club=find_club("7-iron"))
    target = target_of(make_student(height="175 cm"), club, standards=default_standards())
    assert target is not None
    return target.plan


@pytest.mark.parametrize("measure", list(MEASURES))
def test_a_fault_lies_outside_its_window_and_the_body_stays_whole(measure: str) -> None:
    planned = plan().measures[measure]
    assert planned.window is not None
    for high in (False, True):
        figure = with_fault(plan(), measure, high=high)
        one = MEASURES[measure]
        value = float(one.formula(figure.state)) * one.published_per_si
        limit = planned.window.high if high else planned.window.low
        assert limit is not None
        assert value > limit - 1e-9 if high else value < limit + 1e-9
        for side in ("lead", "trail"):
            for a, b in (("hip", "knee"), ("knee", "ankle"), ("shoulder", "elbow")):
                before = np.linalg.norm(plan().figure[f"{side}_{a}"] - plan().figure[f"{side}_{b}"])
                after = np.linalg.norm(figure[f"{side}_{a}"] - figure[f"{side}_{b}"])
                assert after == pytest.approx(before, abs=1e-4)


def test_the_feet_of_a_fault_stay_on_the_ground() -> None:
    figure = with_fault(plan(), "heel_toe_balance", high=True)
    for name in ("lead_shoe_toe", "trail_shoe_heel"):
        assert figure[name][2] == pytest.approx(plan().figure[name][2])


def test_a_knee_is_never_shown_bent_the_other_way() -> None:
    assert fault_value(plan(), "lead_knee_flex", high=False) > 0


def test_what_is_no_measure_is_refused() -> None:
    with pytest.raises(InputError, match="is no measure"):
        with_fault(plan(), "smile", high=True)
