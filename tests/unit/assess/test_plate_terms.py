"""Balance over a pressure plate: by hand, derivatives, and what it does to a solution."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from attrs import evolve
from numpy.typing import NDArray

from tests.support.derivatives import numeric_jacobian
from tests.support.pressure import plate_text
from tests.support.sightings import scene_setting, scene_sightings
from tests.support.truth import load
from wellset.assess import Fit, fit, plate_says, refit
from wellset.assess.plate_terms import PLATE, BalanceTerm, balance_term
from wellset.assess.problem import MOTION, build_layout
from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.figure.plate import PlateMeans
from wellset.figure.views import Hand
from wellset.measures import MEASURES, Measured, evaluate_all
from wellset.services.plate_file import read_plate

Array = NDArray[np.float64]
SCENE = "mid_iron_neutral_21"
SIZE = 3 * len(LANDMARKS)
POINTS, SCALARS, VALUES = slice(0, SIZE), slice(SIZE, SIZE + 5), slice(SIZE + 5, SIZE + 10)


def term(weights: Array) -> BalanceTerm:
    return BalanceTerm(
        source=MOTION, points=POINTS, scalars=SCALARS, plate=VALUES, mass_weights=weights
    )


def two_feet() -> Array:
    """Feet 40 cm apart pointing at the ball, backs 90 cm from it; everything else at (0, 0.7)."""
    at = np.zeros((len(LANDMARKS), 3))
    at[:, 1] = 0.7
    for side, x in (("lead", 0.2), ("trail", -0.2)):
        at[INDEX[f"{side}_shoe_heel"]] = [x, 0.9, 0]
        at[INDEX[f"{side}_shoe_toe"]] = [x, 0.6, 0]
    return np.concatenate([at.ravel(), np.zeros(5), [0.6, 0.10, 0.02, 0.15, -0.01]])


def test_pressure_lies_along_and_outward_of_each_shoe_shared_by_load() -> None:
    pressure, _ = term(np.zeros(len(LANDMARKS))).pressure(two_feet())
    # lead (0.22, 0.80), trail (-0.19, 0.75), six tenths of the load on the lead foot
    assert pressure == pytest.approx([0.6 * 0.22 - 0.4 * 0.19, 0.6 * 0.80 + 0.4 * 0.75])


def test_a_turned_shoe_takes_its_pressure_with_it() -> None:
    parameters = two_feet()
    toe = 3 * INDEX["lead_shoe_toe"]
    parameters[toe : toe + 2] = [0.5, 0.9]  # the lead foot points at the target
    parameters[VALUES.start] = 1.0
    pressure, _ = term(np.zeros(len(LANDMARKS))).pressure(parameters)
    # 10 cm toward the target from the heel; outward of that foot is now away from the ball
    assert pressure == pytest.approx([0.30, 0.92])


def test_the_residual_is_centre_of_mass_minus_pressure_in_its_spread() -> None:
    weights = np.zeros(len(LANDMARKS))
    weights[INDEX["nose"]] = 1.0
    parameters = two_feet()
    parameters[SCALARS.start + 3 : SCALARS.start + 5] = [0.01, 0.02]
    residual, _ = term(weights).linearise(parameters)
    # sway of 4 mm and the club's pull of 1.5 mm make 4.27 mm
    assert residual == pytest.approx(
        [(0.01 - 0.056) / 0.004272, (0.72 - 0.78) / 0.004272], rel=1e-3
    )


def test_its_derivatives_are_exact() -> None:
    rng = np.random.default_rng(5)
    balance = term(rng.dirichlet(np.ones(len(LANDMARKS))))
    at = two_feet() + rng.normal(0, 0.03, SIZE + 10)
    numeric = numeric_jacobian(lambda v: balance.linearise(v)[0], at, step=1e-4)
    np.testing.assert_allclose(balance.linearise(at)[1], numeric, atol=1e-6)


@cache
def alone(scene: str = SCENE) -> Fit:
    return fit(scene_setting(scene), scene_sightings(scene), rendered_to_real=False)


def plate(scene: str = SCENE, *, seed: int = 1, shift: tuple[float, float] = (0, 0)) -> PlateMeans:
    text = plate_text(scene, seed=seed, shift=shift)
    return read_plate(text, where="plate.csv", hand=Hand.RIGHT)


def together(scene: str, means: PlateMeans) -> Fit:
    setting = evolve(scene_setting(scene), plate=means)
    return refit(setting, scene_sightings(scene), near=alone(scene), rendered_to_real=False)


@pytest.mark.parametrize("scene", [SCENE, "mid_iron_left_handed_weight_in_heels_01"])
def test_a_plate_narrows_the_balance_and_names_itself_in_the_budget(scene: str) -> None:
    before = evaluate_all(alone(scene).figure)
    after = evaluate_all(together(scene, plate(scene)).figure)
    assert after["heel_toe_balance"].sd < 0.65 * before["heel_toe_balance"].sd
    assert after["lead_share"].sd < 0.9 * before["lead_share"].sd
    assert after["heel_toe_balance"].budget[PLATE] > 0
    for id_ in MEASURES:  # more is never known worse (to what a new linearisation moves)
        assert after[id_].sd < 1.02 * before[id_].sd, id_


@pytest.mark.parametrize("scene", [SCENE, "mid_iron_left_handed_weight_in_heels_01"])
def test_the_balance_with_plates_lies_in_its_range_about_the_true_one(scene: str) -> None:
    truth = load(scene)["measures"]
    for seed in range(4):
        found = evaluate_all(together(scene, plate(scene, seed=seed)).figure)
        for id_ in ("heel_toe_balance", "lead_share"):
            assert abs(found[id_].value - truth[id_]["value"]) < 3 * found[id_].sd


def test_the_plate_alone_says_the_balance_over_the_feet_of_the_pictures() -> None:
    says = plate_says(alone(), plate())
    truth = load(SCENE)["measures"]
    for id_, found in says.alone.items():
        assert isinstance(found, Measured)
        assert sum(part**2 for part in found.budget.values()) == pytest.approx(found.sd**2)
        assert abs(found.value - truth[id_]["value"]) < 3 * found.sd


def test_an_honest_plate_agrees_and_one_ten_centimetres_off_does_not() -> None:
    says = [plate_says(alone(), plate(seed=seed)) for seed in range(6)]
    assert all(each.agrees for each in says)
    off = plate_says(alone(), plate(shift=(0.0, 0.10)))
    assert not off.agrees
    # the pictures put the mass nearer the ball than the plate does, by those ten centimetres
    assert off.apart_m[1] == pytest.approx(-0.10, abs=3 * off.apart_sd_m[1])


def test_without_a_plate_nothing_of_it_is_in_the_estimate() -> None:
    assert PLATE not in alone().layout
    layout = build_layout(scene_sightings(SCENE))
    with pytest.raises(KeyError):
        balance_term(layout, mass_weights=np.zeros(len(LANDMARKS)), source=MOTION)
