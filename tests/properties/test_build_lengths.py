"""What holds for every build, whatever the numbers."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from wellset.body import LENGTHS, TAPE_MEASURES, Build, Sex
from wellset.body.anatomy import tape_row

STATURES = st.floats(min_value=1.45, max_value=2.0)
SEXES = st.sampled_from(list(Sex))
# Readings in spreads from what stature leads one to expect: ordinary people and odd ones.
READINGS = st.dictionaries(
    st.sampled_from(list(TAPE_MEASURES)), st.floats(min_value=-4, max_value=4), max_size=6
)
TOLERANCE = 1e-12


def _taped(plain: Build, readings: dict[str, float]) -> Build:
    """The same student, measured so many spreads from the expected."""
    prior = plain._prior
    values = {
        name: float(prior.mean[prior.row(tape_row(name))] + z * prior.sd(tape_row(name)))
        for name, z in readings.items()
    }
    return Build(stature=plain.stature, sex=plain.sex, **values)  # type: ignore[arg-type]


@given(
    sex=SEXES,
    shorter=st.floats(min_value=1.0, max_value=2.3),
    taller=st.floats(min_value=1.0, max_value=2.3),
)
def test_a_taller_student_never_has_a_shorter_segment(
    sex: Sex, shorter: float, taller: float
) -> None:
    low, high = sorted((shorter, taller))
    a, b = Build(stature=low, sex=sex), Build(stature=high, sex=sex)
    assert np.all(b.lengths().mean >= a.lengths().mean - TOLERANCE)
    assert np.all(a.lengths().mean > 0)


@given(stature=STATURES, sex=SEXES, readings=READINGS)
def test_a_tape_reading_never_raises_a_spread(
    stature: float, sex: Sex, readings: dict[str, float]
) -> None:
    plain = Build(stature=stature, sex=sex)
    before = np.diag(plain.lengths().covariance)
    for count in range(1, len(readings) + 1):
        taped = _taped(plain, dict(list(readings.items())[:count]))
        after = np.diag(taped.lengths().covariance)
        assert np.all(after <= before + TOLERANCE)
        assert np.all(after > 0)
        before = after


@given(stature=STATURES, sex=SEXES, readings=READINGS, seed=st.randoms(use_true_random=False))
@settings(max_examples=50)
def test_the_order_of_the_tape_readings_does_not_matter(
    stature: float, sex: Sex, readings: dict[str, float], seed: object
) -> None:
    build = _taped(Build(stature=stature, sex=sex), readings)
    names = list(build.readings)
    seed.shuffle(names)  # type: ignore[attr-defined]
    state = build._prior
    for name in names:
        state = state.observed(
            tape_row(name), value=build.readings[name], sd=TAPE_MEASURES[name].sd
        )
    shuffled = state.part(LENGTHS)
    _, mean, covariance = build.lengths()
    assert np.allclose(shuffled.mean, mean, atol=1e-10, rtol=0)
    assert np.allclose(shuffled.covariance, covariance, atol=1e-12, rtol=0)


@given(stature=st.floats(min_value=1.0, max_value=2.3))
def test_the_pooled_build_lies_between_men_and_women_and_spreads_to_both(stature: float) -> None:
    men, women, both = (Build(stature=stature, sex=sex).lengths() for sex in Sex)
    assert np.all(both.mean >= np.minimum(men.mean, women.mean) - TOLERANCE)
    assert np.all(both.mean <= np.maximum(men.mean, women.mean) + TOLERANCE)
    # Root mean square of both spreads, and half of what their means differ by on top.
    narrowest = np.minimum(np.diag(men.covariance), np.diag(women.covariance))
    assert np.all(np.diag(both.covariance) >= narrowest - TOLERANCE)
    apart = (men.mean - women.mean) ** 2 / 4
    assert np.all(np.diag(both.covariance) >= narrowest + apart - TOLERANCE)


@given(stature=STATURES, sex=SEXES, readings=READINGS)
def test_the_joint_covariance_stays_symmetric_and_positive(
    stature: float, sex: Sex, readings: dict[str, float]
) -> None:
    _, _, covariance = _taped(Build(stature=stature, sex=sex), readings).lengths()
    assert np.array_equal(covariance, covariance.T)
    assert np.linalg.eigvalsh(covariance).min() > -1e-10


@given(stature=STATURES, sex=SEXES, name=st.sampled_from(list(TAPE_MEASURES)),
       z=st.floats(min_value=-3, max_value=3))  # fmt: skip
def test_a_tape_that_reads_the_expected_moves_nothing(
    stature: float, sex: Sex, name: str, z: float
) -> None:
    plain = Build(stature=stature, sex=sex)
    as_expected, moved = _taped(plain, {name: 0.0}), _taped(plain, {name: z})
    assert np.allclose(as_expected.lengths().mean, plain.lengths().mean, atol=1e-10, rtol=0)
    # A reading pulls in proportion to how far it lies from the expected.
    unit = _taped(plain, {name: 1.0}).lengths().mean - plain.lengths().mean
    assert np.allclose(moved.lengths().mean - plain.lengths().mean, z * unit, atol=1e-9, rtol=0)
