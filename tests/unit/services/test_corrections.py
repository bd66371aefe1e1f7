"""What a coach's corrections change, and what is said of them."""

from __future__ import annotations

import json
from collections.abc import Sequence

import numpy as np
import pytest
from attrs import evolve

from tests.fakes.reader import FakeReader, as_port
from tests.support.sightings import by_hand, changed, scene_sightings
from tests.support.truth import load
from wellset.equipment import find_club
from wellset.figure.sighting import NotSeen, PlacedByCoach, Sighting, StickSighting
from wellset.figure.views import View
from wellset.measures import MEASURES, Measured, NotMeasurable
from wellset.reports.compose import compose
from wellset.reports.contract import AssessmentDocument
from wellset.reports.json_contract import assessment_json_text
from wellset.reports.page import page_html
from wellset.reports.terminal import terminal_text
from wellset.services.assess_setup import Request, assess_setup
from wellset.services.assessment import Assessment
from wellset.services.corrections import Corrections
from wellset.services.landmark_file import landmark_file_text, read_landmarks
from wellset.services.student_file import make_student
from wellset.standards import default_standards

SCENE = "mid_iron_neutral_21"
FRONT, SIDE = scene_sightings(SCENE)


def assessed(*sightings: Sighting) -> Assessment:
    truth = load(SCENE)
    request = Request(
        pictures={s.view: f"{s.view.value}.jpg" for s in sightings},
        student=make_student(height=f"{truth['stature_m']} m"),
        club=find_club(truth["club"].replace("_", " ")),
        standards=default_standards(),
        rendered_to_real=False,
    )
    return assess_setup(request, reader=as_port(FakeReader(sightings=sightings)))


def corrections(*sightings: Sighting) -> Corrections:
    found = assessed(*sightings).corrections
    assert found is not None
    return found


def codes(found: Assessment) -> list[str]:
    return [note.code for note in found.notes]


def exchanged(stem: str) -> Sighting:
    """The face-on picture with both sides of a joint put in each other's place by hand."""
    lead, trail = (FRONT.landmarks[f"{side}_{stem}"] for side in ("lead", "trail"))
    assert not isinstance(lead, NotSeen)
    assert not isinstance(trail, NotSeen)
    x, y = trail.position_px - lead.position_px
    one = changed(FRONT, f"lead_{stem}", to=by_hand((x, y), sd_px=3.0))
    return changed(one, f"trail_{stem}", to=by_hand((-x, -y), sd_px=3.0))


def test_without_corrections_there_is_nothing_to_tell() -> None:
    found = assessed(FRONT, SIDE)
    assert found.corrections is None
    assert json.loads(assessment_json_text(found))["corrections"] is None
    assert compose(found).corrections is None


def test_the_solution_before_is_that_of_the_networks_own_points() -> None:
    plain = assessed(FRONT, SIDE)
    moved = corrections(FRONT, changed(SIDE, "c7", to=by_hand((30.0, 0.0), sd_px=2.0)))
    assert list(moved.measures) == list(MEASURES)
    for id_, result in plain.measures.items():
        before = moved.measures[id_].before
        assert isinstance(before, Measured)
        assert isinstance(result, Measured)
        # Begun elsewhere, the search ends within its tolerance of the same place.
        assert before.value == pytest.approx(result.value, abs=0.02 * result.sd), id_
        assert before.sd == pytest.approx(result.sd, rel=0.01), id_


def test_the_change_is_given_in_the_unit_and_in_uncertainties_of_the_value_before() -> None:
    moved = corrections(FRONT, changed(SIDE, "c7", to=by_hand((30.0, 0.0), sd_px=2.0)))
    bend = moved.measures["forward_bend"]
    assert isinstance(bend.before, Measured)
    assert isinstance(bend.after, Measured)
    assert bend.change is not None
    assert bend.sds is not None
    # C7 is moved forward by 9 cm at 45 cm from the hips along a trunk that leans by 36 degrees.
    assert 4.0 < bend.change < 10.0
    assert bend.change == pytest.approx(bend.after.value - bend.before.value)
    assert bend.sds * bend.before.sd == pytest.approx(bend.change)
    assert moved.measures["stance_width"].sds == pytest.approx(0.0, abs=0.3)


def test_how_far_a_point_was_moved_is_told_in_pixels_and_at_its_distance() -> None:
    moved = corrections(FRONT, changed(SIDE, "c7", to=by_hand((30.0, 40.0), sd_px=2.0)))
    (point,) = moved.points
    view = load(SCENE)["views"]["down_the_line"]
    assert (point.view, point.landmark) == (View.DOWN_THE_LINE, "c7")
    assert point.moved_px == pytest.approx(50.0)
    true_scale = view["K"][0][0] / view["depth_m"]["C7_cloth"]
    assert point.moved_m == pytest.approx(50.0 / true_scale, rel=0.03)


@pytest.mark.parametrize(("pixels", "beyond"), [(1.0, False), (25.0, True)])
def test_a_place_the_network_thought_impossible_is_told_from_a_possible_one(
    pixels: float, beyond: bool
) -> None:
    (point,) = corrections(FRONT, changed(SIDE, "c7", to=by_hand((pixels, 0.0), sd_px=0.5))).points
    assert point.beyond is beyond


def test_a_corrected_point_wins_however_far_the_rest_puts_it() -> None:
    found = assessed(changed(FRONT, "ball", to=by_hand((60.0, 0.0), sd_px=3.0)), SIDE)
    place = found.pictures[View.FACE_ON].sighting.landmarks["ball"]
    assert isinstance(place, PlacedByCoach)
    solved = found.pictures[View.FACE_ON].project(found.points["ball"][None])[0]
    assert np.hypot(*(solved - place.position_px)) < 3 * 3.0


