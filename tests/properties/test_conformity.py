"""What holds for every value, window and uncertainty."""

from __future__ import annotations

import pytest
from hypothesis import given, target
from hypothesis import strategies as st

from wellset.advise import Verdict, judge, probability_inside, tail_probabilities
from wellset.measures import Measured, Unit
from wellset.standards import Decision, Window

numbers = st.floats(-100, 100)
widths = st.floats(0.01, 100)
spreads = st.floats(0.001, 50)
decision = Decision()


def window(low: float, high: float) -> Window:
    return Window(measure="arm_hang", unit=Unit.DEGREE, low=low, high=high, target=None,
                  reason="because", source="common practice, no source")  # fmt: skip


def bend(value: float, sd: float) -> Measured:
    return Measured(measure="arm_hang", unit=Unit.DEGREE, value=value, sd=sd)


@given(value=numbers, sd=spreads, low=numbers, width=widths, more_low=widths, more_high=widths)
def test_a_wider_window_is_never_less_likely(
    value: float, sd: float, low: float, width: float, more_low: float, more_high: float
) -> None:
    narrow = probability_inside(value, sd=sd, low=low, high=low + width)
    wide = probability_inside(value, sd=sd, low=low - more_low, high=low + width + more_high)
    target(narrow - wide)
    assert wide >= narrow - 1e-12


@given(value=numbers, sd=spreads, low=numbers, width=widths)
def test_inside_and_both_outsides_share_out_all_the_probability(
    value: float, sd: float, low: float, width: float
) -> None:
    below, above = tail_probabilities(value, sd=sd, low=low, high=low + width)
    inside = probability_inside(value, sd=sd, low=low, high=low + width)
    assert 0 <= inside <= 1
    assert below + inside + above == pytest.approx(1, abs=1e-9)


@given(value=numbers, sd=spreads, low=numbers, width=widths)
def test_mirrored_value_and_window_give_the_same_probability(
    value: float, sd: float, low: float, width: float
) -> None:
    assert probability_inside(value, sd=sd, low=low, high=low + width) == pytest.approx(
        probability_inside(-value, sd=sd, low=-low - width, high=-low), abs=1e-9
    )


@given(value=numbers, sd=spreads, low=numbers, width=widths, shift=numbers)
def test_moving_value_and_window_together_changes_nothing(
    value: float, sd: float, low: float, width: float, shift: float
) -> None:
    here = probability_inside(value, sd=sd, low=low, high=low + width)
    there = probability_inside(value + shift, sd=sd, low=low + shift, high=low + width + shift)
    assert here == pytest.approx(there, abs=1e-6)


@given(value=numbers, sd=spreads, more=spreads, high=numbers)
def test_more_uncertainty_pulls_a_one_sided_probability_toward_one_half(
    value: float, sd: float, more: float, high: float
) -> None:
    sure = probability_inside(value, sd=sd, low=None, high=high)
    unsure = probability_inside(value, sd=sd + more, low=None, high=high)
    assert abs(unsure - 0.5) <= abs(sure - 0.5) + 1e-12


@given(part=st.floats(0, 1), sd=spreads, more=spreads, low=numbers, width=widths)
def test_more_uncertainty_never_makes_a_value_in_the_window_more_likely_inside(
    part: float, sd: float, more: float, low: float, width: float
) -> None:
    value = low + part * width
    sure = probability_inside(value, sd=sd, low=low, high=low + width)
    unsure = probability_inside(value, sd=sd + more, low=low, high=low + width)
    assert unsure <= sure + 1e-9


@given(sd=spreads, limit_sd=spreads, value=numbers, high=numbers)
def test_an_uncertain_limit_counts_like_an_uncertain_value(
    sd: float, limit_sd: float, value: float, high: float
) -> None:
    one = probability_inside(value, sd=sd, low=None, high=high, high_sd=limit_sd)
    other = probability_inside(value, sd=limit_sd, low=None, high=high, high_sd=sd)
    assert one == pytest.approx(other, abs=1e-12)


@given(beyond=widths, further=widths, sd=spreads, low=numbers, width=widths)
def test_farther_out_is_never_less_severe_and_never_more_likely_inside(
    beyond: float, further: float, sd: float, low: float, width: float
) -> None:
    high = low + width
    near, far = (
        judge(bend(high + out, sd), window(low, high), decision=decision, open_scale=5)
        for out in (beyond, beyond + further)
    )
    assert far.severity > near.severity > 0
    assert far.probability_inside <= near.probability_inside + 1e-12


@given(beyond=widths, sd=spreads, other=spreads, low=numbers, width=widths)
def test_severity_does_not_depend_on_the_camera(
    beyond: float, sd: float, other: float, low: float, width: float
) -> None:
    one, two = (
        judge(bend(low - beyond, each), window(low, low + width), decision=decision, open_scale=5)
        for each in (sd, other)
    )
    if one.side is two.side:
        assert one.severity == two.severity


@given(value=numbers, sd=spreads, low=numbers, width=widths)
def test_the_word_follows_the_probability(
    value: float, sd: float, low: float, width: float
) -> None:
    found = judge(bend(value, sd), window(low, low + width), decision=decision, open_scale=5)
    inside = found.probability_inside
    assert inside <= found.best_possible + 1e-9
    assert (found.verdict is Verdict.INSIDE) == (inside >= decision.inside_at_least)
    assert (found.verdict is Verdict.OUTSIDE) == (inside <= decision.outside_at_most)
    if not found.can_be_inside:
        assert found.verdict is not Verdict.INSIDE
