"""Which correction brings other checks right, and how it is said."""

from __future__ import annotations

import numpy as np
import pytest
from attrs import evolve

from wellset.advise import (
    Consequence,
    Verdict,
    action,
    change_words,
    consequences,
    findings,
    first_change,
)
from wellset.advise.change_words import reason_words
from wellset.advise.consequences import aimed_at
from wellset.measures import MEASURES, Measured
from wellset.prescribe import WhatIf
from wellset.standards import Window

ORDER = list(MEASURES)
SIZE = len(ORDER)


def window(
    measure: str, *, target: float | None = 15.0, high: float | None = 20.0, order: int = 0
) -> Window:
    return Window(
        measure=measure,
        unit=MEASURES[measure].unit,
        low=10.0,
        high=high,
        target=target,
        reason="because",
        source="common practice, no source",
        order=order,
    )


def ranked(
    values: dict[str, float], *, moves: dict[tuple[str, str], float], sd: float = 0.1
) -> tuple[Consequence, ...]:
    """Consequences in a world where moving the first of each pair moves the second."""
    answer = np.eye(SIZE)
    for (cause, effect), slope in moves.items():
        answer[ORDER.index(cause), ORDER.index(effect)] = slope
    known = {
        name: Measured(measure=name, unit=MEASURES[name].unit, value=value, sd=sd)
        for name, value in values.items()
    }
    return consequences(
        findings(known, [window(name, order=i) for i, name in enumerate(values)]),
        WhatIf(moves=answer, misfit_m=0.0),
        measures=known,
        covariance=sd**2 * np.eye(SIZE),
    )


@pytest.mark.parametrize("measure", MEASURES)
def test_every_measure_has_words_to_grow_it_and_to_shrink_it(measure: str) -> None:
    more, less = action(measure, 12.0), action(measure, -12.0)
    assert more != less
    assert "{" not in more + less
    for text in (more, less):
        assert not {"left", "right-handed", "optimal"} & set(text.split())
    # "the spine tilts right" would be read as a direction
    assert not {"left", "right"} & set(change_words()[measure].right.split())


def test_the_cause_goes_before_its_consequence_though_it_is_checked_later() -> None:
    # putting the bend right brings the hands right, not the other way round
    values = {"arm_hang": 24.0, "forward_bend": 5.0}
    best = ranked(values, moves={("forward_bend", "arm_hang"): -0.9})
    assert best[0].finding.measure == "forward_bend"
    assert best[0].amount == pytest.approx(10.0)
    assert best[0].right == ("arm_hang",)


def test_what_comes_right_by_itself_is_not_told_as_a_thing_to_do_later() -> None:
    values = {"foot_line": 5.0, "arm_hang": 24.0, "forward_bend": 5.0}
    best = ranked(values, moves={("forward_bend", "arm_hang"): -0.9})
    # each check at a stop of its own
    apart = tuple(
        evolve(
            c, finding=evolve(c.finding, window=evolve(c.finding.window, station=c.finding.measure))
        )
        for c in best
    )
    advice = first_change([c.finding for c in apart], apart)
    assert advice.first is not None
    assert advice.first.measure == "forward_bend"
    assert advice.right == ("arm_hang",)
    assert [f.measure for f in advice.then] == ["foot_line"]


def test_of_two_corrections_that_bring_the_same_the_one_checked_first_goes_first() -> None:
    # the bend brings a little more, by the chance that the arms come right with it
    values = {"foot_line": 5.0, "forward_bend": 5.0, "arm_hang": 20.05}
    best = ranked(values, moves={("forward_bend", "arm_hang"): -0.005})
    assert [c.finding.measure for c in best] == ["foot_line", "forward_bend"]
    assert best[0].gain < best[1].gain


def test_a_correction_that_spoils_another_check_says_which() -> None:
    best = ranked({"forward_bend": 2.0, "arm_hang": 15.0}, moves={("forward_bend", "arm_hang"): 1})
    assert best[0].wrong == ("arm_hang",)
    assert best[0].gain < 1
    text = first_change((best[0].finding,), best).reason
    assert MEASURES["arm_hang"].title.lower() in text
    assert "spoils none" not in text


def test_uncertain_pictures_make_a_gain_smaller() -> None:
    values = {"forward_bend": 5.0, "arm_hang": 21.0}
    slopes = {("forward_bend", "arm_hang"): -0.5}
    sure, unsure = ranked(values, moves=slopes), ranked(values, moves=slopes, sd=1.5)
    assert unsure[0].gain < sure[0].gain


def test_a_measure_that_the_club_fixes_is_no_correction() -> None:
    assert ranked({"forward_bend": 5.0}, moves={("forward_bend", "arm_hang"): np.nan}) != ()
    assert ranked({"forward_bend": 5.0}, moves={("forward_bend", "forward_bend"): np.nan}) == ()


def test_an_open_window_is_entered_a_little_past_its_limit() -> None:
    open_above = window("forward_bend", target=None, high=None)
    assert 10.0 < aimed_at(open_above, 2.0) < 12.0
    assert aimed_at(open_above, 14.0) == 14.0


def test_the_reason_says_the_act_and_counts_what_comes_right() -> None:
    text = reason_words("forward_bend", 8.2, right=("arm_hang", "heel_toe_balance"))
    assert text.startswith("Bend 8° more from the hips: the arms hang under the shoulders, ")
    assert text.endswith("three checks come right together.")
    assert reason_words("forward_bend", -3.0, right=()).startswith("Stand 3° taller")
    six = ("arm_hang", "hand_gap", "armpit_plumb", "knee_plumb", "lead_share", "side_bend")
    assert "; seven checks come right" in reason_words("forward_bend", -3.0, right=six)


def test_without_a_moveable_body_the_order_of_checking_decides_and_says_so() -> None:
    known = {
        "forward_bend": Measured(
            measure="forward_bend", unit=MEASURES["forward_bend"].unit, value=5.0, sd=0.5
        )
    }
    found = findings(known, [window("forward_bend")])
    assert found[0].verdict is Verdict.OUTSIDE
    advice = first_change(found, None)
    assert advice.first is not None
    assert advice.amount is None
    assert "could not be computed from these pictures" in advice.reason
