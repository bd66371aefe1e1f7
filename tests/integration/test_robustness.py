"""Pictures made worse, cut, crowded or mixed up: right, or refused in words, never silently wrong.

A short part of ``benchmarks/robustness.py``, on the scenes that the tests carry.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from benchmarks import spoiling as s
from benchmarks.scenes import Scene
from benchmarks.spoiling import Pair, Shot
from tests.support.truth import SCENES, load, scene_name
from wellset import bootstrap
from wellset.errors import SceneError
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.sighting import NotSeen
from wellset.figure.views import Hand, View
from wellset.measures import COVERAGE_FACTOR, Measured
from wellset.services.assessment import Assessment
from wellset.vision.general import Detection, GeneralModel
from wellset.vision.reader import Reader

RIGHT = "mid_iron_neutral_21"
LEFT = "mid_iron_left_handed_weight_in_heels_01"
DRIVER = "driver_neutral_01"


@pytest.fixture(scope="module")
def reader() -> Reader:
    return Reader(crops=1, threads=1)


def scene(name: str) -> Scene:
    return Scene(folder=SCENES / name, truth=dict(load(name)))


def pair(name: str) -> Pair:
    return {view: s.load(scene(name), view) for view in View}


def written(pictures: Pair, folder: Path) -> dict[View, str]:
    return {view: str(shot.write(folder / f"{view.value}.jpg")) for view, shot in pictures.items()}


def assessed(
    pictures: Pair, folder: Path, *, name: str = RIGHT, monkeypatch: pytest.MonkeyPatch
) -> Assessment:
    paths = written(pictures, folder)
    monkeypatch.setattr(bootstrap, "picture_reader", lambda _wanted: Reader(crops=1, threads=1))
    options = scene(name).options
    return bootstrap.assess_request(
        face_on=paths.get(View.FACE_ON),
        down_the_line=paths.get(View.DOWN_THE_LINE),
        club=options["club"],
        height=options["height"],
        club_length=options["club_length"],
        club_lie=options["club_lie"],
    )


def distances(result: Assessment, name: str) -> dict[str, float]:
    """How many of its standard uncertainties each measure lies from the scene's truth."""
    truth = load(name)["measures"]
    return {
        id_: abs(found.value - truth[id_]["value"]) / found.sd
        for id_, found in result.measures.items()
        if isinstance(found, Measured)
    }


def codes(result: Assessment) -> set[str]:
    notes = [*result.notes, *(n for p in result.pictures.values() for n in p.notes)]
    return {note.code for note in notes}


def assert_right(result: Assessment, name: str = RIGHT) -> None:
    away = distances(result, name)
    assert away
    assert max(away.values()) < 4.0, away
    assert np.mean([z < COVERAGE_FACTOR for z in away.values()]) > 0.85, away


def offsets_px(
    reader: Reader, path: str, *, name: str, view: View, shift: float = 0.0
) -> list[float]:
    """Distance of every point read from the scene's own, the picture moved right by ``shift``."""
    seen = reader.look({view: path}).pictures[view]
    truth = load(name)
    width = seen.sighting.picture.width_px
    found = []
    for landmark in LANDMARKS:
        place = seen.sighting.landmarks[landmark]
        assert not isinstance(place, NotSeen), landmark
        x, y = truth["views"][view.value]["landmarks_px"][scene_name(truth, landmark)]
        at = place.position_px
        taken = np.array([width - at[0] if seen.mirrored else at[0], at[1]])
        found.append(float(np.hypot(*(taken - [x + shift, y]))))
    return found


@pytest.mark.parametrize("spoil", [s.grey, s.noisy, s.bright], ids=["grey", "noisy", "bright"])
@pytest.mark.parametrize("name", [LEFT, DRIVER])
def test_a_poor_picture_is_read_to_a_few_centimetres(
    reader: Reader, tmp_path: Path, spoil: s.Change, name: str
) -> None:
    path = str(spoil(s.load(scene(name), View.DOWN_THE_LINE)).write(tmp_path / "poor.jpg"))
    away = offsets_px(reader, path, name=name, view=View.DOWN_THE_LINE)
    assert np.median(away) < 4.0  # about 1.3 cm
    assert max(away) < 25.0  # about 8 cm


def test_a_landscape_picture_is_read_like_the_upright_one_in_its_middle(
    reader: Reader, tmp_path: Path
) -> None:
    shot = s.load(scene(RIGHT), View.FACE_ON)
    wide = s.landscape(shot)
    shift = (wide.rgb.shape[1] - shot.rgb.shape[1]) // 2
    path = str(wide.write(tmp_path / "wide.jpg"))
    away = offsets_px(reader, path, name=RIGHT, view=View.FACE_ON, shift=float(shift))
    assert max(away) < 15.0


