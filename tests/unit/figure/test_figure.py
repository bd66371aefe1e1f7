"""The figure and the values around it."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.figure.figure import BUILD_SCALARS, STATE_SIZE, Figure, FigureState
from wellset.figure.landmarks import INDEX, LANDMARKS, other_side
from wellset.figure.sighting import ProposedByModel, StickSighting
from wellset.figure.views import View


def figure() -> Figure:
    rng = np.random.default_rng(0)
    return Figure(
        points=rng.normal(size=(len(LANDMARKS), 3)),
        scalars=rng.normal(size=len(BUILD_SCALARS)),
        mass_weights=np.full(len(LANDMARKS), 1 / len(LANDMARKS)),
        factors={"a": rng.normal(size=(STATE_SIZE, 3)), "b": rng.normal(size=(STATE_SIZE, 2))},
    )


def test_every_landmark_has_another_side_and_comes_back() -> None:
    for name in LANDMARKS:
        assert other_side(name) in INDEX
        assert other_side(other_side(name)) == name


def test_the_state_of_a_figure_names_its_points_and_scalars() -> None:
    known = figure()
    for name in ("ball", "lead_hip", "nose"):
        np.testing.assert_array_equal(known.state[name], known[name])
    for i, name in enumerate(BUILD_SCALARS):
        assert float(known.state.scalar(name)) == float(known.scalars[i])


def test_the_middle_of_a_pair_is_half_way() -> None:
    known = figure()
    expected = (known["lead_knee"] + known["trail_knee"]) / 2
    np.testing.assert_allclose(known.state.mid("knee"), expected)


def test_the_centre_of_mass_is_the_weighted_mean_plus_the_models_error() -> None:
    known = figure()
    error = [known.scalars[3], known.scalars[4], 0]
    np.testing.assert_allclose(known.state.centre_of_mass, known.points.mean(0) + error)


def test_a_batch_of_states_is_read_like_one() -> None:
    known = figure().state
    batch = FigureState(
        values=np.stack([known.values, 2 * known.values]), mass_weights=known.mass_weights
    )
    np.testing.assert_allclose(batch["nose"][1], 2 * known["nose"])
    np.testing.assert_allclose(batch.centre_of_mass[1], 2 * known.centre_of_mass)


def test_the_covariance_of_a_point_is_the_sum_over_the_sources() -> None:
    known = figure()
    whole = sum((f @ f.T for f in known.factors.values()), start=np.zeros(()))
    at = 3 * INDEX["lead_wrist"]
    np.testing.assert_allclose(
        known.point_covariance("lead_wrist"), whole[at : at + 3, at : at + 3]
    )


def test_a_figure_with_a_point_too_few_is_refused() -> None:
    with pytest.raises(ValueError, match="points have shape"):
        Figure(points=np.zeros((3, 3)), scalars=np.zeros(5), mass_weights=np.zeros(3))


def test_a_figure_cannot_be_changed_by_accident() -> None:
    known = figure()
    for array in (known.points, known.scalars, known.mass_weights, known.factors["a"]):
        with pytest.raises(ValueError, match="read-only"):
            array[0] = 1.0


def test_a_figure_does_not_follow_the_array_it_was_made_from() -> None:
    points = np.zeros((len(LANDMARKS), 3))
    known = Figure(points=points, scalars=np.zeros(5), mass_weights=np.zeros(len(LANDMARKS)))
    points[0] = 7
    assert not known.points.any()


def test_a_placement_of_the_wrong_shape_is_refused() -> None:
    with pytest.raises(ValueError, match=r"expected an array of shape \(2,\), got \(3,\)"):
        ProposedByModel(position_px=np.zeros(3), covariance_px2=np.eye(2))
    with pytest.raises(ValueError, match="expected an array"):
        StickSighting(ends_px=np.zeros(4), sd_px=1.0)


def test_the_views_are_called_as_a_coach_calls_them() -> None:
    assert [view.words for view in View] == ["face-on", "down-the-line"]
