"""How long a video takes, beside its own length and its bare network inferences.

    python benchmarks/video.py FOLDER [--rounds N] [--codec libx264|libx265] [--shaken]

FOLDER is a scene with pictures, masks and truth. A clip of ten seconds, 1920 x 1080 upright at
60 frames a second, is made of its face-on picture: a waggle, a still moment, a swing. The bare
inferences are the landmark network's runs on the ten cut-outs that are read, nothing else.
Processor time tells more than the clock on a busy machine: two cores give two seconds of it a
second.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import cv2
import numpy as np

from tests.support.films import Act, Pixels, Puppet, noisy, played, shaken, write_clip
from wellset.figure.views import View
from wellset.vision.clips import open_clip
from wellset.vision.film import FRAMES
from wellset.vision.motion import speeds_mm_s
from wellset.vision.network import SIZE
from wellset.vision.reader import Reader
from wellset.vision.stages import find_stages

RATE, LENGTH_S = 60.0, 10.0


def _frames(scene: Path) -> Iterator[Pixels]:
    puppet = Puppet(scene, "face_on", height=1920)
    width = puppet.still.shape[1]
    acts: list[tuple[float, Act]] = [
        (2.0, lambda t: puppet.club(10.0 * np.sin(2.0 * np.pi * t))),
        (6.5, lambda _: puppet.still),
        (1.0, lambda t: puppet.arms(-min(8.0 * t + 250.0 * t * t, 170.0))),
        (0.5, lambda _: puppet.arms(-170.0)),
    ]
    for frame in played(acts, rate=RATE):
        if width >= 1080:
            left = (width - 1080) // 2
            yield frame[:, left : left + 1080]
        else:
            yield np.asarray(cv2.resize(frame, (1080, 1920)), dtype=np.uint8)


def _seconds(work: Callable[[], object]) -> tuple[float, float]:
    """By the clock, and of processors."""
    start, busy = time.perf_counter(), time.process_time()
    work()
    return time.perf_counter() - start, time.process_time() - busy


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--rounds", type=int, default=3)
    parser.add_argument("--codec", default="libx264", choices=("libx264", "libx265"))
    parser.add_argument("--shaken", action="store_true")
    options = parser.parse_args()
    reader = Reader()
    crop = np.random.default_rng(0).random((2, 3, SIZE, SIZE)).astype(np.float32)

    def bare() -> None:
        for _ in range(FRAMES):
            reader.network.run(crop)

    with tempfile.TemporaryDirectory() as folder:
        frames: Iterator[Pixels] = noisy(_frames(options.folder), sd=2.0)
        if options.shaken:
            frames = shaken(list(frames), rate=RATE, by_px=8.0)
        path = write_clip(
            Path(folder) / "clip.mp4", frames, rate=RATE, codec=options.codec, quality=24
        )
        size = path.stat().st_size / 2**20
        print(f"{LENGTH_S:.0f} s, 1080 x 1920 at {RATE:.0f}, {options.codec}, {size:.1f} MB")
        still = reader.look({View.FACE_ON: str(path)}).pictures[View.FACE_ON].still
        print(f"still moment: {still.window if still else None}; made: 2.0 to 8.5 s")
        samples = open_clip(path).samples()
        stages = find_stages(samples, model=reader.model, name=path.name)
        parts: dict[str, Callable[[], object]] = {
            f"bare inferences, {FRAMES} x 2 crops": bare,
            "whole reading of the video": lambda: reader.look({View.FACE_ON: str(path)}),
            "decoding and sampling": lambda: open_clip(path).samples(),
            "finding people": lambda: find_stages(samples, model=reader.model, name=path.name),
            "motion": lambda: speeds_mm_s(samples, stages=stages.each),
        }
        times: dict[str, list[tuple[float, float]]] = {name: [] for name in parts}
        for _ in range(options.rounds):
            for name, work in parts.items():
                times[name].append(_seconds(work))
    base = median(clock for clock, _ in next(iter(times.values())))
    titles = ("s", "of its length", "of the bare", "processor s")
    print(f"{'warm, one process':34}{''.join(f'{title:>15}' for title in titles)}")
    for name, values in times.items():
        took, busy = (median(each) for each in zip(*values, strict=True))
        shares = (took, took / LENGTH_S, took / base, busy)
        print(f"{name:34}{''.join(f'{share:15.2f}' for share in shares)}")


if __name__ == "__main__":
    main()
