"""What doesn't fit is named, with numbers and remedies that work."""

import math

import pytest
from attrs import evolve

from tests.support.plans import task
from wellset.body import Sex
from wellset.equipment import find_club
from wellset.errors import InputError
from wellset.prescribe import Limits, Plan, Task, solve_plan


def fitted(
    plan_club: str,
    *,
    length: float,
    lie_deg: float,
    stature: float,
    toe_up_deg: float | None = None,
) -> Plan:
    club = find_club(plan_club, length=length, lie=math.radians(lie_deg))
    toe_up = None if toe_up_deg is None else math.radians(toe_up_deg)
    return solve_plan(task(club, stature=stature, toe_up=toe_up))


def test_a_club_far_too_upright_is_named_with_the_toe_up_that_mends_it() -> None:
    plan = fitted("7-iron", length=0.94, lie_deg=71, stature=1.75, toe_up_deg=4.0)
    assert not plan.fits
    named = {conflict.measure for conflict in plan.conflicts}
    assert named & {"shaft_angle", "handle_height"}
    remedies = [r for c in plan.conflicts for r in c.remedies if r.kind == "toe_up" and r.cures]
    assert remedies
    assert remedies[0].amount > 0
    # doing what it says makes it fit
    club = find_club("7-iron", length=0.94, lie=math.radians(71))
    held_lower = task(club, stature=1.75, toe_up=math.radians(4.0 + remedies[0].amount + 0.2))
    assert solve_plan(held_lower).fits


def test_a_body_that_may_choose_takes_a_bad_lie_to_its_end_and_says_so() -> None:
    upright = fitted("7-iron", length=0.94, lie_deg=76, stature=1.65)
    assert upright.floor.toe_up_deg == pytest.approx(8.0, abs=1e-6)  # 4 degrees beyond the usual
    assert [note.code for note in upright.notes] == ["club_too_upright"]
    assert "4° flatter" in upright.notes[0].remedy
    usual = fitted("7-iron", length=0.94, lie_deg=62.5, stature=1.80)
    assert not usual.notes


def test_a_club_far_too_flat_asks_for_a_more_upright_one() -> None:
    plan = fitted("9-iron", length=0.84, lie_deg=56, stature=1.75)
    remedy = next(r for c in plan.conflicts for r in c.remedies if r.cures and not r.what)
    assert remedy.kind == "toe_up"
    assert remedy.amount < 0
    assert "more upright" in remedy.message


def test_the_facts_of_a_conflict_name_the_window_and_the_club() -> None:
    plan = fitted("9-iron", length=0.84, lie_deg=56, stature=1.75)
    facts = {fact for conflict in plan.conflicts for fact in conflict.facts}
    assert "the window for handle height" in facts
    assert "the lie of the club (56.0°)" in facts
    for conflict in plan.conflicts:
        window = plan.measures[conflict.measure].window
        assert window is not None
        value = plan.measures[conflict.measure].value
        limit = window.low if conflict.amount < 0 else window.high
        assert limit is not None
        assert value - limit == pytest.approx(conflict.amount, abs=1e-6)
        assert plan.measures[conflict.measure].tolerance == 0


def test_widening_the_window_that_a_remedy_names_makes_it_fit() -> None:
    plan = fitted("7-iron", length=1.016, lie_deg=68, stature=1.75, toe_up_deg=4.0)
    remedy = next(r for c in plan.conflicts for r in c.remedies if r.kind == "window" and r.cures)
    club = find_club("7-iron", length=1.016, lie=math.radians(68))
    one = task(club, stature=1.75, toe_up=math.radians(4.0))

    def widened(by: float) -> bool:
        windows = tuple(
            evolve(
                w,
                low=w.low if by > 0 or w.low is None else w.low + by,
                high=w.high if by < 0 or w.high is None else w.high + by,
            )
            if w.measure == remedy.what
            else w
            for w in one.windows
        )
        return solve_plan(evolve(one, windows=windows)).fits

    assert not widened(0.0)
    assert widened(remedy.amount)


def with_windows(one: Task, **new: tuple[float, float]) -> Task:
    """The task with other limits for some windows, metre; the target in their middle."""
    return evolve(
        one,
        windows=tuple(
            evolve(w, low=new[w.measure][0], high=new[w.measure][1], target=sum(new[w.measure]) / 2)
            if w.measure in new
            else w
            for w in one.windows
        ),
    )


def test_a_narrow_window_far_from_what_a_body_does_is_the_one_to_widen() -> None:
    # its own limits are kept and others broken, and its toe-up is driven to the end of its range
    far = with_windows(task(), ball_to_toes=(0.80, 0.82))
    plan = solve_plan(far)
    remedies = {r.message: r for c in plan.conflicts for r in c.remedies if r.cures}
    assert {r.what for r in remedies.values()} == {"ball_to_toes"}
    (remedy,) = remedies.values()
    assert solve_plan(with_windows(far, ball_to_toes=(0.80 + remedy.amount, 0.82))).fits


def test_two_windows_that_shut_each_other_out_name_each_other() -> None:
    plan = solve_plan(with_windows(task(), stance_width=(0.60, 0.62), stance_gap=(0.20, 0.22)))
    by_measure = {c.measure: c for c in plan.conflicts}
    assert "the window for gap between the shoes" in by_measure["stance_width"].message
    assert "the window for stance width" in by_measure["stance_gap"].message


def test_no_remedy_asks_for_nothing() -> None:
    # no length and no lie helps where a stance is asked for that no leg reaches
    plan = solve_plan(with_windows(task(), stance_width=(1.50, 1.60)))
    assert plan.conflicts
    for conflict in plan.conflicts:
        for remedy in conflict.remedies:
            assert "0.0°" not in remedy.message
            assert "0.0 in" not in remedy.message


def test_the_students_limit_wins_over_the_window_and_is_said() -> None:
    plan = solve_plan(task(limits=Limits.of(max_forward_bend=25)))
    assert plan.measures["forward_bend"].value <= 25
    conflict = next(c for c in plan.conflicts if c.code == "limit_against_window")
    assert conflict.measure == "forward_bend"
    assert conflict.amount == pytest.approx(25 - 33)
    assert "The limit wins" in conflict.message
    assert conflict.remedies[0].kind == "window"
    # alone it cures all; beside others it can't
    assert [r.cures for c in plan.conflicts for r in c.remedies] == [True]
    both = solve_plan(task(limits=Limits.of(max_forward_bend=25, max_knee_flex=8)))
    lowered = [c for c in both.conflicts if c.code == "limit_against_window"]
    assert len(lowered) == 3
    assert not any(r.cures for c in lowered for r in c.remedies)


def test_no_deep_bend_holds_bend_and_knees_together() -> None:
    plan = solve_plan(task("sand wedge", sex=Sex.WOMEN, stature=1.70,
                           limits=Limits.of(no_deep_bend=True)))  # fmt: skip
    assert plan.measures["forward_bend"].value <= 30
    assert plan.measures["lead_knee_flex"].value <= 22
    assert plan.measures["trail_knee_flex"].value <= 22


def test_the_tighter_of_two_limits_counts() -> None:
    limits = Limits.of(max_forward_bend=20, no_deep_bend=True)
    assert limits.at_most["forward_bend"] == 20
    assert limits.at_most["lead_knee_flex"] == 22


def test_a_limit_of_something_that_is_no_measure_is_refused() -> None:
    with pytest.raises(InputError, match="is no limit of a measure"):
        Limits(at_most={"neck": 10})
