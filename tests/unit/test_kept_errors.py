"""The benchmark's file of errors, its goals, and the pooled comparison with line drawing."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchmarks import regression
from benchmarks.rows import Row, coverage, share_given
from benchmarks.scenes import Scene
from benchmarks.summary import naive_ratios, pooled_ratio, read_targets, summary
from wellset.measures import MEASURES


def _row(scene: str, measure: str, *, error: float | None, naive: float | None = None) -> Row:
    return Row(
        scene=scene,
        measure=measure,
        truth=10.0,
        value=None if error is None else 10.0 + error,
        sd=None if error is None else 1.0,
        naive=None if naive is None else 10.0 + naive,
        budget={} if error is None else {"cameras": 1.0},
        bare_value=None if error is None else 10.0 + error,
        bare_sd=None if error is None else 0.5,
    )


def _scene(name: str) -> Scene:
    return Scene(folder=Path(name), truth={"name": name, "on_the_ground": {"target_stick": {}}})


def test_a_kept_file_reads_back_as_it_was_written(tmp_path: Path) -> None:
    rows = [_row("one", "forward_bend", error=0.5), _row("two", "stance_width", error=None)]
    path = tmp_path / "kept.json"
    regression.write(rows, path)
    kept = regression.read(path)
    assert kept["one"]["forward_bend"] == [0.5, 1.96]
    assert kept["two"]["stance_width"] is None
    lines = path.read_text().splitlines()
    assert sum(line.startswith("  ") for line in lines) == 2  # a line for each scene


def test_a_comparison_names_what_moved_and_what_is_no_longer_given() -> None:
    before = [_row("one", "forward_bend", error=0.5), _row("one", "arm_hang", error=0.1)]
    after = [_row("one", "forward_bend", error=-1.0), _row("one", "arm_hang", error=None)]
    words = regression.compare(
        regression.kept_from(before), regression.kept_from(after), scenes=[_scene("one")]
    )
    assert "forward_bend          0.50 ->  -1.00 deg" in words
    assert "one: no longer given: arm_hang" in words


def test_a_comparison_with_itself_moves_nothing() -> None:
    kept = regression.kept_from([_row("one", "forward_bend", error=0.5)])
    words = regression.compare(kept, kept, scenes=[_scene("one")])
    assert "none worth a line" in words
    assert "half-widths x 1.000" in words


def test_the_pooled_ratio_is_the_geometric_mean_over_the_measures_that_lines_give() -> None:
    rows = [
        _row("one", "forward_bend", error=0.5, naive=4.0),  # 8 times
        _row("one", "arm_hang", error=1.0, naive=2.0),  # twice
        _row("one", "hip_line", error=1.0),  # no line gives it
    ]
    ratios = naive_ratios(rows)
    assert set(ratios) == {"forward_bend", "arm_hang"}
    assert pooled_ratio(ratios) == pytest.approx(4.0)


def test_every_measure_has_a_goal_of_its_own() -> None:
    assert set(read_targets()["measures"]) == set(MEASURES)


def test_a_missed_goal_is_said_and_comes_with_its_budget() -> None:
    scene = _scene("one")
    missed = summary([_row("one", "forward_bend", error=3.0)], [scene], title="some")
    line, budget = (
        missed.splitlines()[i] for i in _where(missed, starts="forward_bend", followed_by=1)
    )
    assert "NOT MET" in line
    assert "cameras 1.00" in budget
    met = summary([_row("one", "forward_bend", error=0.3)], [scene], title="some")
    assert "NOT MET" not in met.splitlines()[_where(met, starts="forward_bend", followed_by=0)[0]]


def _where(text: str, *, starts: str, followed_by: int) -> range:
    first = next(i for i, line in enumerate(text.splitlines()) if line.startswith(starts))
    return range(first, first + followed_by + 1)


def test_what_was_refused_counts_as_not_given_and_not_as_uncovered() -> None:
    rows = [_row("one", "arm_hang", error=0.0), _row("two", "arm_hang", error=None)]
    assert share_given(rows) == 0.5
    assert coverage(rows) == 1.0
