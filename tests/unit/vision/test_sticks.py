from __future__ import annotations

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from tests.support.sticks import (
    HEIGHT,
    WIDTH,
    as_picture,
    blended,
    distance_px,
    grass,
    landmarks,
    mirrored,
    with_stick,
)
from wellset.errors import InputError
from wellset.figure.sighting import StickSighting
from wellset.vision.sticks import StickLabel, find_labelled, find_sticks, label_sticks

Array = NDArray[np.float64]

TARGET = np.array([[150.3, 771.4], [560.8, 763.2]])
CROSS = np.array([[372.2, 770.1], [398.9, 661.3]])
UPRIGHT = np.array([[392.4, 801.0], [401.2, 440.0]])
COLOURS = {
    "orange": (230.0, 110.0, 40.0),
    "white": (225.0, 225.0, 215.0),
    "yellow": (215.0, 205.0, 60.0),
    "cyan": (60.0, 190.0, 215.0),
    "red": (190.0, 40.0, 45.0),
}


def seen(picture: Array) -> tuple[StickSighting, ...]:
    return find_sticks(as_picture(picture), person_mask=None, landmarks=landmarks())


@pytest.mark.parametrize("colour", COLOURS)
def test_a_stick_of_any_bright_colour_is_placed_to_half_a_pixel(colour: str) -> None:
    (stick,) = seen(with_stick(grass(), TARGET, colour=COLOURS[colour]))
    assert np.abs(distance_px(stick.ends_px, TARGET)).max() < 0.5


@pytest.mark.parametrize("seed", range(4))
def test_the_stated_uncertainty_is_of_the_size_of_the_error(seed: int) -> None:
    (stick,) = seen(with_stick(grass(seed=seed), TARGET))
    error = np.abs(distance_px(stick.ends_px, TARGET)).max()
    assert error < 3 * stick.sd_px
    assert stick.sd_px < 0.6


def test_both_tips_are_found_when_nothing_hides_them() -> None:
    (stick,) = seen(with_stick(grass(), TARGET))
    ends = stick.ends_px[np.argsort(stick.ends_px[:, 0])]
    assert stick.ends_are_tips
    assert np.abs(ends - TARGET).max() < 3.0


def test_a_stick_that_leaves_the_picture_has_no_two_tips() -> None:
    out = np.array([[300.0, 770.0], [790.0, 762.0]])
    (stick,) = seen(with_stick(grass(), out))
    assert not stick.ends_are_tips
    assert np.abs(distance_px(stick.ends_px, out)).max() < 0.5
    assert stick.ends_px[:, 0].max() <= WIDTH


def test_mown_stripes_are_no_sticks_and_hide_none() -> None:
    striped = grass(stripe_px=45)
    assert seen(striped) == ()
    (stick,) = seen(with_stick(striped, TARGET))
    assert np.abs(distance_px(stick.ends_px, TARGET)).max() < 0.5


def test_bare_grass_shows_no_stick() -> None:
    assert all(seen(grass(seed=seed)) == () for seed in range(3))


def test_dashes_in_a_row_are_no_stick() -> None:
    picture = grass()
    run = (TARGET[1] - TARGET[0]) / 12
    for k in range(0, 12, 2):
        picture = with_stick(picture, TARGET[0] + np.array([k * run, (k + 1) * run]))
    assert seen(picture) == ()


def test_the_two_edges_of_a_mat_are_no_sticks() -> None:
    picture = grass()
    y, x = np.mgrid[:HEIGHT, :WIDTH] + 0.5
    top, bottom = 690 + 0.02 * x, 850 + 0.02 * x
    mat = np.clip(y - top, 0, 1) * np.clip(bottom - y, 0, 1)
    mat = mat * np.clip(x - 120, 0, 1) * np.clip(600 - x, 0, 1)
    assert seen(blended(picture, mat, colour=(120.0, 122.0, 126.0))) == ()


def test_the_rim_of_a_mat_is_no_stick() -> None:
    y, x = np.mgrid[:HEIGHT, :WIDTH] + 0.5
    picture = grass()
    for inset, colour in ((0.0, (225.0, 225.0, 215.0)), (3.5, (70.0, 72.0, 80.0))):
        mat = np.clip(y - 745 - inset, 0, 1) * np.clip(860 - inset - y, 0, 1)
        mat = mat * np.clip(x - 130 - inset, 0, 1) * np.clip(560 - inset - x, 0, 1)
        picture = blended(picture, mat, colour=colour)
    assert seen(picture) == ()


def test_a_sheet_with_a_printed_marker_is_no_stick() -> None:
    picture = grass()
    for inset, colour in ((0, (235.0, 235.0, 230.0)), (5, (35.0, 35.0, 35.0))):
        corners = np.array([[480 + inset, 760 + inset], [610 - inset, 758 + inset]])
        lower = corners[::-1] + np.array([25, 60 - 2 * inset])
        sheet = np.zeros((HEIGHT, WIDTH), dtype=np.uint8)
        cv2.fillPoly(sheet, [np.vstack([corners, lower])], 255, cv2.LINE_AA)
        picture = blended(picture, sheet / 255.0, colour=colour)
    assert seen(picture) == ()


def test_a_band_too_wide_for_a_stick_is_none() -> None:
    assert seen(with_stick(grass(), TARGET, width_px=14.0)) == ()


