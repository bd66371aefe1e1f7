"""Lengths, angles and days as a student says them."""

from __future__ import annotations

import pytest

from wellset.reports.hand_measures import by_hand, clock, day_after, day_words, halves, tape
from wellset.reports.sheet_stand import up_the_leg
from wellset.units import UnitSystem


@pytest.mark.parametrize(
    ("count", "words"),
    [
        (0.1, "less than half a shoe"),
        (0.5, "half a shoe"),
        (1.0, "one shoe"),
        (1.5, "one and a half shoes"),
        (1.8, "a bit less than two shoes"),
        (2.2, "a bit more than two shoes"),
        (14.0, "14 shoes"),
    ],
)
def test_a_count_is_said_to_the_half(count: float, words: str) -> None:
    assert halves(count, one="shoe", many="shoes") == words


@pytest.mark.parametrize(
    ("metres", "words"),
    [
        (0.004, "less than a finger width"),
        (0.02, "one finger width"),
        (0.06, "three finger widths"),
        (0.085, "one hand width"),
        (0.17, "two hand widths"),
    ],
)
def test_a_short_length_is_said_in_fingers_and_hands(metres: float, words: str) -> None:
    assert by_hand(metres) == words


def test_a_tape_is_read_to_the_centimetre_or_half_an_inch() -> None:
    assert tape(0.254, units=UnitSystem.CENTIMETRES) == "25 cm"
    assert tape(0.254, units=UnitSystem.INCHES) == "10 in"
    assert tape(0.0127, units=UnitSystem.INCHES) == "½ in"


@pytest.mark.parametrize(
    ("deg", "words"),
    [
        (0.0, "straight ahead"),
        (15.0, "out by half an hour on the clock"),
        (-30.0, "in by one hour on the clock"),
        (44.0, "out by one and a half hours on the clock"),
    ],
)
def test_a_foot_turns_like_the_hand_of_a_clock(deg: float, words: str) -> None:
    assert clock(deg) == words


def test_a_height_on_the_thigh_is_said_from_knee_to_hip() -> None:
    said = [up_the_leg(share) for share in (-0.5, 0.0, 0.33, 0.5, 0.7, 1.0, 1.4)]
    assert said[0] == "below your knee"
    assert said[3] == "half way from knee to hip"
    assert said[-1] == "above your hip"
    assert len(set(said)) == len(said)


def test_days_are_said_with_their_name() -> None:
    # 25 November 2026 is a Wednesday (any calendar)
    assert day_words("2026-11-25") == "Wednesday 25 November 2026"
    assert day_after("2026-12-28", 7) == "2027-01-04"
