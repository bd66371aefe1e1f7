"""Pictures to sightings, end to end: who is found, what is refused, what is left out."""

from __future__ import annotations

from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from tests.support.truth import SCENES, THREE_SCENES, load
from wellset.errors import PictureError, SceneError
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.sighting import NotSeen, ProposedByModel
from wellset.figure.views import Hand, View
from wellset.services.ports import Seen
from wellset.vision.pictures import read_picture, write_picture
from wellset.vision.reader import LookedAtPicture, Reader

RIGHT = "mid_iron_neutral_21"
LEFT = "mid_iron_left_handed_weight_in_heels_01"
GOLFERS = Path(__file__).parents[1] / "data" / "golfers"

Pixels = NDArray[np.uint8]


@pytest.fixture(scope="module")
def reader() -> Reader:
    return Reader(crops=1, threads=1)


def picture_of(scene: str, view: View) -> str:
    return str(SCENES / scene / f"{view.value}.jpg")


def pixels_of(scene: str, view: View) -> Pixels:
    return read_picture(picture_of(scene, view)).rgb


def pair_of(scene: str) -> dict[View, str]:
    return {view: picture_of(scene, view) for view in View}


def saved(rgb: Pixels, *, to: Path) -> str:
    write_picture(to, np.ascontiguousarray(rgb), quality=92)
    return str(to)


def unseen(seen: Seen, view: View) -> set[str]:
    landmarks = seen.pictures[view].sighting.landmarks
    return {name for name, place in landmarks.items() if isinstance(place, NotSeen)}


def codes(seen: Seen, view: View) -> list[str]:
    return [note.code for note in seen.pictures[view].notes]


@pytest.mark.parametrize("scene", THREE_SCENES)
def test_both_pictures_of_a_scene_are_read_whole(reader: Reader, scene: str) -> None:
    seen = reader.look(pair_of(scene))
    assert seen.hand.value == load(scene)["hand"]
    assert set(seen.pictures) == set(View)
    for view, picture in seen.pictures.items():
        assert picture.sighting.view is view
        assert picture.mirrored == (seen.hand is Hand.LEFT)
        assert unseen(seen, view) == set()
        assert set(picture.sighting.landmarks) == set(LANDMARKS)
        assert isinstance(picture, LookedAtPicture)
        assert picture.view_confidence > 0.95


def test_the_same_pictures_give_the_same_numbers(reader: Reader) -> None:
    first, second = (reader.look(pair_of(RIGHT)) for _ in range(2))
    for view in View:
        for name in LANDMARKS:
            one = first.pictures[view].sighting.landmarks[name]
            other = second.pictures[view].sighting.landmarks[name]
            assert isinstance(one, ProposedByModel)
            assert isinstance(other, ProposedByModel)
            np.testing.assert_array_equal(one.position_px, other.position_px)
            np.testing.assert_array_equal(one.covariance_px2, other.covariance_px2)


def test_a_mirror_image_is_read_as_the_other_hand_with_the_same_landmarks(
    reader: Reader, tmp_path: Path
) -> None:
    flipped = saved(pixels_of(RIGHT, View.FACE_ON)[:, ::-1], to=tmp_path / "flipped.jpg")
    plain = saved(pixels_of(RIGHT, View.FACE_ON), to=tmp_path / "plain.jpg")
    one, other = (reader.look({View.FACE_ON: each}) for each in (plain, flipped))
    assert (one.hand, other.hand) == (Hand.RIGHT, Hand.LEFT)
    for name in LANDMARKS:
        here = one.pictures[View.FACE_ON].sighting.landmarks[name]
        there = other.pictures[View.FACE_ON].sighting.landmarks[name]
        assert isinstance(here, ProposedByModel)
        assert isinstance(there, ProposedByModel)
        # The finder is not symmetric, so the cut-outs differ a little: half a centimetre.
        assert np.hypot(*(here.position_px - there.position_px)) < 2.0


def test_progress_never_goes_back_and_ends_at_the_whole(reader: Reader) -> None:
    told: list[tuple[str, float]] = []
    reader.look(pair_of(RIGHT), progress=lambda step, share: told.append((step, share)))
    shares = [share for _, share in told]
    assert shares == sorted(shares)
    assert shares[0] == 0.0
    assert shares[-1] == 1.0
    assert all(step for step, _ in told)


def test_opening_reads_pixels_and_facts_without_looking(reader: Reader) -> None:
    opened = reader.open(picture_of(RIGHT, View.FACE_ON))
    truth = load(RIGHT)["views"]["face_on"]
    assert (opened.facts.width_px, opened.facts.height_px) == (truth["width"], truth["height"])
    assert opened.facts.focal_35mm == truth["focal_35mm_tag"]
    assert opened.rgb.shape == (truth["height"], truth["width"], 3)


