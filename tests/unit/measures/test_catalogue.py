"""The public contract of the measures: ids and units."""

from __future__ import annotations

import pytest

from wellset.measures import MEASURES

CONTRACT = {
    "stance_width": "m",
    "stance_gap": "m",
    "ball_position": "%",
    "ball_to_toes": "m",
    "lead_foot_flare": "deg",
    "trail_foot_flare": "deg",
    "foot_line": "deg",
    "hip_line": "deg",
    "shoulder_line": "deg",
    "forward_bend": "deg",
    "upper_back_curve": "deg",
    "low_back_curve": "deg",
    "lead_knee_flex": "deg",
    "trail_knee_flex": "deg",
    "arm_hang": "deg",
    "hand_gap": "m",
    "heel_toe_balance": "%",
    "lead_share": "%",
    "armpit_plumb": "m",
    "knee_plumb": "m",
    "pelvis_shift": "m",
    "chest_shift": "m",
    "head_behind_ball": "m",
    "side_bend": "deg",
    "shoulder_tilt": "deg",
    "shaft_lean": "deg",
    "shaft_angle": "deg",
    "handle_height": "m",
}


def test_there_are_28_measures_with_the_ids_units_and_order_of_the_contract() -> None:
    found = [(id_, measure.unit.value) for id_, measure in MEASURES.items()]
    assert found == list(CONTRACT.items())
    assert len(found) == 28


@pytest.mark.parametrize("id_", CONTRACT)
def test_a_measure_says_what_it_is_in_words_without_left_and_right(id_: str) -> None:
    measure = MEASURES[id_]
    assert measure.id == id_
    words = f"{measure.title} {measure.definition} {measure.positive}".lower().split()
    assert measure.title
    assert measure.definition
    assert measure.positive
    assert "left" not in words
    assert "right" not in words


def test_no_two_measures_share_a_title() -> None:
    assert len({measure.title for measure in MEASURES.values()}) == len(MEASURES)
