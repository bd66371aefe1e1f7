"""How long an assessment takes, beside the bare network inferences it cannot do without.

    python benchmarks/speed.py [--rounds N]

Everything is measured in one run, interleaved, on the built-in demo; times are medians.
The bare inferences are the landmark network's own runs on the crops of both pictures, five
each, nothing else. A ratio says more than seconds: it moves less from machine to machine.
"""

from __future__ import annotations

import argparse
import resource
import subprocess
import sys
import time
from collections.abc import Callable
from importlib import resources
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import numpy as np

from wellset import bootstrap
from wellset.assess import Setting, body_knowledge, club_knowledge, fit, judge_all
from wellset.equipment import find_club
from wellset.figure.views import View
from wellset.reports.compose import compose
from wellset.services.assess_setup import Request, assess_setup
from wellset.services.student_file import make_student
from wellset.standards import default_standards
from wellset.vision.network import SIZE
from wellset.vision.reader import DEFAULT_CROPS, Reader


def _seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start


def _demo_request() -> Request:
    options = bootstrap.demo_inputs()
    folder = Path(str(resources.files("wellset").joinpath(bootstrap.DEMO)))
    return Request(
        pictures={
            View.FACE_ON: str(folder / options["face_on"]),
            View.DOWN_THE_LINE: str(folder / options["down_the_line"]),
        },
        student=make_student(height=None, file_text=(folder / options["student"]).read_text()),
        club=find_club(options["club"], length=0.938),
        standards=default_standards(),
    )


def _cold(arguments: list[str]) -> float:
    command = [sys.executable, "-m", "wellset", *arguments]
    return _seconds(lambda: subprocess.run(command, check=True, capture_output=True))


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=7)
    rounds = parser.parse_args().rounds
    reader, request = Reader(), _demo_request()
    result = assess_setup(request, reader=reader)
    sightings = [p.sighting for p in result.pictures.values()]
    setting = Setting(body=body_knowledge(request.student.build), club=club_knowledge(request.club))
    crop = np.random.default_rng(0).random((1, 3, SIZE, SIZE)).astype(np.float32)

    def bare() -> None:
        for _ in range(2 * DEFAULT_CROPS):
            reader.network.run(crop)

    parts: dict[str, Callable[[], object]] = {
        f"bare inferences, 2 x {DEFAULT_CROPS} crops": bare,
        "whole assessment of a pair": lambda: assess_setup(request, reader=reader),
        "looking at both pictures": lambda: reader.look(request.pictures, hand=None),
        "the fit alone": lambda: fit(setting, sightings),
        "all measures of a fit": lambda: judge_all(result.fit, sightings),
        "words of the report": lambda: compose(result),
    }
    times: dict[str, list[float]] = {name: [] for name in parts}
    with bootstrap.one_blas_thread():
        for _ in range(rounds):
            for name, work in parts.items():
                times[name].append(_seconds(work))
    base = median(next(iter(times.values())))
    print(f"{'warm, one process':42}{'ms':>8}{'ratio':>8}")
    for name, values in times.items():
        print(f"{name:42}{1000 * median(values):8.0f}{median(values) / base:8.2f}")
    print(f"\n{'cold, a new process':42}{'ms':>8}")
    print(f"{'wellset --help':42}{1000 * median(_cold(['--help']) for _ in range(5)):8.0f}")
    demo = ["demo", "--no-open", "--quiet", "--out", "wellset-speed"]
    print(f"{'wellset demo, page and files written':42}{1000 * _cold(demo):8.0f}")
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(f"\npeak memory of the warm process: {peak:.0f} MB")


if __name__ == "__main__":
    main()
