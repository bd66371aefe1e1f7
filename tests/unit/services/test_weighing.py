"""A pressure plate in an assessment, and how it is reported."""

from __future__ import annotations

import json
from functools import cache

import pytest
from attrs import evolve

from tests.fakes.reader import FakeReader, as_port
from tests.support.pressure import plate_text
from tests.support.sightings import scene_sightings
from tests.support.truth import load
from wellset.assess.plate_terms import PLATE
from wellset.equipment import find_club
from wellset.errors import InputError
from wellset.figure.views import Hand, View
from wellset.measures import Measured
from wellset.reports.compose import compose
from wellset.reports.contract import AssessmentDocument
from wellset.reports.json_contract import assessment_json_text
from wellset.reports.page import page_html
from wellset.reports.terminal import terminal_text
from wellset.services.assess_setup import Request, assess_setup
from wellset.services.assessment import Assessment
from wellset.services.student_file import make_student
from wellset.services.weighing import PLATE_MEASURES, PlateText
from wellset.standards import default_standards

RIGHT = "mid_iron_neutral_21"
LEFT = "mid_iron_left_handed_weight_in_heels_01"


def request(scene: str, text: str) -> Request:
    truth = load(scene)
    return Request(
        pictures={view: f"{view.value}.jpg" for view in View},
        student=make_student(height=f"{truth['stature_m']} m"),
        club=find_club(truth["club"].replace("_", " ")),
        standards=default_standards(),
        rendered_to_real=False,
        plate=PlateText(text=text, where="plate.csv"),
    )


def reader(scene: str) -> FakeReader:
    return FakeReader(sightings=scene_sightings(scene), hand=Hand(load(scene)["hand"]))


@cache
def assessed(scene: str = RIGHT, *, shift: tuple[float, float] = (0, 0)) -> Assessment:
    asked = request(scene, plate_text(scene, shift=shift))
    return assess_setup(asked, reader=as_port(reader(scene)))


def test_a_plate_that_agrees_is_put_together_with_the_pictures() -> None:
    found = assessed()
    assert found.weighed is not None
    assert found.weighed.used
    assert found.weighed.notes == ()
    for id_ in PLATE_MEASURES:
        alone, both = found.weighed.pictures_alone[id_], found.measures[id_]
        assert isinstance(alone, Measured)
        assert isinstance(both, Measured)
        assert both.sd < alone.sd
        assert PLATE in both.budget
        assert PLATE not in alone.budget


def test_a_plate_that_disagrees_is_left_out_and_told() -> None:
    found = assessed(shift=(0.0, 0.12))
    assert found.weighed is not None
    assert not found.weighed.used
    (note,) = (n for n in found.notes if n.code == "plate_disagrees")
    assert "nearer the toes" in note.message
    plain = evolve(request(RIGHT, ""), plate=None)
    without = assess_setup(plain, reader=as_port(reader(RIGHT)))
    assert found.measures == without.measures
    assert without.weighed is None


def test_left_and_right_feet_are_told_by_the_hand_that_is_recognised() -> None:
    sided = plate_text(LEFT).replace("lead_", "right_").replace("trail_", "left_")
    found = assess_setup(request(LEFT, sided), reader=as_port(reader(LEFT)))
    assert found.weighed is not None
    assert found.weighed.used
    truth = load(LEFT)["measures"]["lead_share"]["value"]
    assert found.weighed.says.alone["lead_share"].value == pytest.approx(truth, abs=6)


def test_a_bad_file_is_refused_before_the_pictures_are_looked_at() -> None:
    looking = reader(RIGHT)
    with pytest.raises(InputError, match="first line"):
        assess_setup(request(RIGHT, "time,x\n"), reader=as_port(looking))
    assert looking.looked == []


@pytest.mark.parametrize("shift", [(0.0, 0.0), (0.0, 0.12)])
def test_the_json_holds_what_each_says(shift: tuple[float, float]) -> None:
    found = assessed(shift=shift)
    data = json.loads(assessment_json_text(found))
    part = AssessmentDocument.model_validate(data).plate
    assert part is not None
    assert part.used == (shift == (0.0, 0.0))
    assert part.name == "plate.csv"
    assert set(part.measures) == set(PLATE_MEASURES)
    assert part.lead_load_percent.value == pytest.approx(48, abs=6)
    assert part.readings_per_second == pytest.approx(100)
    beside = part.measures["heel_toe_balance"]
    assert beside.pictures is not None
    assert beside.plate.sd < beside.pictures.sd


def test_page_and_terminal_show_pictures_plate_and_both() -> None:
    report = compose(assessed())
    assert report.plate is not None
    page = page_html(report, pixels={})
    text = " ".join(terminal_text(report).split())
    for row in report.plate.rows:
        for value in (row.pictures, row.plate, row.together):
            assert value in page
            assert value.replace("\N{NO-BREAK SPACE}", " ") in text
    assert "were put together" in page


def test_a_plate_that_was_left_out_has_no_value_together() -> None:
    report = compose(assessed(shift=(0.0, 0.12)))
    assert report.plate is not None
    assert {row.together for row in report.plate.rows} == {""}
    assert "not put together" in page_html(report, pixels={})


def test_without_a_plate_nothing_is_said_of_one() -> None:
    plain = evolve(request(RIGHT, ""), plate=None)
    found = assess_setup(plain, reader=as_port(reader(RIGHT)), thorough=False)
    assert compose(found).plate is None
    assert json.loads(assessment_json_text(found))["plate"] is None
    assert "pressure plate" not in page_html(compose(found), pixels={}).lower()
