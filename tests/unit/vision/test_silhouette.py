"""The outline as a mask in picture pixels."""

from __future__ import annotations

import numpy as np

from wellset.vision.crops import square_cutout
from wellset.vision.general import POINTS, Body
from wellset.vision.silhouette import silhouette_of


def a_body(*, turn: float = 0.0) -> Body:
    outline = np.zeros((256, 256), dtype=np.float32)
    outline[64:192, 96:160] = 1.0
    return Body(
        presence=1.0,
        points_px=np.zeros((POINTS, 2)),
        visibility=np.ones(POINTS),
        points_m=np.zeros((POINTS, 3)),
        outline=outline,
        cutout=square_cutout(centre_px=(300.0, 400.0), side_px=512.0, size=256, turn=turn),
    )


def test_the_mask_covers_what_the_outline_covers() -> None:
    shape = silhouette_of(a_body(), width_px=600, height_px=800)
    # 64 x 128 cut-out pixels at two picture pixels each, about (300, 400).
    expected = np.zeros((800, 600), dtype=bool)
    expected[272:528, 236:364] = True
    assert (shape.in_picture ^ expected).sum() < 0.02 * expected.sum()
    assert abs(shape.box.height - 256.0) <= 2.0


def test_an_outline_of_a_turned_cutout_is_turned_back() -> None:
    upright = silhouette_of(a_body(), width_px=600, height_px=800).in_picture
    lying = silhouette_of(a_body(turn=np.pi / 2), width_px=600, height_px=800).in_picture
    assert (lying[400 - 100 : 400 + 100, 300 - 100 : 300 + 100].T
            ^ upright[300:500, 200:400]).mean() < 0.02  # fmt: skip


def test_the_mask_ends_at_the_picture() -> None:
    shape = silhouette_of(a_body(), width_px=300, height_px=450)
    assert shape.in_picture.shape == (450, 300)
    assert shape.box.right == 300.0
    assert shape.box.bottom == 450.0


def test_mirroring_twice_gives_the_same_mask() -> None:
    shape = silhouette_of(a_body(), width_px=620, height_px=800)
    np.testing.assert_array_equal(shape.mirrored().in_picture, shape.in_picture[:, ::-1])
    np.testing.assert_array_equal(shape.mirrored().mirrored().in_picture, shape.in_picture)


def test_a_mask_cannot_be_written_to() -> None:
    assert not silhouette_of(a_body(), width_px=600, height_px=800).mask.flags.writeable
