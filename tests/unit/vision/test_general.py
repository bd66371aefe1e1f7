"""The general model's grid, its merging of places, and where its files come from."""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

import wellset
from wellset.errors import WellsetError
from wellset.vision import general
from wellset.vision.crops import Box, square_cutout


def test_the_detector_has_2254_places_on_three_grids() -> None:
    # 28² + 14² cells with two places each and 7² with six: the output size of the file.
    anchors = general._anchors()
    assert anchors.shape == (2254, 2)
    assert anchors[0] == pytest.approx((0.5 / 28, 0.5 / 28))
    assert anchors[-1] == pytest.approx((6.5 / 7, 6.5 / 7))


def test_places_that_mean_one_person_are_merged_by_their_scores() -> None:
    anchors = general._anchors() * general.DETECTOR_SIZE
    boxes = np.zeros((2254, 12), dtype=np.float32)
    boxes[:, 2:4] = 40.0
    scores = np.zeros(2254)
    near = [int(np.hypot(*(anchors - at).T).argmin()) for at in ([60.0, 60.0], [66.0, 60.0])]
    far = int(np.hypot(*(anchors - [180.0, 100.0]).T).argmin())
    scores[near[0]], scores[near[1]], scores[far] = 0.9, 0.6, 0.8
    cutout = square_cutout(centre_px=(112.0, 112.0), side_px=224.0, size=224)
    found = general._detections(boxes, scores, cutout=cutout, least_score=0.5)
    assert [each.score for each in found] == [0.9, 0.8]
    between = (0.9 * anchors[near[0]] + 0.6 * anchors[near[1]]) / 1.5
    np.testing.assert_allclose(found[0].hips_px, between, atol=1e-4)
    assert general._detections(boxes, scores, cutout=cutout, least_score=0.95) == ()


def test_a_detection_knows_reach_and_turn() -> None:
    lying = general.Detection(
        score=1.0,
        head=Box(left=0.0, top=0.0, right=1.0, bottom=1.0),
        hips_px=np.array([100.0, 100.0]),
        top_px=np.array([150.0, 100.0]),
    )
    assert lying.reach_px == 50.0
    assert np.degrees(lying.turn) == pytest.approx(90.0)


def test_dark_drawings_are_stretched_and_bright_ones_left_alone() -> None:
    bright = np.linspace(0, 255, 224 * 224 * 3).reshape(224, 224, 3).astype(np.uint8)
    np.testing.assert_array_equal(general._visible(bright), bright.astype(np.float32))
    dark = (bright // 8).astype(np.uint8)
    stretched = general._visible(dark)
    assert stretched.min() == 0.0
    assert stretched.max() == 255.0
    flat = np.full((224, 224, 3), 7, dtype=np.uint8)
    np.testing.assert_array_equal(general._visible(flat), 7.0)


def test_points_move_to_the_peak_of_their_heat_map_only_where_there_is_one() -> None:
    heat = np.zeros((64, 64, 39))
    heat[20, 30, 0] = 0.9
    heat[20, 30, 1] = 0.4
    points = np.array([[30.0, 20.0], [30.0, 20.0]]) * 4.0 + 6.0
    refined = general._refined(points, heat=heat)
    np.testing.assert_allclose(refined[0], [120.0, 80.0])
    np.testing.assert_allclose(refined[1], points[1])


def test_without_the_model_files_the_error_says_how_to_get_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(importlib.util, "find_spec", lambda _name: None)
    with pytest.raises(WellsetError, match="body model is missing") as caught:
        general._models_folder()
    assert "Install" in caught.value.fix


def test_loading_the_models_imports_no_foreign_framework_and_prints_nothing() -> None:
    program = (
        "import sys\n"
        "from wellset.vision.reader import Reader\n"
        "reader = Reader()\n"
        "reader.model, reader.network\n"
        "assert 'mediapipe' not in sys.modules and 'scipy' not in sys.modules\n"
    )
    source = str(Path(wellset.__file__).parents[1])
    ran = subprocess.run(
        [sys.executable, "-c", program],
        capture_output=True,
        text=True,
        check=False,
        env={**os.environ, "PYTHONPATH": source},
    )
    assert (ran.returncode, ran.stdout, ran.stderr) == (0, "", "")
