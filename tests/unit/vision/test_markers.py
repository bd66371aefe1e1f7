"""Marker sheets in pictures: rendered ones, and printed ones laid into rendered scenes."""

from __future__ import annotations

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from tests.support.sheets import (
    MARKED_SCENE,
    Lie,
    corners_px,
    landmarks_in,
    lay_into,
    picture,
    rendered_marker,
    sighting_of,
)
from tests.support.truth import THREE_SCENES, load
from wellset.equipment.sheet import SHEET_MARKER
from wellset.figure.sighting import MarkerSighting
from wellset.figure.views import View
from wellset.vision.markers import find_markers

RIGHT, LEFT, _ = THREE_SCENES
LIES = (Lie(), Lie(x=-0.3, y=-0.4, yaw=0.3), Lie(x=-0.45, y=0.1, yaw=-2.0))


def found_in(scene: str, view: View, rgb: NDArray[np.uint8]) -> MarkerSighting:
    """The one marker, in the frame the estimate uses."""
    (found,) = find_markers(rgb, landmarks=landmarks_in(scene, view))
    left = load(scene)["hand"] == "left"
    return found.mirrored(width_px=rgb.shape[1]) if left else found


def errors_in_sd(found: MarkerSighting, true: NDArray[np.float64]) -> NDArray[np.float64]:
    """Distance of each corner from the truth in its own standard uncertainties."""
    off = found.corners_px - true
    return np.array(
        [np.sqrt(e @ np.linalg.solve(s, e)) for e, s in zip(off, found.covariance_px2, strict=True)]
    )


@pytest.mark.parametrize("view", View)
def test_a_rendered_marker_is_found_to_half_a_pixel_within_what_is_stated(view: View) -> None:
    marker, truth = rendered_marker()
    found = find_markers(
        picture(MARKED_SCENE, view),
        landmarks=landmarks_in(MARKED_SCENE, view),
        markers=(marker,),
    )
    true = corners_px(load(MARKED_SCENE), view, np.array(truth["corners"]))[[2, 1, 0, 3]]
    assert len(found) == 1
    assert np.abs(found[0].corners_px - true).max() < 0.5
    # a two-dimensional error lies beyond 3 standard uncertainties once in 90 times
    assert errors_in_sd(found[0], true).max() < 3.0


@pytest.mark.parametrize("scene", [RIGHT, LEFT])
@pytest.mark.parametrize("view", View)
@pytest.mark.parametrize("lie", LIES)
def test_a_printed_sheet_is_found_with_its_corners_told_apart(
    scene: str, view: View, lie: Lie
) -> None:
    found = found_in(scene, view, lay_into(scene, view, lie))
    true = sighting_of(load(scene), view, lie).corners_px
    assert np.abs(found.corners_px - true).max() < 0.4
    assert errors_in_sd(found, true).max() < 3.0


@pytest.mark.parametrize("blur_px", [1.0, 1.5])
def test_an_unsharp_sheet_is_still_found_and_said_to_be_less_sure(blur_px: float) -> None:
    sharp = found_in(RIGHT, View.FACE_ON, lay_into(RIGHT, View.FACE_ON, LIES[0]))
    soft = found_in(RIGHT, View.FACE_ON, lay_into(RIGHT, View.FACE_ON, LIES[0], blur_px=blur_px))
    true = sighting_of(load(RIGHT), View.FACE_ON, LIES[0]).corners_px
    assert np.abs(soft.corners_px - true).max() < 0.8
    assert np.trace(soft.covariance_px2.sum(0)) > np.trace(sharp.covariance_px2.sum(0))


@pytest.mark.parametrize("scale", [2.5, 1.0])
def test_corners_lie_at_the_same_place_in_a_larger_picture(scale: float) -> None:
    rgb = lay_into(RIGHT, View.DOWN_THE_LINE, LIES[0])
    size = (round(rgb.shape[1] * scale), round(rgb.shape[0] * scale))
    large = np.asarray(cv2.resize(rgb, size, interpolation=cv2.INTER_CUBIC), dtype=np.uint8)
    places = {n: p * scale for n, p in landmarks_in(RIGHT, View.DOWN_THE_LINE).items()}
    (found,) = find_markers(large, landmarks=places)
    true = sighting_of(load(RIGHT), View.DOWN_THE_LINE, LIES[0]).corners_px * scale
    assert np.abs(found.corners_px - true).max() < 0.4 * scale


@pytest.mark.parametrize("scene", [*THREE_SCENES, MARKED_SCENE])
@pytest.mark.parametrize("view", View)
def test_no_sheet_is_seen_where_none_lies_or_another_marker_does(scene: str, view: View) -> None:
    assert find_markers(picture(scene, view), landmarks=landmarks_in(scene, view)) == ()


def test_a_mirrored_print_is_no_sheet() -> None:
    rgb = np.ascontiguousarray(lay_into(RIGHT, View.FACE_ON, LIES[0])[:, ::-1])
    width = rgb.shape[1]
    places = {
        name: np.array([width - p[0], p[1]])
        for name, p in landmarks_in(RIGHT, View.FACE_ON).items()
    }
    assert find_markers(rgb, landmarks=places) == ()


def test_a_sheet_half_covered_is_left_out() -> None:
    rgb = lay_into(RIGHT, View.FACE_ON, LIES[0])
    corners = sighting_of(load(RIGHT), View.FACE_ON, LIES[0]).corners_px
    middle, edge = corners.mean(0).astype(int), corners.max(0).astype(int) + 12
    rgb[middle[1] - 60 : edge[1], middle[0] : edge[0]] = (60, 110, 50)
    assert find_markers(rgb, landmarks=landmarks_in(RIGHT, View.FACE_ON)) == ()


def test_without_the_golfers_size_nothing_is_looked_for() -> None:
    rgb = lay_into(RIGHT, View.FACE_ON, LIES[0])
    assert find_markers(rgb, landmarks={"ball": np.array([400.0, 900.0])}) == ()


def test_mirroring_twice_gives_a_marker_back_and_once_swaps_the_arrows_sides() -> None:
    marker = sighting_of(load(RIGHT), View.FACE_ON, LIES[1])
    once = marker.mirrored(width_px=840)
    twice = once.mirrored(width_px=840)
    assert twice.corners_px == pytest.approx(marker.corners_px)
    assert twice.covariance_px2.tolist() == marker.covariance_px2.tolist()
    # by hand: tail to tip stays tail to tip, the other side of the arrow comes first
    tail, other_tail = marker.corners_px[0], once.corners_px[3]
    assert other_tail == pytest.approx([840 - tail[0], tail[1]])
    assert SHEET_MARKER.name == once.name