def test_a_line_through_the_whole_picture_is_no_stick() -> None:
    through = np.array([[-20.0, 771.0], [740.0, 763.0]])
    assert seen(with_stick(grass(), through, colour=COLOURS["white"])) == ()


def test_a_thin_shadow_is_no_stick() -> None:
    picture = grass()
    shade = with_stick(np.ones_like(picture), CROSS, colour=(0.45, 0.5, 0.55))
    assert seen(picture * shade) == ()


def test_a_line_far_from_feet_and_ball_is_not_reported() -> None:
    fence = np.array([[150.0, 560.0], [580.0, 566.0]])
    assert seen(with_stick(grass(), fence)) == ()


def test_the_club_is_no_stick() -> None:
    at = landmarks()
    shaft = np.array([at["grip_end"], at["shaft_end"]])
    assert seen(with_stick(grass(), shaft, colour=(190.0, 190.0, 200.0))) == ()


def test_a_stick_behind_the_shoes_is_one_stick() -> None:
    low = np.array([[120.0, 722.0], [610.0, 728.0]])
    picture = with_stick(grass(), low)
    golfer = np.zeros((HEIGHT, WIDTH), dtype=bool)
    for left in (262, 402):
        golfer[690:742, left : left + 56] = True
    picture[golfer] = (40.0, 40.0, 45.0)
    (stick,) = find_sticks(as_picture(picture), person_mask=golfer, landmarks=landmarks())
    assert np.ptp(stick.ends_px[:, 0]) > 480
    assert np.abs(distance_px(stick.ends_px, low)).max() < 0.5


def test_two_sticks_are_told_apart_and_named() -> None:
    picture = with_stick(with_stick(grass(), TARGET), CROSS, colour=COLOURS["cyan"])
    found = find_labelled(as_picture(picture), person_mask=None, landmarks=landmarks())
    by_label = {stick.label: stick.sighting for stick in found}
    assert by_label.keys() == {StickLabel.ALONG, StickLabel.ACROSS}
    assert np.abs(distance_px(by_label[StickLabel.ALONG].ends_px, TARGET)).max() < 0.5
    assert np.abs(distance_px(by_label[StickLabel.ACROSS].ends_px, CROSS)).max() < 0.7


def test_an_upright_stick_is_named_and_can_be_left_out() -> None:
    picture = as_picture(with_stick(grass(), UPRIGHT, colour=COLOURS["yellow"]))
    (stick,) = find_labelled(picture, person_mask=None, landmarks=landmarks())
    assert stick.label is StickLabel.UPRIGHT
    assert np.abs(distance_px(stick.sighting.ends_px, UPRIGHT)).max() < 0.5
    assert find_sticks(picture, person_mask=None, landmarks=landmarks(), upright=False) == ()


@pytest.mark.parametrize("sagitta", [-3.0, 2.5])
def test_the_points_lie_on_the_stick_where_the_lens_bows_it(sagitta: float) -> None:
    (stick,) = seen(with_stick(grass(), TARGET, sagitta_px=sagitta))
    share = (stick.ends_px - TARGET[0]) @ (TARGET[1] - TARGET[0])
    share = share / np.sum((TARGET[1] - TARGET[0]) ** 2)
    bow = sagitta * 4 * share * (1 - share)
    assert np.abs(distance_px(stick.ends_px, TARGET) - bow).max() < 0.6


def test_the_mirrored_picture_has_the_mirrored_stick() -> None:
    picture = as_picture(with_stick(grass(), TARGET))
    (stick,) = find_sticks(picture, person_mask=None, landmarks=landmarks())
    flipped = np.ascontiguousarray(picture[:, ::-1])
    (other,) = find_sticks(flipped, person_mask=None, landmarks=mirrored(landmarks()))
    back = other.ends_px * [-1, 1] + [WIDTH, 0]
    assert np.abs(distance_px(back, stick.ends_px)).max() < 0.1


def test_a_picture_three_times_as_large_gives_the_same_line() -> None:
    picture = as_picture(with_stick(grass(), TARGET))
    large = cv2.resize(picture, None, fx=3, fy=3, interpolation=cv2.INTER_CUBIC)
    places = {name: 3 * p for name, p in landmarks().items()}
    (stick,) = find_sticks(np.asarray(large), person_mask=None, landmarks=places)
    assert np.abs(distance_px(stick.ends_px / 3, TARGET)).max() < 0.5


def test_no_stick_is_looked_for_where_the_size_of_the_golfer_is_unknown() -> None:
    picture = as_picture(with_stick(grass(), TARGET))
    only_ball = {"ball": landmarks()["ball"]}
    assert find_sticks(picture, person_mask=None, landmarks=only_ball) == ()


def test_a_stick_is_unnamed_where_the_feet_are_unknown() -> None:
    stick = StickSighting(ends_px=TARGET, sd_px=0.3)
    assert label_sticks((stick,), landmarks={}) == (StickLabel.UNKNOWN,)


def test_a_picture_of_another_kind_is_refused() -> None:
    with pytest.raises(InputError, match="not \\(H, W, 3\\) of uint8"):
        find_sticks(
            grass(),  # type: ignore[arg-type]
            person_mask=None,
            landmarks=landmarks(),
        )


def test_an_outline_of_another_size_is_refused() -> None:
    with pytest.raises(InputError, match="the size of the picture"):
        find_sticks(
            as_picture(grass()), person_mask=np.zeros((4, 4), dtype=bool), landmarks=landmarks()
        )
