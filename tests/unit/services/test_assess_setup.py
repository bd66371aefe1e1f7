"""The main use case with a reader that knows what the pictures show."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping, Sequence
from functools import cache

import pytest
from attrs import evolve

from tests.fakes.reader import FakeReader, as_port
from tests.support.placed import pictures
from tests.support.sightings import by_hand, changed, hidden, moved, scene_sightings
from tests.support.truth import load
from wellset import __version__
from wellset.advise import Verdict
from wellset.equipment import find_club
from wellset.errors import InputError, SceneError
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.sighting import NotSeen, PlacedByCoach, ProposedByModel, Sighting
from wellset.figure.views import Hand, View
from wellset.measures import MEASURES, Measured, NotMeasurable
from wellset.services.about import notes_about
from wellset.services.assess_setup import Request, assess_setup
from wellset.services.assessment import Assessment
from wellset.services.enough import FEWEST_LANDMARKS
from wellset.services.landmark_file import landmark_file_text, read_landmarks
from wellset.services.student_file import make_student
from wellset.services.student_scale import shoulder_breadth
from wellset.standards import default_standards, load_standards

RIGHT = "mid_iron_neutral_21"
LEFT = "mid_iron_left_handed_weight_in_heels_01"
PATHS = {view: f"{view.value}.jpg" for view in View}


def request(scene: str = RIGHT, *, views: Sequence[View] = tuple(View)) -> Request:
    truth = load(scene)
    return Request(
        pictures={view: PATHS[view] for view in views},
        student=make_student(height=f"{truth['stature_m']} m"),
        club=find_club(truth["club"].replace("_", " ")),
        standards=default_standards(),
        rendered_to_real=False,
    )


@cache
def right_hander() -> Assessment:
    return assess_setup(request(), reader=as_port(FakeReader(sightings=scene_sightings(RIGHT))))


def file_of(sightings: Sequence[Sighting], *, hand: Hand = Hand.RIGHT) -> str:
    return landmark_file_text(hand, {s.view: s for s in sightings})


def edited(text: str, change: Callable[[dict[str, object]], object]) -> str:
    data = json.loads(text)
    change(data)
    return json.dumps(data)


def only(view: View, *names: str) -> Callable[[dict[str, object]], object]:
    """Keep one view and some of its landmarks."""

    def cut(data: dict[str, object]) -> None:
        views = data["views"]
        assert isinstance(views, dict)
        kept = views[view.value]
        kept["landmarks"] = {name: kept["landmarks"][name] for name in names}
        kept["sticks"] = []
        data["views"] = {view.value: kept}

    return cut


def value(assessment: Assessment, measure: str) -> float:
    result = assessment.measures[measure]
    assert isinstance(result, Measured), result
    return result.value


def test_two_pictures_give_every_measure_of_the_catalogue_in_its_order() -> None:
    found = right_hander()
    assert list(found.measures) == list(MEASURES)
    assert all(isinstance(result, Measured) for result in found.measures.values())


@pytest.mark.parametrize("measure", ["forward_bend", "stance_width", "lead_knee_flex"])
def test_measures_come_within_four_of_their_uncertainties_of_the_scene(measure: str) -> None:
    truth = load(RIGHT)["measures"][measure]["value"]
    result = right_hander().measures[measure]
    assert isinstance(result, Measured)
    assert abs(result.value - truth) < 4 * result.sd


def test_every_window_of_the_shot_is_judged_and_the_advice_is_among_the_findings() -> None:
    found = right_hander()
    windows = [f.measure for f in found.findings]
    assert windows
    assert len(set(windows)) == len(windows)
    first = found.advice.first
    assert first is None or first in found.findings


def test_the_versions_name_program_tables_and_standards() -> None:
    versions = right_hander().versions
    assert versions.program == __version__
    assert versions.standards == default_standards().version
    assert [line.split(":")[0] for line in versions.tables] == [
        "lengths",
        "masses",
        "rendered to real people",
    ]


def test_progress_never_falls_and_ends_with_the_judging() -> None:
    told: list[tuple[str, float]] = []
    assess_setup(
        request(),
        reader=as_port(FakeReader(sightings=scene_sightings(RIGHT))),
        progress=lambda step, share: told.append((step, share)),
    )
    shares = [share for _, share in told]
    assert shares == sorted(shares)
    assert 0 <= shares[0] <= shares[-1] <= 1
    assert "standards" in told[-1][0]


@pytest.mark.parametrize("view", list(View))
def test_one_picture_gives_some_measures_and_says_which_picture_is_missing(view: View) -> None:
    reader = FakeReader(sightings=scene_sightings(RIGHT))
    found = assess_setup(request(views=[view]), reader=as_port(reader))
    assert list(found.pictures) == [view]
    kinds = [type(result) for result in found.measures.values()]
    assert Measured in kinds
    codes = {r.code for r in found.measures.values() if isinstance(r, NotMeasurable)}
    assert "view_missing" in codes


def test_a_left_handers_lead_side_is_found_in_pictures_seen_mirrored() -> None:
    reader = FakeReader(sightings=scene_sightings(LEFT), hand=Hand.LEFT)
    found = assess_setup(request(LEFT), reader=as_port(reader))
    assert found.hand is Hand.LEFT
    assert all(picture.mirrored for picture in found.pictures.values())
    truth = load(LEFT)["measures"]["stance_width"]["value"]
    result = found.measures["stance_width"]
    assert isinstance(result, Measured)
    assert abs(result.value - truth) < 4 * result.sd


def test_notes_of_the_reader_are_kept_with_their_picture_and_with_the_whole() -> None:
    found = right_hander()
    assert "grey_picture" in {note.code for note in found.notes}
    for view, picture in found.pictures.items():
        assert [note.where for note in picture.notes] == [PATHS[view]]


def test_no_picture_and_no_landmarks_is_nothing_to_assess() -> None:
    with pytest.raises(InputError, match=r"nothing to assess.*--face-on"):
        assess_setup(request(views=[]), reader=as_port(FakeReader(sightings=[])))


def test_the_hand_typed_wins_over_the_students() -> None:
    reader = FakeReader(sightings=scene_sightings(RIGHT))
    asked = request()
    student = evolve(asked.student, hand=Hand.LEFT)
    assess_setup(evolve(asked, student=student, hand=Hand.RIGHT), reader=as_port(reader))
    assert reader.looked[0].hand is Hand.RIGHT


def test_the_students_hand_is_told_to_the_reader() -> None:
    reader = FakeReader(sightings=scene_sightings(LEFT), hand=Hand.RIGHT)
    asked = request(LEFT)
    student = evolve(asked.student, hand=Hand.LEFT)
    found = assess_setup(evolve(asked, student=student), reader=as_port(reader))
    assert reader.looked[0].hand is Hand.LEFT
    assert found.hand is Hand.LEFT


def test_a_shot_named_replaces_the_shot_of_the_club() -> None:
    reader = as_port(FakeReader(sightings=scene_sightings(RIGHT)))
    chipped = assess_setup(evolve(request(), shot="chip"), reader=reader)
    assert (right_hander().shot, chipped.shot) == ("mid iron", "chip")
    windows = {f.measure: f.window for f in right_hander().findings}
    differing = [f for f in chipped.findings if windows.get(f.measure) != f.window]
    assert differing


def test_an_unknown_shot_is_named_with_the_known_ones() -> None:
    reader = as_port(FakeReader(sightings=[]))
    with pytest.raises(InputError, match=r"\"lob\".*chip"):
        assess_setup(evolve(request(), shot="lob"), reader=reader)


OWN_STANDARDS = """
schema: wellset.standards/1
name: Our club, spring
based_on: default
shots:
  mid iron:
    forward_bend:
      low: 80
      high: 85
      unit: deg
      reason: To see that it is used.
      source: common practice
