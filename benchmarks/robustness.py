"""What becomes of spoilt, cut, crowded, empty and exchanged pictures.

    python benchmarks/robustness.py SCENES_DIR [--only TEXT ...] [--scene TEXT] [--scenes N]
        [--json PATH] [--workers N]

Every case (see ``robustness_cases.py``) of every scene is assessed as a coach would and
judged by the scene's truth (with the allowance for real people, as always):

right
    an answer was wanted or allowed; hand and views are right, no measure lies more
    than four of its standard uncertainties from the truth, and at least 85 % of them
    (or all but two) inside their 95 % ranges;
noted
    as wrong, but a note in the report says that points or picture are doubtful;
refused
    in words, and that was wanted or allowed;
lost
    in words, but an answer was wanted;
wrong
    an answer where a refusal was wanted, or a number that misleads without a word;
fault
    the program broke.

Prints a table by case, then each one that is wrong or lost.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
from collections import Counter
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import cache, partial
from pathlib import Path
from typing import Final

from attrs import asdict, frozen

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks.robustness_cases import cases
from benchmarks.scenes import Scene, read_scenes
from benchmarks.spoiling import Case, Wanted
from wellset import bootstrap
from wellset.errors import WellsetError
from wellset.figure.views import View
from wellset.measures import COVERAGE_FACTOR, Measured
from wellset.services.assessment import Assessment
from wellset.vision.reader import Reader

FAR: Final = 4.0
"""Standard uncertainties beyond which a single number misleads."""
INSIDE: Final = 0.85
FEW: Final = 2
"""Least share of measures that must lie inside their 95 % ranges; so many may be outside in any
case, since errors of one picture go together."""
DOUBTS: Final = frozenset(
    {
        "landmark_misfit",
        "models_disagree",
        "maybe_not_still",
        "camera_off_square",
        "hand_contradicted",
        "other_people",
        "not_converged",
        "picture_cut",
        "pictures_disagree",
        "golfer_aside",
    }
)
"""Notes that warn of a wrong number."""
LENDERS: Final = ("mid_iron_neutral_01", "wedge_neutral_01")
"""Whose pictures a second person is taken from; the second for the first itself."""


@frozen(kw_only=True)
class Outcome:
    """What became of one case."""

    scene: str
    case: str
    wanted: str
    result: str
    detail: str
    given: int = 0
    worst: float = 0.0


@cache
def _reader() -> Reader:
    return Reader(threads=1)


def _assess(scene: Scene, case: Case, *, folder: Path) -> Assessment:
    paths = {view: shot.write(folder / f"{view.value}.jpg") for view, shot in case.pictures.items()}
    options = scene.options
    return bootstrap.assess_request(
        face_on=paths.get(View.FACE_ON),
        down_the_line=paths.get(View.DOWN_THE_LINE),
        club=options["club"],
        height=options["height"],
        club_length=options["club_length"],
        club_lie=options["club_lie"],
    )


def _distances(result: Assessment, scene: Scene) -> dict[str, float]:
    """How many standard uncertainties each given measure lies from the truth."""
    truth = scene.truth["measures"]
    return {
        id_: (found.value - truth[id_]["value"]) / found.sd
        for id_, found in result.measures.items()
        if isinstance(found, Measured) and truth.get(id_, {}).get("value") is not None
    }


def _answered(result: Assessment, scene: Scene, *, case: Case) -> tuple[str, str, int, float]:
    """Verdict on an answer, what is wrong with it, measures given, worst distance."""
    away = _distances(result, scene)
    worst = max(away, key=lambda id_: abs(away[id_]), default="")
    far = abs(away[worst]) if worst else 0.0
    outside = sum(abs(z) >= COVERAGE_FACTOR for z in away.values())
    inside = 1.0 - outside / max(len(away), 1)
    notes = {n.code for n in result.notes}
    notes |= {n.code for picture in result.pictures.values() for n in picture.notes}
    flipped = case.name == "both mirrored"
    hand = (result.hand.value == scene.truth["hand"]) is not flipped
    told = f"notes {sorted(notes)}"
    if not away:
        return "refused", "No measure is given", 0, 0.0
    if case.wanted is Wanted.REFUSAL:
        return "wrong", f"answered; {told}", len(away), far
    if hand and far <= FAR and (inside >= INSIDE or outside <= FEW):
        return "right", told, len(away), far
    why = "wrong hand; " if not hand else ""
    why += f"{worst} {away[worst]:+.1f} sd, {100 * inside:.0f} % inside; {told}"
    return ("noted" if hand and notes & DOUBTS else "wrong"), why, len(away), far


def run_case(scene: Scene, case: Case) -> Outcome:
    """Assess one case and judge what became of it."""
    blank = Outcome(
        scene=scene.name, case=case.name, wanted=case.wanted.value, result="", detail=""
    )
    with tempfile.TemporaryDirectory() as folder:
        try:
            result = _assess(scene, case, folder=Path(folder))
        except WellsetError as error:
            fate = "lost" if case.wanted is Wanted.ANSWER else "refused"
            return Outcome(**{**asdict(blank), "result": fate, "detail": error.what})
        except Exception as error:  # noqa: BLE001  a fault of the program is what the bench looks for
            detail = f"{type(error).__name__}: {error}"
            return Outcome(**{**asdict(blank), "result": "fault", "detail": detail})
    verdict, why, given, worst = _answered(result, scene, case=case)
    return Outcome(
        **{**asdict(blank), "result": verdict, "detail": why, "given": given, "worst": worst}
    )


def run_scene(scene: Scene, *, folder: Path, only: Sequence[str]) -> list[Outcome]:
    """Every case of one scene whose name holds one of the texts."""
    bootstrap.picture_reader = lambda wanted=None: _reader()  # noqa: ARG005  stills only
    lender = next(name for name in LENDERS if name != scene.name)
    other = next(each for each in read_scenes(folder) if each.name == lender)
    outcomes = []
    for case in cases(scene, other=other):
        if any(text in case.name for text in only):
            outcomes.append(run_case(scene, case))
            print(asdict(outcomes[-1]), file=sys.stderr, flush=True)
    return outcomes


RESULTS: Final = ("right", "noted", "refused", "lost", "wrong", "fault")


def table(outcomes: Sequence[Outcome]) -> str:
    """One line a case: how often each result, and the commonest words of refusal."""
    lines = [f"{'case':44}{'wanted':>9}" + "".join(f"{r:>9}" for r in RESULTS) + "  refused with"]
    for name in dict.fromkeys(each.case for each in outcomes):
        of_case = [each for each in outcomes if each.case == name]
        counts = Counter(each.result for each in of_case)
        said = Counter(e.detail for e in of_case if e.result in {"refused", "lost"})
        words = "; ".join(f"{text} ({n})" for text, n in said.most_common(3))
        line = f"{name:44}{of_case[0].wanted:>9}"
        lines.append(line + "".join(f"{counts[r] or '.':>9}" for r in RESULTS) + f"  {words}")
    totals = Counter(each.result for each in outcomes)
    lines.append(f"{'all':44}{'':>9}" + "".join(f"{totals[r]:>9}" for r in RESULTS))
    return "\n".join(lines)


def main() -> None:
    """Run the folder and print what became of everything."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("scenes", type=Path)
    parser.add_argument(
        "--only", nargs="+", default=[""], help="cases whose name holds one of these"
    )
    parser.add_argument("--scene", default="", help="scenes whose name holds this")
    parser.add_argument("--scenes", dest="count", type=int, default=1000)
    parser.add_argument("--json", type=Path)
    parser.add_argument("--workers", type=int, default=1)
    options = parser.parse_args()
    scenes = [each for each in read_scenes(options.scenes) if options.scene in each.name]
    step = max(1, len(scenes) // options.count)
    work = partial(run_scene, folder=options.scenes, only=options.only)
    with ProcessPoolExecutor(options.workers) as pool:
        chosen = scenes[::step][: options.count]
        outcomes = [each for part in pool.map(work, chosen) for each in part]
    print(table(outcomes))
    for each in outcomes:
        if each.result not in {"right", "refused"}:
            print(f"{each.result:7}{each.case:44}{each.scene:36}{each.detail}")
    if options.json is not None:
        options.json.write_text(json.dumps([asdict(each) for each in outcomes], indent=1) + "\n")


if __name__ == "__main__":
    main()
