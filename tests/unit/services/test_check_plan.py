"""New pictures compared with the student's plan."""

from __future__ import annotations

import json
from functools import cache

import numpy as np
import pytest
from attrs import evolve
from numpy.typing import NDArray

from tests.fakes.reader import FakeReader, as_port
from tests.support.placed import pictures_of
from wellset.advise import Verdict, entry_of
from wellset.equipment import find_club
from wellset.errors import InputError
from wellset.figure.views import Hand, View
from wellset.measures import MEASURES, Measured, Unit
from wellset.prescribe import Ground, fault_value, with_fault
from wellset.reports.check_contract import CheckDocument, check_schema
from wellset.reports.check_json import check_json_text
from wellset.reports.check_model import check_report
from wellset.reports.check_page import check_html, check_part
from wellset.reports.check_terminal import check_text
from wellset.reports.plan_json import plan_json_text
from wellset.services.assess_setup import Request
from wellset.services.bag_file import BagEntry
from wellset.services.check_plan import MOST_TO_DO, Check, check_setup
from wellset.services.drills_file import read_drills
from wellset.services.plan_bag import BagPlan, PlanRequest, plan_bag
from wellset.services.plan_target import LEAST_ROOM, PlanTarget, target_of_document
from wellset.services.student_file import make_student
from wellset.standards import default_standards
from wellset.units import UnitSystem

Array = NDArray[np.float64]
CLUB, HEIGHT = "7-iron", "178 cm"


@cache
def bag(*, hand: Hand = Hand.RIGHT) -> BagPlan:
    return plan_bag(
        PlanRequest(
            student=make_student(height=HEIGHT),
            clubs=(BagEntry(club=find_club(CLUB)),),
            standards=default_standards(),
            hand=hand,
        )
    )


def target(*, hand: Hand = Hand.RIGHT) -> PlanTarget:
    return target_of_document(plan_json_text(bag(hand=hand)), club="7 Iron", where="/a/plan.json")


def planned_points() -> Array:
    return np.array(bag().plans[0].figure.points)


def request(**changes: object) -> Request:
    given: dict[str, object] = {
        "pictures": {view: f"{view.value}.jpg" for view in View},
        "student": make_student(height=HEIGHT),
        "club": find_club(CLUB),
        "standards": default_standards(),
        "rendered_to_real": False,
        **changes,
    }
    return Request(**given)  # type: ignore[arg-type]


def check(at: Array, *, hand: Hand = Hand.RIGHT, wanted: PlanTarget | None = None) -> Check:
    reader = FakeReader(sightings=pictures_of(at), hand=hand)
    return check_setup(request(), target=wanted, reader=as_port(reader))


@cache
def as_planned() -> Check:
    return check(planned_points())


@cache
def ball_too_far_back() -> Check:
    """The planned set-up with the ball too far back, the body following."""
    moved = with_fault(bag().plans[0], "ball_position", high=False)
    return check(np.array(moved.points), wanted=target())


def test_who_stands_as_planned_has_nothing_to_do() -> None:
    found = as_planned()
    assert found.of(Verdict.OUTSIDE) == ()
    assert found.to_do == ()
    # the others are those whose room is too small for two pictures
    assert len(found.of(Verdict.INSIDE)) >= 10
    assert found.target.source == "solved"


def test_the_measures_of_who_stands_as_planned_lie_about_the_planned_values() -> None:
    found = as_planned()
    for finding in found.findings:
        assert isinstance(finding.result, Measured)
        off = finding.result.value - found.target.aims[finding.measure].value
        assert abs(off) < 4 * finding.result.sd, finding.measure


def test_a_ball_that_lies_elsewhere_is_told_with_at_most_three_things_to_do() -> None:
    found = ball_too_far_back()
    outside = {f.measure for f in found.of(Verdict.OUTSIDE)}
    assert "ball_position" in outside
    assert 1 <= len(found.to_do) <= MOST_TO_DO
    assert found.to_do[0] is found.advice.first
    assert found.to_do[0].measure == "ball_position"
    plan = bag().plans[0]
    back = plan.measures["ball_position"].value - fault_value(plan, "ball_position", high=False)
    assert found.advice.amount == pytest.approx(back, rel=0.15)
    assert {f.measure for f in found.to_do} <= outside