"""


def test_the_coachs_standards_judge_and_are_named_in_the_versions() -> None:
    standards = load_standards(OWN_STANDARDS, where="own.yaml")
    reader = as_port(FakeReader(sightings=scene_sightings(RIGHT)))
    found = assess_setup(evolve(request(), standards=standards), reader=reader)
    bend = next(f for f in found.findings if f.measure == "forward_bend")
    assert (bend.verdict.value, bend.side.value if bend.side else None) == ("outside", "low")
    assert found.versions.standards == standards.version


def test_too_few_landmarks_are_refused_with_the_number_seen() -> None:
    front, side = scene_sightings(RIGHT)
    kept = FEWEST_LANDMARKS - 1
    poor = hidden(front, *LANDMARKS[kept:])
    with pytest.raises(SceneError, match=f"face-on.*only {kept} of {len(LANDMARKS)}"):
        assess_setup(request(), reader=as_port(FakeReader(sightings=[poor, side])))


@pytest.mark.parametrize("view", list(View))
def test_one_picture_without_the_ball_is_refused(view: View) -> None:
    poor = [hidden(s, "ball") for s in scene_sightings(RIGHT)]
    with pytest.raises(SceneError, match=f"{view.words}.*ball cannot be seen"):
        assess_setup(request(views=[view]), reader=as_port(FakeReader(sightings=poor)))


def test_the_ball_may_be_hidden_in_one_of_two_pictures() -> None:
    front, side = scene_sightings(RIGHT)
    reader = as_port(FakeReader(sightings=[front, hidden(side, "ball")]))
    found = assess_setup(request(), reader=reader)
    assert abs(value(found, "ball_position") - value(right_hander(), "ball_position")) < 5


def test_a_point_that_does_not_fit_the_rest_is_named_in_a_note() -> None:
    front, side = scene_sightings(RIGHT)
    wrong = changed(front, "lead_knee", to=moved((150.0, 0.0)))
    found = assess_setup(request(), reader=as_port(FakeReader(sightings=[wrong, side])))
    notes = [n for n in found.notes if n.code == "landmark_misfit"]
    assert "lead knee" in notes[0].message
    assert notes[0].where == "face_on"


def test_phones_said_to_be_level_are_known_better_in_tilt_and_roll() -> None:
    reader = as_port(FakeReader(sightings=pictures(RIGHT)))  # by phones that are level
    told, untold = (
        assess_setup(evolve(request(), phone_level=level), reader=reader).camera_states
        for level in (True, False)
    )
    for view, state in untold.items():
        assert told[view].tilt.sd < 0.95 * state.tilt.sd
        assert told[view].roll.sd < 0.95 * state.roll.sd


def test_each_open_check_says_what_would_settle_it() -> None:
    found = right_hander()
    undecided = [f for f in found.findings if f.verdict is Verdict.UNDECIDED]
    assert undecided
    for finding in found.findings:
        assert (finding in undecided) == bool(finding.settle)
    assert all(f.settling is not None for f in undecided if f.measured)


def test_an_estimate_that_had_not_settled_is_noted() -> None:
    unsettled = evolve(right_hander().fit, converged=False)
    codes = [note.code for note in notes_about(request().student, unsettled)]
    assert codes == ["not_converged"]
    assert notes_about(request().student, right_hander().fit) == []


def test_an_odd_tape_reading_is_cautioned_against() -> None:
    text = "schema: wellset.student/1\ntape: {arm_length: 69 cm}"
    student = make_student(height="1.79 m", file_text=text)
    reader = as_port(FakeReader(sightings=scene_sightings(RIGHT)))
    found = assess_setup(evolve(request(), student=student), reader=reader)
    codes = {caution.code for caution in student.build.cautions()}
    assert codes
    assert codes <= {note.code for note in found.notes}


@pytest.mark.parametrize(
    ("height", "tape", "metres"), [("1.79 m", "{shoulder_breadth: 44 cm}", 0.44)]
)
def test_shoulders_measured_by_tape_are_taken_as_they_are(
    height: str, tape: str, metres: float
) -> None:
    text = f"schema: wellset.student/1\ntape: {tape}"
    yard = shoulder_breadth(make_student(height=height, file_text=text).build)
    assert yard.metres == pytest.approx(metres)


def test_shoulders_of_people_of_unknown_sex_are_less_sure_than_of_men_or_women() -> None:
    def yard(sex: str) -> float:
        text = f"schema: wellset.student/1\nsex: {sex}"
        return shoulder_breadth(make_student(height="1.7 m", file_text=text).build).sd

    assert yard("unspecified") > max(yard("man"), yard("woman"))


# ── Landmarks from a file ────────────────────────────────────────────────────────────────────────


def with_file(
    text: str, *, reader: FakeReader, views: Sequence[View], scene: str = RIGHT
) -> Assessment:
    asked = evolve(request(scene, views=views), landmarks=read_landmarks(text, where="l.json"))
    return assess_setup(asked, reader=as_port(reader))


def test_a_whole_landmark_file_needs_no_picture_and_gives_the_same_measures() -> None:
    reader = FakeReader(sightings=[])
    found = with_file(file_of(scene_sightings(RIGHT)), reader=reader, views=[])
    assert reader.looked == []
    assert all(picture.rgb is None for picture in found.pictures.values())
    for measure, result in found.measures.items():
        assert isinstance(result, Measured)
        # Coordinates are written to a hundredth of a pixel.
        assert abs(result.value - value(right_hander(), measure)) < 0.1 * result.sd


def test_a_picture_beside_a_whole_file_is_drawn_on_but_not_looked_at() -> None:
    reader = FakeReader(sightings=scene_sightings(RIGHT))
    found = with_file(file_of(scene_sightings(RIGHT)), reader=reader, views=list(View))
    assert reader.looked == []
    assert all(picture.rgb is not None for picture in found.pictures.values())


def test_only_the_view_that_the_file_leaves_open_is_looked_at() -> None:
    front, side = scene_sightings(RIGHT)
    reader = FakeReader(sightings=[side])
    found = with_file(file_of([front]), reader=reader, views=[View.DOWN_THE_LINE])
    assert [list(look.paths) for look in reader.looked] == [[View.DOWN_THE_LINE]]
    assert list(found.pictures) == list(View)


def test_a_point_the_coach_placed_wins_and_keeps_what_the_reader_saw() -> None:
    front, side = scene_sightings(RIGHT)
    placed = changed(front, "c7", to=by_hand((40.0, 0.0), sd_px=1.0))
    text = edited(file_of([placed]), only(View.FACE_ON, "c7"))
    found = with_file(text, reader=FakeReader(sightings=[front, side]), views=list(View))
    kept = found.pictures[View.FACE_ON].sighting.landmarks
    point, seen = kept["c7"], front.landmarks["c7"]
    assert isinstance(point, PlacedByCoach)
    assert isinstance(seen, ProposedByModel)
    assert point.proposal is seen
    assert point.position_px[0] == pytest.approx(seen.position_px[0] + 40, abs=0.01)
    assert kept["nose"] is front.landmarks["nose"]


def test_a_model_point_of_a_partial_file_does_not_replace_what_the_reader_sees() -> None:
    front, side = scene_sightings(RIGHT)
    stale = changed(front, "nose", to=moved((40.0, 0.0)))
    text = edited(file_of([stale]), only(View.FACE_ON, "nose"))
    found = with_file(text, reader=FakeReader(sightings=[front, side]), views=list(View))
    assert found.pictures[View.FACE_ON].sighting.landmarks["nose"] is front.landmarks["nose"]


def test_a_point_the_coach_rules_out_is_not_used() -> None:
    front, side = scene_sightings(RIGHT)
    text = edited(file_of([hidden(front, "c7")]), only(View.FACE_ON, "c7"))
    found = with_file(text, reader=FakeReader(sightings=[front, side]), views=list(View))
    assert isinstance(found.pictures[View.FACE_ON].sighting.landmarks["c7"], NotSeen)


def test_a_partial_file_without_its_picture_asks_for_the_picture() -> None:
    text = edited(file_of(scene_sightings(RIGHT)), only(View.FACE_ON, "c7"))
    with pytest.raises(InputError, match=r"only some of the face-on.*Give the face-on picture"):
        with_file(text, reader=FakeReader(sightings=[]), views=[View.DOWN_THE_LINE])


def _resized(data: dict[str, object]) -> None:
    views = data["views"]
    assert isinstance(views, dict)
    for view in views.values():
        view["picture"]["width_px"] += 40


@pytest.mark.parametrize("names", [("c7",), LANDMARKS], ids=["some points", "all points"])
def test_points_of_a_picture_of_another_size_are_refused(names: Sequence[str]) -> None:
    sightings = scene_sightings(RIGHT)
    text = edited(edited(file_of(sightings), only(View.FACE_ON, *names)), _resized)
    with pytest.raises(InputError, match=r"face_on\.jpg: .*does not belong.* x \d+ pixels"):
        with_file(text, reader=FakeReader(sightings=sightings), views=list(View))


def _renamed(sighting: Sighting, sha256: str) -> Sighting:
    return evolve(sighting, picture=evolve(sighting.picture, sha256=sha256))


def test_points_of_another_picture_of_the_same_size_are_refused() -> None:
    front, side = scene_sightings(RIGHT)
    text = edited(file_of([_renamed(front, "aa")]), only(View.FACE_ON, "c7"))
    reader = FakeReader(sightings=[_renamed(front, "bb"), side])
    with pytest.raises(InputError, match="placed on another file"):
        with_file(text, reader=reader, views=list(View))


def _without_hand(data: dict[str, object]) -> None:
    del data["hand"]


def test_a_left_handers_file_without_hand_is_mirrored_once_the_reader_knows_the_hand() -> None:
    front, side = scene_sightings(LEFT)
    placed = changed(front, "c7", to=by_hand((0.0, 0.0), sd_px=1.0))
    text = edited(file_of([placed], hand=Hand.LEFT), only(View.FACE_ON, "c7"))
    reader = FakeReader(sightings=[front, side], hand=Hand.LEFT)
    found = with_file(edited(text, _without_hand), reader=reader, views=list(View), scene=LEFT)
    point, seen = found.pictures[View.FACE_ON].sighting.landmarks["c7"], front.landmarks["c7"]
    assert isinstance(point, PlacedByCoach)
    assert isinstance(seen, ProposedByModel)
    assert point.position_px == pytest.approx(seen.position_px, abs=0.01)


def test_a_whole_file_without_hand_is_not_taken_for_a_right_hander() -> None:
    text = edited(file_of(scene_sightings(LEFT), hand=Hand.LEFT), _without_hand)
    with pytest.raises(InputError, match=r"right- or left-handed.*--hand"):
        with_file(text, reader=FakeReader(sightings=[]), views=[], scene=LEFT)


def test_a_file_and_a_request_of_different_hands_are_refused() -> None:
    text = file_of(scene_sightings(RIGHT))
    with pytest.raises(InputError, match="right-handed, the request left-handed"):
        read_landmarks(text, where="l.json", hand=Hand.LEFT)


def test_points_are_projected_into_the_picture_as_taken() -> None:
    reader = FakeReader(sightings=scene_sightings(LEFT), hand=Hand.LEFT)
    found = assess_setup(request(LEFT), reader=as_port(reader))
    points: Mapping[str, object] = load(LEFT)["views"]["face_on"]["landmarks_px"]
    picture = found.pictures[View.FACE_ON]
    drawn = picture.project(found.points["ball"][None])[0]
    assert drawn == pytest.approx(points["ball"], abs=15)  # pixels, about 2 cm


def test_a_caution_about_the_build_reads_as_sentences() -> None:
    small = make_student(height="120 cm")
    (note,) = [
        n for n in notes_about(small, right_hander().fit) if n.code == "height_outside_tables"
    ]
    assert ".:" not in note.message
    assert re.findall(r"[.!?] [A-Z]", note.message)
    assert note.message.endswith(".")
