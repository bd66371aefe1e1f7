"""What is known of a phone before looking."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.assess.cameras import BASE, camera_prior, same_phone
from wellset.assess.gap import gap_m
from wellset.figure.landmarks import LANDMARKS, other_side
from wellset.figure.sighting import PictureFacts
from wellset.figure.views import View
from wellset.geometry import CAMERA_PARAMETERS, Camera


def picture(focal_35mm: float | None, *, width: int = 1500, height: int = 2000) -> PictureFacts:
    return PictureFacts(name="p.jpg", width_px=width, height_px=height, focal_35mm=focal_35mm)


def test_a_tag_gives_the_focal_length_on_the_diagonal() -> None:
    prior = camera_prior(View.FACE_ON, picture(26.0))
    assert float(np.exp(prior.mean[0])) == pytest.approx(1502.3, abs=0.05)


def test_a_picture_without_a_tag_is_less_sure_of_its_focal_length() -> None:
    tagged = camera_prior(View.FACE_ON, picture(26.0))
    bare = camera_prior(View.FACE_ON, picture(None))
    assert bare.sd[0] > 5 * tagged.sd[0]
    # every phone main camera, 24-28 mm, lies within 1.2 standard deviations
    for focal in (24.0, 28.0):
        other = camera_prior(View.FACE_ON, picture(focal))
        assert abs(other.mean[0] - bare.mean[0]) < 1.2 * bare.sd[0]
    np.testing.assert_array_equal(bare.sd[1:], tagged.sd[1:])


@pytest.mark.parametrize("view", list(View))
def test_the_ordinary_camera_looks_at_the_golfer(view: View) -> None:
    prior = camera_prior(view, picture(26.0))
    assert len(prior.mean) == len(prior.sd) == len(CAMERA_PARAMETERS)
    camera = Camera(parameters=prior.mean, base=BASE[view], width_px=1500, height_px=2000)
    golfer = np.array([[0.0, 0.5, 0.0], [0.0, 0.5, 0.9], [0.0, 0.3, 1.6]])
    pixels = camera.project(golfer)
    assert ((pixels > 0) & (pixels < [1500, 2000])).all()


@pytest.mark.parametrize("view", list(View))
def test_a_base_is_a_right_handed_frame(view: View) -> None:
    # right, forward, up
    np.testing.assert_allclose(np.cross(BASE[view][0], BASE[view][1]), BASE[view][2])


def test_two_pictures_of_one_size_without_tags_come_from_one_phone() -> None:
    assert same_phone(picture(None), picture(None))
    assert same_phone(picture(None), picture(None, width=2000, height=1500))
    assert same_phone(picture(26.0), picture(None))
    assert not same_phone(picture(26.0), picture(26.0))
    assert not same_phone(picture(None), picture(None, width=1512, height=2016))


@pytest.mark.parametrize("landmark", LANDMARKS)
def test_every_landmark_has_a_gap_to_real_people_alike_on_both_sides(landmark: str) -> None:
    assert 0 < gap_m(landmark) < 0.05
    assert gap_m(landmark) == gap_m(other_side(landmark))
