"""Pictures drawn for the training: do they show what their labels say?"""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pytest

pytest.importorskip("torch", reason="making training pictures needs torch, and it is not here")

import shutil

import torch
from attrs import evolve

from tests.support.dolls import doll, write_pool
from training.golfers.pool import CLASSES, LANDMARKS
from training.pictures.augment import Augmenter, Compression
from training.pictures.cameras import DOWN_THE_LINE, FACE_ON, REFUSED, SIZE
from training.pictures.dice import Dice
from training.pictures.figures import clothing
from training.pictures.renderer import Renderer
from training.pictures.rows import FIGURE, SLOTS
from training.pictures.stock import Stock

pytestmark = pytest.mark.skipif(
    shutil.which("g++") is None, reason="drawing on the processor needs g++, and it is not here"
)

BALL = LANDMARKS.index("ball")


@pytest.fixture(scope="module")
def renderer(tmp_path_factory: pytest.TempPathFactory) -> Renderer:
    golfers = [doll(), doll(at_address=False, reach=0.3)]
    pool = write_pool(tmp_path_factory.mktemp("pool"), golfers=golfers)
    stock = Stock("cpu", folder=pool)
    assert stock.refresh(wait=True) == 2
    return Renderer(stock, seed=1)


def views(*kinds: int) -> torch.Tensor:
    return torch.tensor(kinds)


def test_the_ball_is_drawn_where_its_label_says(renderer: Renderer) -> None:
    plan = renderer.plan(8, views=views(*[FACE_ON, DOWN_THE_LINE] * 4))
    whole = torch.tensor([[0.0, SIZE, 0.0, SIZE]]).expand(8, 4)
    plan = evolve(plan, flipped=torch.zeros_like(plan.flipped), edges=whole)
    other = plan.colours.clone()
    mine = plan.figures.who[:, 2] == 0
    other[mine, CLASSES.index("ball")] = 1.0 - other[mine, CLASSES.index("ball")]
    changed = (renderer.draw(plan) - renderer.draw(evolve(plan, colours=other))).abs().sum(1)
    seen = 0
    for picture, points in zip(changed, plan.points[:, BALL], strict=True):
        weight = picture.numpy()
        if weight.sum() < 1.0 or weight.max() < 0.05:
            continue  # something stands before the ball, or it lies outside
        down, across = np.mgrid[0:SIZE, 0:SIZE] + 0.5
        middle = [(weight * axis).sum() / weight.sum() for axis in (across, down)]
        np.testing.assert_allclose(middle, points.numpy(), atol=1.0)
        seen += 1
    assert seen >= 3


def test_from_where_nobody_can_be_read_no_point_counts(renderer: Renderer) -> None:
    plan = renderer.plan(6, views=views(*[REFUSED] * 6))
    assert not plan.known.any()
    assert not plan.at_address.any()


def test_at_address_needs_the_golfer_and_the_view(renderer: Renderer) -> None:
    plan = renderer.plan(40)
    assert torch.equal(plan.at_address, plan.posed & (plan.view != REFUSED) & ~plan.flipped)
    assert 0 < int(plan.at_address.sum()) < 40


def test_a_left_hander_nobody_mirrored_is_drawn_mirrored(renderer: Renderer) -> None:
    plan = renderer.plan(2, views=views(FACE_ON, DOWN_THE_LINE))
    usual = renderer.draw(evolve(plan, flipped=torch.tensor([False, False])))
    flipped = renderer.draw(evolve(plan, flipped=torch.tensor([True, True])))
    assert torch.equal(flipped, usual.flip(3))


def test_outside_the_photograph_its_last_pixels_repeat(renderer: Renderer) -> None:
    plan = renderer.plan(1, views=views(FACE_ON))
    edges = torch.tensor([[40.0, 300.0, 30.0, 310.0]])
    picture = renderer.draw(evolve(plan, edges=edges))[0]
    assert torch.equal(picture[:, 100, :40], picture[:, 100, 40:41].expand(3, 40))
    assert torch.equal(picture[:, 310:, 100], picture[:, 309:310, 100].expand(3, 10))


def test_the_same_seed_draws_the_same_pictures(renderer: Renderer) -> None:
    drawn = []
    for _ in range(2):
        again = Renderer(renderer.stock, seed=7)
        drawn.append(again.draw(again.plan(2)))
    assert torch.equal(*drawn)


def test_a_part_of_a_plan_draws_as_in_the_whole(renderer: Renderer) -> None:
    plan = renderer.plan(6)
    assert torch.equal(renderer.draw(plan)[2:4], renderer.draw(plan.part(2, 4)))


def test_no_picture_holds_more_people_than_the_kernels_know(renderer: Renderer) -> None:
    plan = renderer.plan(64)
    _, counts = plan.figures.who[:, 1].unique(return_counts=True)
    assert counts.max() <= SLOTS
    assert (counts > 1).any()


def test_left_handers_of_a_pool_become_right_handers(tmp_path: Path) -> None:
    pool = write_pool(tmp_path, golfers=[doll(), doll(hand="left")])
    stock = Stock("cpu", folder=pool)
    stock.refresh(wait=True)
    shoulders = [LANDMARKS.index(f"shoulder_{side}") for side in ("left", "right")]
    first, second = stock["landmarks"]
    # The doll is symmetric: mirrored, its sides are exchanged and lie where they lay.
    torch.testing.assert_close(second[shoulders], first[shoulders])
    assert second[LANDMARKS.index("grip_mid"), 0] == -first[LANDMARKS.index("grip_mid"), 0]


def test_a_broken_file_in_a_pool_is_passed_over(tmp_path: Path) -> None:
    write_pool(tmp_path, golfers=[doll(), doll()])
    (tmp_path / "999.npz").write_bytes(b"no pool")
    assert Stock("cpu", folder=tmp_path).refresh(wait=True) == 2


def test_a_row_says_which_names_are_missing() -> None:
    parts = clothing(Dice.seeded("cpu", seed=1).for_rows(3))
    with pytest.raises(ValueError, match="turn"):
        FIGURE.fill({**parts, "place": torch.zeros(3, 2)})


@pytest.mark.parametrize("quality", [50, 25])
def test_compression_loses_what_a_jpeg_file_loses(quality: int) -> None:
    # OpenCV writes the standard's tables times 50 / quality (up to rounding), checked on grey.
    rng = np.random.default_rng(3)
    smooth = cv2.GaussianBlur(rng.random((64, 64)), (0, 0), 2.0)
    grey = np.rint(255 * (smooth - smooth.min()) / np.ptp(smooth)).astype(np.uint8)
    coded = cv2.imencode(".jpg", grey, [cv2.IMWRITE_JPEG_QUALITY, quality])[1]
    expected = cv2.imdecode(coded, cv2.IMREAD_GRAYSCALE)
    assert expected is not None
    picture = torch.from_numpy(grey).float().expand(1, 3, 64, 64) / 255.0
    ours = Compression("cpu")(picture, coarse=torch.tensor([[50.0 / quality]]))
    off = np.abs(255.0 * ours[0, 1].numpy() - expected)
    lost = np.abs(grey.astype(float) - expected)
    assert off.mean() < 0.15 * lost.mean()


def test_changed_pictures_stay_between_black_and_white() -> None:
    dice = Dice.seeded("cpu", seed=5)
    pictures = dice.for_rows(12 * 3 * 32).even(columns=32).view(12, 3, 32, 32)
    changed = Augmenter(dice)(pictures)
    assert changed.shape == pictures.shape
    assert changed.min() >= 0.0
    assert changed.max() <= 1.0
