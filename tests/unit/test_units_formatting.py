"""SI numbers in a coach's words."""

from __future__ import annotations

import math

import pytest

from wellset.errors import InputError
from wellset.units import (
    UnitSystem,
    decimals_for,
    format_angle,
    format_club_heads,
    format_feet_inches,
    format_length,
    format_mass,
    parse_length,
)


@pytest.mark.parametrize(
    ("sd", "decimals"),
    [(14.0, 0), (2.0, 0), (1.0, 0), (0.99, 1), (0.3, 1), (0.05, 2), (1e-9, 3), (0.0, 1), (None, 1)],
)
def test_decimals_follow_the_uncertainty(sd: float | None, decimals: int) -> None:
    assert decimals_for(sd, default=1) == decimals


@pytest.mark.parametrize(
    ("metres", "system", "sd", "text"),
    [
        (0.4123, "cm", None, "41.2 cm"),
        (0.4123, "cm", 0.012, "41 cm"),
        (0.4123, "cm", 0.0004, "41.23 cm"),
        (0.4123, "in", None, "16.2 in"),
        (-0.4123, "cm", 0.012, "-41 cm"),
        (-0.0001, "cm", 0.012, "0 cm"),
    ],
)
def test_a_length_is_rounded_by_its_uncertainty(
    metres: float, system: str, sd: float | None, text: str
) -> None:
    assert format_length(metres, system=system, sd=sd) == text


@pytest.mark.parametrize(
    ("metres", "text"),
    [
        (1.778, "5 ft 10 in"),
        (1.7907, "5 ft 10½ in"),
        (1.8287, "6 ft 0 in"),
        (0.0, "0 ft 0 in"),
    ],
)
def test_a_height_is_written_in_feet_and_inches(metres: float, text: str) -> None:
    assert format_feet_inches(metres) == text


def test_a_height_in_feet_and_inches_is_read_back_within_a_quarter_inch() -> None:
    for millimetres in range(1000, 2301, 7):
        text = format_feet_inches(millimetres / 1000)
        assert abs(parse_length(text) - millimetres / 1000) <= 0.0254 / 4 + 1e-9


@pytest.mark.parametrize(
    ("metres", "sd", "text"),
    [(0.12, None, "1.5 club heads"), (0.08, 0.1, "1 club head"), (-0.08, None, "-1.0 club heads")],
)
def test_a_length_is_counted_in_club_heads(metres: float, sd: float | None, text: str) -> None:
    assert format_club_heads(metres, head_length=0.08, sd=sd) == text


@pytest.mark.parametrize("head", [0.0, -0.08, math.nan])
def test_a_head_without_length_is_no_yardstick(head: float) -> None:
    with pytest.raises(InputError, match="club heads"):
        format_club_heads(0.1, head_length=head)


@pytest.mark.parametrize("metres", [-1.0, math.nan])
def test_a_height_below_zero_has_no_feet_and_inches(metres: float) -> None:
    with pytest.raises(InputError, match="feet and inches"):
        format_feet_inches(metres)


def test_an_angle_is_written_in_degrees() -> None:
    assert format_angle(math.radians(28.43)) == "28.4°"
    assert format_angle(math.radians(28.43), sd=math.radians(2)) == "28°"
    assert format_angle(math.radians(-0.01)) == "0.0°"


def test_a_weight_goes_with_the_coachs_lengths() -> None:
    assert format_mass(75.04) == "75.0 kg"
    assert format_mass(75.0, system=UnitSystem.INCHES) == "165 lb"
