"""Clubs by name, and what is refused."""

from __future__ import annotations

import math

import attrs
import pytest

from wellset.equipment import (
    MOST_CLUBS,
    TYPICAL,
    Ball,
    ClubKind,
    find_club,
    standard_bag,
    tee_height,
)
from wellset.errors import EquipmentError, InputError


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("driver", "driver"),
        ("Driver", "driver"),
        ("1-wood", "driver"),
        ("3-wood", "3-wood"),
        ("3w", "3-wood"),
        ("wood 5", "5-wood"),
        ("5h", "5-hybrid"),
        ("hybrid 4", "4-hybrid"),
        ("7-iron", "7-iron"),
        ("7 iron", "7-iron"),
        ("7_iron", "7-iron"),
        ("7iron", "7-iron"),
        ("7i", "7-iron"),
        ("i7", "7-iron"),
        ("iron 7", "7-iron"),
        ("seven iron", "7-iron"),
        ("PW", "pitching wedge"),
        ("pitching-wedge", "pitching wedge"),
        ("GW", "gap wedge"),
        ("SW", "sand wedge"),
        ("sand_wedge", "sand wedge"),
        ("lw", "lob wedge"),
        (" putter ", "putter"),
    ],
)
def test_a_club_is_found_by_every_common_spelling(text: str, name: str) -> None:
    assert find_club(text).name == name


@pytest.mark.parametrize("kind", list(ClubKind))
@pytest.mark.parametrize("mark", [" ", "-", "_", "  "])
def test_a_kind_is_found_with_spaces_hyphens_and_underscores(kind: ClubKind, mark: str) -> None:
    club = find_club(kind.value.replace(" ", mark))
    assert club.kind is kind
    assert club.name == kind.value


@pytest.mark.parametrize("name", list(TYPICAL))
def test_every_club_of_the_table_is_found_by_its_own_name_and_is_legal(name: str) -> None:
    assert find_club(name).name == name


@pytest.mark.parametrize(
    ("number", "kind"),
    [(n, "long iron") for n in (1, 2, 3, 4)]
    + [(n, "mid iron") for n in (5, 6, 7)]
    + [(n, "short iron") for n in (8, 9)],
)
def test_irons_are_long_mid_or_short_by_their_number(number: int, kind: str) -> None:
    assert find_club(f"{number}-iron").kind == kind


def test_a_kind_is_known_less_well_than_one_club_of_it() -> None:
    kind, one = find_club("mid iron"), find_club("6-iron")
    assert kind.length_sd_m > one.length_sd_m
    assert kind.lie_sd > one.lie_sd
    assert find_club("7-iron").length_m < kind.length_m < one.length_m


def test_a_number_the_coach_gives_wins_and_is_known_better() -> None:
    club = find_club("7-iron", length=0.9398 + 0.01, lie=math.radians(61), head_length=0.078)
    assert (club.length_m, club.lie, club.head_length_m) == (0.9498, math.radians(61), 0.078)
    assert {club.length_source, club.lie_source, club.head_length_source} == {"given by the coach"}
    typical = find_club("7-iron")
    assert club.length_sd_m == 0.003 < typical.length_sd_m == 0.0127
    assert club.lie_sd < typical.lie_sd
    assert club.head_length_sd_m < typical.head_length_sd_m
    assert "assumed from the name" in typical.length_source


@pytest.mark.parametrize(
    ("text", "suggestion"),
    [("drifer", "driver"), ("sandwedge", "sand wedge"), ("10 iron", "9-iron"), ("putr", "putter")],
)
def test_an_unknown_name_brings_the_nearest_ones(text: str, suggestion: str) -> None:
    with pytest.raises(InputError) as caught:
        find_club(text)
    assert suggestion in caught.value.fix
    assert "Did you mean" in caught.value.fix


@pytest.mark.parametrize("text", ["", "??", "x" * 500])
def test_a_name_like_no_club_brings_examples(text: str) -> None:
    with pytest.raises(InputError, match="7-iron") as caught:
        find_club(text)
    assert len(caught.value.sentence) < 250


@pytest.mark.parametrize("text", ["iron", "irons", "wood"])
def test_a_word_for_several_clubs_is_asked_back(text: str) -> None:
    with pytest.raises(InputError, match="Say which one"):
        find_club(text)


def test_a_breach_of_the_rules_names_every_rule_at_once() -> None:
    with pytest.raises(EquipmentError) as caught:
        find_club("driver", length=1.30, lie=math.radians(82), head_length=0.14)
    for limit in ("121.9 cm (48 in)", "80°", "127 mm"):
        assert limit in caught.value.why
    assert "Equipment Rules, Part 2" in caught.value.why


def test_a_putter_may_be_longer_and_its_head_wider_than_a_wood() -> None:
    assert find_club("putter", length=1.30, head_length=0.17).length_m == 1.30
    with pytest.raises(EquipmentError, match="178 mm"):
        find_club("putter", head_length=0.19)


@pytest.mark.parametrize(("length", "fits"), [(0.4572, True), (0.45, False), (1.2192, True)])
def test_limits_are_met_exactly(length: float, fits: bool) -> None:
    if fits:
        assert find_club("driver", length=length).length_m == length
    else:
        with pytest.raises(EquipmentError, match=r"at least 45\.7 cm"):
            find_club("driver", length=length)


def test_a_lie_of_eighty_degrees_is_allowed() -> None:
    assert find_club("putter", lie=math.radians(80)).lie == math.radians(80)


@pytest.mark.parametrize(
    "wrong",
    [{"length": 94.0}, {"length": math.nan}, {"lie": 62.0}, {"lie": 0.1}, {"head_length": 8.0}],
)
def test_numbers_of_no_club_are_a_slip_of_the_pen(wrong: dict[str, float]) -> None:
    with pytest.raises(InputError, match="no club has"):
        find_club("7-iron", **wrong)


def test_a_spread_must_be_above_zero() -> None:
    with pytest.raises(InputError, match="uncertainty of the club"):
        attrs.evolve(find_club("7-iron"), lie_sd=0.0)


def test_a_standard_bag_holds_as_many_clubs_as_the_rules_allow() -> None:
    bag = standard_bag()
    assert len(bag) == MOST_CLUBS == 14
    assert len({club.name for club in bag}) == 14
    lengths = [club.length_m for club in bag[:-1]]
    assert lengths == sorted(lengths, reverse=True)


def test_a_ball_below_the_rules_is_refused() -> None:
    with pytest.raises(EquipmentError, match=r"at least 42\.67 mm"):
        Ball(diameter_m=0.0411)
    with pytest.raises(EquipmentError, match=r"at most 45\.93 g"):
        Ball(mass_kg=0.046)
    with pytest.raises(EquipmentError, match="golf ball"):
        Ball(diameter_m=0.2, mass_kg=0.0001)
    with pytest.raises(EquipmentError):
        Ball(diameter_m=math.nan)


def test_a_drivers_ball_is_teed_and_other_balls_lie_on_the_ground() -> None:
    assert tee_height(ClubKind.DRIVER).value > 0.02
    for kind in list(ClubKind)[1:]:
        assert tee_height(kind).value == 0.0
        assert tee_height(kind).spread > 0
    assert tee_height(ClubKind.DRIVER, teed=False).value == 0.0
    assert tee_height(ClubKind.PUTTER, teed=True).value == 0.0
    low, high = (
        tee_height(ClubKind.MID_IRON, teed=True),
        tee_height(ClubKind.FAIRWAY_WOOD, teed=True),
    )
    assert 0 < low.value < high.value < tee_height(ClubKind.DRIVER).value
