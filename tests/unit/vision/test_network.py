"""The landmark network's file against the project's names."""

from __future__ import annotations

import json
from importlib import resources

import numpy as np
import pytest

from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.vision.network import DROPPED, LandmarkNetwork, _rows

MODELS = resources.files("wellset.vision") / "models"


@pytest.fixture(scope="module")
def network() -> LandmarkNetwork:
    return LandmarkNetwork()


def names() -> list[str]:
    found: list[str] = json.loads((MODELS / "landmarks.json").read_text(encoding="utf-8"))
    return found


def test_every_landmark_has_one_row_and_only_the_top_of_the_head_is_left_out() -> None:
    rows = _rows(names())
    assert len(set(rows)) == len(LANDMARKS)
    assert {names()[row] for row in set(range(len(names()))) - set(rows)} == DROPPED


def test_left_leads_because_the_network_knows_right_handers() -> None:
    rows = _rows(names())
    assert names()[rows[INDEX["lead_wrist"]]] == "wrist_left"
    assert names()[rows[INDEX["trail_shoe_toe"]]] == "shoe_toe_right"
    assert names()[rows[INDEX["t12"]]] == "T12L1_cloth"


def test_a_stack_of_cutouts_gives_what_each_gives_alone(network: LandmarkNetwork) -> None:
    crops = np.random.default_rng(0).random((3, 3, 320, 320)).astype(np.float32)
    points, spread = network.run(crops)
    assert points.shape == spread.shape == (3, len(LANDMARKS), 2)
    alone, _ = network.run(crops[1:2])
    np.testing.assert_allclose(points[1], alone[0], atol=0.05)
    assert (spread > 0.0).all()


def test_whether_a_golfer_at_address_is_seen_is_told_of_each_cutout(
    network: LandmarkNetwork,
) -> None:
    nothing = np.full((2, 3, 320, 320), 0.5, dtype=np.float32)
    told = network.answer(nothing).at_address
    assert told is not None
    assert told.shape == (2,)
    assert (told < 0.5).all()


def test_how_the_network_was_made_is_told_beside_it() -> None:
    text = (MODELS / "README.md").read_text(encoding="utf-8")
    for word in ("trained", "Input", "Outputs", "weak"):
        assert word in text
