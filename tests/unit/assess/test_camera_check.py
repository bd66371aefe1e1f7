"""How each phone was held, and which measures a badly held one spoils."""

from __future__ import annotations

import numpy as np
import pytest

from tests.support.placed import SQUARE, Held, fit_placed, pictures
from wellset.assess import camera_states, judge_all
from wellset.figure.views import View
from wellset.geometry import CAMERA_PARAMETERS
from wellset.measures import MEASURES, Measured, NotMeasurable

RIGHT, LEFT = "mid_iron_neutral_21", "mid_iron_left_handed_weight_in_heels_01"
ODD = Held(height=1.3, distance=3.6, aim=4, tilt=-7, roll=3, sideways=0.35)


@pytest.mark.parametrize("scene", [RIGHT, LEFT])
@pytest.mark.parametrize("view", View)
def test_a_phone_is_found_as_it_was_held(scene: str, view: View) -> None:
    state = camera_states(fit_placed(scene, {**SQUARE, view: ODD}, seed=None))[view]
    true = {
        "height": ODD.height,
        "distance": ODD.distance,
        "aim": np.radians(ODD.aim),
        "tilt": np.radians(ODD.tilt),
        "roll": np.radians(ODD.roll),
        "sideways": ODD.sideways,
        "bearing": np.arcsin(ODD.sideways / ODD.distance),
    }
    for name, value in true.items():
        found = getattr(state, name)
        low, high = found.interval95
        assert low < value < high, name
        # an interval that holds everything would pass too: a tenth of a metre, 3 degrees
        assert found.sd < (0.15 if name in ("height", "distance", "sideways") else 0.05), name


def test_what_is_a_camera_parameter_has_that_parameters_uncertainty() -> None:
    found = fit_placed(RIGHT, {**SQUARE, View.FACE_ON: ODD})
    state, sd = camera_states(found)[View.FACE_ON], found.camera_sd[View.FACE_ON]
    for name, parameter in (("height", "z"), ("aim", "yaw"), ("tilt", "pitch"), ("roll", "roll")):
        expected = sd[CAMERA_PARAMETERS.index(parameter)]
        assert getattr(state, name).sd == pytest.approx(expected, rel=1e-9)


@pytest.mark.parametrize("view", View)
def test_distance_and_bearing_spread_as_when_drawn_many_times(view: View) -> None:
    # Monte Carlo after JCGM 101:2008 section 7
    found = fit_placed(RIGHT, {**SQUARE, view: ODD})
    state = camera_states(found)[view]
    rng = np.random.default_rng(3)
    drawn = found.parameters + sum(
        (rng.normal(size=(20_000, f.shape[1])) @ f.T for f in found.known.factors.values()),
        start=np.zeros(()),
    )
    at = drawn[:, found.layout["points"]].reshape(len(drawn), -1, 3)
    names = [label.rpartition(".")[0] for label in found.layout.labels[: 3 * at.shape[1] : 3]]
    mid = {
        stem: (at[:, names.index(f"lead_{stem}")] + at[:, names.index(f"trail_{stem}")]) / 2
        for stem in ("ankle", "shoe_toe")
    }
    lens = drawn[:, found.layout[view.value]][:, 4:7]
    away = mid["ankle"] - lens
    distance = np.hypot(away[:, 0], away[:, 1])
    if view is View.FACE_ON:
        bearing = np.arctan2(-away[:, 0], away[:, 1])
    else:
        line = (at[:, names.index("grip_mid")] + mid["shoe_toe"]) / 2
        bearing = np.arctan2(line[:, 1] - lens[:, 1], away[:, 0])
    for name, values in (("distance", distance), ("bearing", bearing)):
        expected = getattr(state, name)
        assert values.mean() == pytest.approx(expected.value, abs=0.05 * expected.sd), name
        assert values.std() == pytest.approx(expected.sd, rel=0.03), name


@pytest.mark.parametrize(
    ("view", "held"),
    [
        (View.DOWN_THE_LINE, Held(sideways=2.0, aimed_at_golfer=True)),
        (View.FACE_ON, Held(sideways=-2.1, aimed_at_golfer=True)),
        (View.FACE_ON, Held(roll=15)),
        (View.DOWN_THE_LINE, Held(distance=1.3, focal_35mm=16)),
        (View.FACE_ON, Held(height=2.6, tilt=-32)),
    ],
)
def test_a_phone_far_off_spoils_only_what_is_read_in_its_picture(view: View, held: Held) -> None:
    cameras = {**SQUARE, view: held}
    results = judge_all(fit_placed(RIGHT, cameras, seed=None), pictures(RIGHT, cameras, seed=None))
    for id_, result in results.items():
        if view in MEASURES[id_].needs:
            assert isinstance(result, NotMeasurable), id_
            assert result.code == "camera_off"
            assert view.words in result.why
            assert view.words in result.fix
        else:
            assert isinstance(result, Measured), id_


def test_a_phone_a_little_off_spoils_nothing() -> None:
    cameras = dict.fromkeys(View, ODD)
    results = judge_all(fit_placed(RIGHT, cameras, seed=None), pictures(RIGHT, cameras, seed=None))
    assert not [r for r in results.values() if getattr(r, "code", "") == "camera_off"]
