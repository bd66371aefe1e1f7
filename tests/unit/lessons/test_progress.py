import pytest
from hypothesis import given
from hypothesis import strategies as st

from wellset.lessons import Reading, change_between, repeatability, smallest_real_change

WHEN = "2026-11-25T10:00:00Z"


def reading(value: float, sd: float) -> Reading:
    return Reading(when=WHEN, value=value, sd=sd)


@pytest.mark.parametrize(("sem", "mdc"), [(1.0, 2.77), (1.5, 4.16), (2.0, 5.54), (3.0, 8.32)])
def test_equal_uncertainties_give_the_published_minimal_difference(sem: float, mdc: float) -> None:
    # Weir 2005, J Strength Cond Res 19:231: MD = SEM * 1.96 * sqrt(2).
    assert smallest_real_change(reading(0, sem), reading(0, sem)) == pytest.approx(mdc, abs=0.006)


def test_a_change_at_the_limit_has_the_probability_of_a_one_sided_95_percent_interval() -> None:
    before, after = reading(30.0, 1.0), reading(30.0 + 1.96 * 2**0.5, 1.0)
    # Normal table: Phi(1.96) = 0.975.
    assert change_between(before, after).probability == pytest.approx(0.975, abs=1e-4)


def test_no_change_is_as_likely_up_as_down() -> None:
    change = change_between(reading(3.0, 1.0), reading(3.0, 2.0))
    assert change.probability == pytest.approx(0.5)
    assert not change.real


@given(st.floats(0.01, 5), st.floats(0.01, 5), st.floats(0, 5))
def test_an_unsteady_student_needs_a_larger_change(a: float, b: float, steadiness: float) -> None:
    calm = smallest_real_change(reading(0, a), reading(0, b))
    assert smallest_real_change(reading(0, a), reading(0, b), steadiness=steadiness) >= calm


def test_spread_beyond_the_uncertainty_of_the_readings_is_the_students_own() -> None:
    found = repeatability([reading(v, 0.3) for v in (10.0, 12.0, 14.0)])
    assert found is not None
    assert (found.mean, found.sd) == pytest.approx((12.0, 2.0))
    assert found.own_sd == pytest.approx((4.0 - 0.09) ** 0.5)


def test_one_set_up_says_nothing_of_repeatability() -> None:
    assert repeatability([reading(10.0, 1.0)]) is None


def test_readings_closer_than_their_uncertainty_leave_no_spread_of_ones_own() -> None:
    found = repeatability([reading(10.0, 1.0), reading(10.1, 1.0)])
    assert found is not None
    assert found.own_sd == 0.0
