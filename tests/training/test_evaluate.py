"""Figures about a network: are they what they say?"""

from __future__ import annotations

import json
from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

pytest.importorskip("torch", reason="drawing stress pictures needs torch, and it is not here")

from training.evaluate.crops import Crops, read_scenes
from training.evaluate.figures import by_angle, by_group, by_landmark, honesty
from training.evaluate.readers import Answer
from training.evaluate.stress import SPOILERS, spoiled
from training.golfers.pool import LANDMARKS

COUNT = len(LANDMARKS)


def crops(points: NDArray[np.float64], *, view: str = "face_on") -> Crops:
    many = len(points)
    return Crops(
        pictures=np.full((many, 320, 320, 3), 90, dtype=np.uint8),
        points=points,
        cm_per_px=np.full((many, COUNT), 0.5),
        views=np.array([view] * many),
        names=np.array([f"scene_{i}" for i in range(many)]),
        at_address=np.ones(many, dtype=bool),
    )


def answer(points: NDArray[np.float64], *, spread: float = 1.0) -> Answer:
    return Answer(points=points, spread=np.full(points.shape, spread), at_address=None)


def test_a_miss_of_three_by_four_pixels_of_half_a_centimetre_is_two_and_a_half() -> None:
    true = np.full((2, COUNT, 2), 100.0)
    figures = by_group(answer(true + np.array([3.0, 4.0])), crops=crops(true))
    assert figures["joints"] == pytest.approx(2.5)
    assert figures["95 %"] == pytest.approx(2.5)
    assert by_landmark(answer(true), crops=crops(true))["face_on"]["knee"] == 0.0


def test_points_outside_the_cutout_are_left_out() -> None:
    true = np.full((1, COUNT, 2), 100.0)
    found = true + 1.0
    true[0, LANDMARKS.index("ball")] = np.nan
    assert np.isfinite(by_group(answer(found), crops=crops(true))["club and ball"])


def test_shoulders_level_and_found_one_in_ten_high_are_tilted_by_under_six_degrees() -> None:
    true = np.full((1, COUNT, 2), 100.0)
    true[0, LANDMARKS.index("shoulder_left")] = [200.0, 100.0]
    found = true.copy()
    found[0, LANDMARKS.index("shoulder_left")] = [200.0, 90.0]
    tilt = by_angle(answer(found), crops=crops(true))["face_on"]["shoulder tilt"]
    assert tilt == pytest.approx(5.7106, abs=1e-4)  # arc tangent of 0.1, by hand


def test_spreads_drawn_from_their_own_law_are_honest() -> None:
    rng = np.random.default_rng(4)
    true = np.full((60, COUNT, 2), 100.0)
    found = true + rng.laplace(scale=2.0, size=true.shape)
    figures = honesty(answer(found, spread=2.0), crops=crops(true))
    # 4320 draws: three standard errors are 0.046 and 0.023
    assert figures.ratio == pytest.approx(1.0, abs=0.046)
    assert figures.inside_half == pytest.approx(0.5, abs=0.023)
    assert figures.inside_most == pytest.approx(0.9, abs=0.014)


@pytest.mark.parametrize("how", SPOILERS)
def test_spoiling_keeps_shape_and_truth(how: str) -> None:
    rng = np.random.default_rng(1)
    pictures = rng.integers(0, 255, (2, 320, 320, 3)).astype(np.uint8)
    whole = crops(np.full((2, COUNT, 2), 100.0)).with_pictures(pictures)
    worse = spoiled(whole, how=how)
    assert worse.pictures.shape == pictures.shape
    assert worse.pictures.dtype == np.uint8
    assert np.array_equal(worse.pictures, pictures) == (how == "as they are")
    assert np.array_equal(worse.points, whole.points)


def write_scene(folder: Path, *, left_handed: bool) -> None:
    """A bright golfer, 200 pixels tall, whose points lie on a slant; or its mirror image."""
    picture = np.zeros((300, 240, 3), dtype=np.uint8)
    picture[50:250, 90:130] = (40, 90, 200)
    picture[150:160, 90:200] = 255
    mask = np.zeros((300, 240), dtype=np.uint8)
    mask[50:250, 90:130] = 255
    points = {name: [100.0 + i, 60.0 + 4.0 * i] for i, name in enumerate(LANDMARKS)}
    if left_handed:
        picture, mask = picture[:, ::-1], mask[:, ::-1]
        swap = {"left": "right", "right": "left"}
        points = {
            "_".join([*name.split("_")[:-1], swap[name.split("_")[-1]]])
            if name.split("_")[-1] in swap
            else name: [240.0 - x, y]
            for name, (x, y) in points.items()
        }
    view = {
        "width": 240,
        "K": [[500.0, 0, 120.0], [0, 500.0, 150.0], [0, 0, 1]],
        "landmarks_px": points,
        "depth_m": dict.fromkeys(points, 4.0),
    }
    hand = "left" if left_handed else "right"
    truth = {"name": folder.name, "hand": hand, "views": {"face_on": view}}
    folder.mkdir()
    cv2.imwrite(str(folder / "face_on.jpg"), picture, [cv2.IMWRITE_JPEG_QUALITY, 100])
    cv2.imwrite(str(folder / "face_on_mask.png"), mask)
    (folder / "truth.json").write_text(json.dumps(truth), encoding="utf-8")


def test_scenes_are_cut_out_by_the_products_rule_and_left_handers_mirrored(tmp_path: Path) -> None:
    write_scene(tmp_path / "a", left_handed=False)
    write_scene(tmp_path / "b", left_handed=True)
    made = read_scenes(tmp_path)
    side = 1.42 * 200.0
    # The middle of the box lies at (110, 150); the square's 0.08 and 0.05 heights beside it.
    corner = np.array([110.0 + 16.0 - side / 2, 150.0 + 10.0 - side / 2])
    expected = (np.array([100.0, 60.0]) - corner) * 320.0 / side
    np.testing.assert_allclose(made.points[0, 0], expected, atol=1e-9)
    np.testing.assert_allclose(made.points[1], made.points[0], atol=1e-9)
    np.testing.assert_allclose(made.cm_per_px, 100.0 * 4.0 / 500.0 * side / 320.0)
    off = made.pictures[0].astype(int) - made.pictures[1].astype(int)
    assert np.abs(off).mean() < 1.0


def test_kept_cutouts_come_back_as_they_were(tmp_path: Path) -> None:
    whole = crops(np.full((2, COUNT, 2), 7.0))
    whole.save(tmp_path / "kept.npz")
    again = Crops.load(tmp_path / "kept.npz")
    assert np.array_equal(again.pictures, whole.pictures)
    assert list(again.names) == list(whole.names)


def test_a_folder_without_scenes_is_named(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match="holds no folder with a truth"):
        read_scenes(tmp_path)