def test_a_slip_of_the_hand_is_remarked_on_and_still_used() -> None:
    found = assessed(changed(FRONT, "lead_knee", to=by_hand((90.0, 0.0), sd_px=3.0)), SIDE)
    (note,) = [n for n in found.notes if n.code == "corrected_point_apart"]
    assert note.message.startswith("The lead knee placed by hand in the face-on picture lies")
    assert "used as placed" in note.message
    assert "exchanged" not in note.remedy


def test_lead_and_trail_exchanged_by_hand_are_said_to_look_exchanged() -> None:
    found = assessed(exchanged("ankle"), SIDE)
    notes = [n for n in found.notes if n.code == "corrected_point_apart"]
    assert [n.message.split(" placed")[0] for n in notes] == ["The lead ankle", "The trail ankle"]
    assert all("exchanged" in note.remedy for note in notes)


def test_a_small_correction_is_not_remarked_on() -> None:
    found = assessed(FRONT, changed(SIDE, "c7", to=by_hand((3.0, -2.0), sd_px=2.0)))
    assert "corrected_point_apart" not in codes(found)


def test_a_point_ruled_out_keeps_the_networks_place_and_is_put_back_for_comparison() -> None:
    ruled_out = changed(SIDE, "trail_knee", to=lambda old: NotSeen(why="hidden", proposal=old))
    no_front = changed(FRONT, "trail_knee", to=lambda old: NotSeen(why="hidden", proposal=old))
    moved = corrections(no_front, ruled_out)
    assert [point.ruled_out for point in moved.points] == [True, True]
    flex = moved.measures["trail_knee_flex"]
    assert isinstance(flex.before, Measured)
    assert isinstance(flex.after, NotMeasurable)
    assert "trail_knee_flex" in {finding.measure for finding in moved.findings}


def test_sticks_by_hand_are_told_and_the_found_ones_solve_the_comparison() -> None:
    given = evolve(SIDE, sticks=(), replaced_sticks=SIDE.sticks)
    moved = corrections(FRONT, given)
    (sticks,) = moved.sticks
    assert (sticks.given, sticks.found) == (0, len(SIDE.sticks))
    before, after = moved.measures["foot_line"].before, moved.measures["foot_line"].after
    assert isinstance(before, Measured)
    assert isinstance(after, Measured)
    assert before.sd < after.sd


def test_a_stick_by_hand_that_lies_no_way_a_stick_lies_is_said_to_be_of_no_use() -> None:
    ends = [[100.0, 300.0], [500.0, 500.0]]  # in the air, across the picture
    odd = StickSighting(ends_px=ends, sd_px=2.0, by_hand=True)
    assert "stick_not_used" in codes(assessed(FRONT, evolve(SIDE, sticks=(odd,))))


def test_a_file_without_the_networks_points_cannot_be_compared_and_says_so() -> None:
    def alone(sighting: Sighting) -> Sighting:
        places = {
            name: PlacedByCoach(position_px=p.position_px, covariance_px2=p.covariance_px2)
            for name, p in sighting.landmarks.items()
            if not isinstance(p, NotSeen)
        }
        return evolve(sighting, landmarks=places)

    moved = corrections(alone(FRONT), alone(SIDE))
    assert moved.not_compared
    assert not moved.measures
    assert compose(assessed(alone(FRONT), alone(SIDE))).corrections is not None


def test_a_file_keeps_replaced_sticks_and_places_of_points_ruled_out() -> None:
    edited = evolve(
        changed(SIDE, "c7", to=lambda old: NotSeen(why="hidden", proposal=old)),
        sticks=(evolve(SIDE.sticks[0], by_hand=True),),
        replaced_sticks=SIDE.sticks,
    )
    text = landmark_file_text(assessed(FRONT, SIDE).hand, {edited.view: edited})
    again = read_landmarks(text, where="l.json").sightings[View.DOWN_THE_LINE]
    assert [stick.by_hand for stick in again.sticks] == [True]
    assert [stick.by_hand for stick in again.replaced_sticks] == [False] * len(SIDE.sticks)
    c7 = again.landmarks["c7"]
    assert isinstance(c7, NotSeen)
    assert c7.proposal is not None


CORRECTED: Sequence[Sighting] = (
    FRONT,
    changed(SIDE, "c7", to=by_hand((30.0, 0.0), sd_px=2.0)),
)


def test_the_document_has_every_measure_before_and_after() -> None:
    found = assessed(*CORRECTED)
    part = AssessmentDocument.model_validate_json(assessment_json_text(found)).corrections
    assert part is not None
    assert list(part.measures) == list(MEASURES)
    (point,) = part.points
    assert (point.landmark, point.beyond_network) == ("c7", True)
    bend, after = part.measures["forward_bend"], found.measures["forward_bend"]
    assert isinstance(after, Measured)
    assert bend.after is not None
    assert bend.before is not None
    assert bend.after.value == pytest.approx(after.value, abs=1e-3)
    assert bend.change == pytest.approx(bend.after.value - bend.before.value, abs=2e-3)


def test_page_and_terminal_tell_what_moved_and_leave_out_what_stayed() -> None:
    report = compose(assessed(*CORRECTED))
    assert report.corrections is not None
    moved = [row.measure for row in report.corrections.rows]
    assert "forward_bend" in moved
    assert "stance_width" not in moved
    page = page_html(report, pixels=dict.fromkeys(View))
    text = terminal_text(report)
    for shown in (page, text):
        assert "What your corrections changed" in shown
        assert "c7, down-the-line" in shown
        assert "Beyond what the network thought" in " ".join(shown.split())
