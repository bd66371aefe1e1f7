"""Ball and clubs against the rules of equipment and against trade tables.

Rules: R&A and USGA Equipment Rules, Part 2 and Part 4, read in texts that quote them; the
80 degrees of lie are from memory. Lengths: two clubmakers' tables (bobongolf.com 2015,
dimensionsguide.com). Lies: from memory but for the 7-iron, read off six current models.
"""

from __future__ import annotations

import itertools
import math

import pytest

from wellset.equipment import GREATEST_LIE, STANDARD_BALL, TYPICAL, find_club


def test_the_ball_is_as_small_and_as_heavy_as_the_rules_allow() -> None:
    assert pytest.approx(0.04267, abs=1e-9) == STANDARD_BALL.diameter_m
    assert pytest.approx(0.04593, abs=1e-9) == STANDARD_BALL.mass_kg
    # The same limits in the rules' own inches and ounces: 1.680 in and 1.620 oz.
    assert pytest.approx(1.680 * 0.0254, abs=1e-5) == STANDARD_BALL.diameter_m
    assert pytest.approx(1.620 * 0.028349523, abs=1e-5) == STANDARD_BALL.mass_kg
    assert pytest.approx(0.0214, abs=1e-4) == STANDARD_BALL.radius_m


@pytest.mark.parametrize(
    ("name", "length_in", "lie_deg", "height", "reach"),
    [
        ("driver", 45, 58, 0.969, 0.606),
        ("5-iron", 38, 61, 0.844, 0.468),
        ("7-iron", 37, 62, 0.830, 0.441),
        ("9-iron", 36, 64, 0.822, 0.401),
        ("putter", 34, 70, 0.812, 0.295),
    ],
)
def test_a_soled_club_has_its_butt_where_trigonometry_puts_it(
    name: str, length_in: float, lie_deg: float, height: float, reach: float
) -> None:
    # Worked out by hand to a millimetre: L sin(lie) and L cos(lie).
    club = find_club(name, length=length_in * 0.0254, lie=math.radians(lie_deg))
    assert club.butt_height_m == pytest.approx(height, abs=0.0006)
    assert club.reach_m == pytest.approx(reach, abs=0.0006)


@pytest.mark.parametrize(
    ("name", "low_cm", "high_cm"),
    [
        ("driver", 113.0, 114.3),
        ("3-wood", 108.0, 109.3),
        ("5-wood", 106.7, 108.0),
        ("3-iron", 99.0, 99.1),
        ("4-iron", 97.7, 97.8),
        ("5-iron", 96.5, 96.6),
        ("6-iron", 95.2, 95.3),
        ("7-iron", 93.9, 94.7),
        ("8-iron", 92.7, 92.8),
        ("9-iron", 91.4, 91.5),
        ("pitching wedge", 90.1, 90.2),
        ("sand wedge", 88.9, 89.6),
    ],
)
def test_typical_lengths_are_those_of_the_clubmakers_tables(
    name: str, low_cm: float, high_cm: float
) -> None:
    assert low_cm - 0.05 <= 100 * TYPICAL[name].length.value <= high_cm + 0.05


def test_a_seven_iron_lies_as_six_current_models_do() -> None:
    assert 62 <= math.degrees(TYPICAL["7-iron"].lie.value) <= 62.5


def test_irons_shorten_by_half_an_inch_and_stand_up_from_club_to_club() -> None:
    irons = [TYPICAL[f"{n}-iron"] for n in range(1, 10)]
    for longer, shorter in itertools.pairwise(irons):
        step = longer.length.value - shorter.length.value
        assert step == pytest.approx(0.0127, abs=1e-9)
        assert shorter.lie.value > longer.lie.value


def test_no_typical_club_lies_more_upright_than_the_rules_allow() -> None:
    assert math.degrees(GREATEST_LIE.value) == pytest.approx(80)
    assert max(row.lie.value for row in TYPICAL.values()) < GREATEST_LIE.value


def test_reach_halves_over_the_bag_while_the_handle_stays_about_as_high() -> None:
    # Worked out by hand from the same table: 15 cm of height, half the reach.
    driver, putter = find_club("driver"), find_club("putter")
    assert 0.10 < driver.butt_height_m - putter.butt_height_m < 0.17
    assert putter.reach_m == pytest.approx(driver.reach_m / 2, abs=0.02)