def test_somebody_behind_the_golfer_does_not_draw_points_to_himself(
    reader: Reader, tmp_path: Path
) -> None:
    """At three fifths of the golfer's height, in the same cut-out of the landmark network."""
    for view in View:
        crowded = s.with_bystander(
            scene(DRIVER),
            view=view,
            shot=s.load(scene(DRIVER), view),
            other=scene(RIGHT),
            share=0.35,
            on_the_left=True,
        )
        path = str(crowded.write(tmp_path / f"{view.value}.jpg"))
        assert max(offsets_px(reader, path, name=DRIVER, view=view)) < 25.0


class Blind(GeneralModel):
    """A general model that never finds anybody by itself."""

    def detect(self, *_arguments: object, **_options: object) -> tuple[Detection, ...]:
        """Nobody."""
        return ()


@pytest.mark.parametrize("name", [RIGHT, LEFT])
def test_a_golfer_whom_the_general_model_overlooks_is_still_found(
    tmp_path: Path, name: str
) -> None:
    reader = Reader(crops=1, threads=1)
    vars(reader)["model"] = Blind()
    seen = reader.look(written(pair(name), tmp_path))
    assert seen.hand.value == load(name)["hand"]
    for picture in seen.pictures.values():
        assert not any(isinstance(p, NotSeen) for p in picture.sighting.landmarks.values())


def test_a_place_without_golfer_stays_empty_to_the_last_search(tmp_path: Path) -> None:
    reader = Reader(crops=1, threads=1)
    empty = s.erased(scene(RIGHT), view=View.FACE_ON, shot=s.load(scene(RIGHT), View.FACE_ON))
    with pytest.raises(SceneError, match="Nobody was found"):
        reader.look(written({View.FACE_ON: empty}, tmp_path))


def test_a_camera_turned_away_from_the_golfer_is_allowed_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    away: dict[View, Shot] = {
        view: s.turned_away(scene(RIGHT), view=view, shot=shot, degrees=10.0)
        for view, shot in pair(RIGHT).items()
    }
    assert_right(assessed(away, tmp_path, monkeypatch=monkeypatch))


def test_pictures_cut_closely_are_right_with_wider_ranges_and_said_to_be_cut(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    whole = assessed(pair(RIGHT), tmp_path, monkeypatch=monkeypatch)
    cut = {
        view: s.cut_closely(scene(RIGHT), view=view, shot=shot)
        for view, shot in pair(RIGHT).items()
    }
    found = assessed(cut, tmp_path, monkeypatch=monkeypatch)
    assert_right(found)
    assert "picture_cut" in codes(found)
    for measure in ("stance_width", "shaft_angle"):
        before, after = whole.measures[measure], found.measures[measure]
        assert isinstance(before, Measured)
        assert not isinstance(after, Measured) or after.sd > before.sd


@pytest.mark.parametrize("view", list(View))
def test_feet_cut_off_in_one_picture_leave_the_rest_right(
    tmp_path: Path, view: View, monkeypatch: pytest.MonkeyPatch
) -> None:
    pictures = pair(RIGHT)
    cut = s.without_feet(scene(RIGHT), view=view, shot=pictures[view])
    found = assessed({**pictures, view: cut}, tmp_path, monkeypatch=monkeypatch)
    assert_right(found)
    assert "cut_off" in codes(found)


def test_pictures_of_two_students_are_said_not_to_belong_together(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    mixed = {**pair(RIGHT), View.DOWN_THE_LINE: s.load(scene(DRIVER), View.DOWN_THE_LINE)}
    assert "pictures_disagree" in codes(assessed(mixed, tmp_path, monkeypatch=monkeypatch))


def test_both_pictures_mirrored_are_a_golfer_of_the_other_hand(
    reader: Reader, tmp_path: Path
) -> None:
    flipped = {view: s.mirrored(shot) for view, shot in pair(RIGHT).items()}
    assert reader.look(written(flipped, tmp_path)).hand is Hand.LEFT


@pytest.mark.parametrize("view", list(View))
def test_one_picture_mirrored_alone_is_refused(reader: Reader, tmp_path: Path, view: View) -> None:
    pictures = pair(RIGHT)
    with pytest.raises(SceneError, match="target's side"):
        reader.look(written({**pictures, view: s.mirrored(pictures[view])}, tmp_path))
