"""How far the measures of a folder of scenes are from their truth.

    python benchmarks/accuracy.py SCENES_DIR [--rendered] [--json PATH] [--workers N]

Prints, per measure: bias, RMSE, median error, share measured and coverage of the 95 %
intervals, and beside them the RMSE of the naive reading, for the tuned-on and the
held-out half. ``--rendered`` leaves the rendered-to-real term out of the intervals.
"""

from __future__ import annotations

import argparse
import json
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path

import numpy as np
from attrs import asdict, frozen

import wellset
from benchmarks.naive import naive_measures
from benchmarks.scenes import Scene, read_scenes
from wellset.errors import WellsetError
from wellset.measures import MEASURES, Measured


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
        given = isinstance(measured, Measured)
        rows.append(
            Row(
                scene=scene.name,
                measure=id_,
                truth=truth,
                value=measured.value if given else None,
                sd=measured.sd if given else None,
                naive=naive.get(id_),
                why="" if given else measured.code,
            )
        )
    return rows


def _line(id_: str, rows: Sequence[Row]) -> str:
    """One measure's figures over some scenes."""
    scale = 100.0 if MEASURES[id_].unit == "m" else 1.0
    unit = "cm" if MEASURES[id_].unit == "m" else MEASURES[id_].unit.value
    given = [r for r in rows if r.value is not None and r.sd is not None]
    error = np.array([r.value - r.truth for r in given]) * scale
    sd = np.array([r.sd for r in given]) * scale
    naive = np.array([r.naive - r.truth for r in rows if r.naive is not None]) * scale
    rmse = _rms(error)
    by_hand = (
        f"{_rms(naive):8.2f}{_rms(naive) / rmse:6.1f}x"
        if len(naive) and rmse
        else 8 * " " + "     –"
    )
    covered = np.abs(error) < 1.96 * sd
    return (
        f"{id_:18}{unit:>4}{np.mean(error) if len(error) else np.nan:8.2f}{rmse:8.2f}"
        f"{np.median(np.abs(error)) if len(error) else np.nan:8.2f}{_rms(sd):8.2f}"
        f"{100 * len(given) / max(len(rows), 1):6.0f} %{100 * np.mean(covered) if len(given) else np.nan:6.0f} %{by_hand}"
    )


def _rms(values: np.ndarray) -> float:
    return float(np.sqrt(np.mean(values**2))) if len(values) else float("nan")


def table(rows: Sequence[Row], *, title: str) -> str:
    """All measures over some scenes, with pooled coverage."""
    scenes = len({r.scene for r in rows})
    given = [r for r in rows if r.value is not None and r.sd is not None]
    covered = np.mean([abs(r.value - r.truth) < 1.96 * r.sd for r in given]) if given else np.nan
    head = (
        f"\n{title}: {scenes} scenes\n{'measure':18}{'unit':>4}{'bias':>8}{'RMSE':>8}{'median':>8}"
        f"{'our sd':>8}{'given':>8}{'cover':>8}{'naive':>8}"
    )
    lines = [
        _line(id_, [r for r in rows if r.measure == id_])
        for id_ in MEASURES
        if any(r.measure == id_ for r in rows)
    ]
    return "\n".join(
        [head, *lines, f"pooled coverage of the 95 % intervals: {100 * covered:.1f} %"]
    )


def _select(
    rows: Sequence[Row], scenes: Sequence[Scene], keep: Callable[[Scene], bool]
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
        ("all", lambda s: True),
    ]
    for title, keep in groups:
        chosen = _select(rows, scenes, keep)
        if chosen:
            print(table(chosen, title=title))
    if options.json:
        options.json.write_text(json.dumps([asdict(r) for r in rows], indent=1))


if __name__ == "__main__":
    main()
