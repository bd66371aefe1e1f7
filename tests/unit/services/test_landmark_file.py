"""The landmark file: written, corrected, read back."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from attrs import evolve
from hypothesis import given
from hypothesis import strategies as st

from tests.support.sightings import by_hand, changed, hidden, scene_sightings
from wellset.errors import InputError
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.sighting import (
    NotSeen,
    PictureFacts,
    PlacedByCoach,
    ProposedByModel,
    Sighting,
)
from wellset.figure.views import Hand, View
from wellset.services.landmark_file import (
    HAND_SD_OF_HEIGHT,
    landmark_file_text,
    merge,
    mirror,
    read_landmarks,
)

RIGHT = "mid_iron_neutral_21"
LEFT = "mid_iron_left_handed_weight_in_heels_01"


def rich(scene: str) -> list[Sighting]:
    """Sightings with every kind of placement, sticks and tilted covariances."""
    front, side = (
        evolve(s, picture=evolve(s.picture, focal_35mm=26.0)) for s in scene_sightings(scene)
    )
    tilted = ProposedByModel(
        position_px=(120.25, 640.5),
        covariance_px2=[[4.0, 1.5], [1.5, 2.0]],
        disagreement_px=6.25,
    )
    front = changed(front, "t8", to=lambda _: tilted)
    front = changed(front, "c7", to=by_hand((3.0, -2.0), sd_px=2.0))
    return [front, hidden(side, "lead_hip", "lead_ear")]


def as_text(sightings: Sequence[Sighting], *, hand: Hand) -> str:
    return landmark_file_text(hand, {s.view: s for s in sightings})


def minimal(**point: object) -> dict[str, Any]:
    return {
        "schema": "wellset.landmarks/1",
        "hand": "right",
        "views": {
            "face_on": {
                "picture": {"width_px": 720, "height_px": 1280},
                "landmarks": {"ball": point or {"x_px": 364.0, "y_px": 1098.5}},
            }
        },
    }


def read(data: object, *, hand: Hand | None = None) -> dict[View, Sighting]:
    return dict(read_landmarks(json.dumps(data), where="points.json", hand=hand).sightings)


def placed(data: object, *, hand: Hand | None = None) -> PlacedByCoach:
    point = read(data, hand=hand)[View.FACE_ON].landmarks["ball"]
    assert isinstance(point, PlacedByCoach)
    return point


@pytest.mark.parametrize(("scene", "hand"), [(RIGHT, Hand.RIGHT), (LEFT, Hand.LEFT)])
def test_a_file_read_and_written_again_is_the_same_text(scene: str, hand: Hand) -> None:
    text = as_text(rich(scene), hand=hand)
    file = read_landmarks(text, where="l.json")
    assert file.hand is hand
    assert landmark_file_text(hand, file.sightings) == text
    assert all(file.complete(view) for view in View)


def test_a_file_keeps_who_placed_a_point_and_what_the_model_proposed() -> None:
    front, side = read_landmarks(
        as_text(rich(RIGHT), hand=Hand.RIGHT), where="l.json"
    ).sightings.values()
    coach, model = front.landmarks["c7"], front.landmarks["t8"]
    assert isinstance(coach, PlacedByCoach)
    assert isinstance(coach.proposal, ProposedByModel)
    assert coach.position_px - coach.proposal.position_px == pytest.approx([3, -2], abs=0.011)
    assert isinstance(model, ProposedByModel)
    assert model.disagreement_px == 6.25
    assert side.landmarks["lead_hip"] == NotSeen(why="out of the frame")
    assert len(front.sticks) == 2


def test_a_left_handers_points_are_written_where_they_are_in_the_picture_as_taken() -> None:
    front, _ = rich(LEFT)
    data = json.loads(as_text([front], hand=Hand.LEFT))["views"]["face_on"]
    point = data["landmarks"]["t8"]
    # By hand: x becomes width - x, and x and y then vary together with the other sign.
    assert point["x_px"] == pytest.approx(front.picture.width_px - 120.25)
    assert point["y_px"] == 640.5
    assert point["covariance_px2"] == [4.0, -1.5, 2.0]


def test_mirroring_turns_the_sign_of_the_covariance_and_keeps_the_spread() -> None:
    front, _ = rich(RIGHT)
    old, new = front.landmarks["t8"], mirror(front).landmarks["t8"]
    assert isinstance(old, ProposedByModel)
    assert isinstance(new, ProposedByModel)
    assert new.covariance_px2.tolist() == [[4.0, -1.5], [-1.5, 2.0]]
    assert "-0.0" not in as_text([front], hand=Hand.LEFT)
    assert np.linalg.eigvalsh(new.covariance_px2) == pytest.approx(
        np.linalg.eigvalsh(old.covariance_px2)
    )


@given(
    x=st.floats(-300, 1000),
    y=st.floats(-300, 1500),
    xx=st.floats(0.1, 100),
    yy=st.floats(0.1, 100),
    share=st.floats(-0.95, 0.95),
    width=st.integers(1, 9000),
)
def test_a_sighting_mirrored_twice_is_itself(
    x: float, y: float, xx: float, yy: float, share: float, width: int
) -> None:
    xy = share * (xx * yy) ** 0.5
    proposal = ProposedByModel(position_px=(y, x), covariance_px2=[[yy, xy], [xy, xx]])
    point = PlacedByCoach(
        position_px=(x, y), covariance_px2=[[xx, xy], [xy, yy]], proposal=proposal
    )
    facts = PictureFacts(name="a", width_px=width, height_px=9, focal_35mm=None)
    sighting = Sighting(view=View.FACE_ON, picture=facts, landmarks={"nose": point})
    back = mirror(mirror(sighting)).landmarks["nose"]
    assert isinstance(back, PlacedByCoach)
    assert back.position_px == pytest.approx(point.position_px, abs=1e-9)
    assert back.covariance_px2.tolist() == point.covariance_px2.tolist()
    assert back.proposal is not None
    assert back.proposal.position_px == pytest.approx(proposal.position_px, abs=1e-9)


def test_a_point_without_spread_gets_that_of_a_hand_placed_point() -> None:
    sd = HAND_SD_OF_HEIGHT * 1280
    assert placed(minimal()).covariance_px2.tolist() == [[sd**2, 0], [0, sd**2]]


def test_a_spread_given_by_the_coach_is_used() -> None:
    point = placed(minimal(x_px=1, y_px=2, sd_px=3))
    assert point.covariance_px2.tolist() == [[9, 0], [0, 9]]


def test_the_hand_of_the_request_mirrors_a_file_that_names_none() -> None:
    data = minimal()
    del data["hand"]
    assert placed(data).position_px.tolist() == [364.0, 1098.5]
    assert placed(data, hand=Hand.LEFT).position_px.tolist() == [720 - 364.0, 1098.5]


def test_a_file_with_some_points_is_not_complete() -> None:
    file = read_landmarks(json.dumps(minimal()), where="l.json")
    assert not file.complete(View.FACE_ON)
    assert not file.complete(View.DOWN_THE_LINE)


def test_sticks_placed_by_hand_replace_those_found_which_are_kept() -> None:
    front, _ = scene_sightings(RIGHT)
    bare = evolve(front, landmarks={}, sticks=())
    mine = evolve(front.sticks[0], by_hand=True)
    merged = merge(evolve(bare, sticks=(mine,)), front, sticks_given=True)
    assert merged.sticks == (mine,)
    assert merged.replaced_sticks == front.sticks


def test_a_file_that_says_nothing_of_sticks_leaves_those_found() -> None:
    front, _ = scene_sightings(RIGHT)
    bare = evolve(front, landmarks={}, sticks=())
    merged = merge(bare, front, sticks_given=False)
    assert (merged.sticks, merged.replaced_sticks) == (front.sticks, ())


def test_an_empty_list_says_that_what_was_found_is_no_stick() -> None:
    front, _ = scene_sightings(RIGHT)
    merged = merge(evolve(front, landmarks={}, sticks=()), front, sticks_given=True)
    assert (merged.sticks, merged.replaced_sticks) == ((), front.sticks)


def test_found_sticks_of_a_partial_file_do_not_replace_those_found_now() -> None:
    front, _ = scene_sightings(RIGHT)
    merged = merge(evolve(front, landmarks={}), front, sticks_given=True)
    assert (merged.sticks, merged.replaced_sticks) == (front.sticks, ())


FACE_ON = ("views", "face_on")
BALL = (*FACE_ON, "landmarks", "ball")
MISTAKES: dict[str, tuple[tuple[str, ...], object, str]] = {
    "unknown landmark": (
        (*FACE_ON, "landmarks", "chin"),
        {"x_px": 1, "y_px": 2},
        r"views\.face_on\.landmarks\.chin: there is no landmark of this name",
    ),
    "NaN": ((*BALL, "x_px"), float("nan"), r"landmarks\.ball\.x_px: .*finite"),
    "infinite": ((*BALL, "y_px"), float("inf"), r"landmarks\.ball\.y_px: .*finite"),
    "text": ((*BALL, "y_px"), "low", r"landmarks\.ball\.y_px: .*number"),
    "negative spread": ((*BALL, "sd_px"), -1, r"landmarks\.ball\.sd_px: .*greater than 0"),
    "no spread at all": ((*BALL, "sd_px"), 0, r"landmarks\.ball\.sd_px: .*greater than 0"),
    "impossible covariance": (
        (*BALL, "covariance_px2"),
        [1, 2, 1],
        r"ball\.covariance_px2: must be xx, xy, yy of a positive definite",
    ),
    "unknown field": ((*BALL, "size"), 3, r"ball\.size: this field is not known"),
    "no fields": (BALL, 7, r"landmarks\.ball: fields with names are expected"),
    "reason that is none": (BALL, {"not_seen": 1}, r"landmarks\.ball\.not_seen: .*string"),
    "far outside": ((*BALL, "x_px"), 5000, r"far outside the picture: landmarks\.ball"),
    "no width": ((*FACE_ON, "picture"), {"height_px": 9}, r"picture\.width_px: .*is missing"),
    "name with a control character": (
        (*FACE_ON, "picture", "name"),
        "a\x1b[2J.jpg",
        r"picture\.name: .*readable",
    ),
    "name with half a character": (
        (*FACE_ON, "picture", "name"),
        "a\ud800.jpg",
        r"picture\.name: ",
    ),
    "no area": ((*FACE_ON, "picture", "width_px"), 0, r"picture\.width_px: .*greater than 0"),
    "stick of one point": (
        (*FACE_ON, "sticks"),
        [{"ends_px": [[1, 1], [1, 1]]}],
        r"sticks\.0\.ends_px: must be two different points",
    ),
    "stick without place": (
        (*FACE_ON, "sticks"),
        [{"ends_px": [[1, 1], [float("nan"), 1]]}],
        r"sticks\.0\.ends_px\.1\.0: .*finite",
    ),
    "other schema": (("schema",), "wellset.landmarks/9", r"schema: .*wellset\.landmarks/1"),
    "unknown view": (("views", "above"), {}, r"views\.above: .*face_on.*down_the_line"),
    "no views": (("views",), {}, r"views: .*at least 1"),
    "unknown hand": (("hand",), "both", r"hand: .*right.*left"),
}


def with_mistake(data: dict[str, Any], path: Sequence[str], value: object) -> dict[str, Any]:
    inner = data
    for key in path[:-1]:
        inner = inner[key]
    inner[path[-1]] = value
    return data


@pytest.mark.parametrize("mistake", MISTAKES)
def test_a_wrong_entry_is_named_with_its_path_and_the_file(mistake: str) -> None:
    path, value, words = MISTAKES[mistake]
    with pytest.raises(InputError, match=words) as caught:
        read(with_mistake(minimal(), path, value))
    assert caught.value.where == "points.json"
    assert "_point" not in caught.value.sentence  # the validator's own words stay inside


def test_every_wrong_entry_is_named_at_once() -> None:
    data = minimal()
    chosen = ["unknown landmark", "NaN", "negative spread", "no width", "unknown hand"]
    for mistake in chosen:
        path, value, _ = MISTAKES[mistake]
        with_mistake(data, path, value)
    with pytest.raises(InputError) as caught:
        read(data)
    for name in ("chin", "ball.x_px", "ball.sd_px", "width_px", "hand"):
        assert name in caught.value.why


def test_several_points_far_outside_are_all_named() -> None:
    data = minimal()
    far = {"x_px": -4000, "y_px": 1}
    data["views"]["face_on"]["landmarks"] = {"nose": far, "c7": far}
    with pytest.raises(InputError, match=r"landmarks\.nose, landmarks\.c7"):
        read(data)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("{", "line 1, column 2 is not valid JSON"),
        ("", "line 1, column 1 is not valid JSON"),
        ("[" * 100_000, "nested too deeply"),
        ("1" * 5000, "a date or number that is none"),
        ("3", "the document: fields with names"),
    ],
    ids=["cut off", "empty", "endless brackets", "endless number", "a number"],
)
def test_text_that_is_no_landmark_file_is_refused_in_words(text: str, words: str) -> None:
    with pytest.raises(InputError, match=words):
        read_landmarks(text, where="points.json")


def test_the_written_file_names_every_landmark_in_their_order() -> None:
    data = json.loads(as_text(scene_sightings(RIGHT), hand=Hand.RIGHT))
    assert list(data["views"]["face_on"]["landmarks"]) == list(LANDMARKS)