def test_exchanged_pictures_are_used_the_right_way_round_and_said_so(reader: Reader) -> None:
    swapped = {
        View.FACE_ON: picture_of(RIGHT, View.DOWN_THE_LINE),
        View.DOWN_THE_LINE: picture_of(RIGHT, View.FACE_ON),
    }
    seen = reader.look(swapped)
    assert seen.pictures[View.FACE_ON].sighting.picture.name == "face_on.jpg"
    assert [note.code for note in seen.notes] == ["views_exchanged"]


def test_two_pictures_from_the_same_side_are_refused(reader: Reader) -> None:
    same = {
        View.FACE_ON: picture_of(RIGHT, View.FACE_ON),
        View.DOWN_THE_LINE: picture_of("driver_neutral_01", View.FACE_ON),
    }
    with pytest.raises(SceneError, match="same side"):
        reader.look(same)


def test_a_left_handers_line_picture_beside_a_right_handers_front_is_refused(
    reader: Reader,
) -> None:
    mixed = {
        View.FACE_ON: picture_of(RIGHT, View.FACE_ON),
        View.DOWN_THE_LINE: picture_of(LEFT, View.DOWN_THE_LINE),
    }
    with pytest.raises(SceneError, match="target's side"):
        reader.look(mixed)


@pytest.mark.parametrize(
    ("name", "view", "words"),
    [
        ("half_way_back_face_on", View.FACE_ON, "not at address"),
        ("taking_the_club_away_face_on", View.FACE_ON, "not at address"),
        ("clip_taking_away_face_on", View.FACE_ON, "not at address"),
        ("finished_swing_down_the_line", View.DOWN_THE_LINE, "not at address"),
        ("seen_from_behind", View.FACE_ON, "from behind"),
        ("seen_from_a_corner", View.FACE_ON, "neither face-on nor down-the-line"),
        ("seen_from_the_target_side", View.DOWN_THE_LINE, "target's side"),
        ("standing_upright_down_the_line", View.DOWN_THE_LINE, "upright"),
    ],
)
def test_what_is_no_set_up_is_refused_in_words(
    reader: Reader, name: str, view: View, words: str
) -> None:
    with pytest.raises(SceneError, match=words) as caught:
        reader.look({view: str(GOLFERS / f"{name}.jpg")})
    assert caught.value.where == f"{name}.jpg"
    assert caught.value.fix


@pytest.mark.parametrize("view", list(View))
def test_a_still_of_a_clip_at_address_is_read(reader: Reader, view: View) -> None:
    seen = reader.look({view: str(GOLFERS / f"clip_at_address_{view.value}.jpg")})
    assert seen.hand is Hand.RIGHT
    assert unseen(seen, view) == set()


def test_a_ball_outside_the_picture_is_left_out_and_said_so(reader: Reader, tmp_path: Path) -> None:
    ball_y = load(RIGHT)["views"]["face_on"]["landmarks_px"]["ball"][1]
    cut = saved(pixels_of(RIGHT, View.FACE_ON)[: int(ball_y) - 6], to=tmp_path / "cut.jpg")
    seen = reader.look({View.FACE_ON: cut})
    missing = unseen(seen, View.FACE_ON)
    assert "ball" in missing
    assert not missing & {"lead_shoe_toe", "trail_shoe_toe", "nose", "grip_mid"}
    assert "cut_off" in codes(seen, View.FACE_ON)


def test_feet_outside_the_picture_are_left_out_and_the_rest_is_read(
    reader: Reader, tmp_path: Path
) -> None:
    ankles = load(RIGHT)["views"]["face_on"]["landmarks_px"]
    height = int(min(ankles["ankle_left"][1], ankles["ankle_right"][1])) - 20
    cut = saved(pixels_of(RIGHT, View.FACE_ON)[:height], to=tmp_path / "cut.jpg")
    seen = reader.look({View.FACE_ON: cut})
    missing = unseen(seen, View.FACE_ON)
    stems = ("ankle", "shoe_heel", "shoe_toe", "foot_ball")
    assert {f"{side}_{stem}" for side in ("lead", "trail") for stem in stems} <= missing
    assert not missing & {"nose", "lead_hip", "trail_shoulder", "lead_knee"}


def erased(scene: str, view: View) -> Pixels:
    """The scene without its golfer: painted over from the outline the renderer wrote."""
    mask = cv2.imread(str(SCENES / scene / f"{view.value}_mask.png"), cv2.IMREAD_GRAYSCALE)
    assert mask is not None
    wide = cv2.dilate(mask, np.ones((21, 21), np.uint8))
    small = cv2.resize(pixels_of(scene, view), None, fx=0.25, fy=0.25)
    hole = cv2.resize(wide, (small.shape[1], small.shape[0])) > 20
    filled = cv2.inpaint(small, hole.astype(np.uint8), 9, cv2.INPAINT_TELEA)
    return np.asarray(cv2.resize(filled, mask.shape[::-1]), dtype=np.uint8)


