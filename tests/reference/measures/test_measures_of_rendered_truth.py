"""Our formulas on true points give the renderer's own measures.

Source: the truth files of the rendered scenes (an independent program with its own
formulas, written to five decimals). Points are given to a micrometre.
"""

from __future__ import annotations

import numpy as np
import pytest

from tests.support.truth import SOME_SCENES, Truth, load, points, state
from wellset.measures import MEASURES, value_and_gradient

EXACT = (
    "stance_width",
    "ball_position",
    "ball_to_toes",
    "lead_foot_flare",
    "trail_foot_flare",
    "foot_line",
    "hip_line",
    "shoulder_line",
    "lead_knee_flex",
    "trail_knee_flex",
    "arm_hang",
    "armpit_plumb",
    "knee_plumb",
    "pelvis_shift",
    "head_behind_ball",
    "shoulder_tilt",
    "shaft_lean",
    "shaft_angle",
    "handle_height",
)
# degree or metre; the outline of the back lies on clothing that moves with the last digits
OUTLINE = {"upper_back_curve": 2e-3, "low_back_curve": 2e-3}
# The renderer takes C7 and the sternum on the skin, we see the outline of the clothing: the
# nape's collar differs from person to person (0.4 degree), the shirt front by up to 3 mm.
CLOTHING = {"forward_bend": 0.4, "chest_shift": 0.003, "side_bend": 0.6}


def value(truth: Truth, measure: str, **scalars: float) -> float:
    found, _ = value_and_gradient(MEASURES[measure], state(points(truth), **scalars))
    return found


@pytest.mark.parametrize("scene", SOME_SCENES)
@pytest.mark.parametrize("measure", EXACT)
def test_true_points_give_the_renderers_measure(measure: str, scene: str) -> None:
    truth = load(scene)
    assert value(truth, measure) == pytest.approx(truth["measures"][measure]["value"], abs=1e-3)


@pytest.mark.parametrize("scene", SOME_SCENES)
@pytest.mark.parametrize("measure", [*OUTLINE, *CLOTHING])
def test_true_points_on_clothing_give_the_renderers_measure_closely(
    measure: str, scene: str
) -> None:
    truth = load(scene)
    tolerance = {**OUTLINE, **CLOTHING}[measure]
    expected = truth["measures"][measure]["value"]
    assert value(truth, measure) == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize("scene", SOME_SCENES)
def test_the_true_centre_of_mass_gives_the_renderers_balance(scene: str) -> None:
    truth = load(scene)
    com = np.array(truth["landmarks_m"]["com"])
    if truth["hand"] == "left":
        com[0] = -com[0]
    # no mass is lumped at the points here, so the offsets are the centre of mass itself
    at = {"mass_offset_x": float(com[0]), "mass_offset_y": float(com[1])}
    share = truth["measures"]["lead_share"]["value"]
    assert value(truth, "lead_share", **at) == pytest.approx(share, abs=1e-3)
    along = truth["measures"]["heel_toe_balance"]["value"]
    assert value(truth, "heel_toe_balance", **at) == pytest.approx(along, abs=0.5)


@pytest.mark.parametrize("scene", SOME_SCENES)
def test_the_renderers_gaps_imply_a_shoe_and_a_thigh_of_ordinary_size(scene: str) -> None:
    truth = load(scene)
    shoe = value(truth, "stance_width") - truth["measures"]["stance_gap"]["value"]
    assert 0.05 < shoe < 0.12
    bare = value(truth, "hand_gap", thigh_half_depth=0.0)
    assert 0.05 < bare - truth["measures"]["hand_gap"]["value"] < 0.20


@pytest.mark.parametrize("scene", SOME_SCENES)
def test_the_scene_knows_the_same_measures_in_the_same_units(scene: str) -> None:
    truth = load(scene)
    units = {name: measure["unit"] for name, measure in truth["measures"].items()}
    assert {id_: measure.unit.value for id_, measure in MEASURES.items()} == units
