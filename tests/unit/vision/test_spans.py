"""From speeds to still moments."""

from __future__ import annotations

import numpy as np
import pytest

from wellset.vision.spans import LEAST_S, STILL_BELOW_MM_S, Span, limit_mm_s, still_spans
from wellset.vision.values import Array

RATE = 30.0
LAG = 3


def times(count: int) -> Array:
    return np.arange(count) / RATE


def spans(speeds: Array, *, shake: Array | None = None) -> tuple[Span, ...]:
    none = np.zeros_like(speeds) if shake is None else shake
    return still_spans(speeds, shake=none, times_s=times(len(speeds)), lag=LAG)


def speeds_of(positions_mm: Array) -> Array:
    """Speed from each sample to the one a lag later, as the motion signal gives it."""
    moved = np.abs(positions_mm[LAG:] - positions_mm[:-LAG]) * RATE / LAG
    return np.concatenate([moved, np.full(LAG, moved[-1])])


def test_a_still_moment_ends_where_the_club_starts_back() -> None:
    after = np.maximum(np.arange(120) - 60, 0) / RATE
    found = spans(speeds_of(2000.0 * after**2 + 150.0 * after))  # starts at 150 mm/s
    assert len(found) == 1
    assert found[0].first == 0
    assert abs(found[0].last - 60) <= 2


def test_a_still_moment_begins_where_a_waggle_ends() -> None:
    t = np.arange(150) / RATE
    waggle = np.where(t < 2.0, 60.0 * np.sin(2.0 * np.pi * t / 0.8), 0.0)
    found = spans(speeds_of(waggle))
    assert len(found) == 1
    assert abs(found[0].first - 60) <= 2
    assert found[0].last == 149


def test_the_turning_points_of_a_waggle_are_no_still_moments() -> None:
    t = np.arange(150) / RATE
    assert spans(speeds_of(40.0 * np.sin(2.0 * np.pi * t / 1.2))) == ()


def test_sway_at_address_does_not_end_a_still_moment() -> None:
    t = np.arange(200) / RATE
    sway = 8.0 * np.sin(2.0 * np.pi * t / 3.0)  # 17 mm/s, more than people sway standing
    assert spans(speeds_of(sway)) == (Span(first=0, last=199),)


def test_one_bad_sample_does_not_break_a_still_moment() -> None:
    speeds = np.full(90, 15.0)
    speeds[40:42] = 400.0
    assert spans(speeds) == (Span(first=0, last=89),)


def test_a_standstill_shorter_than_the_least_does_not_count() -> None:
    speeds = np.full(90, 300.0)
    speeds[40 : 40 + int(0.6 * LEAST_S * RATE)] = 10.0
    assert spans(speeds) == ()


def test_noise_raises_the_limit_and_never_lowers_it() -> None:
    assert limit_mm_s(np.full(50, 5.0)) == STILL_BELOW_MM_S
    assert limit_mm_s(np.full(50, 40.0)) == pytest.approx(100.0)
    assert limit_mm_s(np.full(50, 400.0)) < 400.0


def test_what_a_shaken_camera_leaves_behind_is_allowed_for() -> None:
    speeds, shake = np.full(90, 70.0), np.full(90, 600.0)
    speeds[:10] = 20.0
    assert spans(speeds) != (Span(first=0, last=89),)
    assert spans(speeds, shake=shake) == (Span(first=0, last=89),)
