"""View, hand, address: decided from turn, rest and preference, refused in words."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from wellset.errors import SceneError
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import Hand, View
from wellset.vision.crops import square_cutout
from wellset.vision.facing import Facing
from wellset.vision.general import POINTS, Body
from wellset.vision.golfer import Golfer
from wellset.vision.looks import ARMS, Look
from wellset.vision.pairing import Candidate, agree_on_hand, settle_views
from wellset.vision.recognise import (
    check_address,
    choose_among,
    hand_from,
    is_aside,
    is_nobody,
    nobody,
)

COUNT = len(LANDMARKS)

BODY = Body(
    presence=1.0,
    points_px=np.zeros((POINTS, 2)),
    visibility=np.ones(POINTS),
    points_m=np.zeros((POINTS, 3)),
    outline=np.zeros((256, 256), dtype=np.float32),
    cutout=square_cutout(centre_px=(0.0, 0.0), side_px=256.0, size=256),
)


def a_look(*, arms: float = 0.0, spread: float = 0.5) -> Look:
    """A look whose arms are harder to read than the legs by this log ratio."""
    wide = np.full((COUNT, 2), spread)
    wide[list(ARMS)] *= np.exp(arms)
    points = np.tile([500.0, 500.0], (COUNT, 1))
    points[:, 0] += np.arange(COUNT)  # a body leaning to the side, as seen down the line
    points[LANDMARKS.index("lead_shoulder")] = points[LANDMARKS.index("trail_shoulder")] = [
        640.0, 340.0,
    ]  # fmt: skip
    points[LANDMARKS.index("lead_hip")] = points[LANDMARKS.index("trail_hip")] = [520.0, 500.0]
    return Look(
        points_px=points,
        spread_px=wide,
        cutout=square_cutout(centre_px=(500.0, 500.0), side_px=800.0, size=320),
        height_px=500.0,
        picture_px=(1000.0, 1000.0),
    )


def a_golfer(
    *,
    turn_deg: float = 0.0,
    mirrored: bool = False,
    arms: float = 0.0,
    spread: float = 0.5,
    prefers: float | None = 0.5,
    **facing: float,
) -> Golfer:
    stands = {
        "hands_across": 0.0,
        "hands_below": 0.05,
        "hands_apart": 0.04,
        "bend_to_camera": 0.7,
        "lean": 0.1,
        **facing,
    }
    seen = a_look(arms=arms, spread=spread)
    return Golfer(
        body=BODY,
        facing=Facing(turn=float(np.radians(turn_deg)), **stands),
        seen=seen,
        other_way=None if prefers is None else a_look(arms=arms, spread=spread * np.exp(prefers)),
        mirrored=mirrored,
    )


def front(*, mirrored: bool = False, prefers: float = 0.5) -> Candidate:
    golfer = a_golfer(mirrored=mirrored, prefers=prefers)
    return Candidate(name="front.jpg", claimed=View.FACE_ON, golfer=golfer)


def along(*, turn_deg: float = 90.0, arms: float = 0.0) -> Candidate:
    golfer = a_golfer(turn_deg=turn_deg, mirrored=turn_deg < 0, prefers=None, arms=arms)
    return Candidate(name="along.jpg", claimed=View.DOWN_THE_LINE, golfer=golfer)


@pytest.mark.parametrize(
    ("turn", "view"),
    [
        (0, View.FACE_ON),
        (-30, View.FACE_ON),
        (48, None),
        (88, View.DOWN_THE_LINE),
        (-88, View.DOWN_THE_LINE),
        (135, None),
        (178, None),
    ],
)
def test_the_view_follows_from_the_turn(turn: float, view: View | None) -> None:
    assert a_golfer(turn_deg=turn).facing.view is view


def test_confidence_falls_towards_the_boundary() -> None:
    turns = [0.0, 30.0, 45.0]
    values = [a_golfer(turn_deg=turn).facing.confidence for turn in turns]
    assert values == sorted(values, reverse=True)
    assert values[0] > 0.99
    assert 0.5 <= values[-1] < 0.75


def test_a_golfer_at_rest_square_to_the_camera_passes_without_remark() -> None:
    assert check_address(a_golfer(), name="a.jpg") == ()
    assert check_address(a_golfer(turn_deg=90.0), name="a.jpg") == ()


def test_a_golfer_off_square_passes_with_a_remark() -> None:
    codes = [note.code for note in check_address(a_golfer(turn_deg=33.0), name="a.jpg")]
    assert codes == ["camera_off_square"]


def test_a_club_that_may_be_moving_is_remarked_on() -> None:
    codes = [note.code for note in check_address(a_golfer(arms=0.75), name="a.jpg")]
    assert codes == ["maybe_not_still"]


@pytest.mark.parametrize(
    ("golfer", "words"),
    [
        (a_golfer(arms=3.0), "not at address"),
        (a_golfer(arms=3.0, hands_below=-0.15, hands_across=-0.3), "30 % of the body's height"),
        (a_golfer(hands_below=-0.4), "40 % of the body's height above the hips"),
        (a_golfer(turn_deg=178.0, arms=2.5), "from behind"),
        (a_golfer(turn_deg=48.0), "neither face-on nor down-the-line"),
        (a_golfer(arms=0.9, bend_to_camera=0.05), "upright"),
        (a_golfer(spread=8.0), "cannot be read"),
    ],
)
def test_what_is_no_address_is_refused_with_its_numbers(golfer: Golfer, words: str) -> None:
    with pytest.raises(SceneError, match=words) as caught:
        check_address(golfer, name="a.jpg")
    assert caught.value.where == "a.jpg"
    assert any(letter.isdigit() for letter in caught.value.why)


def test_nobody_is_told_from_somebody_the_network_does_not_know() -> None:
    somebody = a_golfer(spread=20.0)
    assert not is_nobody(somebody)
    assert is_nobody(evolve(somebody, body=evolve(BODY, presence=0.3)))
    assert is_nobody(evolve(somebody, body=evolve(BODY, visibility=np.full(POINTS, 0.5))))
    assert not is_nobody(a_golfer())
    assert "on its side" in nobody(name="a.jpg", turned=True).what
    assert "Nobody" in nobody(name="a.jpg", turned=False).what


def test_of_two_people_the_one_at_address_is_the_golfer() -> None:
    swinging, still = a_golfer(arms=3.0), a_golfer()
    assert choose_among(swinging, (still,), name="a.jpg") is still
    assert choose_among(still, (swinging,), name="a.jpg") is still
    with pytest.raises(SceneError, match="Several people"):
        choose_among(still, (a_golfer(),), name="a.jpg")


def test_face_on_the_surer_way_round_tells_the_hand() -> None:
    assert hand_from(a_golfer()).hand is Hand.RIGHT
    assert hand_from(a_golfer(mirrored=True)).hand is Hand.LEFT
    assert hand_from(a_golfer(prefers=0.5)).confidence > 0.99
    assert hand_from(a_golfer(prefers=0.02)).confidence < 0.6


@pytest.mark.parametrize("left", [False, True])
def test_two_pictures_agree_on_the_hand(left: bool) -> None:
    pair = {
        View.FACE_ON: front(mirrored=left),
        View.DOWN_THE_LINE: along(turn_deg=-90.0 if left else 90.0),
    }
    hand, notes = agree_on_hand(pair, hand=None)
    assert hand is (Hand.LEFT if left else Hand.RIGHT)
    assert notes == ()


def test_a_right_hander_who_faces_left_down_the_line_is_seen_from_the_target_side() -> None:
    pair = {View.FACE_ON: front(), View.DOWN_THE_LINE: along(turn_deg=-90.0)}
    with pytest.raises(SceneError, match="target's side"):
        agree_on_hand(pair, hand=None)
    with pytest.raises(SceneError, match="target's side"):
        agree_on_hand({View.DOWN_THE_LINE: along(turn_deg=-90.0)}, hand=Hand.RIGHT)


def test_alone_a_golfer_facing_left_is_left_handed_only_if_the_network_knows_the_sight() -> None:
    known = {View.DOWN_THE_LINE: along(turn_deg=-90.0)}
    assert agree_on_hand(known, hand=None)[0] is Hand.LEFT
    half_known = {View.DOWN_THE_LINE: along(turn_deg=-90.0, arms=0.4)}
    with pytest.raises(SceneError, match="does not tell a left-hander"):
        agree_on_hand(half_known, hand=None)
    assert agree_on_hand(half_known, hand=Hand.LEFT)[0] is Hand.LEFT


def test_what_the_caller_says_about_the_hand_wins_with_a_remark() -> None:
    hand, notes = agree_on_hand({View.FACE_ON: front()}, hand=Hand.LEFT)
    assert hand is Hand.LEFT
    assert [note.code for note in notes] == ["hand_contradicted"]


def test_when_nothing_tells_the_hand_it_is_asked_for() -> None:
    with pytest.raises(SceneError, match="right- or left-handed"):
        agree_on_hand({View.FACE_ON: front(prefers=0.03)}, hand=None)


def test_two_pictures_from_the_same_side_are_both_named() -> None:
    second = Candidate(name="again.jpg", claimed=View.DOWN_THE_LINE, golfer=a_golfer())
    with pytest.raises(SceneError, match="same side") as caught:
        settle_views({View.FACE_ON: front(), View.DOWN_THE_LINE: second})
    assert "front.jpg and again.jpg" in caught.value.why
    assert "down-the-line" in caught.value.fix


def test_exchanged_pictures_are_put_right_with_a_remark() -> None:
    pair = {
        View.FACE_ON: evolve(along(), claimed=View.FACE_ON),
        View.DOWN_THE_LINE: evolve(front(), claimed=View.DOWN_THE_LINE),
    }
    settled, notes = settle_views(pair)
    assert settled[View.FACE_ON].name == "front.jpg"
    assert settled[View.DOWN_THE_LINE].name == "along.jpg"
    assert [note.code for note in notes] == ["views_exchanged"]


def test_one_picture_given_as_the_wrong_view_is_refused_unless_the_caller_insists() -> None:
    wrong = {View.DOWN_THE_LINE: evolve(front(), claimed=View.DOWN_THE_LINE)}
    with pytest.raises(SceneError, match="not down-the-line"):
        settle_views(wrong)
    settled, notes = settle_views(wrong, trust=True)
    assert settled == wrong
    assert [note.code for note in notes] == ["view_contradicted"]


@pytest.mark.parametrize(("by", "said"), [(0.3, []), (1.0, ["maybe_not_still"])])
def test_a_club_head_harder_to_read_than_the_body_is_remarked_on(
    by: float, said: list[str]
) -> None:
    golfer = a_golfer()
    wide = np.array(golfer.seen.spread_px)
    wide[LANDMARKS.index("club_head")] *= np.exp(by)
    moving = evolve(golfer, seen=evolve(golfer.seen, spread_px=wide))
    assert [note.code for note in check_address(moving, name="a.jpg")] == said


@pytest.mark.parametrize(("width", "aside"), [(1000.0, False), (2000.0, True)])
def test_a_golfer_at_the_side_of_a_wide_picture_may_have_been_cut_out_of_it(
    width: float, aside: bool
) -> None:
    golfer = a_golfer()
    wide = evolve(golfer, seen=evolve(golfer.seen, picture_px=(width, 1000.0)))
    assert is_aside(wide) is aside
