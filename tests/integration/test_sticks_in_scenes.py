"""Sticks in rendered scenes, whose truth the renderer wrote."""

from __future__ import annotations

import cv2
import numpy as np
import pytest

from tests.support.sticks import distance_to_curve_px, scene_landmarks, scene_stick_px
from tests.support.truth import SCENES, load
from wellset.figure.views import View
from wellset.vision.sticks import FoundStick, StickLabel, find_labelled

CASES = [
    ("mid_iron_neutral_21", View.FACE_ON, "target_stick", StickLabel.ALONG),
    ("mid_iron_neutral_21", View.DOWN_THE_LINE, "target_stick", StickLabel.ALONG),
    ("mid_iron_neutral_21", View.DOWN_THE_LINE, "cross_stick", StickLabel.ACROSS),
    (
        "mid_iron_left_handed_weight_in_heels_01",
        View.FACE_ON,
        "target_stick",
        StickLabel.ALONG,
    ),
    (
        "mid_iron_left_handed_weight_in_heels_01",
        View.DOWN_THE_LINE,
        "target_stick",
        StickLabel.ALONG,
    ),
]


def found_in(scene: str, view: View) -> tuple[FoundStick, ...]:
    truth = load(scene)
    read = cv2.imread(str(SCENES / scene / f"{view.value}.jpg"))
    assert read is not None
    rgb = np.ascontiguousarray(read[..., ::-1], dtype=np.uint8)
    places = scene_landmarks(truth, truth["views"][view.value])
    return find_labelled(rgb, person_mask=None, landmarks=places)


@pytest.mark.parametrize(("scene", "view", "kind", "label"), CASES)
def test_a_scene_shows_its_stick_to_half_a_pixel(
    scene: str, view: View, kind: str, label: StickLabel
) -> None:
    truth = load(scene)
    line = scene_stick_px(truth["views"][view.value], truth["on_the_ground"][kind]["ends"])
    (stick,) = (s for s in found_in(scene, view) if s.label is label)
    errors = [distance_to_curve_px(end, line) for end in stick.sighting.ends_px]
    assert max(errors) < 0.5


@pytest.mark.parametrize(("scene", "view"), sorted({case[:2] for case in CASES}))
def test_a_scene_shows_no_stick_that_is_not_there(scene: str, view: View) -> None:
    truth = load(scene)
    lines = [
        scene_stick_px(truth["views"][view.value], stick["ends"])
        for name, stick in truth["on_the_ground"].items()
        if name.endswith("stick")
    ]
    for stick in found_in(scene, view):
        ends = stick.sighting.ends_px
        near = [max(distance_to_curve_px(end, line) for end in ends) for line in lines]
        assert min(near) < 2.0
