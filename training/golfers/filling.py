"""Fill one file of a pool; run by each worker."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import numpy as np

from training.bodies.store import Bodies, load
from training.golfers.make import random_golfer
from training.golfers.pool import save

PER_FILE = 6


def write_file(first: int, *, bodies_path: Path, seed: int, folder: Path) -> Path:
    """Make the six golfers from number ``first`` on and write them to one file.

    Golfer ``i`` depends on the seed and on ``i`` alone.
    """
    golfers = [
        random_golfer(_bodies(bodies_path), rng=np.random.default_rng([seed, i]))
        for i in range(first, first + PER_FILE)
    ]
    path = folder / f"{seed}_{first:06d}.npz"
    save(golfers, path)
    return path


@lru_cache(maxsize=1)
def _bodies(path: Path) -> Bodies:
    return load(path)
