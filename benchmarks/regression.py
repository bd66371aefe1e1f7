"""Errors of every scene kept in a file, so that a later change shows what moved."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any, Final

import numpy as np

from benchmarks.rows import Array, Row, shown_unit
from benchmarks.scenes import Scene
from wellset.measures import COVERAGE_FACTOR, MEASURES

PLACES: Final = 2
"""Decimals kept, in centimetre, degree and per cent: rounding between machines stays below."""

SHOWN_MOVES: Final = 15
LEAST_MOVE: Final = 0.05
"""Changes below this share of an interval's half-width are not worth a line."""

Kept = dict[str, dict[str, list[float] | None]]
"""Scene, measure: error and half-width of the 95 % interval, or ``None`` where not given."""


def kept_from(rows: Sequence[Row], /) -> Kept:
    """What the file keeps of some rows."""
    kept: Kept = {}
    for row in rows:
        _, factor = shown_unit(row.measure)
        error, half = row.error, COVERAGE_FACTOR * (row.sd or 0.0)
        kept.setdefault(row.scene, {})[row.measure] = (
            None
            if error is None
            else [round(factor * error, PLACES) + 0.0, round(factor * half, PLACES)]
        )
    return kept


def write(rows: Sequence[Row], path: Path) -> None:
    """Write the file: one line for each scene, so that a change of one shows as one."""
    kept = kept_from(rows)
    units = {id_: shown_unit(id_)[0] for id_ in MEASURES}
    scenes = ",\n".join(
        f"  {json.dumps(name)}: {json.dumps([kept[name].get(id_) for id_ in MEASURES])}"
        for name in sorted(kept)
    )
    path.write_text(
        '{\n "holds": "for each scene and measure [error, half-width of the 95 % interval], '
        'null where not given",\n'
        f' "measures": {json.dumps(units)},\n "scenes": {{\n{scenes}\n }}\n}}\n',
        encoding="utf-8",
    )


def read(path: Path, /) -> Kept:
    """Read a file that :func:`write` made."""
    held: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    names = list(held["measures"])
    return {
        scene: dict(zip(names, values, strict=True)) for scene, values in held["scenes"].items()
    }


def _pairs(before: Kept, after: Kept) -> list[tuple[str, str, Array]]:
    """Scene, measure, and [[error, half] before, [error, half] after], where both have them."""
    found = []
    for scene in sorted(before.keys() & after.keys()):
        for id_ in MEASURES:
            old, new = before[scene].get(id_), after[scene].get(id_)
            if old and new:
                found.append((scene, id_, np.array([old, new])))
    return found


def _pooled(pairs: Sequence[tuple[str, str, Array]], *, title: str) -> str:
    """RMS of error over half-width, and geometric mean of the half-widths' change."""
    if not pairs:
        return f"{title}: no scene in common"
    both = np.array([pair for _, _, pair in pairs])
    sizes = np.sqrt(np.mean((both[:, :, 0] / both[:, :1, 1]) ** 2, axis=0))
    wider = np.exp(np.mean(np.log(both[:, 1, 1] / both[:, 0, 1])))
    covered = 100 * np.mean(np.abs(both[:, :, 0]) < both[:, :, 1], axis=0)
    return (
        f"{title}: errors {sizes[0]:.3f} -> {sizes[1]:.3f} of the old half-widths, "
        f"half-widths x {wider:.3f}, coverage {covered[0]:.1f} -> {covered[1]:.1f} %"
    )


def _moves(pairs: Sequence[tuple[str, str, Array]]) -> list[str]:
    def size(pair: Array) -> float:
        return float(np.abs(pair[1, 0] - pair[0, 0]) / pair[0, 1])

    largest = sorted(pairs, key=lambda each: -size(each[2]))[:SHOWN_MOVES]
    return [
        f"  {scene:42}{id_:18}{pair[0, 0]:8.2f} -> {pair[1, 0]:6.2f} {shown_unit(id_)[0]:4}"
        f"(± {pair[0, 1]:.2f} -> {pair[1, 1]:.2f})"
        for scene, id_, pair in largest
        if size(pair) >= LEAST_MOVE
    ]


def _given(before: Kept, after: Kept) -> list[str]:
    lines = []
    for scene in sorted(before.keys() & after.keys()):
        old = {id_ for id_, value in before[scene].items() if value}
        new = {id_ for id_, value in after[scene].items() if value}
        lines += [f"  {scene}: no longer given: {', '.join(sorted(old - new))}"] * bool(old - new)
        lines += [f"  {scene}: now given: {', '.join(sorted(new - old))}"] * bool(new - old)
    return lines


def _by_measure(pairs: Sequence[tuple[str, str, Array]]) -> list[str]:
    lines = []
    for id_ in MEASURES:
        both = np.array([pair for _, name, pair in pairs if name == id_])
        if len(both):
            old, new = np.sqrt(np.mean(both[:, :, 0] ** 2, axis=0))
            lines.append(f"  {id_:18}{old:8.2f} -> {new:6.2f} {shown_unit(id_)[0]}")
    return lines


def compare(before: Kept, after: Kept, *, scenes: Sequence[Scene]) -> str:
    """What moved between two states of the project, over the scenes both have."""
    pairs = _pairs(before, after)
    tuned = {s.name for s in scenes if s.tuned_on}
    moves = _moves(pairs)
    only = sorted(before.keys() ^ after.keys())
    return "\n".join(
        [
            _pooled(pairs, title="all"),
            _pooled([p for p in pairs if p[0] in tuned], title="tuned-on half"),
            _pooled([p for p in pairs if p[0] not in tuned], title="held-out half"),
            "RMSE by measure:",
            *_by_measure(pairs),
            f"largest moves of an error (of {len(pairs)}):",
            *(moves or ["  none worth a line"]),
            *_given(before, after),
            *([f"only in one of the two: {', '.join(only)}"] if only else []),
        ]
    )
