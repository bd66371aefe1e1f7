"""``python -m training.bodies --count N --seed S --out FILE``: write random rest bodies."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import numpy as np

from training.bodies.model import load_model, rest_bodies
from training.bodies.phenotypes import random_phenotype
from training.bodies.store import save


def main() -> int:
    """Make ``count`` bodies (about half a second each) and write them to one file."""
    parser = argparse.ArgumentParser(prog="python -m training.bodies", description=main.__doc__)
    parser.add_argument("--count", type=int, default=64, help="how many bodies")
    parser.add_argument("--seed", type=int, default=1, help="same seed, same bodies")
    parser.add_argument("--out", type=Path, required=True, help="the file to write (.npz)")
    given = parser.parse_args()
    try:
        model = load_model()
    except ImportError as error:
        print(f"{error}. Install the body model: pip install anny torch", file=sys.stderr)
        return 1
    rng = np.random.default_rng(given.seed)
    phenotypes = [random_phenotype(rng) for _ in range(given.count)]
    save(rest_bodies(model, phenotypes), given.out)
    print(f"{given.count} bodies, {given.out.stat().st_size / 1e6:.1f} MB: {given.out}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
