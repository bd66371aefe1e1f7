"""Where the landmark network looks when nobody stands out, and what a club tells."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.figure.views import View
from wellset.vision.crops import Box, square_cutout
from wellset.vision.looks import Look
from wellset.vision.search import _places


@pytest.mark.parametrize(("width", "height"), [(720, 1280), (1920, 1080), (1000, 1000)])
@pytest.mark.parametrize("share", [0.38, 0.5, 0.6, 0.85])
@pytest.mark.parametrize("across", [0.2, 0.5, 0.8])
def test_a_golfer_anywhere_across_the_picture_is_looked_at_from_near(
    width: int, height: int, share: float, across: float
) -> None:
    """The network knows a golfer from boxes a quarter off in size or place."""
    tall, x = share * height, across * width
    near = [
        box
        for box in _places(height, width)
        if abs(np.log(box.height / tall)) < 0.3 and abs(box.centre[0] - x) < 0.3 * tall
    ]
    assert near


def a_look(*, harder: tuple[str, ...] = (), by: float = 1.0) -> Look:
    wide = np.full((len(LANDMARKS), 2), 1.0)
    for name in harder:
        wide[INDEX[name]] *= np.exp(by)
    return Look(
        points_px=np.tile([500.0, 500.0], (len(LANDMARKS), 1)),
        spread_px=wide,
        cutout=square_cutout(centre_px=(500.0, 500.0), side_px=800.0, size=320),
        height_px=500.0,
        picture_px=(1000.0, 1000.0),
    )


def test_a_club_that_leaves_the_ball_is_told_from_a_picture_that_is_hard_to_read() -> None:
    gone = a_look(harder=("club_head",), by=1.0)
    assert gone.club_unrest(View.FACE_ON) == pytest.approx(1.0)
    poor = a_look(harder=LANDMARKS, by=1.0)
    assert poor.club_unrest(View.FACE_ON) == pytest.approx(0.0)


def test_down_the_line_the_shaft_and_the_ball_tell_too() -> None:
    crossing = a_look(harder=("shaft_end",), by=0.5)
    assert crossing.club_unrest(View.DOWN_THE_LINE) == pytest.approx(0.5)
    assert crossing.club_unrest(View.FACE_ON) == pytest.approx(0.0)


def test_boxes_lie_inside_the_picture_across() -> None:
    for box in _places(1280, 720):
        assert isinstance(box, Box)
        assert box.left >= -1e-9
        assert box.right <= 720 + 1e-9
