"""Do the intervals of the camera check cover the cameras that were simulated?"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.support.placed import Held, fit_placed
from tests.support.truth import SOME_SCENES
from wellset.assess import camera_states
from wellset.figure.views import View
from wellset.measures import COVERAGE_FACTOR

Array = NDArray[np.float64]
FITS = 40
QUANTITIES = ("height", "distance", "aim", "tilt", "roll", "sideways")


def drawn(rng: np.random.Generator) -> Held:
    """A phone as it is held on a practice ground."""
    return Held(
        height=1.0 + 0.2 * rng.normal(),
        distance=3.2 + 0.4 * rng.normal(),
        aim=3 * rng.normal(),
        tilt=-4 + 4 * rng.normal(),
        roll=1.5 * rng.normal(),
        sideways=0.2 * rng.normal(),
    )


@cache
def deviations() -> Array:
    """Deviation in standard uncertainties, shape (FITS, views, quantities)."""
    rows = []
    for i in range(FITS):
        rng = np.random.default_rng([11, i])
        held = {view: drawn(rng) for view in View}
        sticks = ("target", "cross")[: rng.integers(3)]
        scene = SOME_SCENES[rng.integers(len(SOME_SCENES))]
        states = camera_states(fit_placed(scene, held, sticks=sticks, seed=i))
        rows.append([[_deviation(held[v], states[v], name) for name in QUANTITIES] for v in View])
    return np.array(rows)


def _deviation(held: Held, state: object, name: str) -> float:
    true = getattr(held, name)
    found = getattr(state, name)
    true = np.radians(true) if name in ("aim", "tilt", "roll") else true
    return float((found.value - true) / found.sd)


@pytest.mark.slow
def test_95_percent_intervals_of_cameras_cover_nearly_all_truths() -> None:
    # true sticks lie truer than is stated and these bodies are like the table's mean, so
    # that somewhat more than 95 % is right; of 480 values worth some 150 independent ones,
    # fewer than 90 % would happen once in 100 by chance
    assert (np.abs(deviations()) < COVERAGE_FACTOR).mean() > 0.90


@pytest.mark.slow
@pytest.mark.parametrize("name", QUANTITIES)
def test_no_quantity_of_a_camera_claims_too_much_or_far_too_little(name: str) -> None:
    z = deviations()[:, :, QUANTITIES.index(name)]
    assert 0.3 < np.sqrt((z**2).mean()) < 1.35
