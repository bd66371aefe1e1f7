"""The standards that come with the package."""

from __future__ import annotations

import re

import pytest

from wellset.equipment import ClubKind
from wellset.errors import InputError
from wellset.measures import MEASURES
from wellset.standards import (
    COMMON_PRACTICE,
    Shot,
    StudentScale,
    Yardstick,
    default_standards,
    shot_for,
    shot_named,
)

CORE = frozenset({
    "stance_width", "ball_position", "forward_bend", "upper_back_curve", "low_back_curve",
    "arm_hang", "heel_toe_balance", "armpit_plumb", "knee_plumb", "pelvis_shift", "chest_shift",
    "lead_share", "head_behind_ball", "foot_line", "hip_line", "shoulder_line", "shaft_lean",
})  # fmt: skip
SCALE = StudentScale(
    stance_width=Yardstick(metres=0.42, sd=0.01),
    head_length=Yardstick(metres=0.08, sd=0.004),
    shoulder_width=Yardstick(metres=0.40, sd=0.015),
    foot_length=Yardstick(metres=0.30, sd=0.005),
)


def test_there_are_windows_for_every_kind_of_shot() -> None:
    assert tuple(default_standards().shots) == tuple(Shot)


@pytest.mark.parametrize("shot", list(Shot))
def test_every_shot_has_windows_for_the_core_checks(shot: Shot) -> None:
    assert {standard.measure for standard in default_standards().for_shot(shot)} >= CORE


def test_every_window_gives_a_reason_in_words_and_a_source() -> None:
    for windows in default_standards().shots.values():
        for standard in windows.values():
            assert len(standard.reason.split()) >= 3
            assert standard.source == COMMON_PRACTICE or re.search(
                r"\d{4}|Federation|Hurrion", standard.source
            )


def test_new_numbers_never_keep_the_publication_of_the_old_ones() -> None:
    shots = default_standards().shots
    assert "Federation" in shots[Shot.MID_IRON]["stance_width"].source
    assert shots[Shot.WEDGE]["stance_width"].source == COMMON_PRACTICE


def test_no_reason_says_left_or_right() -> None:
    for windows in default_standards().shots.values():
        for standard in windows.values():
            assert not re.search(r"\b(left|right)\b", standard.reason, re.IGNORECASE)


def test_what_stands_on_the_ground_is_checked_first_and_the_shaft_last() -> None:
    order = [w.measure for w in default_standards().windows_for("mid iron", scale=SCALE)]
    assert order[:3] == ["stance_width", "stance_gap", "ball_position"]
    assert order.index("forward_bend") < order.index("arm_hang") < order.index("heel_toe_balance")
    assert order.index("pelvis_shift") < order.index("lead_share") < order.index("foot_line")
    assert order[-1] == "handle_height"


def test_the_order_of_checking_names_every_measure_once() -> None:
    placed = [m for station in default_standards().stations for m in station.measures]
    assert sorted(placed) == sorted(MEASURES)


def test_two_heads_each_side_are_four_head_lengths_between_the_shoes() -> None:
    windows = {w.measure: w for w in default_standards().windows_for("mid-iron", scale=SCALE)}
    gap = windows["stance_gap"]
    assert gap.target == pytest.approx(4 * 0.08)
    assert gap.as_written == "1.6 to 2.4 club heads each side"
    assert gap.low_sd == pytest.approx(3.2 * 0.004)
    assert gap.limit_sd == gap.high_sd == pytest.approx(4.8 * 0.004)


def test_gap_and_width_of_the_stance_agree_for_a_student_of_ordinary_build() -> None:
    # Shoes are about 11 cm wide (common practice, no source).
    for name in ("mid iron", "short iron", "wedge"):
        windows = {w.measure: w for w in default_standards().windows_for(name, scale=SCALE)}
        gap, width = windows["stance_gap"].target, windows["stance_width"].target
        assert gap is not None
        assert width is not None
        assert gap + 0.11 == pytest.approx(width, abs=0.03)


@pytest.mark.parametrize("kind", list(ClubKind))
def test_every_kind_of_club_has_its_full_shot(kind: ClubKind) -> None:
    assert shot_for(kind).value == ("putt" if kind.value == "putter" else kind.value)


def test_hyphens_spaces_and_capitals_name_the_same_shot() -> None:
    assert {shot_named(n) for n in ("mid iron", "Mid-Iron", "mid_iron")} == {Shot.MID_IRON}


def test_an_unknown_shot_is_refused_with_a_near_name() -> None:
    with pytest.raises(InputError, match=r'no shot called "mid irn".*mean "mid iron"'):
        shot_named("mid irn")
