"""Scoring person finders: what counts as found, false, ignored and close up."""

from __future__ import annotations

import numpy as np
import yaml

from benchmarks.finder import LISTED, Person, Photograph, Score, close_ups, score
from wellset.vision.crops import Box

STANDING = Box(left=40.0, top=20.0, right=60.0, bottom=80.0)


def _photograph(*, ignore: tuple[Box, ...] = ()) -> Photograph:
    return Photograph(
        name="one",
        pixels=np.zeros((100, 200, 3), dtype=np.uint8),
        people=(Person(box=STANDING, whole=True),),
        ignore=ignore,
    )


def _shifted(by: float) -> Box:
    return Box(left=40.0 + by, top=20.0, right=60.0 + by, bottom=80.0)


def test_a_find_that_overlaps_by_half_is_the_person() -> None:
    # two boxes of width 20 shifted by 6 share 14 of 26: 0.54
    assert score(_photograph(), [_shifted(6.0)]) == Score(found=(True,), false=0)
    # by 8: 12 of 28, 0.43
    assert score(_photograph(), [_shifted(8.0)]) == Score(found=(False,), false=1)


def test_the_second_find_of_one_person_is_false() -> None:
    assert score(_photograph(), [_shifted(0.0), _shifted(2.0)]) == Score(found=(True,), false=1)


def test_a_find_in_an_ignored_part_is_not_false() -> None:
    crowd = Box(left=100.0, top=0.0, right=200.0, bottom=100.0)
    assert score(_photograph(ignore=(crowd,)), [_shifted(80.0)]).false == 0
    assert score(_photograph(), [_shifted(80.0)]).false == 1


def test_a_close_up_keeps_the_person_and_is_tall_enough() -> None:
    (near,) = close_ups([_photograph()])
    assert near.pixels.shape[0] >= 640
    box = near.people[0].box
    np.testing.assert_allclose(box.height / near.pixels.shape[0], 60 / 100, atol=0.01)


def test_every_listed_picture_says_where_it_is_from_and_no_box_is_inside_out() -> None:
    listed = yaml.safe_load(LISTED.read_text(encoding="utf-8"))["pictures"]
    names = [entry["name"] for entry in listed]
    assert len(set(names)) == len(names)
    for entry in listed:
        assert len(entry["sha256"]) == 64
        assert entry["from"]
        for person in entry.get("people", ()):
            left, top, right, bottom = person["box"]
            assert 0 <= left < right, entry["name"]
            assert 0 <= top < bottom, entry["name"]
