"""Make stress scenes.

    python -m benchmarks.stress FOLDER [--scenes 12] [--seed 1] [--passes 6] [--only N]

Needs scikit-image and embreex beside the development packages.
"""

from __future__ import annotations

import argparse
import time
from pathlib import Path

from benchmarks.stress.scene import make_scene


def main() -> None:
    """Make the scenes, one after another."""
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("folder", type=Path)
    parser.add_argument("--scenes", type=int, default=12)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--passes", type=int, default=6)
    parser.add_argument("--only", type=int, help="make only the scene of this number")
    options = parser.parse_args()
    numbers = range(options.scenes) if options.only is None else [options.only]
    for index in numbers:
        start = time.perf_counter()
        name = make_scene(options.folder, seed=options.seed, index=index, passes=options.passes)
        print(f"{name}  {time.perf_counter() - start:.0f} s", flush=True)


if __name__ == "__main__":
    main()
