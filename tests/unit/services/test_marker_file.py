"""Marker sheets in landmark files."""

from __future__ import annotations

import json

import numpy as np
import pytest

from tests.support.sheets import Lie, with_sheet
from tests.support.sightings import scene_sightings
from tests.support.truth import THREE_SCENES
from wellset.equipment.sheet import SHEET_MARKER
from wellset.errors import InputError
from wellset.figure.views import Hand, View
from wellset.services.landmark_file import landmark_file_text, merge, read_landmarks

RIGHT, LEFT, _ = THREE_SCENES


def text(scene: str, hand: Hand) -> str:
    seen = with_sheet(scene, scene_sightings(scene), Lie(yaw=0.1), seed=1)
    written = landmark_file_text(hand, {s.view: s for s in seen})
    # once read, whole numbers are written as the file's own kind of number
    return landmark_file_text(hand, read_landmarks(written, where="l.json").sightings)


@pytest.mark.parametrize(("scene", "hand"), [(RIGHT, Hand.RIGHT), (LEFT, Hand.LEFT)])
def test_a_sheet_read_and_written_again_is_the_same_text(scene: str, hand: Hand) -> None:
    written = text(scene, hand)
    file = read_landmarks(written, where="l.json")
    assert landmark_file_text(hand, file.sightings) == written
    (seen,) = file.sightings[View.FACE_ON].markers
    expected = with_sheet(scene, scene_sightings(scene), Lie(yaw=0.1), seed=1)[0].markers[0]
    assert seen.corners_px == pytest.approx(expected.corners_px, abs=0.006)
    assert seen.side_m == SHEET_MARKER.side_m


def entry(**changes: object) -> str:
    data = json.loads(text(RIGHT, Hand.RIGHT))
    data["views"]["face_on"]["markers"] = [
        {"corners_px": [[200, 900], [240, 900], [235, 885], [205, 885]], **changes}
    ]
    return json.dumps(data)


def test_a_sheet_given_by_hand_has_its_own_size_and_spread_and_replaces_the_found_one() -> None:
    file = read_landmarks(entry(side_m=0.157, sd_px=2.0), where="l.json")
    given = file.sightings[View.FACE_ON]
    (marker,) = given.markers
    assert marker.by_hand
    assert marker.side_m == 0.157
    assert np.all(marker.covariance_px2 == 4.0 * np.eye(2))
    found = with_sheet(RIGHT, scene_sightings(RIGHT), Lie())[0]
    assert merge(given, found, sticks_given=False).markers == (marker,)
    assert merge(scene_sightings(RIGHT)[0], found, sticks_given=False).markers == found.markers


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"corners_px": [[200, 900], [240, 900], [280, 900], [320, 900]]}, "four corners"),
        ({"covariances_px2": [[1, 2, 1]] * 4}, "positive definite"),
        ({"side_m": -0.1}, "side_m"),
        ({"name": "another"}, "sheet"),
    ],
)
def test_a_sheet_that_cannot_be_is_refused_with_its_place(
    changes: dict[str, object], said: str
) -> None:
    with pytest.raises(InputError, match=r"markers\.0.*" + said):
        read_landmarks(entry(**changes), where="l.json")
