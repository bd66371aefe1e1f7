"""How long a student's lesson sheet of two pages takes, beside a plain document of two pages.

    python benchmarks/lesson_sheet.py [--rounds N]

Everything is warm: letters read, templates loaded. Each round is another sheet (the
typesetter remembers what it has set): another name, another first change. The plain document
has two pages of words in the same letters, no picture, no drawing, set in the same run.
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

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

import typst
from PIL import Image

from wellset.bootstrap import assess_demo, standards_of
from wellset.bootstrap.report import source_of
from wellset.figure.views import View
from wellset.reports.contract import MeasuredValue
from wellset.reports.lesson_sheet import LessonFacts, lesson_sheet
from wellset.reports.lesson_sheet_pdf import lesson_sheet_pdf
from wellset.reports.sheet import PAPERS
from wellset.reports.sheet_crop import cropped
from wellset.reports.typesetting import _fonts

GOAL_S: Final = 0.5
_PLAIN: Final = """#set document(title: "Plain", date: none)
#set text(font: "Noto Sans", lang: "en")
= Number {n}
#lorem(380)
#pagebreak()
= Again
#lorem(380)
"""


def timed(make: Callable[[int], bytes], *, rounds: int) -> list[float]:
    """Seconds of each round, one to warm up left out."""
    taken = []
    for n in range(rounds + 1):
        begin = time.perf_counter()
        make(n)
        taken.append(time.perf_counter() - begin)
    return taken[1:]


def plain(n: int) -> bytes:
    """A document of two pages of words."""
    return typst.compile(
        _PLAIN.replace("{n}", str(n)).encode(),
        format="pdf",
        font_paths=_fonts(system=False),
        pdf_standards=["ua-1"],
    )


def sheets() -> Callable[[int], bytes]:
    """Make sheets of the demo's student, every one another."""
    source = source_of(assess_demo(), standards=standards_of(None))
    folder = resources.files("wellset").joinpath("demo")
    names = [n for n, r in source.document.measures.items() if isinstance(r, MeasuredValue)]

    def make(n: int) -> bytes:
        first = source.document.advice[0].model_copy(
            update={"measure": names[n % len(names)], "amount": 1.0 + n}
        )
        document = source.document.model_copy(update={"advice": (first,)})
        facts = LessonFacts(name=f"Student {n}", day="2026-11-25", note=f"Lesson {n}.")
        sheet = lesson_sheet(document, facts=facts, plan=source.plan)
        pictures = {}
        for each in sheet.pictures:
            with resources.as_file(folder.joinpath(f"{View(each.view).value}.jpg")) as path:
                pictures[each.view] = cropped(each, Image.open(path))
        return lesson_sheet_pdf(sheet, paper=PAPERS["a4"], pictures=pictures)

    return make


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--rounds", type=int, default=15)
    options = parser.parse_args()
    medians = {}
    for name, make in (("plain, two pages", plain), ("lesson sheet", sheets())):
        taken = timed(make, rounds=options.rounds)
        medians[name] = statistics.median(taken)
        print(
            f"{name:18} median {1000 * medians[name]:4.0f} ms, slowest {1000 * max(taken):4.0f} ms"
        )
    met = medians["lesson sheet"] <= GOAL_S
    print(f"goal {1000 * GOAL_S:.0f} ms: {'met' if met else 'not met'}")
    return 0 if met else 1


if __name__ == "__main__":
    sys.exit(main())