def test_every_window_is_the_plans_room_about_the_planned_value() -> None:
    wanted = target()
    for window in wanted.windows():
        aim, planned = wanted.aims[window.measure], bag().plans[0].measures[window.measure]
        room = max(planned.tolerance, LEAST_ROOM[planned.unit])
        last = 1e-4 if planned.unit is Unit.METRE else 0.01  # digit of the document
        assert aim.room == pytest.approx(room, abs=last)
        assert window.low == pytest.approx(planned.value - room, abs=2 * last)
        assert window.high == pytest.approx(planned.value + room, abs=2 * last)
        assert window.source == "the student's plan"


def test_the_order_of_checking_is_that_of_the_standards() -> None:
    usual = bag().plans[0].measures
    order = [w for w in (p.window for p in usual.values()) if w is not None]
    found = {w.measure: w.order for w in target().windows(order)}
    assert found == {w.measure: w.order for w in order}
    assert len({w.order for w in target().windows(())}) == len(target().aims)


def test_no_room_is_less_than_a_student_can_rebuild() -> None:
    wanted = target()
    tight = [id_ for id_, aim in wanted.aims.items() if aim.tolerance < aim.room]
    assert "shaft_lean" in tight
    assert wanted.aims["shaft_lean"].room == LEAST_ROOM[Unit.DEGREE]


def test_a_plan_worked_out_now_and_one_from_a_file_say_the_same() -> None:
    solved, given = as_planned(), check(planned_points(), wanted=target())
    assert given.target.source == "file"
    assert given.target.name == "plan.json"
    assert [f.verdict for f in solved.findings] == [f.verdict for f in given.findings]


def test_a_window_too_narrow_to_tell_is_no_fault_and_not_to_be_widened() -> None:
    narrow = [
        f
        for f in as_planned().of(Verdict.UNDECIDED)
        if f.judgement is not None and not f.judgement.can_be_inside and f.settling is not None
        and not f.settling.step
    ]  # fmt: skip
    assert narrow
    assert all("widen" not in f.settle for f in narrow)
    assert all("Nothing says that it is wrong" in f.settle for f in narrow)


def codes(found: Check) -> set[str]:
    return {note.code for note in found.assessment.notes}


def test_a_plan_of_somebody_else_another_club_or_a_slope_is_noted() -> None:
    at = planned_points()
    assert not codes(as_planned()) & {"plan_of_another", "plan_of_another_club", "plan_on_a_slope"}
    other = evolve(target(), stature=1.60)
    assert "plan_of_another" in codes(check(at, wanted=other))
    assert "plan_of_another" in codes(check(at, wanted=target(hand=Hand.LEFT)))
    assert "plan_of_another_club" in codes(check(at, wanted=evolve(target(), club_length=0.90)))
    sloping = plan_bag(
        PlanRequest(
            student=make_student(height=HEIGHT),
            clubs=(BagEntry(club=find_club(CLUB)),),
            standards=default_standards(),
            ground=Ground(uphill=np.radians(5)),
        )
    )
    wanted = target_of_document(plan_json_text(sloping), club=CLUB, where="p.json")
    assert "plan_on_a_slope" in codes(check(at, wanted=wanted))


def test_a_left_handers_plan_fits_a_left_handers_pictures() -> None:
    found = check(planned_points(), hand=Hand.LEFT)
    assert found.target.hand is Hand.LEFT
    assert found.of(Verdict.OUTSIDE) == ()


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (lambda d: d.update(schema="wellset.plan/9"), "schema"),
        (lambda d: d["clubs"][0]["points"].pop("nose"), "it has no point nose"),
        (lambda d: d["clubs"][0]["measures"]["arm_hang"].pop("value"), "arm_hang.value"),
        (lambda d: d.update(clubs=[]), "it is for no club"),
        (lambda d: d["clubs"][0].update(club="driver"), "it is for driver"),
    ],
)
def test_what_is_wrong_with_a_plan_is_said(change: object, said: str) -> None:
    data = json.loads(plan_json_text(bag()))
    change(data)  # type: ignore[operator]
    with pytest.raises(InputError) as raised:
        target_of_document(json.dumps(data), club=CLUB, where="plan.json")
    assert said in raised.value.sentence
    assert "plan.json" in raised.value.sentence


