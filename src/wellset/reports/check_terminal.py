"""A comparison with a plan as plain text."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from typing import Final

from wellset.reports.check_model import CheckReport, CheckRow, ToDo

_WIDTH: Final = 80
_SIGNS: Final = {"inside": "ok", "outside": "<>", "undecided": "??"}


def _wrapped(text: str, *, indent: str = "") -> list[str]:
    return textwrap.wrap(
        text.replace("\N{NO-BREAK SPACE}", " "),
        _WIDTH,
        initial_indent=indent,
        subsequent_indent="  " if indent == "" else indent,
        break_on_hyphens=False,
    )


def _heading(text: str) -> list[str]:
    return ["", text, "-" * len(text)]


def _thing(number: int, to_do: ToDo) -> list[str]:
    lines = _wrapped(f"{number}. {to_do.title}: {to_do.what} {to_do.numbers}.")
    if to_do.why:
        lines += _wrapped(to_do.why, indent="   ")
    if to_do.drill is not None:
        steps = " ".join(to_do.drill.steps)
        lines += _wrapped(f"{to_do.drill.title}: {steps} {to_do.drill.caution}", indent="   ")
    return lines


def _table(rows: Sequence[CheckRow]) -> list[str]:
    cells = [("Check", "Measured", "Plan, and room", "Off by")]
    cells += [
        (f"{_SIGNS[row.verdict]} {row.title}", row.measured, row.wanted, row.off) for row in rows
    ]
    widths = [max(len(row[i]) for row in cells) for i in range(4)]
    return [
        "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True))
        .rstrip()
        .replace("\N{NO-BREAK SPACE}", " ")
        for row in cells
    ]


def check_text(report: CheckReport, /, *, files: Sequence[str] = ()) -> str:
    """The comparison in plain text.

    Parameters
    ----------
    report : CheckReport
    files : sequence of str
        Where files were written.
    """
    plan = dict(report.facts)["The plan"]
    lines = _wrapped(f"{report.title}. {report.subtitle} ({plan}).")
    lines += [line for text in report.misfits for line in _wrapped(f"The plan: {text}")]
    lines += _heading("To do" if report.to_do else "Nothing to do now")
    for number, to_do in enumerate(report.to_do, start=1):
        lines += _thing(number, to_do)
    if not report.to_do:
        lines += _wrapped(report.nothing_to_do)
    lines += _heading("What is right")
    right = ", ".join(f"{row.title} {row.measured}" for row in report.right)
    lines += _wrapped(f"{right}." if right else "Nothing for sure yet.")
    lines += _heading("What to look for next")
    for text in report.look_next:
        lines += _wrapped(text)
    lines += [*_heading("All checks against the plan"), *_table(report.rows)]
    lines += ["", *_wrapped(f"{report.summary}. ± is the 95 % range.")]
    for remedy in report.remedies:
        items = "; ".join(
            f"{item.title}: {item.outlook}" if item.outlook else item.title for item in remedy.items
        )
        lines += _wrapped(f"{remedy.what} {items}.")
    for note in report.notes:
        lines += _wrapped(f"{note.where or 'Note'}: {note.message} {note.remedy}")
    if files:
        lines += [*_heading("Files"), *files]
    return "\n".join(lines) + "\n"
