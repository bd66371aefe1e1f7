"""The golfers of the stress scenes: skeletons, solids and cameras do what the truth relies on."""

from __future__ import annotations

import numpy as np
import pytest

from benchmarks.stress.cameras import Lens, draw_lens
from benchmarks.stress.person import draw_person
from benchmarks.stress.solids import cone, ellipsoid, folded, grown, join
from benchmarks.stress.stance import CLUBS, Skeleton, draw_aim, stand, two_bones


def _stood(seed: int, *, club: str = "mid_iron") -> tuple[Skeleton, float, float]:
    random = np.random.default_rng(seed)
    person = draw_person(random, female=seed % 2 == 0)
    skeleton = stand(person, draw_aim(random, club=club))
    return skeleton, person.thigh, person.shank


def _length(skeleton: Skeleton, one: str, other: str) -> float:
    return float(np.linalg.norm(skeleton[one] - skeleton[other]))


@pytest.mark.parametrize("seed", range(4))
def test_bones_keep_their_lengths_and_the_shaft_ends_on_the_ground(seed: int) -> None:
    skeleton, thigh, shank = _stood(seed)
    for side in ("lead", "trail"):
        assert _length(skeleton, f"{side}_hip", f"{side}_knee") == pytest.approx(thigh, abs=2e-3)
        assert _length(skeleton, f"{side}_knee", f"{side}_ankle") == pytest.approx(shank, abs=2e-3)
    assert _length(skeleton, "grip_end", "shaft_end") == pytest.approx(skeleton.club_length)
    assert skeleton["shaft_end"][2] == pytest.approx(0.0, abs=1e-9)
    assert skeleton["shaft_end"][1] == pytest.approx(CLUBS["mid_iron"][2])


@pytest.mark.parametrize("club", CLUBS)
def test_every_club_is_held_below_the_shoulders_with_the_lead_side_at_the_target(club: str) -> None:
    skeleton, _, _ = _stood(3, club=club)
    assert skeleton["grip_end"][2] < skeleton["lead_shoulder"][2] - 0.2
    for joint in ("shoulder", "hip", "ankle"):
        assert skeleton[f"lead_{joint}"][0] > skeleton[f"trail_{joint}"][0]
    assert skeleton["head"][1] < skeleton["mid_hip"][1]  # bent toward the ball


def test_a_joint_between_two_bones_lies_on_the_side_asked_for() -> None:
    knee = two_bones(
        np.zeros(3), np.array([0.0, 0.0, -0.8]), lengths=(0.45, 0.42), pole=np.array([0, -1.0, 0])
    )
    assert np.linalg.norm(knee) == pytest.approx(0.45)
    assert knee[1] < -0.1


def test_a_cone_and_a_ball_have_their_radii_and_clothes_their_room() -> None:
    limb = cone(np.zeros(3), np.array([0.0, 0.0, 0.4]), radii=(0.05, 0.05))
    beside = np.array([[0.08, 0.0, 0.2]])
    assert limb.distance(beside)[0] == pytest.approx(0.03)
    assert grown(limb, by=0.02).distance(beside)[0] == pytest.approx(0.01)
    ball = ellipsoid(np.zeros(3), axes=np.eye(3), radii=(0.1, 0.1, 0.1))
    assert ball.distance(np.array([[0.15, 0.0, 0.0]]))[0] == pytest.approx(0.05, abs=1e-6)
    folds = folded(limb, height=0.005, seed=1).distance(beside)[0]
    assert 0.01 < folds < 0.05


def test_solids_melt_where_they_meet_and_nowhere_else() -> None:
    one = cone(np.zeros(3), np.array([0.0, 0.0, 0.1]), radii=(0.05, 0.05))
    other = cone(np.array([0.09, 0.0, 0.0]), np.array([0.09, 0.0, 0.1]), radii=(0.05, 0.05))
    both = join(one, other, melt=0.02)
    seam, far = np.array([[0.045, 0.03, 0.05]]), np.array([[-0.06, 0.0, 0.05]])
    assert both.distance(seam)[0] < one.distance(seam)[0]
    assert both.distance(far)[0] == pytest.approx(one.distance(far)[0])


def _lens(*, view: str = "face_on") -> Lens:
    return draw_lens(
        np.random.default_rng(5),
        view=view,
        golfer=np.array([0.0, 0.6, 0.8]),
        held=True,
        size=(720, 1280),
    )


@pytest.mark.parametrize("view", ["face_on", "down_the_line"])
def test_a_ray_through_a_point_s_pixel_passes_through_the_point(view: str) -> None:
    lens, points = _lens(view=view), np.array([[0.0, 0.0, 0.02], [0.2, 0.7, 1.5], [-0.2, 0.5, 0.1]])
    pixels, depths = lens.project(points)
    assert (depths > 1.0).all()
    way = points - lens.place
    np.testing.assert_allclose(
        lens.rays(pixels), way / np.linalg.norm(way, axis=1)[:, None], atol=1e-7
    )


def test_a_mirrored_camera_sees_the_mirrored_point_in_the_mirrored_pixel() -> None:
    lens, point = _lens(), np.array([[0.3, 0.5, 1.2]])
    pixel = lens.project(point)[0][0]
    mirrored = lens.mirrored().project(point * (-1, 1, 1))[0][0]
    np.testing.assert_allclose(mirrored, [lens.width - pixel[0], pixel[1]], atol=1e-9)
    assert np.linalg.det(lens.mirrored().rotation) == pytest.approx(1.0)
