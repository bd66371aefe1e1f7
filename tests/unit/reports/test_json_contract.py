"""The published JSON shape."""

from __future__ import annotations

import json
import math

import numpy as np
import pytest
from attrs import evolve
from pydantic import ValidationError

from tests.support.reports import assessment
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import Hand, View
from wellset.measures import MEASURES, Measured, NotMeasurable
from wellset.reports.contract import AssessmentDocument, assessment_schema
from wellset.reports.json_contract import assessment_json, assessment_json_text, decimals

LEFT = "mid_iron_left_handed_weight_in_heels_01"


def test_the_text_is_json_that_the_published_models_accept() -> None:
    data = json.loads(assessment_json_text(assessment()))
    document = AssessmentDocument.model_validate(data)
    assert data["schema"] == "wellset.assessment/1"
    assert document.model_dump(mode="json", by_alias=True) == data


def test_every_measure_stands_under_its_own_id_and_unit_in_catalogue_order() -> None:
    measures = AssessmentDocument.model_validate(assessment_json(assessment())).measures
    assert list(measures) == list(MEASURES)
    for id_, part in measures.items():
        if not hasattr(part, "not_measurable"):
            assert part.unit == MEASURES[id_].unit.value


def test_the_interval_is_the_value_give_or_take_1_96_standard_uncertainties() -> None:
    """The factor is the 97.5 % point of the normal distribution, 1.959964 (any table)."""
    found = assessment()
    data = AssessmentDocument.model_validate(assessment_json(found)).measures
    for id_, result in found.measures.items():
        part = data[id_]
        if not isinstance(result, Measured) or hasattr(part, "not_measurable"):
            continue
        least = 10.0 ** -decimals(result.sd, least=2)
        low, high = part.interval95
        assert low == pytest.approx(result.value - 1.959964 * result.sd, abs=least)
        assert high == pytest.approx(result.value + 1.959964 * result.sd, abs=least)


def test_rounding_keeps_three_digits_of_the_uncertainty() -> None:
    assert decimals(1.234, least=2) == 2
    assert decimals(0.01234, least=4) == 4
    assert decimals(0.0001234, least=4) == 6
    assert decimals(0.0, least=4) == 4
    assert decimals(math.nan, least=4) == 4


def test_a_measure_that_one_picture_cannot_give_says_why_and_how_to_get_it() -> None:
    found = assessment(views=(View.FACE_ON,))
    refused = [k for k, r in found.measures.items() if isinstance(r, NotMeasurable)]
    data = json.loads(assessment_json_text(found))["measures"]
    assert "armpit_plumb" in refused
    for id_ in refused:
        reason = data[id_]["not_measurable"]
        assert set(reason) == {"code", "why", "fix"}
        assert all(reason.values())


def test_the_first_change_stands_first_in_the_advice() -> None:
    found = assessment(LEFT)
    advice = AssessmentDocument.model_validate(assessment_json(found)).advice
    kinds = [part.kind for part in advice]
    assert kinds == sorted(kinds, key=("first_change", "next", "keep").index)
    if found.advice.first is not None:
        assert advice[0].measure == found.advice.first.measure
        assert advice[0].drill is not None


def test_landmarks_are_in_the_picture_as_taken_also_for_a_left_hander() -> None:
    found = assessment(LEFT)
    assert found.hand is Hand.LEFT
    data = json.loads(assessment_json_text(found))["pictures"]
    for view, picture in found.pictures.items():
        width = picture.sighting.picture.width_px
        for name in LANDMARKS:
            seen = picture.sighting.landmarks[name]
            x, y = data[view.value]["landmarks"][name]["position_px"]
            assert x == pytest.approx(width - seen.position_px[0], abs=0.006)  # type: ignore[union-attr]
            assert y == pytest.approx(seen.position_px[1], abs=0.006)  # type: ignore[union-attr]


def test_who_placed_a_point_is_told() -> None:
    landmarks = json.loads(assessment_json_text(assessment()))["pictures"]["face_on"]["landmarks"]
    assert landmarks["c7"]["placed_by"] == "coach"
    assert landmarks["nose"]["placed_by"] == "model"


def test_an_unknown_field_and_a_wrong_unit_are_refused() -> None:
    data = assessment_json(assessment())
    with pytest.raises(ValidationError, match="Extra inputs"):
        AssessmentDocument.model_validate({**data, "surprise": 1})
    measures = json.loads(json.dumps(data["measures"]))
    measures["stance_width"]["unit"] = "cm"
    with pytest.raises(ValidationError, match="stance_width"):
        AssessmentDocument.model_validate({**data, "measures": measures})


def test_the_schema_names_every_top_level_field_of_a_real_document() -> None:
    schema = assessment_schema()
    data = assessment_json(assessment())
    assert set(schema["properties"]) == set(data)  # type: ignore[call-overload]
    assert set(schema["required"]) == set(data)  # type: ignore[call-overload]


def test_an_undecided_finding_tells_what_would_settle_it_in_numbers() -> None:
    found = assessment()
    by_measure = {f.measure: f for f in found.findings}
    for part in assessment_json(found)["findings"]:  # type: ignore[attr-defined]
        settling = by_measure[part["measure"]].settling
        if settling is None:
            assert part["settling"] is None
            continue
        assert part["verdict"] == "undecided"
        assert part["settling"]["step"] == settling.step
        assert part["settling"]["sd_then"] <= part["settling"]["sd_now"]
        assert part["settling"]["sd_now"] == pytest.approx(settling.sd_now, rel=0.01)


@pytest.mark.parametrize(
    "scene", ["mid_iron_neutral_21", "mid_iron_left_handed_weight_in_heels_01"]
)
def test_how_the_phones_were_held_is_told_as_their_holders_saw_it(scene: str) -> None:
    found = assessment(scene)
    pictures = assessment_json(found)["pictures"]
    side = -1 if found.hand is Hand.LEFT else 1
    for view, state in found.camera_states.items():
        phone = pictures[view.value]["phone"]  # type: ignore[index]
        assert phone["height"]["value"] == pytest.approx(state.height.value, abs=1e-3)
        assert phone["sideways"]["value"] == pytest.approx(side * state.sideways.value, abs=1e-3)
        aim = side * np.degrees(state.aim.value)
        assert phone["aim"]["value"] == pytest.approx(aim, abs=0.01)
        low, high = phone["tilt"]["interval95"]
        assert low < phone["tilt"]["value"] < high


def test_a_search_that_did_not_settle_is_told() -> None:
    found = assessment()
    lost = evolve(found, fit=evolve(found.fit, converged=False))
    assert assessment_json(found)["converged"] is True
    assert assessment_json(lost)["converged"] is False


def test_positions_are_those_of_the_solved_figure() -> None:
    found = assessment()
    points = json.loads(assessment_json_text(found))["points"]
    for name in LANDMARKS:
        np.testing.assert_allclose(points[name]["position_m"], found.points[name], atol=6e-6)
