"""What a coach writes, read into SI."""

from __future__ import annotations

import math

import pytest

from wellset.errors import InputError
from wellset.units import parse_angle, parse_length, parse_mass


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("178 cm", 1.78),
        ("178cm", 1.78),
        (" 178  CM ", 1.78),
        ("178 centimetres", 1.78),
        ("1.78 m", 1.78),
        ("1,78 m", 1.78),
        ("1 m 78 cm", 1.78),
        ("1780 mm", 1.78),
        ("70 in", 1.778),
        ("70 inches", 1.778),
        ('70"', 1.778),
        ("5 ft 10 in", 1.778),
        ("5ft10", 1.778),
        ("5'10\"", 1.778),
        ("5'10", 1.778),
        ("5′10″", 1.778),
        ("5’ 10”", 1.778),
        ("5'10½\"", 1.7907),
        ("5 ft 10.5 in", 1.7907),
        ("6 ft", 1.8288),
        ("35 1/4 in", 0.89535),
        ("35¼ in", 0.89535),
        (".5 m", 0.5),
        ("0 cm", 0.0),
        ("178\N{NO-BREAK SPACE}cm", 1.78),
    ],
)
def test_a_length_is_read_in_every_form_a_coach_writes(text: str, metres: float) -> None:
    assert parse_length(text) == pytest.approx(metres, abs=1e-12)


def test_centimetres_are_read_to_the_last_bit() -> None:
    assert parse_length("178 cm") == 1.78
    assert parse_length("37 in") == 0.9398


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("178", "it has no unit"),
        ("1.78", "it has no unit"),
        ("5-10", "a dash may mean"),
        ("1,780 mm", "thousands or a decimal"),
        ("-3 cm", "cannot be negative"),
        ("−3 cm", "cannot be negative"),
        ("nan", "not a number with a unit"),
        ("nan cm", "not a number with a unit"),
        ("inf m", "not a number with a unit"),
        ("1e2 cm", "not a number with a unit"),
        ("5 ft 14 in", "inches below 12"),
        ("5.5 ft 3 in", "must be whole"),
        ("5 ft 3 1/0 in", "not a whole number and a fraction"),
        ("35 5/4 in", "not a whole number and a fraction"),
        ("35.5 1/4 in", "not a whole number and a fraction"),
        ("2 furlongs", '"furlongs" is not a unit'),
        ("75 kg", '"kg" is not a unit of length'),
        ("", "it is empty"),
        ("tall", "not a number with a unit"),
        ("9" * 400 + " m", "characters long"),
    ],
)
def test_a_length_that_cannot_be_read_is_refused_with_its_reason(text: str, reason: str) -> None:
    with pytest.raises(InputError) as caught:
        parse_length(text, where="--height")
    assert reason in caught.value.why
    assert caught.value.where == "--height"
    assert caught.value.fix
    assert len(caught.value.sentence) < 250


def test_a_bare_number_is_told_to_add_its_unit() -> None:
    with pytest.raises(InputError) as caught:
        parse_length("178")
    assert "unit" in caught.value.fix


def test_a_number_in_place_of_text_is_refused_in_words() -> None:
    with pytest.raises(InputError, match="it has no unit"):
        parse_length(178)  # type: ignore[arg-type]
    with pytest.raises(InputError, match="it is not text"):
        parse_length(None)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("text", "kilograms"),
    [
        ("75 kg", 75.0),
        ("75,5 kilos", 75.5),
        ("165 lb", 74.84274105),
        ("165 lbs", 74.84274105),
        ("11 st 4 lb", 71.66759446),
        ("11 stone", 69.85322498),
        ("46 g", 0.046),
        ("1.62 oz", 0.0459262),
    ],
)
def test_a_weight_is_read_with_its_unit(text: str, kilograms: float) -> None:
    assert parse_mass(text) == pytest.approx(kilograms, rel=1e-6)


@pytest.mark.parametrize("text", ["75", "-75 kg", "75 cm", "heavy", ""])
def test_a_weight_without_a_unit_of_weight_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="weight"):
        parse_mass(text)


@pytest.mark.parametrize(
    ("value", "degrees"),
    [
        (62.5, 62.5),
        (62, 62.0),
        (" 62.5 ", 62.5),
        ("62,5", 62.5),
        ("62.5°", 62.5),
        ("62.5 deg", 62.5),
        ("62.5 degrees", 62.5),
        ("-3", -3.0),
        ("−3°", -3.0),
        (-3.0, -3.0),
        ("1 rad", 57.29577951308232),
    ],
)
def test_an_angle_is_read_in_degrees(value: str | float, degrees: float) -> None:
    assert parse_angle(value) == pytest.approx(math.radians(degrees), rel=1e-12)


@pytest.mark.parametrize("value", ["steep", "", math.nan, math.inf, "nan°", "10 cm", "6 2"])
def test_an_angle_that_is_no_number_of_degrees_is_refused(value: str | float) -> None:
    with pytest.raises(InputError, match="angle"):
        parse_angle(value)
