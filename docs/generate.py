"""Write the reference pages that follow from the code.

    python -m docs.generate            write them
    python -m docs.generate --demo     first assess the demo anew, for the error budgets

Run it after any change to measures, standards, tables, commands, errors or notes; a test
compares what it would write with what lies in ``docs``.
"""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import Final

from docs.generator import (
    check,
    codes,
    commands,
    drills,
    estimate,
    files,
    frames,
    measures,
    plan,
    plate,
    published,
    rest,
    standards,
    tables,
)
from wellset.bootstrap import assess_demo
from wellset.measures import Measured

DOCS: Final = Path(__file__).parent


def pages() -> dict[str, str]:
    """Every generated page by its path under ``docs``."""
    found: dict[str, str] = {}
    kinds = (
        *(measures, standards, commands, files, plan, plate, drills, check),
        *(codes, tables, frames, estimate, rest),
    )
    for kind in kinds:
        found |= kind.pages()
    return found


def parts() -> dict[str, str]:
    """Pages written by hand with the parts that follow from the code anew."""
    found: dict[str, str] = {}
    for (name, word), part in published.parts().items():
        now = found.get(name) or (DOCS / name).read_text("utf-8")
        found[name] = published.placed(now, word=word, part=part)
    return found


def write_demo_budgets() -> None:
    """Assess the demo and keep its error budgets, to two digits."""
    budgets = {
        id_: {name: float(f"{value:.2g}") for name, value in {"sd": r.sd, **r.budget}.items()}
        for id_, r in assess_demo().measures.items()
        if isinstance(r, Measured)
    }
    measures.BUDGET_FILE.write_text(json.dumps(budgets, indent=1) + "\n", "utf-8")
    measures.demo_budgets.cache_clear()


def main() -> None:
    """Write every page that changed."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--demo", action="store_true")
    if parser.parse_args().demo:
        write_demo_budgets()
    for name, text in {**pages(), **published.files()}.items():
        path = DOCS / name
        path.parent.mkdir(parents=True, exist_ok=True)
        if not path.exists() or path.read_text("utf-8") != text:
            path.write_text(text, "utf-8")
            print(name)
    for name, text in parts().items():
        path = DOCS / name
        if path.read_text("utf-8") != text:
            path.write_text(text, "utf-8")
            print(name)


if __name__ == "__main__":
    main()
