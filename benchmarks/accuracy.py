"""How far the measures of a folder of scenes are from their truth.

    python benchmarks/accuracy.py SCENES_DIR [--rendered] [--json PATH] [--workers N]

Prints, per measure: bias, RMSE, median error, share measured and coverage of the 95 %
intervals, and beside them the RMSE of the naive reading, for the tuned-on and the
held-out half. ``--rendered`` leaves the rendered-to-real term out of the intervals.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

import numpy as np
from attrs import asdict, frozen
from numpy.typing import NDArray

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import wellset
from benchmarks.naive import naive_measures
from benchmarks.scenes import Scene, read_scenes
from wellset.errors import WellsetError
from wellset.measures import COVERAGE_FACTOR, MEASURES, Measured, Unit

Array = NDArray[np.float64]


@frozen(kw_only=True)
class Row:
    """One measure of one scene; ``value`` is ``None`` where none was given."""

    scene: str
    measure: str
    truth: float
    value: float | None
    sd: float | None
    naive: float | None
    why: str = ""


def _refused(scene: Scene, why: str) -> list[Row]:
    return [
        Row(
            scene=scene.name,
            measure=id_,
            truth=scene.truth["measures"][id_]["value"],
            value=None,
            sd=None,
            naive=None,
            why=why,
        )
        for id_ in MEASURES
        if scene.truth["measures"].get(id_, {}).get("value") is not None
    ]


def run_scene(scene: Scene, *, rendered_to_real: bool) -> list[Row]:
    """Assess one scene and set its measures beside the truth."""
    try:
        result = wellset.assess(**scene.options, rendered_to_real=rendered_to_real)
    except WellsetError as error:
        return _refused(scene, error.sentence)
    naive = naive_measures(
        {view: picture.sighting for view, picture in result.pictures.items()},
        club_length=scene.truth["club_length_m"],
        club_lie_deg=scene.truth["club_lie_deg"],
    )
    rows = []
    for id_, measured in result.measures.items():
        truth = scene.truth["measures"].get(id_, {}).get("value")
        if truth is None:
            continue
        number = measured if isinstance(measured, Measured) else None
        rows.append(
            Row(
                scene=scene.name,
                measure=id_,
                truth=truth,
                value=number.value if number else None,
                sd=number.sd if number else None,
                naive=naive.get(id_),
                why="" if isinstance(measured, Measured) else measured.code,
            )
        )
    return rows


def _rms(values: Array) -> float:
    return float(np.sqrt(np.mean(values**2))) if len(values) else float("nan")


def _errors(rows: Sequence[Row]) -> Array:
    """Error and standard uncertainty of every given measure, shape (n, 2)."""
    return np.array(
        [[r.value - r.truth, r.sd] for r in rows if r.value is not None and r.sd is not None]
    ).reshape(-1, 2)


def _coverage(errors: Array) -> float:
    return float(np.mean(np.abs(errors[:, 0]) < COVERAGE_FACTOR * errors[:, 1]))


def _line(id_: str, rows: Sequence[Row]) -> str:
    """One measure's figures over some scenes."""
    metres = MEASURES[id_].unit is Unit.METRE
    given = _errors(rows) * (100.0 if metres else 1.0)
    naive = [r.naive - r.truth for r in rows if r.naive is not None]
    by_hand = _rms(np.array(naive)) * (100.0 if metres else 1.0)
    start = f"{id_:18}{'cm' if metres else MEASURES[id_].unit.value:>4}"
    if not len(given):
        return f"{start}   not measured"
    rmse = _rms(given[:, 0])
    times = f"{by_hand:8.2f}{by_hand / rmse:6.1f}x" if naive else f"{'-':>8}"
    return (
        f"{start}{np.mean(given[:, 0]):8.2f}{rmse:8.2f}{np.median(np.abs(given[:, 0])):8.2f}"
        f"{_rms(given[:, 1]):8.2f}{100 * len(given) / len(rows):6.0f} %"
        f"{100 * _coverage(given):6.0f} %{times}"
    )


def table(rows: Sequence[Row], *, title: str) -> str:
    """All measures over some scenes, with pooled coverage."""
    head = (
        f"\n{title}: {len({r.scene for r in rows})} scenes\n"
        f"{'measure':18}{'unit':>4}{'bias':>8}{'RMSE':>8}{'median':>8}"
        f"{'our sd':>8}{'given':>8}{'cover':>8}{'naive':>8}"
    )
    lines = [
        _line(id_, [r for r in rows if r.measure == id_])
        for id_ in MEASURES
        if any(r.measure == id_ for r in rows)
    ]
    covered = 100 * _coverage(_errors(rows))
    return "\n".join([head, *lines, f"pooled coverage of the 95 % intervals: {covered:.1f} %"])


def _select(
    rows: Sequence[Row], scenes: Sequence[Scene], *, keep: Callable[[Scene], bool]
) -> list[Row]:
    names = {s.name for s in scenes if keep(s)}
    return [r for r in rows if r.scene in names]


def main() -> None:
    """Run the folder and print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("scenes", type=Path)
    parser.add_argument("--rendered", action="store_true")
    parser.add_argument("--json", type=Path)
    parser.add_argument("--workers", type=int, default=2)
    options = parser.parse_args()
    scenes = list(read_scenes(options.scenes))
    work = partial(run_scene, rendered_to_real=not options.rendered)
    with ProcessPoolExecutor(options.workers) as pool:
        rows = [row for part in pool.map(work, scenes) for row in part]
    for reason in sorted({f"{r.scene}: {r.why}" for r in rows if "." in r.why}):
        print("refused", reason)
    groups: list[tuple[str, Callable[[Scene], bool]]] = [
        ("tuned-on half", lambda s: s.tuned_on),
        ("held-out half", lambda s: not s.tuned_on),
        ("nearly square cameras", lambda s: s.near_square),
        ("hand-held cameras", lambda s: not s.near_square),
        ("all", lambda _: True),
    ]
    for title, keep in groups:
        chosen = _select(rows, scenes, keep=keep)
        if chosen:
            print(table(chosen, title=title))
    if options.json:
        options.json.write_text(json.dumps([asdict(r) for r in rows], indent=1))


if __name__ == "__main__":
    main()
