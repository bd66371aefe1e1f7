"""What a pressure plate is worth: the balance with and without one, on a folder of scenes.

    python -m benchmarks.pressure_plate SCENES_DIR [--rendered] [--plates N]

Under each rendered golfer stands a plate that errs as its file says (5 mm, 2 % by default),
draws a swaying centre of pressure for ten seconds and catches the moment of the pictures to
4 mm. The pictures are read once; several plates are drawn for each.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any, Final

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks.scenes import Scene, read_scenes
from tests.support.pressure import Plate, Stands, read_off
from wellset.assess import Fit, Setting, body_knowledge, club_knowledge, fit, plate_says, refit
from wellset.bootstrap import one_blas_thread
from wellset.equipment import find_club
from wellset.figure.sighting import Sighting
from wellset.figure.views import Hand, View
from wellset.measures import COVERAGE_FACTOR, evaluate_all
from wellset.services.plate_file import read_plate
from wellset.services.student_file import make_student
from wellset.units import parse_length
from wellset.vision.reader import Reader

Array = NDArray[np.float64]

SHOWN: Final = (
    "heel_toe_balance",
    "lead_share",
    "pelvis_shift",
    "chest_shift",
    "armpit_plumb",
    "forward_bend",
)


@frozen(kw_only=True, eq=False)
class Seen:
    """A scene as the pictures alone solve it."""

    scene: Scene
    setting: Setting
    sightings: list[Sighting]
    alone: Fit


def stands(truth: dict[str, Any], /) -> Stands:
    """Where a scene's golfer truly stands; left-handers mirrored."""
    mirror = np.array([1.0 if truth["hand"] == "right" else -1.0, 1.0])
    lead = truth["lead_side"]
    sides = {"lead": lead, "trail": "left" if lead == "right" else "right"}

    def at(name: str) -> Array:
        place: Array = np.array(truth["landmarks_m"][name][:2]) * mirror
        return place

    return Stands(
        heels={side: at(f"shoe_heel_{own}") for side, own in sides.items()},
        toes={side: at(f"shoe_toe_{own}") for side, own in sides.items()},
        centre=at("com_ground"),
    )


def look(scene: Scene, reader: Reader, *, rendered: bool) -> Seen:
    """Read and solve a scene's pictures."""
    options = scene.options
    hand = Hand(scene.truth["hand"])
    paths = {View.FACE_ON: options["face_on"], View.DOWN_THE_LINE: options["down_the_line"]}
    seen = reader.look(paths, hand=hand, progress=lambda _step, _share: None)
    sightings = [seen.pictures[view].sighting for view in View]
    club = find_club(options["club"], length=parse_length(options["club_length"], where="club"))
    build = make_student(height=options["height"]).build
    setting = Setting(body=body_knowledge(build), club=club_knowledge(club), drawn=rendered)
    alone = fit(setting, sightings, rendered_to_real=not rendered)
    return Seen(scene=scene, setting=setting, sightings=sightings, alone=alone)


def with_plates(seen: Seen, *, plates: int, rendered: bool) -> tuple[list[Fit], int]:
    """Solutions with several plates, and how many plates were set aside."""
    golfer, hand = stands(seen.scene.truth), Hand(seen.scene.truth["hand"])
    found, aside = [], 0
    for i in range(plates):
        rng = np.random.default_rng([i, sum(seen.scene.name.encode())])
        means = read_plate(read_off(golfer, Plate(), rng=rng), where="plate.csv", hand=hand)
        if not plate_says(seen.alone, means).agrees:
            aside += 1
            continue
        setting = evolve(seen.setting, plate=means)
        found.append(refit(setting, seen.sightings, near=seen.alone, rendered_to_real=not rendered))
    return found, aside


def _errors(fits: list[Fit], scene: Scene, *, id_: str) -> Array:
    """Error and standard uncertainty of a measure, shape (n, 2)."""
    truth = scene.truth["measures"][id_]["value"]
    given = [evaluate_all(found.figure)[id_] for found in fits]
    return np.array([[m.value - truth, m.sd] for m in given]).reshape(-1, 2)


def _line(id_: str, *, alone: Array, both: Array) -> str:
    def figures(e: Array) -> str:
        rms, sd = np.sqrt((e**2).mean(0))
        cover = np.mean(np.abs(e[:, 0]) < COVERAGE_FACTOR * e[:, 1])
        return f"{rms:10.3f}{sd:10.3f}{100 * cover:7.0f} %"

    won = np.sqrt((both[:, 1] ** 2).mean() / (alone[:, 1] ** 2).mean())
    return f"{id_:18}{figures(alone)}{figures(both)}{won:8.2f}"


def main() -> None:
    """Run the folder and print the table."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("scenes", type=Path)
    parser.add_argument("--rendered", action="store_true")
    parser.add_argument("--plates", type=int, default=5)
    options = parser.parse_args()
    reader, alone, both, aside = Reader(), [], [], 0
    scenes = list(read_scenes(options.scenes))
    with one_blas_thread():
        for scene in scenes:
            seen = look(scene, reader, rendered=options.rendered)
            fits, off = with_plates(seen, plates=options.plates, rendered=options.rendered)
            aside += off
            alone.append({id_: _errors([seen.alone], scene, id_=id_) for id_ in SHOWN})
            both.append({id_: _errors(fits, scene, id_=id_) for id_ in SHOWN})
    print(f"{len(scenes)} scenes, {options.plates} plates each, {aside} set aside")
    print(f"{'':18}{'pictures alone':^28}{'with a plate':^28}{'range':>8}")
    print(f"{'measure':18}" + f"{'RMSE':>10}{'our sd':>10}{'cover':>9}" * 2)
    for id_ in SHOWN:
        one, two = (np.vstack([part[id_] for part in group]) for group in (alone, both))
        print(_line(id_, alone=one, both=two))


if __name__ == "__main__":
    main()
