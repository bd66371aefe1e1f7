"""A reading as landmarks: calibrated covariance, mirrored frame, points not seen."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.figure.sighting import NotSeen, Placement, ProposedByModel
from wellset.figure.views import View
from wellset.vision.crops import square_cutout
from wellset.vision.general import POINTS, Body
from wellset.vision.noise import SCATTER_OF_ONE, SD_FACTORS, covariances_px2
from wellset.vision.placements import FAR, HIDDEN, OUTSIDE, missing_note, place
from wellset.vision.reading import Reading
from wellset.vision.silhouette import silhouette_of
from wellset.vision.values import Array, Flags

COUNT = len(LANDMARKS)
SIZE = {"width_px": 1000, "height_px": 1200}

NO_OPINION = Body(
    presence=1.0,
    points_px=np.zeros((POINTS, 2)),
    visibility=np.zeros(POINTS),
    points_m=np.zeros((POINTS, 3)),
    outline=np.zeros((256, 256), dtype=np.float32),
    cutout=square_cutout(centre_px=(0.0, 0.0), side_px=256.0, size=256),
)


def a_reading(
    *,
    points_px: Array | None = None,
    spread_px: Array | None = None,
    scatter_px2: Array | None = None,
    clipped: Flags | None = None,
    crops: int = 5,
) -> Reading:
    correlated = np.tile([[0.5, 0.2], [0.2, 0.5]], (COUNT, 1, 1))
    return Reading(
        points_px=np.tile([300.0, 600.0], (COUNT, 1)) if points_px is None else points_px,
        spread_px=np.full((COUNT, 2), 1.0) if spread_px is None else spread_px,
        scatter_px2=correlated if scatter_px2 is None else scatter_px2,
        clipped=np.zeros(COUNT, dtype=bool) if clipped is None else clipped,
        crops=crops,
        height_px=500.0,
    )


def placed(reading: Reading, *, mirrored: bool = False) -> dict[str, Placement]:
    return place(
        reading,
        body=NO_OPINION,
        silhouette=silhouette_of(NO_OPINION, **SIZE),
        view=View.FACE_ON,
        mirrored=mirrored,
        **SIZE,
    )


def moved(name: str, *, to: tuple[float, float]) -> Array:
    points = np.tile([300.0, 600.0], (COUNT, 1))
    points[INDEX[name]] = to
    return points


def test_the_covariance_is_the_laplace_variance_and_the_scatter_scaled_by_the_table() -> None:
    # A Laplace distribution of scale b has the variance 2 b².
    ball = covariances_px2(a_reading(), view=View.FACE_ON)[INDEX["ball"]]
    factor = SD_FACTORS[View.FACE_ON]["ball"] ** 2
    np.testing.assert_allclose(ball, factor * np.array([[2.5, 0.2], [0.2, 2.5]]))


def test_a_single_cutout_is_granted_the_scatter_it_cannot_show() -> None:
    single = a_reading(crops=1, scatter_px2=np.zeros((COUNT, 2, 2)))
    nose = covariances_px2(single, view=View.DOWN_THE_LINE)[INDEX["nose"]]
    factor = SD_FACTORS[View.DOWN_THE_LINE]["nose"] ** 2
    np.testing.assert_allclose(nose, factor * (2.0 + SCATTER_OF_ONE**2) * np.eye(2))


@pytest.mark.parametrize("view", list(View))
def test_the_noise_table_covers_every_landmark_of_both_views(view: View) -> None:
    assert covariances_px2(a_reading(), view=view).shape == (COUNT, 2, 2)
    stems = {
        name.partition("_")[2] if name.startswith(("lead_", "trail_")) else name
        for name in LANDMARKS
    }
    assert set(SD_FACTORS[view]) == stems


def test_a_left_handers_landmarks_are_in_the_mirrored_frame() -> None:
    plain = placed(a_reading())["ball"]
    turned = placed(a_reading(), mirrored=True)["ball"]
    assert isinstance(plain, ProposedByModel)
    assert isinstance(turned, ProposedByModel)
    np.testing.assert_allclose(turned.position_px, [700.0, 600.0])
    np.testing.assert_allclose(
        turned.covariance_px2, plain.covariance_px2 * [[1.0, -1.0], [-1.0, 1.0]]
    )


@pytest.mark.parametrize("to", [(300.0, 1230.0), (300.0, 1198.0), (-4.0, 600.0), (1001.0, 600.0)])
def test_a_point_outside_the_picture_is_not_seen(to: tuple[float, float]) -> None:
    landmarks = placed(a_reading(points_px=moved("ball", to=to)))
    assert landmarks["ball"] == NotSeen(why=OUTSIDE)
    assert isinstance(landmarks["nose"], ProposedByModel)


def test_a_foot_goes_with_the_ankle_that_is_cut_off() -> None:
    landmarks = placed(a_reading(points_px=moved("lead_ankle", to=(300.0, 1250.0))))
    for stem in ("shoe_heel", "shoe_toe", "foot_ball"):
        assert landmarks[f"lead_{stem}"] == NotSeen(why=OUTSIDE)
        assert isinstance(landmarks[f"trail_{stem}"], ProposedByModel)


def test_a_point_the_network_cannot_find_gets_no_number() -> None:
    spread = np.full((COUNT, 2), 1.0)
    spread[INDEX["ball"]] = 20.0
    assert placed(a_reading(spread_px=spread))["ball"] == NotSeen(why=HIDDEN)


def test_a_point_at_the_edge_of_every_cutout_gets_no_number() -> None:
    clipped = np.arange(COUNT) == INDEX["ball"]
    assert placed(a_reading(clipped=clipped))["ball"] == NotSeen(why=FAR)


def test_the_remark_names_what_is_cut_off_in_words() -> None:
    landmarks = placed(a_reading(points_px=moved("lead_shoe_toe", to=(300.0, 1300.0))))
    note = missing_note(landmarks, name="a.jpg")
    assert note is not None
    assert "lead shoe toe" in note.message
    assert missing_note({}, name="a.jpg") is None
