"""Errors that landmarks share, told apart from each one's own."""

from __future__ import annotations

import numpy as np

from wellset.assess.common import SHARED_VARIANCE
from wellset.assess.observe import unshared


def test_the_spread_along_the_shared_axis_shrinks_by_what_is_shared() -> None:
    covariance = np.diag([4.0, 9.0])[None]
    shift = np.array([[[np.sqrt(SHARED_VARIANCE) * 2.0], [0.0]]])
    np.testing.assert_allclose(
        unshared(covariance, shift)[0], np.diag([4.0 * (1.0 - SHARED_VARIANCE), 9.0])
    )


def test_a_long_slanting_spread_keeps_a_covariance() -> None:
    slanting = np.array([[4.0, 3.96], [3.96, 4.0]])[None]  # correlation 0.99
    shift = np.array([[[np.sqrt(SHARED_VARIANCE) * 2.0], [0.0]]])
    subtracted = slanting[0] - shift[0] @ shift[0].T
    assert np.linalg.eigvalsh(subtracted).min() < 0.0  # what broke the fit
    left = unshared(slanting, shift)[0]
    assert np.linalg.eigvalsh(left).min() > 0.0
    np.testing.assert_allclose(left[0, 1] / np.sqrt(left[0, 0] * left[1, 1]), 0.99)
