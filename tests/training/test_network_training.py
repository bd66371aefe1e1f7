"""A few tiny steps of the training, and the file that comes out of it."""

from __future__ import annotations

import json
import shutil
from importlib import resources
from pathlib import Path

import numpy as np
import onnxruntime
import pytest

REASON = "training the network needs torch and onnx, and they are not here"
pytest.importorskip("torch", reason=REASON)
pytest.importorskip("onnx", reason=REASON)

import torch

from tests.support.dolls import doll, write_pool
from training.golfers.pool import LANDMARKS
from training.network.__main__ import main
from training.network.adopt import adopt
from training.network.batches import Batches
from training.network.blend import blend, fit_address
from training.network.checkpoint import load_average
from training.network.losses import UNREAD_PX, loss
from training.network.net import SIZE, LandmarkNet
from training.pictures.stock import Stock

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(
        shutil.which("g++") is None, reason="drawing on the processor needs g++, and it is not here"
    ),
]

MODELS = resources.files("wellset.vision") / "models"
TINY = ("--batch", "2", "--golfers", "4", "--device", "cpu", "--minutes", "5")


@pytest.fixture(scope="module")
def pool(tmp_path_factory: pytest.TempPathFactory) -> Path:
    golfers = [doll(), doll(), doll(at_address=False, reach=0.3), doll(hand="left")]
    return write_pool(tmp_path_factory.mktemp("pool"), golfers=golfers)


@pytest.fixture(scope="module")
def trained(pool: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    out = tmp_path_factory.mktemp("weights")
    main(["train", str(pool), str(out), "--steps", "2", *TINY])
    return out


@pytest.fixture(scope="module")
def exported(trained: Path) -> Path:
    main(["export", str(trained / "average.pt"), str(trained / "made.onnx")])
    return trained / "made.onnx"


def session(path: Path) -> onnxruntime.InferenceSession:
    return onnxruntime.InferenceSession(str(path), providers=["CPUExecutionProvider"])


def test_training_goes_on_where_it_stopped(pool: Path, trained: Path, tmp_path: Path) -> None:
    further = ("--resume", str(trained / "all.pt"), "--progress", "0.5", "1")
    main(["train", str(pool), str(tmp_path), "--steps", "1", *TINY, *further])
    assert load_average(trained / "average.pt")[1] == 2
    assert load_average(tmp_path / "average.pt")[1] == 3


def test_the_file_says_the_products_names_and_stays_small(exported: Path) -> None:
    made = session(exported)
    assert [each.name for each in made.get_inputs()] == ["image"]
    assert [each.name for each in made.get_outputs()] == ["points", "scale", "at_address"]
    assert exported.stat().st_size < 15e6
    names = json.loads((MODELS / "landmarks.json").read_text(encoding="utf-8"))
    assert names == list(LANDMARKS)


def test_the_file_answers_as_the_network_does(exported: Path, trained: Path) -> None:
    picture = np.random.default_rng(2).random((2, 3, SIZE, SIZE)).astype(np.float32)
    points, spread, address = session(exported).run(None, {"image": picture})
    net, _ = load_average(trained / "average.pt")
    with torch.no_grad():
        own_points, own_spread, odds, _ = net(torch.from_numpy(picture))
    np.testing.assert_allclose(points, own_points.numpy(), atol=0.1)
    np.testing.assert_allclose(spread, own_spread.numpy(), rtol=0.01)
    np.testing.assert_allclose(address, torch.sigmoid(odds).numpy(), atol=0.01)


def test_a_network_begun_from_a_file_answers_as_the_file_does(pool: Path) -> None:
    stock = Stock("cpu", folder=pool)
    stock.refresh(wait=True)
    pictures = Batches(stock, size=4, seed=1).next().pictures
    net = LandmarkNet(len(LANDMARKS))
    with resources.as_file(MODELS / "landmarks.onnx") as path:
        adopt(net, path, pictures=pictures)
        expected = session(path).run(["points", "scale"], {"image": pictures.numpy().copy()})
    with torch.no_grad():
        points, spread, _, _ = net(pictures)
    np.testing.assert_allclose(points.numpy(), expected[0], atol=0.05)
    np.testing.assert_allclose(spread.numpy(), expected[1], rtol=0.01)


def test_a_blend_reaches_from_one_network_to_the_other(exported: Path, tmp_path: Path) -> None:
    pictures = np.random.default_rng(5).random((1, 3, SIZE, SIZE)).astype(np.float32)
    with resources.as_file(MODELS / "landmarks.onnx") as older:
        for share, like in ((0.0, exported), (1.0, older)):
            blend(exported, older, share=share, out=tmp_path / "between.onnx")
            points, spread = session(tmp_path / "between.onnx").run(
                ["points", "scale"], {"image": pictures}
            )
            expected = session(like).run(["points", "scale"], {"image": pictures})
            np.testing.assert_allclose(points, expected[0], atol=0.02)
            np.testing.assert_allclose(spread, expected[1], rtol=0.01)


def test_fitting_the_telling_of_address_leaves_the_points_alone(
    pool: Path, exported: Path, tmp_path: Path
) -> None:
    stock = Stock("cpu", folder=pool)
    stock.refresh(wait=True)
    batches = Batches(stock, size=8, seed=2)
    fitted = tmp_path / "fitted.onnx"
    shutil.copy(exported, fitted)
    right = fit_address(fitted, batches=batches, pictures=8)
    pictures = np.random.default_rng(5).random((1, 3, SIZE, SIZE)).astype(np.float32)
    before, after = (session(path).run(None, {"image": pictures}) for path in (exported, fitted))
    np.testing.assert_array_equal(before[0], after[0])
    assert before[2] != after[2]
    # Eight pictures and a layer of sixty-four: what is fitted to can be learned by heart.
    assert right == 1.0


def answer(points: torch.Tensor, *, spread: float) -> tuple[torch.Tensor, ...]:
    heat = torch.zeros(*points.shape[:2], (SIZE // 4) ** 2)
    return points, torch.full_like(points, spread), torch.zeros(len(points)), heat


def test_unknown_points_do_not_count() -> None:
    count = len(LANDMARKS)
    true = torch.full((1, count, 2), 100.0)
    found = true.clone()
    found[0, 3] += 50.0
    known = torch.ones(1, count, dtype=torch.bool)
    yes = torch.tensor([True])
    rows = {"points": true, "posed": yes, "readable": yes, "progress": 1.0}
    counted = loss(answer(found, spread=1.0), known=known, **rows)
    known[0, 3] = False
    assert loss(answer(found, spread=1.0), known=known, **rows).rms_px == 0.0
    assert counted.rms_px > 5.0


def test_away_from_address_wide_spreads_of_arms_and_club_are_right() -> None:
    true = torch.full((1, len(LANDMARKS), 2), 100.0)
    rows = {
        "points": true,
        "known": torch.zeros(1, len(LANDMARKS), dtype=torch.bool),
        "posed": torch.tensor([False]),
        "readable": torch.tensor([True]),
        "progress": 1.0,
    }
    wide = loss(answer(true, spread=UNREAD_PX), **rows).total
    assert wide < loss(answer(true, spread=1.0), **rows).total
