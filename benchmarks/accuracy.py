"""How far the measures of a folder of scenes are from their truth.

    python -m benchmarks.accuracy SCENES_DIR [--rendered] [--json PATH] [--workers N]
                                  [--compare FILE] [--write FILE]

Prints, per measure: bias, RMSE, median error, share measured and coverage of the 95 %
intervals, and beside them the RMSE of the naive reading, for the tuned-on and the
held-out half; then one table of our own goals, met or not, with the budget by source of
every measure that misses its goal. ``--rendered`` leaves the rendered-to-real term out of
the intervals of the tables. ``--write`` keeps the errors of every scene in a file;
``--compare`` tells what moved since such a file was written.
"""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path

import numpy as np
from attrs import asdict

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks import regression
from benchmarks.rows import (
    REFUSED,
    Row,
    by_measure,
    coverage,
    errors,
    rms,
    run_scene,
    select,
    shown_unit,
)
from benchmarks.scenes import Scene, read_scenes
from benchmarks.summary import summary


def _line(id_: str, rows: Sequence[Row]) -> str:
    """One measure's figures over some scenes."""
    unit, factor = shown_unit(id_)
    given = errors(rows) * factor
    naive = [r.naive - r.truth for r in rows if r.naive is not None]
    start = f"{id_:18}{unit:>4}"
    if not len(given):
        return f"{start}   not measured"
    rmse, by_hand = rms(given[:, 0]), factor * rms(np.array(naive))
    times = f"{by_hand:8.2f}{by_hand / rmse:6.1f}x" if naive else f"{'-':>8}"
    return (
        f"{start}{np.mean(given[:, 0]):8.2f}{rmse:8.2f}{np.median(np.abs(given[:, 0])):8.2f}"
        f"{rms(given[:, 1]):8.2f}{100 * len(given) / len(rows):6.0f} %"
        f"{100 * coverage(rows):6.0f} %{times}"
    )


def table(rows: Sequence[Row], *, title: str) -> str:
    """All measures over some scenes, with pooled coverage."""
    head = (
        f"\n{title}: {len({r.scene for r in rows})} scenes\n"
        f"{'measure':18}{'unit':>4}{'bias':>8}{'RMSE':>8}{'median':>8}"
        f"{'our sd':>8}{'given':>8}{'cover':>8}{'naive':>8}"
    )
    lines = [_line(id_, some) for id_, some in by_measure(rows).items()]
    covered = f"pooled coverage of the 95 % intervals: {100 * coverage(rows):.1f} %"
    return "\n".join([head, *lines, covered])


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("scenes", type=Path)
    parser.add_argument("--rendered", action="store_true")
    parser.add_argument("--json", type=Path)
    parser.add_argument("--compare", type=Path)
    parser.add_argument("--write", type=Path)
    parser.add_argument("--workers", type=int, default=2)
    return parser.parse_args()


def _tables(rows: Sequence[Row], scenes: Sequence[Scene]) -> None:
    groups: list[tuple[str, Callable[[Scene], bool]]] = [
        ("tuned-on half", lambda s: s.tuned_on),
        ("held-out half", lambda s: not s.tuned_on),
        ("nearly square cameras", lambda s: s.near_square),
        ("hand-held cameras", lambda s: not s.near_square),
        ("all", lambda _: True),
    ]
    for title, keep in groups:
        chosen = select(rows, scenes, keep=keep)
        if chosen:
            print(table(chosen, title=title))


def main() -> None:
    """Run the folder and print the tables."""
    options = _options()
    scenes = list(read_scenes(options.scenes))
    if not scenes:
        sys.exit(f"{options.scenes} holds no scene: no folder in it has a truth.json.")
    with ProcessPoolExecutor(options.workers) as pool:
        rows = [row for part in pool.map(run_scene, scenes) for row in part]
    for reason in sorted({f"{r.scene}: {r.why}" for r in rows if r.why.startswith(REFUSED)}):
        print(reason)
    _tables([r.bare for r in rows] if options.rendered else rows, scenes)
    held_out = [s for s in scenes if not s.tuned_on]
    if held_out:
        chosen = select(rows, held_out, keep=lambda _: True)
        print(summary(chosen, held_out, title="held-out half"))
    if options.compare:
        print(f"\nsince {options.compare} was written")
        before, after = regression.read(options.compare), regression.kept_from(rows)
        print(regression.compare(before, after, scenes=scenes))
    if options.write:
        regression.write(rows, options.write)
    if options.json:
        options.json.write_text(json.dumps([asdict(r) for r in rows], indent=1))


if __name__ == "__main__":
    main()
