"""Numbers as a coach reads them."""

from __future__ import annotations

import pytest

from wellset.measures import MEASURES, Measured, Unit
from wellset.reports.explained import EXPLAINED, SHORT
from wellset.reports.words import UNSIGNED, give_or_take, number, window_text
from wellset.units import UnitSystem

CM, INCHES = UnitSystem.CENTIMETRES, UnitSystem.INCHES


def measured(value: float, sd: float, *, unit: Unit = Unit.METRE) -> Measured:
    return Measured(measure="stance_width", unit=unit, value=value, sd=sd)


def test_a_length_is_given_with_half_its_interval_in_the_coachs_unit() -> None:
    assert give_or_take(measured(0.4123, 0.012), CM).replace("\xa0", " ") == "41 ± 2 cm"
    assert give_or_take(measured(0.4123, 0.012), INCHES).replace("\xa0", " ") == "16.2 ± 0.9 in"


def test_an_angle_and_a_share_carry_their_own_signs() -> None:
    angle = give_or_take(measured(-16.4, 3.0, unit=Unit.DEGREE), CM)
    assert angle.replace("\xa0", " ") == "−16 ± 6°"
    share = give_or_take(measured(57.6, 3.7, unit=Unit.PERCENT), CM)
    assert share.replace("\xa0", " ") == "58 ± 7 %"


def test_nothing_is_ever_given_without_an_uncertainty_above_zero() -> None:
    assert "± 0.1 cm" in give_or_take(measured(0.4, 1e-6), CM).replace("\xa0", " ")


def test_zero_has_no_minus() -> None:
    assert number(-0.04, 1) == "0.0"
    assert number(-0.06, 1) == "−0.1"


@pytest.mark.parametrize(
    ("low", "high", "text"),
    [
        (0.38, 0.46, "38 to 46 cm"),
        (-0.02, None, "at least −2 cm"),
        (None, 0.125, "at most 12.5 cm"),
    ],
)
def test_a_window_is_written_with_its_open_end(
    low: float | None, high: float | None, text: str
) -> None:
    written = window_text(low, high, unit=Unit.METRE, system=CM)
    assert written.replace("\xa0", " ") == text


def test_every_measure_has_a_short_name_and_an_explanation_without_left_or_right() -> None:
    assert set(SHORT) == set(EXPLAINED) == set(MEASURES)
    assert set(MEASURES) >= UNSIGNED
    for text in (*SHORT.values(), *EXPLAINED.values()):
        assert not {"left", "right"} & set(text.lower().split())
