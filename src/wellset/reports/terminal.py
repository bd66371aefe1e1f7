"""The report as plain text for a terminal, at the width it has."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import Final

from wellset.reports.model import Change, CorrectionWords, PlateWords, Remedy, ReportModel, Row

LEAST_WIDTH: Final = 48
GREATEST_WIDTH: Final = 100
_SIGNS: Final = {"inside": "ok", "outside": "<>", "undecided": "??"}


def _wrapped(text: str, *, width: int, indent: str = "") -> list[str]:
    return textwrap.wrap(
        text.replace("\N{NO-BREAK SPACE}", " "),
        width,
        initial_indent=indent,
        subsequent_indent=indent,
        break_on_hyphens=False,
    )


def _heading(text: str) -> list[str]:
    return ["", text, "-" * len(text)]


def _first(change: Change | None, report: ReportModel, *, width: int) -> list[str]:
    if change is None:
        why = _wrapped(report.nothing_to_change, width=width)
        return [*_heading("Nothing to change now"), *why]
    lines = _heading(f"Change this first: {change.title}")
    lines += _wrapped(change.what, width=width)
    if change.value:
        wanted = f"; wanted {change.window}" if change.window else ""
        lines += _wrapped(f"Measured {change.value}{wanted}.", width=width)
    lines += _wrapped(change.why, width=width)
    if change.drill:
        lines += ["", f"Drill: {change.drill.title}"]
        for number, step in enumerate(change.drill.steps, start=1):
            mark = f"{number}. "
            lines += textwrap.wrap(step, width, initial_indent=mark, subsequent_indent="   ")
        ends = f"{change.drill.self_check} {change.drill.dose} {change.drill.caution}"
        lines += _wrapped(ends, width=width)
    return lines


def _cells(row: Row) -> tuple[str, str, str, str]:
    value = row.value + (f" ({row.in_brackets})" if row.in_brackets else "")
    return row.title, value, row.window, f"{_SIGNS[row.verdict]} {row.verdict}"


def _table(rows: Sequence[Row], *, width: int) -> list[str]:
    cells = [("Check", "Measured", "Window", "Verdict"), *map(_cells, rows)]
    widths = [max(len(row[i]) for row in cells) for i in range(4)]
    if sum(widths) + 6 <= width:
        lines = [
            "  ".join(c.ljust(w) for c, w in zip(row, widths, strict=True)).rstrip()
            for row in cells
        ]
    else:
        lines = []
        for title, value, window, verdict in cells[1:]:
            lines.append(f"{verdict[:2]} {title}: {verdict[3:]}")
            lines += _wrapped(f"{value}, window {window}", width=width, indent="   ")
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]


def _named(items: Iterable[tuple[str, str]], *, width: int, heading: str) -> list[str]:
    lines: list[str] = []
    for title, text in items:
        lines += textwrap.wrap(
            f"{title}: {text}".replace("\N{NO-BREAK SPACE}", " "), width, subsequent_indent="  "
        )
    return [*_heading(heading), *lines] if lines else []


def _corrections(words: CorrectionWords | None, *, width: int) -> list[str]:
    if words is None:
        return []
    lines = [*_heading("What your corrections changed"), *_wrapped(words.summary, width=width)]
    items = [
        (
            row.title,
            ", ".join(
                part
                for part in (
                    f"{row.before} -> {row.after}",
                    f"{row.change} ({row.sds})" if row.change else "",
                    f"was {row.verdict}" if row.verdict else "",
                )
                if part
            ),
        )
        for row in words.rows
    ]
    items += [(point.title, f"{point.moved} {point.beyond}") for point in words.points]
    lines += _named(items, width=width, heading="")[3:]
    for line in words.sticks:
        lines += _wrapped(line, width=width)
    return lines


def _plate(words: PlateWords | None, *, width: int) -> list[str]:
    if words is None:
        return []
    items = [
        (
            row.title,
            f"pictures alone {row.pictures}, plate alone {row.plate}"
            + (f", together {row.together}" if row.together else ""),
        )
        for row in words.rows
    ]
    lines = [*_heading("The pressure plate"), *_wrapped(words.summary, width=width)]
    lines += _named(items, width=width, heading="")[3:]
    return [*lines, *_wrapped(words.verdict, width=width)]


def _decide(remedies: Sequence[Remedy], /, *, width: int) -> list[str]:
    if not remedies:
        return []
    lines = _heading("Undecided, and what would decide")
    for remedy in remedies:
        lines += _wrapped(remedy.what, width=width)
        for item in remedy.items:
            text = f"{item.title}: {item.outlook}" if item.outlook else item.title
            lines += _wrapped(text, width=width, indent="  ")
    return lines


def terminal_text(report: ReportModel, /, *, width: int = 80, files: Sequence[str] = ()) -> str:
    """The report in plain text.

    Parameters
    ----------
    report : ReportModel
    width : int
        Columns of the terminal; kept between 48 and 100.
    files : sequence of str
        Where the files were written, in words or as paths.

    Returns
    -------
    str
        Lines ending in a newline each, without colour codes.
    """
    width = min(max(width, LEAST_WIDTH), GREATEST_WIDTH)
    lines = _wrapped(f"{report.title}. {report.subtitle}.", width=width)
    lines += _wrapped(f"On the ground: {report.on_the_ground}.", width=width)
    lines += _first(report.first, report, width=width)
    later = [(c.title, f"{c.value}. {c.what}") for c in report.later]
    lines += _named(later, width=width, heading="Leave for later")
    keep = [(c.title, f"{c.value}, window {c.window}") for c in report.keep]
    lines += _named(keep, width=width, heading="Keep as it is")
    lines += [*_heading("Checks, in order"), *_table(report.rows, width=width)]
    lines += ["", *_wrapped(f"{report.summary}. ± is the 95 % range.", width=width)]
    lines += _decide(report.remedies, width=width)
    missing = [(", ".join(m.title for m in group.items), group.fix) for group in report.missing]
    lines += _named(missing, width=width, heading="Not measurable, and what would give it")
    lines += _plate(report.plate, width=width)
    lines += _corrections(report.corrections, width=width)
    held = [(phone.title, phone.summary) for phone in report.phones if phone.change]
    held += [("Both", report.both_phones)] if report.both_phones else []
    lines += _named(held, width=width, heading="The cameras")
    notes = [(p.title, p.moment) for p in report.pictures if p.moment]
    notes += [(n.where or "General", f"{n.message} {n.remedy}") for n in report.notes]
    lines += _named(notes, width=width, heading="About the pictures")
    if files:
        lines += [*_heading("Files"), *files]
    return "\n".join(lines) + "\n"
