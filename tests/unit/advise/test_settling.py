"""Which of the things that could be done is named, and how likely it decides."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest
import scipy.stats
from attrs import evolve

from tests.support.placed import pictures
from tests.support.truth import load
from wellset.advise import Finding, Settling, Side, Verdict, findings, judge, settle_all
from wellset.advise.settling import GOOD_CHANCE, _normal_cdf, chances_to_decide
from wellset.advise.settling_words import settling_words
from wellset.assess import Setting, Solved, Step, body_knowledge, club_knowledge, fit, judge_all
from wellset.body import Build
from wellset.equipment import find_club
from wellset.figure.views import View
from wellset.measures import COVERAGE_FACTOR, MEASURES, Measured, NotMeasurable, Unit
from wellset.standards import Decision, Window
from wellset.units import UnitSystem

SCENE = "mid_iron_neutral_21"


def window(measure: str, low: float | None, high: float | None) -> Window:
    return Window(
        measure=measure,
        unit=MEASURES[measure].unit,
        low=low,
        high=high,
        target=None,
        reason="because",
        source="common practice, no source",
    )


@cache
def solved(sticks: tuple[str, ...] = (), views: tuple[View, ...] = tuple(View)) -> Solved:
    truth = load(SCENE)
    build = Build(stature=truth["stature_m"])
    setting = Setting(body=body_knowledge(build), club=club_knowledge(find_club("7-iron")))
    seen = [s for s in pictures(SCENE, sticks=sticks, seed=1) if s.view in views]
    return Solved(fit=fit(setting, seen), setting=setting, sightings=seen, build=build)


def settled(
    measure: str,
    *,
    half: float,
    off: float = 0.0,
    case: Solved | None = None,
    units: UnitSystem = UnitSystem.CENTIMETRES,
) -> Finding:
    """A finding whose window lies so wide around, and so far from, what was measured."""
    case = case or solved()
    results = judge_all(case.fit, case.sightings)
    value = getattr(results[measure], "value", 0.0)
    around = window(measure, value + off - half, value + off + half)
    found = findings(results, [around])
    return settle_all(found, solved=case, units=units)[0]


def settling(finding: Finding) -> Settling:
    assert finding.settling is not None
    return finding.settling


def test_the_normal_distribution_is_exact_to_a_ten_millionth() -> None:
    z = np.linspace(-8, 8, 4001)
    np.testing.assert_allclose(_normal_cdf(z), scipy.stats.norm.cdf(z), atol=1.5e-7)


@pytest.mark.parametrize(("low", "high"), [(0.0, 10.0), (3.0, 4.5), (None, 2.0), (2.0, None)])
@pytest.mark.parametrize("value", [1.0, 2.4, 4.0])
def test_the_chance_to_decide_is_how_often_simulated_coaches_get_a_verdict(
    value: float, low: float | None, high: float | None
) -> None:
    # truth drawn from what is known now, then one more observation, then the usual judgement
    rng = np.random.default_rng(5)
    sd, then = 2.0, np.array([1.9, 1.2, 0.5])
    around, decision = window("forward_bend", low, high), Decision()
    found = chances_to_decide(value, sd=sd, sd_then=then, window=around, decision=decision)
    for chance, after in zip(found, then, strict=True):
        noise = 1 / np.sqrt(after**-2 - sd**-2)
        truth = value + sd * rng.normal(size=4000)
        observed = truth + noise * rng.normal(size=4000)
        estimate = (value / sd**2 + observed / noise**2) * after**2
        decided = np.mean([
            judge(
                Measured(measure="forward_bend", unit=Unit.DEGREE, value=one, sd=float(after)),
                around,
                decision=decision,
                open_scale=1.0,
            ).verdict
            is not Verdict.UNDECIDED
            for one in estimate
        ])  # fmt: skip
        # 4000 draws scatter by at most 0.008, 41 nodes by as much again
        assert chance == pytest.approx(decided, abs=0.035)


def test_a_useless_observation_never_decides() -> None:
    around = window("forward_bend", 30.0, 40.0)
    chance = chances_to_decide(
        39.0, sd=2.0, sd_then=np.array([2.0]), window=around, decision=Decision()
    )
    assert chance[0] == 0


def test_a_line_against_the_target_is_settled_by_one_stick_along_it() -> None:
    finding = settled("foot_line", half=4.0, off=2.0)
    assert finding.verdict is Verdict.UNDECIDED
    found = settling(finding)
    assert found.step == Step.TARGET_STICK
    assert found.decides
    assert found.chance >= GOOD_CHANCE
    assert found.sd_then < 0.4 * found.sd_now
    assert finding.settle.startswith("Lay a stick along the target line and take the pictures")
    now, then = COVERAGE_FACTOR * found.sd_now, COVERAGE_FACTOR * found.sd_then
    assert f"The range would shrink from ±{now:.1f}° to about ±{then:.1f}°" in finding.settle
    assert finding.settle in finding.for_coach


def test_the_ball_between_the_feet_is_settled_by_a_t() -> None:
    found = settling(settled("ball_position", half=7.0, off=4.0))
    assert found.step == Step.T_OF_STICKS
    assert found.decides


def test_with_one_stick_there_a_second_is_asked_for() -> None:
    found = settling(settled("ball_position", half=6.0, off=2.0, case=solved(("target",))))
    assert found.step in {Step.CROSS_STICK, Step.SHEET, Step.LEVEL}
    assert found.decides


def test_of_what_decides_the_least_effort_is_named() -> None:
    finding = settled("foot_line", half=4.0, off=2.0)
    options = settling_words().steps
    # the T decides a line as well as one stick does, with a stick more to lay
    assert settling(finding).effort < options[Step.T_OF_STICKS].effort


def test_what_helps_most_is_named_with_its_doubt_where_nothing_decides() -> None:
    finding = settled("heel_toe_balance", half=8.0, off=5.5)
    found = settling(finding)
    assert not found.decides
    assert found.step
    assert found.chance < GOOD_CHANCE
    assert "would probably still not decide it" in finding.settle


def test_a_value_that_nothing_narrows_is_said_to_lie_too_near_a_limit() -> None:
    finding = settled("trail_knee_flex", half=8.0, off=7.9)
    found = settling(finding)
    assert found.step == ""
    assert found.effort == found.chance == 0
    assert "the value lies too near a limit" in finding.settle


def test_too_narrow_a_window_is_said_to_be_narrow() -> None:
    finding = settled("trail_knee_flex", half=0.5)
    assert "the window is narrow" in finding.settle


def test_a_decided_finding_needs_nothing() -> None:
    finding = settled("forward_bend", half=10.0)
    assert finding.verdict is Verdict.INSIDE
    assert finding.settling is None
    assert finding.settle == ""


def test_a_measure_of_the_missing_picture_asks_for_it_and_says_what_it_would_give() -> None:
    case = solved(("target",), (View.FACE_ON,))
    results = judge_all(case.fit, case.sightings)
    result = results["forward_bend"]
    assert isinstance(result, NotMeasurable)
    found = findings(results, [window("forward_bend", 25.0, 45.0)])
    finding = settle_all(found, solved=case)[0]
    assert settling(finding).step == Step.OTHER_VIEW
    assert settling(finding).subject == "down_the_line"
    assert "Take the down-the-line picture too. That would give a number" in finding.settle


def test_a_hidden_point_keeps_the_remedy_that_came_with_it() -> None:
    case = solved()
    hidden = NotMeasurable(
        measure="hand_gap", unit=Unit.METRE, code="landmark_not_seen", why="hidden.", fix="Show it."
    )
    found = findings({"hand_gap": hidden}, [window("hand_gap", 0.08, 0.18)])
    finding = settle_all(found, solved=case)[0]
    assert finding.settling is None
    assert finding.settle == "Show it."


def test_ranges_are_told_in_the_coachs_unit() -> None:
    told = settled("armpit_plumb", half=0.03, off=0.02, units=UnitSystem.INCHES)
    assert " in to about ±" in told.settle
    assert " cm" not in told.settle


def test_a_verdict_does_not_change_by_saying_what_would_settle_it() -> None:
    finding = settled("foot_line", half=4.0, off=2.0)
    bare = evolve(finding, settling=None)
    assert (bare.verdict, bare.judgement, bare.order) == (
        finding.verdict,
        finding.judgement,
        finding.order,
    )
    assert finding.side in set(Side) | {None}


def test_every_step_has_words_and_an_effort() -> None:
    steps = settling_words().steps
    assert set(steps) == set(Step)
    for words in steps.values():
        assert words.what.rstrip().endswith(".")
        assert words.effort > 0
