"""Findings, their sentences, and what to change first."""

from __future__ import annotations

import re
from collections.abc import Mapping

import pytest

from wellset.advise import (
    Fault,
    Side,
    Verdict,
    findings,
    first_change,
    house_book,
    percent,
    words,
)
from wellset.errors import InputError
from wellset.measures import MEASURES, Measured, MeasureResult, NotMeasurable, Unit
from wellset.standards import StudentScale, Window, Yardstick, default_standards
from wellset.units import UnitSystem

SCALE = StudentScale(
    stance_width=Yardstick(metres=0.42, sd=0.01),
    head_length=Yardstick(metres=0.08, sd=0.002),
    shoulder_width=Yardstick(metres=0.40, sd=0.01),
    foot_length=Yardstick(metres=0.30, sd=0.005),
)
WINDOWS = default_standards().windows_for("mid iron", scale=SCALE)
SD = {Unit.METRE: 0.004, Unit.DEGREE: 0.8, Unit.PERCENT: 1.0}


def measured(measure: str, value: float, sd: float | None = None) -> Measured:
    unit = MEASURES[measure].unit
    return Measured(measure=measure, unit=unit, value=value, sd=SD[unit] if sd is None else sd)


def middle(window: Window) -> float:
    assert window.low is not None
    assert window.high is not None
    return (window.low + window.high) / 2


def good_set_up() -> dict[str, MeasureResult]:
    return {w.measure: measured(w.measure, middle(w)) for w in WINDOWS}


def window(measure: str, **changes: object) -> Window:
    base: dict[str, object] = {
        "measure": measure, "unit": MEASURES[measure].unit, "low": 10.0, "high": 20.0,
        "target": None, "reason": "because", "source": "common practice, no source",
    }  # fmt: skip
    return Window(**(base | changes))  # type: ignore[arg-type]


def of(found: Mapping[str, MeasureResult], *windows: Window) -> Verdict:
    return findings(found, windows)[0].verdict


def test_a_set_up_in_the_middle_of_every_window_needs_no_change() -> None:
    found = findings(good_set_up(), WINDOWS)
    assert {f.verdict for f in found} == {Verdict.INSIDE}
    advice = first_change(found)
    assert advice.first is None
    assert advice.drill is None
    assert [f.measure for f in advice.keep] == ["stance_width", "stance_gap"]
    assert "nothing to change" in advice.reason


def test_findings_stand_in_the_order_of_checking_whatever_the_order_of_windows() -> None:
    found = findings(good_set_up(), WINDOWS[::-1])
    assert [f.measure for f in found] == [w.measure for w in WINDOWS]


def test_the_coachs_sentence_has_value_interval_window_and_amount() -> None:
    text = findings({"arm_hang": measured("arm_hang", 26, 2)}, [window("arm_hang")])[0].for_coach
    assert text.startswith(
        "Arm hang 26 ± 4°, window 10 to 20°: outside. It lies 6 ± 4° above the window."
    )


def test_lengths_are_shown_in_the_coachs_unit_with_the_window_as_it_was_written() -> None:
    gap = next(w for w in WINDOWS if w.measure == "stance_gap")
    found = {"stance_gap": measured("stance_gap", 0.508, 0.0127)}
    inches = findings(found, [gap], units=UnitSystem.INCHES)[0].for_coach
    assert "20.0 ± 1.0 in" in inches
    assert "(1.6 to 2.4 club heads each side)" in inches
    assert "51 ± 2 cm" in findings(found, [gap])[0].for_coach


@pytest.mark.parametrize("measure", list(MEASURES))
@pytest.mark.parametrize("value", [0.0, 15.0, 30.0, 10.2])
def test_every_sentence_is_filled_in(measure: str, value: float) -> None:
    finding = findings({measure: measured(measure, value)}, [window(measure)])[0]
    for text in (finding.for_coach, finding.for_student):
        assert text.endswith(".")
        assert not re.search(r"[{}]|None|nan|  ", text)
        assert not re.search(r"\b(left|right)\b", text)


def test_low_and_high_get_their_own_words_and_drill() -> None:
    for value, side in ((0.0, Side.LOW), (30.0, Side.HIGH)):
        finding = findings({"side_bend": measured("side_bend", value)}, [window("side_bend")])[0]
        assert finding.side is side
        assert finding.amount_out == pytest.approx(10)
        assert finding.for_student == words()["side_bend"].sides[side].student
        assert finding.drill is house_book().suited(Fault(measure="side_bend", side=side))


def test_the_amount_has_the_uncertainty_of_value_and_limit_together() -> None:
    moved = window("hand_gap", low=0.1, high=0.2, high_sd=0.03)
    finding = findings({"hand_gap": measured("hand_gap", 0.5, 0.04)}, [moved])[0]
    assert finding.amount_interval95 == pytest.approx((0.3 - 1.96 * 0.05, 0.3 + 1.96 * 0.05), 1e-3)


