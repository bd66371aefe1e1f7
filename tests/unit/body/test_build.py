"""Builds from stature and tape."""

from __future__ import annotations

import math

import attrs
import numpy as np
import pytest

from wellset.body import LENGTH_DEFINITIONS, LENGTHS, TAPE_MEASURES, Build, Sex
from wellset.errors import InputError


def test_every_length_has_a_value_a_spread_and_a_source() -> None:
    build = Build(stature=1.70)
    for name in LENGTHS:
        estimate = build.length(name)
        assert 0.01 < estimate.value < 1.70
        assert 0 < estimate.convention_sd < estimate.sd or estimate.convention_sd == 0 < estimate.sd
        assert "ANSUR II" in estimate.source
        assert LENGTH_DEFINITIONS[name]


def test_all_lengths_together_agree_with_each_alone() -> None:
    build = Build(stature=1.70, sex=Sex.WOMEN, wrist_height=0.82)
    names, mean, covariance = build.lengths()
    assert names == LENGTHS
    for i, name in enumerate(names):
        assert mean[i] == build.length(name).value
        assert math.sqrt(covariance[i, i]) == build.length(name).sd


def test_the_joint_covariance_is_symmetric_positive_and_read_only() -> None:
    _, mean, covariance = Build(stature=1.70, crotch_height=0.80).lengths()
    assert np.array_equal(covariance, covariance.T)
    assert np.linalg.eigvalsh(covariance).min() > -1e-12
    with pytest.raises(ValueError, match="read-only"):
        mean[0] = 1.0
    with pytest.raises(ValueError, match="read-only"):
        covariance[0, 0] = 1.0


@pytest.mark.parametrize("stature", [0.99, 2.31, math.nan, math.inf, -1.7])
def test_an_absurd_height_is_refused_in_words(stature: float) -> None:
    with pytest.raises(InputError, match="between 100 and 230 cm") as caught:
        Build(stature=stature)
    assert caught.value.where == "height"


@pytest.mark.parametrize("stature", [1.0, 1.30, 1.449, 2.05])
def test_a_height_the_tables_do_not_cover_is_used_with_a_caution(stature: float) -> None:
    cautions = Build(stature=stature).cautions()
    assert [c.code for c in cautions] == ["height_outside_tables"]
    assert "17 to 58 years" in cautions[0].why


def test_an_ordinary_build_has_no_cautions() -> None:
    assert Build(stature=1.76, sex=Sex.MEN, wrist_height=0.85).cautions() == ()


def test_spreads_grow_without_a_jump_where_the_tables_end() -> None:
    just_in, just_out = Build(stature=1.4501), Build(stature=1.4499)
    for name in LENGTHS:
        assert just_out.length(name).sd == pytest.approx(just_in.length(name).sd, rel=0.01)
    far_out = Build(stature=1.20)
    for name in ("thigh", "upper_arm", "foot_length", "hip_to_c7"):
        assert far_out.length(name).sd > 1.1 * just_in.length(name).sd


def test_measurements_no_body_of_that_height_has_are_refused_all_at_once() -> None:
    with pytest.raises(InputError) as caught:
        Build(stature=1.70, foot_length=2.6, wrist_height=0.25, hand_length=0.18)
    assert "foot length 260 cm" in caught.value.why
    assert "wrist height 25 cm" in caught.value.why
    assert "hand length" not in caught.value.why
    assert caught.value.where == "wrist_height, foot_length"


def test_an_odd_measurement_is_used_with_a_caution() -> None:
    build = Build(stature=1.70, sex=Sex.MEN, foot_length=0.30)
    (caution,) = build.cautions()
    assert caution.code == "unusual_foot_length"
    assert "heel against a wall" in caution.fix
    assert build.length("foot_length").value > 0.28


@pytest.mark.parametrize("value", [0.0, -0.8, math.nan, math.inf])
def test_a_measurement_that_is_no_length_is_refused(value: float) -> None:
    with pytest.raises(InputError, match="wrist height"):
        Build(stature=1.70, wrist_height=value)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"mass": 5.0}, "weight"),
        ({"mass": math.nan}, "weight"),
        ({"stature_sd": 0.0}, "uncertainty of the height"),
        ({"edition": "my own"}, "ANSUR II 2012"),
    ],
)
def test_other_wrong_inputs_are_refused_in_words(wrong: dict[str, object], words: str) -> None:
    with pytest.raises(InputError, match=words):
        Build(stature=1.70, **wrong)  # type: ignore[arg-type]


def test_an_unknown_length_is_refused_with_the_known_ones() -> None:
    with pytest.raises(InputError, match="thigh"):
        Build(stature=1.70).length("tail")


def test_a_build_accepts_every_tape_measure_that_is_described() -> None:
    fields = {field.name for field in attrs.fields(Build)}
    assert set(TAPE_MEASURES) <= fields
    assert fields - set(TAPE_MEASURES) == {"stature", "sex", "stature_sd", "mass", "edition"}


def test_a_source_names_the_measurements_that_tell_something() -> None:
    build = Build(stature=1.76, sex=Sex.MEN, crotch_height=0.88, hand_length=0.20)
    assert "crotch height" in build.length("thigh").source
    assert "hand length" not in build.length("thigh").source
    assert "hand length" in build.length("wrist_to_grip").source


def test_wrist_and_shoulder_height_together_tell_of_the_arm() -> None:
    build = Build(stature=1.76, sex=Sex.MEN, wrist_height=0.80, acromial_height=1.44)
    plain = Build(stature=1.76, sex=Sex.MEN)
    for name in ("upper_arm", "forearm"):
        assert build.length(name).value > plain.length(name).value + 0.005
        assert build.length(name).sd < plain.length(name).sd
        assert "wrist height" in build.length(name).source


def test_no_tape_narrows_what_is_a_choice_of_definition() -> None:
    build = Build(
        stature=1.756,
        sex=Sex.MEN,
        knee_height=0.49,
        crotch_height=0.845,
        trochanter_height=0.90,
        arm_length=0.60,
    )
    for name in LENGTHS:
        assert build.length(name).sd > build.length(name).convention_sd
    assert (
        build.length("thigh").convention_sd
        == Build(stature=1.6, sex=Sex.MEN).length("thigh").convention_sd
    )


def test_hip_joints_never_lie_wider_apart_than_the_hips() -> None:
    for stature in np.linspace(1.45, 2.0, 12):
        for sex in Sex:
            build = Build(stature=float(stature), sex=sex)
            prior = build._prior
            breadth = prior.mean[prior.row("tape: hip_breadth")]
            assert build.length("hip_joint_spacing").value < breadth


def test_two_equal_builds_are_equal_and_can_be_keys() -> None:
    a, b = Build(stature=1.7, wrist_height=0.82), Build(stature=1.7, wrist_height=0.82)
    assert a == b
    assert len({a, b, Build(stature=1.7)}) == 2
