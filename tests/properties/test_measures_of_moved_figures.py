"""What moving, scaling and mirroring a figure does to its measures."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from tests.support.truth import SOME_SCENES, load, points
from wellset.figure.figure import BUILD_SCALARS, FigureState
from wellset.figure.landmarks import INDEX, LANDMARKS, other_side
from wellset.measures import MEASURES, Unit, value_and_gradient

Array = NDArray[np.float64]
_ALL = np.stack([points(load(scene)) for scene in SOME_SCENES])
_SCALARS = np.array([0.083, 0.125, 0.008, 0.004, -0.006])
_SWAP = [INDEX[other_side(name)] for name in LANDMARKS]
_WEIGHTS = np.where([n.split("_")[-1] in ("hip", "knee", "shoulder") for n in LANDMARKS], 1.0, 0.0)
_WEIGHTS = _WEIGHTS / _WEIGHTS.sum()

figures = st.builds(
    lambda scene, seed, spread: (
        _ALL[scene] + spread * np.random.default_rng(seed).normal(size=_ALL[scene].shape)
    ),
    st.integers(0, len(_ALL) - 1),
    st.integers(0, 2**32 - 1),
    st.floats(0, 0.03),
)
shifts = st.floats(-5, 5)

FLIPPED = {  # a mirrored golfer with lead and trail swapped: these change their sign
    "foot_line",
    "hip_line",
    "shoulder_line",
    "pelvis_shift",
    "chest_shift",
    "head_behind_ball",
    "side_bend",
    "shoulder_tilt",
    "shaft_lean",
}
FROM_THE_OTHER_FOOT = {"ball_position", "lead_share"}  # these become 100 minus themselves
OTHER_SIDE = {
    "lead_foot_flare": "trail_foot_flare",
    "trail_foot_flare": "lead_foot_flare",
    "lead_knee_flex": "trail_knee_flex",
    "trail_knee_flex": "lead_knee_flex",
}


def values(at: Array, *, scalars: Array = _SCALARS) -> dict[str, float]:
    state = FigureState(values=np.concatenate([at.ravel(), scalars]), mass_weights=_WEIGHTS)
    return {id_: value_and_gradient(m, state)[0] for id_, m in MEASURES.items()}


def close(found: dict[str, float], expected: dict[str, float]) -> None:
    np.testing.assert_allclose(
        [found[id_] for id_ in MEASURES], [expected[id_] for id_ in MEASURES], atol=1e-8
    )


@settings(max_examples=30, derandomize=True, deadline=None)
@given(figures, shifts, shifts)
def test_measures_do_not_change_when_golfer_and_ball_move_over_the_ground(
    at: Array, x: float, y: float
) -> None:
    close(values(at + np.array([x, y, 0])), values(at))


@settings(max_examples=30, derandomize=True, deadline=None)
@given(figures, shifts)
def test_only_the_handle_height_changes_when_everything_is_lifted(at: Array, z: float) -> None:
    expected = values(at)
    expected["handle_height"] += z
    close(values(at + np.array([0, 0, z])), expected)


@settings(max_examples=30, derandomize=True, deadline=None)
@given(figures, st.floats(0.3, 3))
def test_angles_and_percentages_do_not_change_with_size_and_lengths_grow_with_it(
    at: Array, size: float
) -> None:
    expected = {
        id_: value * (size if MEASURES[id_].unit is Unit.METRE else 1.0)
        for id_, value in values(at).items()
    }
    close(values(size * at, scalars=size * _SCALARS), expected)


@settings(max_examples=30, derandomize=True, deadline=None)
@given(figures)
def test_a_mirrored_golfer_leans_and_aims_the_other_way_and_bends_alike(at: Array) -> None:
    plain = values(at)
    sign = np.where(np.array(BUILD_SCALARS) == "mass_offset_x", -1.0, 1.0)
    mirrored = values(at[_SWAP] * [-1.0, 1.0, 1.0], scalars=sign * _SCALARS)
    expected = {}
    for id_ in MEASURES:
        if id_ in FLIPPED:
            expected[id_] = -plain[id_]
        elif id_ in FROM_THE_OTHER_FOOT:
            expected[id_] = 100 - plain[id_]
        else:
            expected[id_] = plain[OTHER_SIDE.get(id_, id_)]
    close(mirrored, expected)
