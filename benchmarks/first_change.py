"""How often the root of a fault is named first.

    python benchmarks/first_change.py [--students N] [--seed S]

Students with one root fault are built in two ways: by solving the plan with one window moved,
and by pushing one measure of a good plan with the body following. The order of checking, which
computes nothing, stands beside.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.support.rooted import count_roots


def main() -> None:
    """Print a line for each way of building students."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--students", type=int, default=48)
    parser.add_argument("--seed", type=int, default=20_261)
    asked = parser.parse_args()
    for follows, name in ((False, "plan solved anew"), (True, "body follows")):
        found = count_roots(asked.students, seed=asked.seed, body_follows=follows)
        print(
            f"{name}: of {found.students} students the root is first in {found.first}, among "
            f"the first two in {found.first_two}; by the order of checking {found.by_order}"
        )


if __name__ == "__main__":
    main()
