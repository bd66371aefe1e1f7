"""Time of floor plans and bag cards, beside a plain document of as many pages.

    python benchmarks/template.py [STUDENTS]

Every student is another one, so that nothing is taken from the last document. Warm: the first
student isn't counted. Solving the plan is not part of it (`benchmarks/plan.py` is about that).
"""

from __future__ import annotations

import argparse
import statistics
import sys
import time
from collections.abc import Callable
from importlib import resources
from pathlib import Path
from typing import Final

import typst

sys.path.insert(0, str(Path(__file__).parents[1]))

from wellset.bootstrap.plan import plan_request
from wellset.reports.card import card_pdf
from wellset.reports.floor.sheets import floor_pdf, floor_plan
from wellset.reports.plan_contract import PlanDocument
from wellset.reports.plan_json import plan_document
from wellset.reports.sheet import PAPERS

LIMIT_S: Final = 1.0
"""For 18 sheets, warm."""
PLAIN: Final = """
#set document(title: "Plain")
#set page(width: 210mm, height: 297mm)
#set text(font: "Noto Sans")
= Student %d
#for i in range(%d) { pagebreak(weak: true); lorem(120 + i) }
"""


def seconds(work: Callable[[], object]) -> float:
    """How long it takes."""
    begin = time.perf_counter()
    work()
    return time.perf_counter() - begin


def plain(student: int, *, pages: int) -> object:
    """Words on so many pages, tagged like ours and in the same letters."""
    folder = Path(str(resources.files("wellset.reports").joinpath("fonts")))
    return typst.compile(  # type: ignore[call-overload]  # takes files at a time
        {"main.typ": (PLAIN % (student, pages)).encode()},
        format="pdf",
        font_paths=typst.Fonts(include_system_fonts=False, font_paths=[folder]),
        pdf_standards=["ua-1"],
    )


def documents(students: int) -> list[PlanDocument]:
    """Tall students with a whole bag, each another."""
    return [
        plan_document(plan_request(height=f"{196 + 0.3 * i:.1f} cm")) for i in range(students + 1)
    ]


def main() -> int:
    """Print the times; 1 when 18 sheets take longer than they should."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("students", nargs="?", type=int, default=8)
    given = documents(parser.parse_args().students)
    times: dict[str, list[float]] = {"ladder": [], "one club": [], "card": [], "plain": []}
    sheets: dict[str, list[int]] = {"ladder": [], "one club": []}
    for i, document in enumerate(given):
        for name, club in (("ladder", None), ("one club", "driver")):
            begin = time.perf_counter()
            plan = floor_plan(document, paper=PAPERS["letter"], club=club)
            floor_pdf(plan)
            times[name].append(time.perf_counter() - begin)
            sheets[name].append(len(plan.tiling.tiles))
        times["card"].append(seconds(lambda d=document: card_pdf(d, PAPERS["letter"])))  # type: ignore[misc]
        pages = sheets["ladder"][-1] + 2
        times["plain"].append(seconds(lambda i=i, n=pages: plain(i, pages=n)))  # type: ignore[misc]
    print(f"{'':10} {'sheets':>8} {'median':>8} {'slowest':>8}   seconds")
    for name, found in times.items():
        count = statistics.median(sheets[name][1:]) if name in sheets else 0
        shown = f"{count:.0f}" if count else ""
        print(f"{name:10} {shown:>8} {statistics.median(found[1:]):8.3f} {max(found[1:]):8.3f}")
    scaled = statistics.median(times["ladder"][1:]) * 18 / statistics.median(sheets["ladder"][1:])
    print(f"18 sheets: {scaled:.3f} s of {LIMIT_S:.1f} s")
    return int(scaled > LIMIT_S)


if __name__ == "__main__":
    sys.exit(main())
