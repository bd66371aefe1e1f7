"""Cut-outs: where their pixels come from and where their points go."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from wellset.vision.crops import Box, Cutout, reduce_for, square_cutout
from wellset.vision.values import Pixels

NUMBERS = st.floats(-500.0, 1500.0)


@given(
    x=NUMBERS,
    y=NUMBERS,
    side=st.floats(50.0, 3000.0),
    turn=st.floats(-3.0, 3.0),
    mirrored=st.booleans(),
)
def test_points_go_to_the_cutout_and_back(
    x: float, y: float, side: float, turn: float, mirrored: bool
) -> None:
    cutout = square_cutout(centre_px=(x, y), side_px=side, size=320, turn=turn, mirrored=mirrored)
    points = np.array([[0.0, 0.0], [12.5, 300.0], [1000.0, -40.0]])
    np.testing.assert_allclose(cutout.to_picture(cutout.to_cutout(points)), points, atol=1e-6)
    np.testing.assert_allclose(cutout.to_picture(np.array([[160.0, 160.0]])), [[x, y]], atol=1e-9)
    assert cutout.scale == pytest.approx(320.0 / side)
    assert cutout.is_mirrored == mirrored


def test_a_whole_picture_drawn_at_its_own_size_is_itself() -> None:
    picture = np.random.default_rng(0).integers(0, 255, (64, 64, 3), dtype=np.uint8)
    cutout = square_cutout(centre_px=(32.0, 32.0), side_px=64.0, size=64)
    np.testing.assert_array_equal(cutout.draw(picture, outside=cv2.BORDER_REPLICATE), picture)


def test_a_mirrored_cutout_is_the_cutout_of_the_mirrored_picture() -> None:
    picture = np.random.default_rng(1).integers(0, 255, (200, 300, 3), dtype=np.uint8)
    turned = np.ascontiguousarray(picture[:, ::-1])
    there = square_cutout(centre_px=(120.0, 90.0), side_px=100.0, size=100, mirrored=True)
    here = square_cutout(centre_px=(300.0 - 120.0, 90.0), side_px=100.0, size=100)
    np.testing.assert_array_equal(
        there.draw(picture, outside=cv2.BORDER_REPLICATE),
        here.draw(turned, outside=cv2.BORDER_REPLICATE),
    )


def enlarged(noise: Pixels, *, size: tuple[int, int]) -> Pixels:
    return np.asarray(cv2.resize(noise, size, interpolation=cv2.INTER_CUBIC), dtype=np.uint8)


def drawn_as_trained(picture: Pixels, *, cutout: Cutout) -> Pixels:
    """The blur and the bilinear cut of the training code: one Gaussian, then the warp."""
    scale = cutout.scale
    blurred = cv2.GaussianBlur(picture, (0, 0), 0.45 / scale) if scale < 0.8 else picture
    return cutout.draw(np.asarray(blurred, dtype=np.uint8), outside=cv2.BORDER_REPLICATE)


@pytest.mark.parametrize("side", [200.0, 500.0, 900.0])
def test_a_reduced_picture_draws_what_the_training_drew(side: float) -> None:
    noise = np.random.default_rng(2).integers(0, 255, (30, 25, 3), dtype=np.uint8)
    picture = enlarged(noise, size=(800, 1000))
    cutout = square_cutout(centre_px=(400.0, 520.0), side_px=side, size=320)
    ours = reduce_for(picture, cutout=cutout).draw(cutout).astype(int)
    assert np.abs(ours - drawn_as_trained(picture, cutout=cutout)).max() <= 2


def test_a_large_picture_is_averaged_first_and_still_draws_the_same() -> None:
    noise = np.random.default_rng(3).integers(0, 255, (60, 45, 3), dtype=np.uint8)
    picture = enlarged(noise, size=(1800, 2400))
    cutout = square_cutout(centre_px=(900.0, 1300.0), side_px=1900.0, size=320)
    part = reduce_for(picture, cutout=cutout)
    assert part.factor == 2.0
    off = np.abs(part.draw(cutout).astype(int) - drawn_as_trained(picture, cutout=cutout))
    assert off.mean() < 1.0
    assert np.percentile(off, 99.9) <= 4


def test_two_equal_boxes_overlap_wholly_and_two_apart_not_at_all() -> None:
    box = Box(left=0.0, top=0.0, right=10.0, bottom=20.0)
    assert box.overlap(box) == 1.0
    assert box.overlap(Box(left=10.0, top=0.0, right=20.0, bottom=20.0)) == 0.0
    half = Box(left=5.0, top=0.0, right=15.0, bottom=20.0)
    assert box.overlap(half) == pytest.approx(1.0 / 3.0)  # 100 shared of 300 covered
