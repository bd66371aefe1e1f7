"""How far marks on the ground and a body are drawn from where they belong, on scenes.

    python benchmarks/stand_here.py SCENES_DIR [--rendered]

The true figure of each scene is projected through the *estimated* camera of each picture and
set beside the true pixels, and beside the 95 % ellipse that the drawing claims. The ground's
own places (heels, toes) are told in centimetres on the ground as well.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import wellset
from benchmarks.scenes import Scene, read_scenes
from wellset.assess import projection
from wellset.figure.views import View
from wellset.geometry import project_with_jacobian

Array = NDArray[np.float64]

BODY = ("shoulder", "elbow", "wrist", "hip", "knee", "ankle")
FLOOR = ("shoe_heel", "shoe_toe")
WITHIN = 5.991
"""95 % point of chi-square with two degrees of freedom."""


@frozen(kw_only=True, eq=False)
class Drawn:
    """What one picture of one scene would draw, and by how much it is off.

    Parameters
    ----------
    sticks : int
        On the ground of the scene.
    body_px, floor_px : (n,) array
        Distances in the picture, as shares of the true body's height in it, per cent.
    floor_m : (n,) array
        Distances on the ground.
    claimed_m : float
        Half of the widest 95 % range that the page states.
    within : (n,) array of bool
        Whether the true pixel lies in the claimed ellipse.
    """

    sticks: int
    body_px: Array
    floor_px: Array
    floor_m: Array
    claimed_m: float
    within: NDArray[np.bool_]


def true_points(truth: dict[str, Any], view: View, *, names: list[str]) -> tuple[Array, Array]:
    """World points and pixels of landmarks, left-handers mirrored; the ball at the origin."""
    left = truth["hand"] == "left"
    world, pixels = [], []
    for name in names:
        there = name
        for side in ("lead", "trail"):
            if name.startswith(side):
                other = {"left": "right", "right": "left"}[truth["lead_side"]]
                stem = name.removeprefix(f"{side}_")
                there = f"{stem}_{truth['lead_side'] if side == 'lead' else other}"
        world.append(truth["landmarks_m"][there])
        pixels.append(truth["views"][view.value]["landmarks_px"][there])
    at, seen = np.array(world), np.array(pixels)
    if left:
        at = at * [-1, 1, 1]
        seen = seen * [-1, 1] + [truth["views"][view.value]["width"], 0]
    return at, seen


def drawn(scene: Scene, *, rendered_to_real: bool) -> list[Drawn]:
    """Both pictures of a scene."""
    result = wellset.assess(**scene.options, rendered_to_real=rendered_to_real)
    assert result.stand is not None  # noqa: S101 - it was asked for
    found = []
    for view in result.pictures:
        seen = projection(result.fit, view)
        names = [f"{side}_{stem}" for stem in (*BODY, *FLOOR) for side in ("lead", "trail")]
        world, true = true_points(scene.truth, view, names=names)
        pixels, by_point, _ = project_with_jacobian(seen.camera, world)
        off = pixels - true
        spread = seen.spread_px(world) + 1e-6 * np.eye(2)
        distance = np.einsum("ni,ni->n", off, np.linalg.solve(spread, off[..., None])[..., 0])
        on_floor = np.array([name.endswith(FLOOR) for name in names])
        floor = np.linalg.solve(by_point[on_floor][:, :, :2], off[on_floor][..., None])[..., 0]
        tall = float(np.ptp(true[:, 1]))
        found.append(
            Drawn(
                sticks=scene.sticks,
                body_px=100 * np.linalg.norm(off[~on_floor], axis=1) / tall,
                floor_px=100 * np.linalg.norm(off[on_floor], axis=1) / tall,
                floor_m=np.linalg.norm(floor, axis=1),
                claimed_m=result.stand.views[view].off,
                within=distance <= WITHIN,
            )
        )
    return found


def main() -> None:
    """Print one row for each number of sticks."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("scenes", type=Path)
    parser.add_argument("--rendered", action="store_true", help="without the gap to real people")
    options = parser.parse_args()
    every = [
        each
        for scene in read_scenes(options.scenes)
        for each in drawn(scene, rendered_to_real=not options.rendered)
    ]
    print(f"{'sticks':8}{'pictures':>9}{'body %':>8}{'floor %':>8}{'floor cm':>9}{'worst cm':>9}"
          f"{'claimed':>9}{'within':>8}")  # fmt: skip
    for sticks in sorted({each.sticks for each in every}):
        some = [each for each in every if each.sticks == sticks]
        floor = 100 * np.concatenate([each.floor_m for each in some])
        print(
            f"{sticks:<8}{len(some):9}"
            f"{np.median(np.concatenate([each.body_px for each in some])):8.2f}"
            f"{np.median(np.concatenate([each.floor_px for each in some])):8.2f}"
            f"{np.median(floor):9.1f}{floor.max():9.1f}"
            f"{100 * np.median([each.claimed_m for each in some]):9.1f}"
            f"{np.concatenate([each.within for each in some]).mean():8.0%}"
        )


if __name__ == "__main__":
    main()
