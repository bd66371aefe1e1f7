from __future__ import annotations

import json

import pytest

from tests.support.sightings import hidden, scene_sightings
from wellset.errors import InputError
from wellset.figure.sighting import NotSeen, PlacedByCoach, ProposedByModel, Sighting
from wellset.figure.views import Hand, View
from wellset.services.corrections import is_corrected
from wellset.services.landmark_file import landmark_file_text, read_landmarks
from wellset.services.points import Deed, PointEdit, StickEdit, edited

SCENE = "mid_iron_neutral_21"
KNEE = "lead_knee"


@pytest.fixture(scope="module")
def sightings() -> dict[View, Sighting]:
    front, side = scene_sightings(SCENE)
    return {View.FACE_ON: hidden(front, "trail_ear"), View.DOWN_THE_LINE: side}


def file_of(sightings: dict[View, Sighting]) -> str:
    return landmark_file_text(Hand.RIGHT, sightings)


def read(text: str) -> Sighting:
    return read_landmarks(text, where="test").sightings[View.FACE_ON]


def knee(deed: Deed, at_px: tuple[float, float] = (0.0, 0.0)) -> PointEdit:
    return PointEdit(view=View.FACE_ON, landmark=KNEE, deed=deed, at_px=at_px)


def test_a_placed_point_keeps_the_proposal_however_often_it_is_placed(
    sightings: dict[View, Sighting],
) -> None:
    text = file_of(sightings)
    own = read(text).landmarks[KNEE]
    twice = edited(
        edited(text, [knee(Deed.PLACE, (500.0, 600.0))]), [knee(Deed.PLACE, (510.0, 610.0))]
    )
    placed = read(twice).landmarks[KNEE]
    assert isinstance(placed, PlacedByCoach)
    assert isinstance(own, ProposedByModel)
    assert placed.position_px.tolist() == [510.0, 610.0]
    assert placed.proposal is not None
    assert placed.proposal.position_px.tolist() == own.position_px.tolist()


def test_what_is_given_back_leaves_no_trace(sightings: dict[View, Sighting]) -> None:
    text = file_of(sightings)
    for deed in (Deed.PLACE, Deed.RULE_OUT):
        assert is_corrected([read(edited(text, [knee(deed, (500.0, 600.0))]))])
        back = edited(edited(text, [knee(deed, (500.0, 600.0))]), [knee(Deed.BACK)])
        assert json.loads(back) == json.loads(text)


def test_a_point_that_no_network_saw_can_be_placed_and_taken_away(
    sightings: dict[View, Sighting],
) -> None:
    ear = PointEdit(view=View.FACE_ON, landmark="trail_ear", deed=Deed.PLACE, at_px=(10.0, 20.0))
    placed = edited(file_of(sightings), [ear])
    assert isinstance(read(placed).landmarks["trail_ear"], PlacedByCoach)
    away = PointEdit(view=View.FACE_ON, landmark="trail_ear", deed=Deed.BACK)
    gone = read(edited(placed, [away])).landmarks["trail_ear"]
    assert isinstance(gone, NotSeen)
    assert not is_corrected([read(edited(placed, [away]))])


def test_sticks_are_laid_otherwise_taken_away_and_added(sightings: dict[View, Sighting]) -> None:
    text = file_of(sightings)
    found = read(text).sticks
    assert len(found) == 2
    edits = [
        StickEdit(view=View.FACE_ON, number=0, ends_px=None),
        StickEdit(view=View.FACE_ON, number=1, ends_px=((1.0, 2.0), (300.0, 4.0))),
        StickEdit(view=View.FACE_ON, number=2, ends_px=((5.0, 6.0), (7.0, 80.0))),
    ]
    after = read(edited(text, edits))
    assert [stick.ends_px.tolist() for stick in after.sticks] == [
        [[1.0, 2.0], [300.0, 4.0]],
        [[5.0, 6.0], [7.0, 80.0]],
    ]
    assert all(stick.by_hand for stick in after.sticks)
    assert {tuple(s.ends_px.ravel()) for s in after.replaced_sticks} == {
        tuple(s.ends_px.ravel()) for s in found
    }


def test_a_point_far_outside_its_picture_is_refused_by_name(
    sightings: dict[View, Sighting],
) -> None:
    with pytest.raises(InputError, match=r"far outside the picture: landmarks\.lead_knee"):
        edited(file_of(sightings), [knee(Deed.PLACE, (99999.0, 5.0))])


def test_a_file_that_is_none_is_refused() -> None:
    with pytest.raises(InputError, match="cannot be"):
        edited('{"schema": "other"}', [knee(Deed.BACK)])
