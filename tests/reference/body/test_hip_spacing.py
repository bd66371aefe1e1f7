"""Spacing of the hip joints from the width of the pelvis.

Source: Harrington et al. 2007, J Biomech 40:595-602, doi 10.1016/j.jbiomech.2006.02.003;
read in open implementations that agree.
"""

from __future__ import annotations

import pytest

from wellset.body import hip_spacing


@pytest.mark.parametrize(("pelvis_mm", "spacing_mm"), [(220, 160), (240, 173.0), (260, 186)])
def test_hip_joints_lie_as_far_apart_as_the_regression_says(
    pelvis_mm: float, spacing_mm: float
) -> None:
    # 240 mm is worked out to a tenth of a millimetre; the others are printed to a millimetre.
    tolerance = 0.1 if pelvis_mm == 240 else 0.5
    assert 1000 * hip_spacing(pelvis_mm / 1000) == pytest.approx(spacing_mm, abs=tolerance)
