"""How far the camera check is from the true cameras of a folder of scenes.

    python benchmarks/cameras.py SCENES_DIR [--rendered] [--workers N]

Prints, for height, distance, aim, tilt, roll and the sideways place of both phones: bias,
RMSE, our own standard uncertainty and the coverage of the 95 % intervals, for nearly square
and for hand-held cameras.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import wellset
from benchmarks.scenes import Scene, read_scenes
from wellset.assess import CameraState, camera_states
from wellset.figure.views import View
from wellset.measures import COVERAGE_FACTOR

Array = NDArray[np.float64]

QUANTITIES = {
    "height": (100.0, "cm"),
    "distance": (100.0, "cm"),
    "aim": (float(np.degrees(1)), "deg"),
    "tilt": (float(np.degrees(1)), "deg"),
    "roll": (float(np.degrees(1)), "deg"),
    "sideways": (100.0, "cm"),
}


@frozen(kw_only=True)
class Row:
    """One quantity of one phone of one scene, in the unit of the table."""

    near_square: bool
    view: View
    quantity: str
    error: float
    sd: float


def true_camera(truth: Mapping[str, Any], view: View, /) -> Mapping[str, float]:
    """The quantities of the true camera, metre and radian, left-handers mirrored."""
    picture, mirror = truth["views"][view.value], np.diag([-1.0, 1.0, 1.0])
    turn = np.array(picture["R"])
    lens = -turn.T @ np.array(picture["t"])
    right, forward, up = turn[0], turn[2], -turn[1]
    at = {k: np.array(v) for k, v in truth["landmarks_m"].items()}
    if truth["hand"] == "left":
        lens, right, forward, up = mirror @ lens, -mirror @ right, mirror @ forward, mirror @ up
        at = {k: mirror @ v for k, v in at.items()}
    ankles = (at["ankle_left"] + at["ankle_right"]) / 2
    toes = (at["shoe_toe_left"] + at["shoe_toe_right"]) / 2
    if view is View.FACE_ON:
        aim = np.arctan2(forward[0], forward[1])
        sideways = (lens - ankles)[0]
    else:
        aim = -np.arctan2(forward[1], forward[0])
        sideways = -(lens - (at["grip_mid"] + toes) / 2)[1]
    level = np.cross(forward, [0.0, 0.0, 1.0])
    return {
        "height": lens[2],
        "distance": float(np.linalg.norm((lens - ankles)[:2])),
        "aim": float(aim),
        "tilt": float(np.arcsin(forward[2])),
        "roll": float(np.arctan2(right[2], right @ level / np.linalg.norm(level))),
        "sideways": float(sideways),
    }


def run_scene(scene: Scene, *, rendered_to_real: bool) -> list[Row]:
    """Assess one scene and set its cameras beside the truth."""
    result = wellset.assess(**scene.options, rendered_to_real=rendered_to_real)
    rows = []
    for view, state in camera_states(result.fit).items():
        truth = true_camera(scene.truth, view)
        rows += [_row(scene, state, quantity=name, truth=truth[name]) for name in QUANTITIES]
    return rows


def _row(scene: Scene, state: CameraState, *, quantity: str, truth: float) -> Row:
    found, factor = getattr(state, quantity), QUANTITIES[quantity][0]
    return Row(
        near_square=scene.near_square,
        view=state.view,
        quantity=quantity,
        error=(found.value - truth) * factor,
        sd=found.sd * factor,
    )


def _line(name: str, rows: Sequence[Row]) -> str:
    error, sd = np.array([r.error for r in rows]), np.array([r.sd for r in rows])
    covered = 100 * np.mean(np.abs(error) < COVERAGE_FACTOR * sd)
    return (
        f"{name:26}{QUANTITIES[rows[0].quantity][1]:>5}{error.mean():8.2f}"
        f"{np.sqrt(np.mean(error**2)):8.2f}{np.sqrt(np.mean(sd**2)):8.2f}{covered:7.0f} %"
    )


def table(rows: Sequence[Row], *, title: str) -> str:
    """All quantities of some scenes."""
    head = f"\n{title}\n{'':26}{'unit':>5}{'bias':>8}{'RMSE':>8}{'our sd':>8}{'cover':>9}"
    lines = [
        _line(f"{view.words} {name}", chosen)
        for view in View
        for name in QUANTITIES
        if (chosen := [r for r in rows if r.view is view and r.quantity == name])
    ]
    covered = 100 * np.mean([abs(r.error) < COVERAGE_FACTOR * r.sd for r in rows])
    return "\n".join([head, *lines, f"pooled coverage of the 95 % intervals: {covered:.1f} %"])


def main() -> None:
    """Run the folder and print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("scenes", type=Path)
    parser.add_argument("--rendered", action="store_true")
    parser.add_argument("--workers", type=int, default=2)
    options = parser.parse_args()
    work = partial(run_scene, rendered_to_real=not options.rendered)
    with ProcessPoolExecutor(options.workers) as pool:
        rows = [row for part in pool.map(work, read_scenes(options.scenes)) for row in part]
    print(table([r for r in rows if r.near_square], title="nearly square cameras"))
    print(table([r for r in rows if not r.near_square], title="hand-held cameras"))
    print(table(rows, title="all"))


if __name__ == "__main__":
    main()
