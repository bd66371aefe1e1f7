"""``python -m training.golfers --bodies FILE --count N --seed S --out DIR``: fill a pool."""

from __future__ import annotations

import argparse
import os
import sys
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from multiprocessing import get_context
from pathlib import Path

from training.golfers.filling import PER_FILE, write_file

_ONE_THREAD = ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS")


def main() -> int:
    """Make golfers, six to a file, in several processes. Same seed, same bytes.

    Golfer i depends on the seed and on i alone: the number of workers changes nothing,
    and more may be added later with --first.
    """
    parser = argparse.ArgumentParser(prog="python -m training.golfers", description=main.__doc__)
    parser.add_argument("--bodies", type=Path, required=True, help="file of rest bodies")
    parser.add_argument("--count", type=int, default=60, help="how many, rounded up to sixes")
    parser.add_argument("--first", type=int, default=0, help="number of the first, a multiple of 6")
    parser.add_argument("--seed", type=int, default=1, help="same seed, same golfers")
    parser.add_argument("--out", type=Path, required=True, help="folder to write to")
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1, help="processes")
    given = parser.parse_args()
    given.out.mkdir(parents=True, exist_ok=True)
    starts = range(given.first, given.first + given.count, PER_FILE)
    job = partial(write_file, bodies_path=given.bodies, seed=given.seed, folder=given.out)
    # one thread each: the arrays are small, and the workers fill the machine
    os.environ |= dict.fromkeys(_ONE_THREAD, "1")
    with ProcessPoolExecutor(given.workers, mp_context=get_context("spawn")) as workers:
        for path in workers.map(job, starts):
            print(path, flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main())
