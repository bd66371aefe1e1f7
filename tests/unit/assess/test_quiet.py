"""Means of quiet standing and how sure they are."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from tests.support.pressure import still_table
from wellset.assess import Restless, quiet_means
from wellset.assess.quiet import AXIS_SD, autocovariances, worth
from wellset.figure.plate import FootTrace, PlateMeans, PlateRecording

Array = NDArray[np.float64]


def recording(table: Array, *, place_sd: float = 0.005, load_sd: float = 0.02) -> PlateRecording:
    return PlateRecording(
        time=table[:, 0],
        lead=FootTrace(along=table[:, 1] / 1e3, across=table[:, 2] / 1e3, load=table[:, 3]),
        trail=FootTrace(along=table[:, 4] / 1e3, across=table[:, 5] / 1e3, load=table[:, 6]),
        place_sd=place_sd,
        load_sd=load_sd,
    )


def means(table: Array, **own: float) -> PlateMeans:
    found = quiet_means(recording(table, **own))
    assert isinstance(found, PlateMeans)
    return found


def restless(table: Array) -> Restless:
    found = quiet_means(recording(table))
    assert isinstance(found, Restless)
    return found


def remembering(n: int, keep: float, *, rng: np.random.Generator) -> Array:
    """A series in which each value keeps so much of the last one, unit variance."""
    series = np.empty(n)
    series[0] = rng.normal()
    for i in range(1, n):
        series[i] = keep * series[i - 1] + np.sqrt(1 - keep**2) * rng.normal()
    return series


def test_autocovariances_are_sums_of_products_over_all_readings() -> None:
    # by hand: deviations -1, 0, 2, -1; (1 + 0 + 4 + 1) / 4, (0 + 0 - 2) / 4, (-2 + 0) / 4, 1 / 4
    found = autocovariances(np.array([1.0, 2.0, 4.0, 1.0]))
    assert found == pytest.approx([1.5, -0.5, -0.5, 0.25])


def test_independent_readings_are_worth_about_their_number() -> None:
    rng = np.random.default_rng(2)
    found = [worth(rng.normal(size=500)) for _ in range(20)]
    assert 400 < np.mean(found) <= 500


def test_readings_that_hang_together_are_worth_fewer() -> None:
    # a series that keeps k of its last value is worth n (1 - k) / (1 + k) (Priestley 1981,
    # Spectral Analysis and Time Series, section 5.3; from memory): 2000 / 19 = 105
    rng = np.random.default_rng(3)
    found = [worth(remembering(2000, 0.9, rng=rng)) for _ in range(20)]
    assert 80 < np.mean(found) < 130


def test_a_still_series_is_worth_all_its_readings() -> None:
    assert worth(np.full(50, 3.0)) == 50


def test_the_scatter_of_the_mean_covers_the_true_mean() -> None:
    deviations = []
    for seed in range(120):
        found = means(still_table(seconds=10, rate=25, seed=seed))
        truth = np.array([0.52, 0.130, 0.004, 0.140, -0.002])
        deviations.append((found.values - truth) / found.scatter)
    inside = np.mean(np.abs(deviations) < 1.96)
    # 600 deviations that hang together a little scatter by about one in a hundred
    assert 0.92 < inside <= 1.0
    assert np.std(deviations) > 0.5


def test_the_plates_own_uncertainty_does_not_go_away_with_time() -> None:
    found = means(still_table(seconds=200))
    own = [0.52 * 0.48 * np.sqrt(2) * 0.02, 0.005, np.hypot(0.005, AXIS_SD * 0.13)]
    assert found.sd[:3] == pytest.approx(own, rel=0.1)
    assert (found.sd[:3] > own).all()


def test_twice_as_long_is_twice_as_sure_in_variance() -> None:
    short = np.mean(
        [means(still_table(seconds=20, seed=s)).scatter ** 2 for s in range(20)], axis=0
    )
    long = np.mean([means(still_table(seconds=80, seed=s)).scatter ** 2 for s in range(20)], axis=0)
    assert (short / long > 2.5).all()


def test_the_mean_place_of_a_foot_is_weighted_by_its_load() -> None:
    table = still_table()
    found = means(table)
    lead = (table[:, 1] * table[:, 3]).sum() / table[:, 3].sum() / 1000
    assert found.value("lead_along") == pytest.approx(lead)
    assert found.value("lead_share") == pytest.approx(table[:, 3].sum() / table[:, [3, 6]].sum())


def test_two_seconds_are_too_short() -> None:
    found = restless(still_table(seconds=2))
    assert found.code == "too_short"
    assert "2.0 s" in found.why


def test_five_readings_a_second_are_too_few_and_so_is_a_gap() -> None:
    assert restless(still_table(rate=5)).code == "too_slow"
    table = still_table()
    assert restless(np.vstack([table[:200], table[260:]])).code == "too_slow"


def test_a_lifted_foot_is_told() -> None:
    table = still_table()
    table[100:120, 3] = 1.0
    assert restless(table).code == "foot_off"


@pytest.mark.parametrize(
    ("column", "size", "said"),
    [(1, 40.0, "lead foot swings"), (5, 40.0, "trail foot swings"), (3, 200.0, "load")],
)
def test_rocking_is_no_standing_still(column: int, size: float, said: str) -> None:
    table = still_table()
    table[:, column] += size * np.sin(table[:, 0] * 2)
    found = restless(table)
    assert found.code == "unsteady"
    assert said in found.why


def test_a_slow_change_of_stance_is_no_standing_still() -> None:
    table = still_table()
    table[:, 4] += np.linspace(0, 45, len(table))
    assert "drifts" in restless(table).why


def test_of_an_unsteady_recording_the_still_part_is_named() -> None:
    table = still_table(seconds=30)
    moving = table[:, 0] < 12
    table[moving, 1] += 60 * np.sin(table[moving, 0] * 3)
    found = restless(table)
    start, end = (float(v) for v in found.fix.split("# still: ")[1].rstrip("`.").split(" to "))
    assert 12 <= start < end <= 30
    kept = table[(table[:, 0] >= start) & (table[:, 0] <= end)]
    means(kept)


def test_when_nothing_is_still_it_is_to_be_recorded_again() -> None:
    table = still_table()
    table[:, 1] += 60 * np.sin(table[:, 0] * 5)
    assert "Record again" in restless(table).fix


def test_a_plate_that_hardly_moves_gives_no_false_certainty() -> None:
    table = still_table()
    table[:, 1:] = table[0, 1:]
    found = means(table)
    assert (found.sd[1:] >= 0.005).all()
    np.linalg.cholesky(found.covariance)