def test_no_value_is_inside_a_window_too_narrow_for_the_pictures() -> None:
    for value in (10.0, 15.0, 20.0):
        finding = findings({"arm_hang": measured("arm_hang", value, 6)}, [window("arm_hang")])[0]
        assert finding.verdict is Verdict.UNDECIDED
        assert "The pictures can't tell: the window is narrow" in finding.for_coach
        assert finding.judgement is not None
        assert not finding.judgement.can_be_inside
        assert "clearly enough" in finding.for_student


def test_far_from_a_narrow_window_it_is_outside_all_the_same() -> None:
    assert of({"arm_hang": measured("arm_hang", 60, 6)}, window("arm_hang")) is Verdict.OUTSIDE


def test_with_exact_numbers_the_limits_belong_to_the_window() -> None:
    for value in (10.0, 20.0):
        assert of({"arm_hang": measured("arm_hang", value, 0)}, window("arm_hang")) is (
            Verdict.INSIDE
        )
    for value in (9.999, 20.001):
        assert of({"arm_hang": measured("arm_hang", value, 0)}, window("arm_hang")) is (
            Verdict.OUTSIDE
        )


def test_an_open_window_has_one_side_only() -> None:
    up, down = window("arm_hang", low=None), window("arm_hang", high=None)
    assert of({"arm_hang": measured("arm_hang", -500)}, up) is Verdict.INSIDE
    assert of({"arm_hang": measured("arm_hang", 500)}, down) is Verdict.INSIDE
    finding = findings({"arm_hang": measured("arm_hang", 500)}, [up])[0]
    assert "window at most 20°" in finding.for_coach
    assert finding.side is Side.HIGH


def test_a_measure_without_a_number_is_undecided_and_says_why_and_what_helps() -> None:
    missing = NotMeasurable(
        measure="arm_hang", unit=Unit.DEGREE, code="hidden", why="The hands are hidden",
        fix="Take it again from the side.",
    )  # fmt: skip
    finding = findings({"arm_hang": missing}, [window("arm_hang")])[0]
    assert finding.verdict is Verdict.UNDECIDED
    assert not finding.measured
    assert finding.probability_inside is None
    assert finding.side is None
    assert finding.amount_out is None
    assert finding.severity == 0
    assert "The hands are hidden. Take it again from the side." in finding.for_coach
    assert finding.settle == "Take it again from the side."


def test_a_window_without_any_result_is_an_error_of_the_caller() -> None:
    with pytest.raises(InputError, match="window for arm_hang but no result"):
        findings({}, [window("arm_hang")])


def test_the_first_change_stands_nearest_the_ground() -> None:
    bad = good_set_up() | {
        "shoulder_line": measured("shoulder_line", 40),
        "ball_position": measured("ball_position", 90),
        "arm_hang": measured("arm_hang", 30),
        "shaft_lean": measured("shaft_lean", 30),
    }
    advice = first_change(findings(bad, WINDOWS))
    assert advice.first is not None
    assert advice.first.measure == "ball_position"
    assert [f.measure for f in advice.then] == ["arm_hang", "shoulder_line"]
    assert advice.drill is house_book().get("ball_rail")
    assert "first in the order of checking" in advice.reason


def test_two_faults_of_one_stop_count_as_one_and_the_graver_is_named() -> None:
    bad = good_set_up() | {
        "hip_line": measured("hip_line", 12),
        "shoulder_line": measured("shoulder_line", 40),
    }
    advice = first_change(findings(bad, WINDOWS))
    assert advice.first is not None
    assert advice.first.measure == "shoulder_line"
    assert advice.then == ()
    assert "only check" in advice.reason or "first in" in advice.reason


def test_what_a_coach_weighs_more_can_be_taken_earlier() -> None:
    early = window("ball_position", order=0, station="ball")
    late = window("arm_hang", order=1, station="arms", weight=3.0)
    results = {"ball_position": measured("ball_position", 90), "arm_hang": measured("arm_hang", 90)}
    advice = first_change(findings(results, [early, late]))
    assert advice.first is not None
    assert advice.first.measure == "arm_hang"
    assert "weighs more" in advice.reason


def test_open_checks_alone_lead_to_settling_them_not_to_a_change() -> None:
    doubtful = good_set_up() | {"arm_hang": measured("arm_hang", 8.2)}
    advice = first_change(findings(doubtful, WINDOWS))
    assert advice.first is None
    assert "One check is still open" in advice.reason


@pytest.mark.parametrize(
    ("p", "text"), [(0.0, "under 1 %"), (0.5, "50 %"), (0.994, "over 99 %"), (1.0, "over 99 %")]
)
def test_a_probability_never_reads_as_certain(p: float, text: str) -> None:
    assert percent(p) == text
