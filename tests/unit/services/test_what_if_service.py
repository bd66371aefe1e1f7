"""One thing put right on an assessed set-up."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from tests.support.standing import standing
from wellset.advise import Verdict
from wellset.errors import InputError
from wellset.measures import Measured, evaluate_all
from wellset.services.assessment import Assessment
from wellset.services.what_if import what_if


def reaching() -> Assessment:
    return standing("fairway_wood_left_handed_reaching_21")


def value(assessment: Assessment, measure: str) -> float:
    found = assessment.measures[measure]
    assert isinstance(found, Measured)
    return found.value


def test_the_measure_goes_where_it_is_put_and_bones_stay_as_long_as_they_are() -> None:
    one = reaching()
    goal = value(one, "forward_bend") - 5
    answer = what_if(one, "forward_bend", to=goal)
    assert answer.measures["forward_bend"].value == pytest.approx(goal, abs=0.02)
    assert answer.amount == pytest.approx(-5)
    for a, b in (("hip", "knee"), ("knee", "ankle"), ("shoulder", "elbow"), ("elbow", "wrist")):
        for side in ("lead", "trail"):
            before, after = (
                np.linalg.norm(figure[f"{side}_{a}"] - figure[f"{side}_{b}"])
                for figure in (one.fit.figure, answer.figure)
            )
            # what no pose describes is carried along, which bends a bone by a hair
            assert after == pytest.approx(before, abs=0.004)


def test_all_measures_are_those_of_the_changed_body() -> None:
    answer = what_if(reaching(), "arm_hang")
    again = evaluate_all(answer.figure)
    for name, found in answer.measures.items():
        # what the measures of an assessment have of their own, beside the points, stays
        assert abs(found.value - again[name].value) < 4 * max(found.sd, 1e-6), name


def test_no_change_changes_nothing() -> None:
    one = reaching()
    answer = what_if(one, "forward_bend", to=value(one, "forward_bend"))
    assert answer.right == answer.wrong == ()
    for finding in one.findings:
        if finding.judgement is not None:
            assert answer.judged[finding.measure].verdict is finding.verdict


def test_to_its_target_a_check_comes_right() -> None:
    one = reaching()
    first = one.advice.first
    assert first is not None
    assert first.verdict is Verdict.OUTSIDE
    answer = what_if(one, first.measure)
    judged = answer.judged[first.measure]
    assert judged.probability_inside > 0.5
    assert one.advice.amount is not None
    assert answer.amount == pytest.approx(one.advice.amount)


def test_what_no_body_can_do_or_nobody_measured_is_refused_in_words() -> None:
    one = reaching()
    with pytest.raises(InputError, match="no body with these bones"):
        what_if(one, "stance_width", to=9.0)
    with pytest.raises(InputError, match="no measure that these pictures give"):
        what_if(one, "neck")
    bare = evolve(one, findings=())
    with pytest.raises(InputError, match="no window"):
        what_if(bare, "forward_bend")
