"""Rest bodies: the file, and (where the body model is installed) the model itself."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from training.bodies import store
from training.bodies.phenotypes import Phenotype, random_phenotype

TWO = Path(__file__).parents[1] / "data" / "training" / "two_bodies.npz"


@pytest.fixture(scope="module")
def bodies() -> store.Bodies:
    return store.load(TWO)


def test_the_weights_of_every_vertex_sum_to_one(bodies: store.Bodies) -> None:
    np.testing.assert_allclose(np.asarray(bodies.rig.weights.sum(1)).ravel(), 1, atol=1e-9)


def test_parents_come_before_their_children(bodies: store.Bodies) -> None:
    assert all(parent < i for i, parent in enumerate(bodies.rig.parents))


def test_a_body_is_as_tall_as_its_file_says(bodies: store.Bodies) -> None:
    skin = np.unique(bodies.rig.skin)
    heights = np.ptp(bodies.vertices[:, skin, 2] / store.VERTICES_PER_METRE, axis=1)
    np.testing.assert_allclose(heights, bodies.heights_m, atol=2e-4)


def test_bodies_come_back_from_a_file_as_they_went_in(bodies: store.Bodies, tmp_path: Path) -> None:
    store.save(bodies, tmp_path / "again.npz")
    again = store.load(tmp_path / "again.npz")
    np.testing.assert_array_equal(again.vertices, bodies.vertices)
    np.testing.assert_array_equal(again.rig.skin, bodies.rig.skin)
    assert again.rig.bones == bodies.rig.bones
    assert abs(again.rig.weights - bodies.rig.weights).max() < 2e-5


def test_juniors_and_very_tall_people_are_among_those_drawn() -> None:
    rng = np.random.default_rng(5)
    heights = [random_phenotype(rng).height_m for _ in range(200)]
    assert min(heights) < 1.45
    assert max(heights) > 1.95


@pytest.mark.slow
def test_the_body_model_makes_a_body_of_the_height_asked_for() -> None:
    pytest.importorskip("torch", reason="the body model needs torch, which isn't installed")
    pytest.importorskip("anny", reason="the body model isn't installed")
    from training.bodies.model import load_model, rest_bodies  # noqa: PLC0415

    wanted = Phenotype(height_m=1.42, gender=0.9, age=0.45, muscle=0.5, weight=0.5, proportions=0.5)
    made = rest_bodies(load_model(), [wanted])
    assert made.heights_m[0] == pytest.approx(1.42, abs=1e-3)