def test_the_json_keeps_its_contract() -> None:
    for found in (as_planned(), ball_too_far_back()):
        data = json.loads(check_json_text(found))
        document = CheckDocument.model_validate(data)
        assert data["schema"] == "wellset.check/1"
        assert document.model_dump(mode="json", by_alias=True) == data
        verdicts = {part.measure: part.verdict for part in document.checks}
        assert set(document.right) == {m for m, v in verdicts.items() if v == "inside"}
        assert set(document.cannot_tell) == {m for m, v in verdicts.items() if v == "undecided"}
        assert len(document.to_do) == len(found.to_do)
        for part in document.checks:
            assert part.off is not None
            measured = part.measured.model_dump()
            assert part.off.value == pytest.approx(measured["value"] - part.plan.value, abs=2e-2)


def test_the_schema_asks_for_every_field_of_a_document() -> None:
    data = json.loads(check_json_text(as_planned()))
    assert set(check_schema()["required"]) == set(data)  # type: ignore[call-overload]


@pytest.mark.parametrize("units", list(UnitSystem))
def test_page_and_terminal_say_what_to_do_what_is_right_and_what_to_look_for(
    units: UnitSystem,
) -> None:
    found = ball_too_far_back()
    report = check_report(found, units=units)
    page = check_html(report, pixels={})
    text = " ".join(check_text(report, files=["check.html"]).split())
    assert page.count("<li class=") + page.count("<li>\n      <div>") >= len(report.to_do)
    for thing in report.to_do:
        assert thing.title in page
        assert " ".join(thing.what.split()) in text
    for row in report.rows:
        assert row.measured in page
        assert row.wanted in page
    for line in report.look_next:
        assert " ".join(line.split()) in text
    assert page.count('class="figure"') == 3
    assert "check.html" in text


def test_all_right_says_so_and_what_the_pictures_cannot_tell() -> None:
    report = check_report(as_planned())
    assert report.to_do == ()
    assert "Nothing to do now" in check_html(report, pixels={})
    assert "can't tell yet" in report.look_next[0]
    assert "<html" not in check_part(report, images={})


def test_a_plan_that_does_not_fit_itself_is_told() -> None:
    wanted = evolve(target(), conflicts=("The lie is too flat.",))
    found = check(planned_points(), wanted=wanted)
    assert "The lie is too flat." in check_html(check_report(found), pixels={})
    assert "The plan: The lie is too flat." in check_text(check_report(found))


def test_a_plan_from_a_file_is_drawn_in_shoes_as_broad_as_a_solved_one() -> None:
    given, solved = target().figure.state, bag().plans[0].figure.state
    # the file has no sex and no shoe size: the pooled tables differ from any by a few millimetres
    breadth = given.scalar("shoe_breadth")
    assert breadth == pytest.approx(solved.scalar("shoe_breadth"), abs=0.01)


def test_every_aim_is_a_measure_of_the_catalogue_in_its_order() -> None:
    assert list(target().aims) == [id_ for id_ in MEASURES if id_ in target().aims]


def test_the_drill_of_the_first_thing_to_do_is_the_coachs_own() -> None:
    given = ball_too_far_back().advice.drill
    assert given is not None
    mine = {
        "schema": "wellset.drills/1",
        "name": "mine",
        "based_on": "house",
        "drills": {given.id: {**entry_of(given), "title": "My own way"}},
    }
    book = read_drills(json.dumps(mine), where="mine")
    moved = with_fault(bag().plans[0], "ball_position", high=False)
    reader = FakeReader(sightings=pictures_of(np.array(moved.points)))
    found = check_setup(request(drills=book), target=target(), reader=as_port(reader))
    assert found.advice.drill is not None
    assert found.advice.drill.title == "My own way"
    assert json.loads(check_json_text(found))["to_do"][0]["drill"]["title"] == "My own way"
