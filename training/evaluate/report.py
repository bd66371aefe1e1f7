"""Everything measured of some networks, as JSON and as a table to read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np
from attrs import asdict

from training.evaluate.crops import Crops
from training.evaluate.figures import by_angle, by_group, by_landmark, honesty
from training.evaluate.readers import OnnxReader
from training.evaluate.stress import DRAWN, SPOILERS, address_views, drawn, spoiled

Report = dict[str, Any]


def measured(readers: Sequence[OnnxReader], *, scenes: Crops, pool: Path | None = None) -> Report:
    """Figures of every network: on the scenes, on spoiled scenes, on drawn golfers.

    Parameters
    ----------
    readers : sequence of OnnxReader
    scenes : Crops
    pool : pathlib.Path, optional
        Golfers to draw for the tests with looser clothes and odder bodies, and for "at
        address"; left out without one.
    """
    report: Report = {reader.name: _on_scenes(reader, scenes=scenes) for reader in readers}
    sets = {how: spoiled(scenes, how=how) for how in SPOILERS}
    if pool is not None:
        sets |= {how: drawn(pool, how=how) for how in DRAWN}
    for how, crops in sets.items():
        for reader in readers:
            figures = by_group(reader.read(crops.pictures), crops=crops)
            report[reader.name].setdefault("stress", {})[how] = figures
    if pool is not None:
        seen = address_views(pool)
        for reader in readers:
            report[reader.name]["at address"] = _told_apart(reader, crops=seen, scenes=scenes)
    return report


def _on_scenes(reader: OnnxReader, *, scenes: Crops) -> Report:
    answer = reader.read(scenes.pictures)
    pooled = honesty(answer, crops=scenes)
    return {
        "megabytes": round(reader.megabytes, 2),
        "pictures": len(scenes),
        "landmarks": by_landmark(answer, crops=scenes),
        "angles": by_angle(answer, crops=scenes),
        "honesty": asdict(pooled),
    }


def _told_apart(reader: OnnxReader, *, crops: Crops, scenes: Crops) -> Report | None:
    """How often "at address" is on the right side of one half."""
    drawn_, traced = reader.read(crops.pictures), reader.read(scenes.pictures)
    if drawn_.at_address is None or traced.at_address is None:
        return None
    yes, no = drawn_.at_address[crops.at_address], drawn_.at_address[~crops.at_address]
    return {
        "scenes said to be at address": float(np.mean(traced.at_address > 0.5)),
        "lowest of the scenes": float(traced.at_address.min()),
        "drawn at address, said to be": float(np.mean(yes > 0.5)),
        "drawn otherwise, said not to be": float(np.mean(no <= 0.5)),
        "pictures": len(crops),
    }


def as_text(report: Report) -> str:
    """The report as tables, networks side by side."""
    names = list(report)
    blocks = [_landmark_table(report, names), _angle_table(report, names)]
    blocks += [_stress_table(report, names), _honesty_table(report, names)]
    told = [f"{name}: {report[name].get('at address')}" for name in names]
    return "\n\n".join([*blocks, "At address\n" + "\n".join(told)])


def _table(title: str, *, heads: Sequence[str], rows: Mapping[str, Sequence[float]]) -> str:
    lines = [title, f"{'':26}" + "".join(f"{head:>16}" for head in heads)]
    for name, values in rows.items():
        lines.append(f"{name:26}" + "".join(f"{value:16.2f}" for value in values))
    return "\n".join(lines)


def _nested_table(report: Report, names: list[str], *, part: str, title: str) -> str:
    first = report[names[0]][part]
    blocks = []
    for view, figures in first.items():
        rows = {key: [report[n][part][view][key] for n in names] for key in figures}
        blocks.append(_table(f"{title}, {view}", heads=names, rows=rows))
    return "\n\n".join(blocks)


def _landmark_table(report: Report, names: list[str]) -> str:
    title = f"RMS error, cm, {report[names[0]]['pictures']} pictures"
    return _nested_table(report, names, part="landmarks", title=title)


def _angle_table(report: Report, names: list[str]) -> str:
    return _nested_table(report, names, part="angles", title="RMS error in the picture, degrees")


def _stress_table(report: Report, names: list[str]) -> str:
    blocks = []
    for how in report[names[0]]["stress"]:
        groups = report[names[0]]["stress"][how]
        rows = {group: [report[n]["stress"][how][group] for n in names] for group in groups}
        blocks.append(_table(f"RMS error, cm: {how}", heads=names, rows=rows))
    return "\n\n".join(blocks)


def _honesty_table(report: Report, names: list[str]) -> str:
    keys = report[names[0]]["honesty"]
    rows = {key: [report[n]["honesty"][key] for n in names] for key in keys}
    return _table("Honesty of the spread (1, 0.5, 0.9 would be exact)", heads=names, rows=rows)