@pytest.mark.parametrize("view", list(View))
def test_a_picture_without_a_golfer_says_that_nobody_was_found(
    reader: Reader, tmp_path: Path, view: View
) -> None:
    empty = saved(erased(RIGHT, view), to=tmp_path / "empty.jpg")
    with pytest.raises(SceneError, match="Nobody was found"):
        reader.look({view: empty})


def test_noise_says_that_nobody_was_found(reader: Reader, tmp_path: Path) -> None:
    noise = np.random.default_rng(0).integers(0, 255, (640, 480, 3), dtype=np.uint8)
    with pytest.raises(SceneError, match="Nobody was found"):
        reader.look({View.FACE_ON: saved(noise, to=tmp_path / "noise.jpg")})


@pytest.mark.parametrize("quarters", [1, 2, 3])
def test_a_picture_that_lies_on_its_side_is_told_to_be_turned(
    reader: Reader, tmp_path: Path, quarters: int
) -> None:
    turned = np.rot90(pixels_of(RIGHT, View.FACE_ON), quarters)
    with pytest.raises(SceneError, match="lies on its side"):
        reader.look({View.FACE_ON: saved(turned, to=tmp_path / "turned.jpg")})


def test_two_golfers_over_two_balls_are_refused(reader: Reader, tmp_path: Path) -> None:
    left, right = pixels_of(RIGHT, View.FACE_ON), pixels_of(LEFT, View.FACE_ON)
    both = np.hstack([left[:, 100:-160], right[:, 160:-100]])
    with pytest.raises(SceneError, match="Several people") as caught:
        reader.look({View.FACE_ON: saved(both, to=tmp_path / "both.jpg")})
    assert "2 people" in caught.value.why


def test_a_small_bystander_does_not_disturb(reader: Reader, tmp_path: Path) -> None:
    picture = pixels_of(RIGHT, View.FACE_ON).copy()
    other = cv2.resize(pixels_of(LEFT, View.FACE_ON), None, fx=0.3, fy=0.3)
    picture[350 : 350 + other.shape[0], : other.shape[1]] = other
    path = saved(picture, to=tmp_path / "bystander.jpg")
    seen = reader.look({View.FACE_ON: path})
    alone = reader.look({View.FACE_ON: picture_of(RIGHT, View.FACE_ON)})
    for name in LANDMARKS:
        here = seen.pictures[View.FACE_ON].sighting.landmarks[name]
        there = alone.pictures[View.FACE_ON].sighting.landmarks[name]
        assert isinstance(here, ProposedByModel)
        assert isinstance(there, ProposedByModel)
        assert np.hypot(*(here.position_px - there.position_px)) < 4.0


def darkened(rgb: Pixels) -> Pixels:
    noise = np.random.default_rng(0).normal(0.0, 2.0, rgb.shape)
    return np.clip(rgb / 8.0 + noise, 0, 255).astype(np.uint8)


def noisy(rgb: Pixels) -> Pixels:
    noise = np.random.default_rng(0).normal(0.0, 25.0, rgb.shape)
    return np.clip(rgb + noise, 0, 255).astype(np.uint8)


def grey(rgb: Pixels) -> Pixels:
    return np.repeat(rgb.mean(axis=2, keepdims=True).astype(np.uint8), 3, axis=2)


@pytest.mark.parametrize("spoil", [darkened, noisy, grey])
@pytest.mark.parametrize("view", list(View))
def test_a_poor_picture_is_still_read_with_wider_errors(
    reader: Reader, tmp_path: Path, view: View, spoil: object
) -> None:
    assert callable(spoil)
    path = saved(spoil(pixels_of(RIGHT, view)), to=tmp_path / "poor.jpg")
    poor = reader.look({view: path}).pictures[view].sighting.landmarks
    good = reader.look({view: picture_of(RIGHT, view)}).pictures[view].sighting.landmarks
    spreads: list[float] = []
    for name in LANDMARKS:
        here, there = poor[name], good[name]
        assert isinstance(here, ProposedByModel)
        assert isinstance(there, ProposedByModel)
        assert np.hypot(*(here.position_px - there.position_px)) < 15.0  # about 5 cm
        ratio = np.linalg.det(here.covariance_px2) / np.linalg.det(there.covariance_px2)
        spreads.append(float(np.log(ratio)))
    assert np.median(spreads) > 0.0


def test_a_broken_file_is_refused_before_anything_is_looked_for(
    reader: Reader, tmp_path: Path
) -> None:
    broken = tmp_path / "broken.jpg"
    broken.write_bytes(Path(picture_of(RIGHT, View.FACE_ON)).read_bytes()[:20_000])
    told: list[str] = []
    with pytest.raises(PictureError, match=r"broken\.jpg"):
        reader.look(
            {View.DOWN_THE_LINE: picture_of(RIGHT, View.DOWN_THE_LINE), View.FACE_ON: str(broken)},
            progress=lambda step, _share: told.append(step),
        )
    assert all(step.startswith("Opening") for step in told)
