"""Files and words that go into a plan, and the use case."""

import math

import pytest

from docs.generator.plan import BAG_EXAMPLE
from wellset.errors import EquipmentError, InputError
from wellset.figure.views import Hand
from wellset.prescribe import Wind
from wellset.services.bag_file import read_bag, usual_bag
from wellset.services.place_words import ground_from_words, wind_from_words
from wellset.services.plan_bag import PlanRequest, plan_bag
from wellset.services.student_file import make_student
from wellset.standards import default_standards, load_standards


def request(student_text: str = "", **changes: object) -> PlanRequest:
    text = f"schema: wellset.student/1\nheight: 178 cm\n{student_text}"
    given: dict[str, object] = {
        "student": make_student(height=None, file_text=text),
        "clubs": usual_bag()[6:7],
        "standards": default_standards(),
        **changes,
    }
    return PlanRequest(**given)  # type: ignore[arg-type]


def test_the_bag_file_of_the_page_is_read() -> None:
    clubs = {entry.club.name: entry for entry in read_bag(BAG_EXAMPLE, where="bag")}
    assert list(clubs) == ["driver", "7-iron", "sand wedge", "putter"]
    assert clubs["7-iron"].club.length_m == pytest.approx(37.25 * 0.0254)
    assert clubs["sand wedge"].toe_up == pytest.approx(math.radians(2))
    assert clubs["driver"].toe_up is None


def test_every_mistake_of_a_bag_file_is_named_at_once() -> None:
    text = "schema: wellset.bag/1\nclubs:\n  - {name: 7-iron, length: long}\n  - {title: 8-iron}\n"
    with pytest.raises(InputError) as caught:
        read_bag(text, where="bag.yaml")
    for part in ("clubs.0.length", "clubs.1.name", "clubs.1.title", "bag.yaml"):
        assert part in caught.value.sentence


def test_a_club_that_stands_twice_is_refused() -> None:
    text = "schema: wellset.bag/1\nclubs: [{name: 7-iron}, {name: 7i}]\n"
    with pytest.raises(InputError, match="7-iron stands in it twice"):
        read_bag(text, where="bag")


def test_a_club_beyond_the_rules_is_refused() -> None:
    text = "schema: wellset.bag/1\nclubs: [{name: driver, length: 60 in}]\n"
    with pytest.raises(EquipmentError):
        read_bag(text, where="bag")


def test_slopes_are_read_in_a_coachs_words() -> None:
    ground = ground_from_words(["downhill 4", "ball above feet 8 deg"])
    assert math.degrees(ground.uphill) == pytest.approx(-4)
    assert math.degrees(ground.ball_above_feet) == pytest.approx(8)
    assert ground_from_words([]).is_level


@pytest.mark.parametrize("slopes", [["steep"], ["uphill"], ["uphill 4", "downhill 3"]])
def test_a_slope_that_says_nothing_or_too_much_is_refused(slopes: list[str]) -> None:
    with pytest.raises(InputError, match=r"slope"):
        ground_from_words(slopes)


def test_wind_is_read_in_a_coachs_words() -> None:
    assert wind_from_words("Against") is Wind.AGAINST
    assert wind_from_words(None) is Wind.NONE
    with pytest.raises(InputError, match="wind"):
        wind_from_words("gale")


@pytest.mark.parametrize("posture", ["seated", "one-armed"])
def test_other_ways_to_play_are_not_modelled_yet_but_can_be_assessed(posture: str) -> None:
    with pytest.raises(InputError, match="not modelled yet") as caught:
        plan_bag(request(f"posture: {posture}\n"))
    assert "wellset assess" in caught.value.fix


def test_a_junior_is_told_which_tables_were_used_and_what_they_lack() -> None:
    notes = plan_bag(request("age: 11\n")).notes
    message = next(n.message for n in notes if n.code == "age_outside_tables")
    assert "ANSUR II" in message
    assert "17 to 58" in message


def test_limits_of_the_student_file_reach_the_plan() -> None:
    plan = plan_bag(request("limits: {max_forward_bend: 24}\n")).plans[0]
    assert plan.measures["forward_bend"].value <= 24


def test_the_hand_asked_for_wins_over_the_file() -> None:
    assert plan_bag(request("hand: left\n")).hand is Hand.LEFT
    assert plan_bag(request("hand: left\n", hand=Hand.RIGHT)).hand is Hand.RIGHT


def test_a_window_in_shares_of_the_stance_is_one_of_the_stance_aimed_at() -> None:
    standards = load_standards(
        "schema: wellset.standards/1\nname: Mine\nbased_on: default\nshots:\n  mid iron:\n"
        "    stance_width: {low: 38, high: 42, target: 40, unit: cm}\n"
        '    head_behind_ball: {low: 5, high: 15, target: 10, unit: "% of stance"}\n',
        where="mine",
    )
    plan = plan_bag(request(standards=standards)).plans[0]
    window = plan.measures["head_behind_ball"].window
    assert window is not None
    assert window.target == pytest.approx(0.04)


def test_another_shot_uses_its_windows() -> None:
    full, chip = (plan_bag(request(shot=shot)).plans[0] for shot in (None, "chip"))
    assert chip.shot == "chip"
    assert chip.measures["stance_width"].value < full.measures["stance_width"].value
    assert chip.measures["lead_share"].value > full.measures["lead_share"].value


def test_standards_that_say_nothing_of_balance_get_the_usual_windows_and_say_so() -> None:
    mine = load_standards(
        "schema: wellset.standards/1\nname: Mine\nshots:\n  mid iron:\n    forward_bend: {low: 30, "
        "high: 40, unit: deg, reason: mine, source: mine}\n",
        where="mine",
    )
    found = plan_bag(request(standards=mine))
    measures = found.plans[0].measures
    for name in ("heel_toe_balance", "lead_share"):
        window = measures[name].window
        assert window is not None
        assert window.low is not None
        assert window.high is not None
        assert window.low <= measures[name].value <= window.high
    assert measures["stance_width"].window is None
    assert "balance_by_default" in {note.code for note in found.notes}
    assert "balance_by_default" not in {note.code for note in plan_bag(request()).notes}
