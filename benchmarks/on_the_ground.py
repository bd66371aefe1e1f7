"""What each thing on the ground is worth: intervals with it and without, on a folder of scenes.

    python benchmarks/on_the_ground.py SCENES_DIR [--rendered]

Points are read in the scenes' pictures as ever. Whatever lies in them is left out, and the things
to be compared are laid in by calculation, with the scene's true cameras and the spread that the
reader states for them. Printed is the middle (median over scenes) of each measure's standard
uncertainty, and its share of that with nothing on the ground.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import numpy as np
from attrs import evolve
from numpy.typing import NDArray

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks.scenes import Scene, read_scenes
from wellset.assess import Setting, body_knowledge, club_knowledge, fit
from wellset.bootstrap import one_blas_thread
from wellset.equipment import find_club
from wellset.equipment.sheet import SHEET_MARKER
from wellset.figure.ground import GroundUse
from wellset.figure.sighting import MarkerSighting, Sighting, StickSighting
from wellset.figure.views import Hand, View
from wellset.measures import evaluate_all
from wellset.services.student_file import make_student
from wellset.units import parse_length
from wellset.vision.reader import Reader

Array = NDArray[np.float64]

STICKS = {
    "stick": [[-0.6, 0.15, 0.008], [0.6, 0.15, 0.008]],
    "cross": [[0.0, 0.2, 0.014], [0.0, 0.9, 0.014]],
    "upright": [[0.0, -0.3, 0.1], [0.0, -0.3, 1.3]],
}
"""Places on the sticks, metre; the upright one stands a step beyond the ball."""
STICK_SD_PX, CORNER_SD_PX = 0.5, 0.2
SHEET_AT = (-0.5, 0.05, 0.005)
CASES: dict[str, tuple[str, ...]] = {
    "nothing": (),
    "a sheet": ("sheet",),
    "a sheet, aimed": ("sheet", "aimed"),
    "an upright stick": ("upright",),
    "one stick": ("stick",),
    "one stick, upright": ("stick", "upright"),
    "one stick, sheet": ("stick", "sheet"),
    "a T": ("stick", "cross"),
    "a T, sheet": ("stick", "cross", "sheet"),
}
SHOWN = (
    "ball_position",
    "forward_bend",
    "heel_toe_balance",
    "lead_share",
    "chest_shift",
    "foot_line",
    "head_behind_ball",
    "shoulder_tilt",
    "side_bend",
    "stance_width",
)


def seen_px(scene: Scene, view: View, *, world: Array) -> Array:
    """Pixels of the project's world points, mirrored for a left-hander."""
    truth: dict[str, Any] = scene.truth["views"][view.value]
    left = scene.truth["hand"] == "left"
    points = np.asarray(world) * [-1.0 if left else 1.0, 1.0, 1.0]
    at = points @ np.array(truth["R"]).T + truth["t"]
    plane = at[:, :2] / at[:, 2:]
    r2 = (plane**2).sum(1, keepdims=True)
    k1, k2 = truth["k1_k2"]
    matrix = np.array(truth["K"])
    pixels = plane * (1 + k1 * r2 + k2 * r2 * r2) * matrix[0, 0] + matrix[:2, 2]
    return np.asarray([truth["width"], 0] + pixels * [-1, 1] if left else pixels)


def laid(scene: Scene, sighting: Sighting, *, things: Sequence[str]) -> Sighting:
    """The sighting with these things on the ground and no others."""
    sticks = tuple(
        StickSighting(
            ends_px=seen_px(scene, sighting.view, world=np.array(STICKS[name])), sd_px=STICK_SD_PX
        )
        for name in things
        if name in STICKS
    )
    side = SHEET_MARKER.side_m
    square = np.array([[-1, -1, 0], [1, -1, 0], [1, 1, 0], [-1, 1, 0]]) * side / 2 + SHEET_AT
    sheet = MarkerSighting(
        name=SHEET_MARKER.name,
        corners_px=seen_px(scene, sighting.view, world=square),
        covariance_px2=np.stack([np.eye(2) * CORNER_SD_PX**2] * 4),
        side_m=side,
        side_sd_m=SHEET_MARKER.side_sd * side,
    )
    return evolve(sighting, sticks=sticks, markers=(sheet,) if "sheet" in things else ())


def spreads(scene: Scene, *, reader: Reader, rendered_to_real: bool) -> dict[str, Array]:
    """Standard uncertainties of the measures shown, for each case."""
    options = scene.options
    build = make_student(height=options["height"], file_text=None, where="").build
    club = find_club(options["club"], length=parse_length(options["club_length"], where=""))
    setting = Setting(body=body_knowledge(build), club=club_knowledge(club))
    seen = reader.look({view: options[view.value] for view in View}, hand=Hand(scene.truth["hand"]))
    sightings = [seen.pictures[view].sighting for view in View]
    found = {}
    for name, things in CASES.items():
        with one_blas_thread():
            solved = fit(
                setting,
                [laid(scene, s, things=things) for s in sightings],
                rendered_to_real=rendered_to_real,
                use=GroundUse(sheet_aimed="aimed" in things),
            )
        measured = evaluate_all(solved.figure)
        found[name] = np.array([measured[id_].sd for id_ in SHOWN])
    return found


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("--rendered", action="store_true")
    options = parser.parse_args()
    reader = Reader()
    rows = [
        spreads(scene, reader=reader, rendered_to_real=not options.rendered)
        for scene in read_scenes(options.folder)
    ]
    print(f"{len(rows)} scenes; standard uncertainty, and its share of that with nothing")
    print(f"{'':20}" + "".join(f"{id_:>18}" for id_ in SHOWN))
    nothing = np.array([row["nothing"] for row in rows])
    for name in CASES:
        sd = np.array([row[name] for row in rows])
        cells = zip(np.median(sd, axis=0), np.median(sd / nothing, axis=0), strict=True)
        print(f"{name:20}" + "".join(f"{value:10.4g} {share:6.2f} " for value, share in cells))


if __name__ == "__main__":
    main()
