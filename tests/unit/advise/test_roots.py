"""Which single fault explains a whole set-up, and what comes right with it."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.advise import Consequence, Finding, consequences, findings, with_roots
from wellset.measures import MEASURES, Measured
from wellset.prescribe import Explanation, WhatIf
from wellset.standards import Window

ORDER = list(MEASURES)
SEEN = {"stance_width": 25.0, "forward_bend": 30.0, "arm_hang": 25.0, "lead_share": 15.0}
"""Three outside their windows of 10 to 20, one inside."""


def known() -> dict[str, Measured]:
    return {
        name: Measured(measure=name, unit=MEASURES[name].unit, value=value, sd=0.1)
        for name, value in SEEN.items()
    }


def ranked() -> tuple[tuple[Consequence, ...], tuple[Finding, ...]]:
    """Nothing brings anything else along, so the order of checking decides."""
    measures = known()
    windows = [
        Window(
            measure=name, unit=MEASURES[name].unit, low=10.0, high=20.0, target=15.0,
            reason="because", source="common practice, no source", order=i,
        )
        for i, name in enumerate(SEEN)
    ]  # fmt: skip
    free = WhatIf(moves=np.eye(len(ORDER)), misfit_m=0.0)
    covariance = 0.01 * np.eye(len(ORDER))
    found = findings(measures, windows)
    return consequences(found, free, measures=measures, covariance=covariance), found


def explained(measure: str, **values: float) -> Explanation:
    way = np.zeros(len(ORDER))
    for name, value in values.items():
        way[ORDER.index(name)] = value
    return Explanation(measure=measure, ways=(way,))


def weighed(*candidates: Explanation) -> tuple[Consequence, ...]:
    before, found = ranked()
    return with_roots(before, candidates, found=found, measures=known())


def test_what_explains_everything_goes_before_what_explains_itself() -> None:
    before, _ = ranked()
    assert before[0].finding.measure == "stance_width"
    alone = {"forward_bend": 15.0, "arm_hang": 15.0, "lead_share": 15.0}
    after = weighed(
        explained("stance_width", stance_width=25.0, **alone),
        explained(
            "forward_bend", stance_width=24.0, forward_bend=30.0, arm_hang=25.5, lead_share=15.0
        ),
    )
    assert after[0].finding.measure == "forward_bend"
    assert after[0].root > 0.9
    assert set(after[0].right) == {"stance_width", "arm_hang"}
    assert after[0].gain == pytest.approx(3.0, abs=0.3)


def test_chances_of_being_the_root_add_up_to_one() -> None:
    after = weighed(
        explained("stance_width", **SEEN),
        explained("forward_bend", **SEEN),
        explained("arm_hang", **SEEN),
    )
    assert sum(each.root for each in after) == pytest.approx(1.0)
    assert [each.root for each in after] == pytest.approx([1 / 3] * 3)


def test_two_that_explain_as_well_leave_the_order_of_checking() -> None:
    after = weighed(explained("stance_width", **SEEN), explained("arm_hang", **SEEN))
    assert after[0].finding.measure == "stance_width"


def test_one_measure_that_contradicts_cannot_rule_out_an_explanation_alone() -> None:
    # a habit of this student, or a second fault, far off everything
    good = explained("forward_bend", **{**SEEN, "lead_share": 1e6})
    bad = explained("stance_width", stance_width=25.0, forward_bend=15.0, arm_hang=12.0,
                    lead_share=15.0)  # fmt: skip
    after = weighed(good, bad)
    assert after[0].finding.measure == "forward_bend"


def test_without_an_explanation_a_correction_keeps_its_place() -> None:
    before, _ = ranked()
    assert weighed() == before


def test_the_better_of_two_ways_of_following_counts() -> None:
    near, far = explained("forward_bend", **SEEN).ways[0], np.full(len(ORDER), 1e3)
    after = weighed(
        Explanation(measure="forward_bend", ways=(far, near)),
        explained("stance_width", **{**SEEN, "forward_bend": 15.0, "arm_hang": 15.0}),
    )
    assert after[0].finding.measure == "forward_bend"
