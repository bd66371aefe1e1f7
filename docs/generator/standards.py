"""The default windows, every one with its reason and source."""

from __future__ import annotations

from collections.abc import Mapping

from docs.generator.text import page, table
from wellset.measures import MEASURES
from wellset.standards import Shot, Standard, default_standards


def _number(value: float | None) -> str:
    return "open" if value is None else f"{value:g}"


def _shot(shot: Shot, windows: Mapping[str, Standard]) -> str:
    order = [m for station in default_standards().stations for m in station.measures]
    rows = [
        (
            f"[{MEASURES[m].title}](measures/{m}.md)",
            _number(w.low),
            _number(w.high),
            "" if w.target is None else f"{w.target:g}",
            w.unit.value,
            w.reason,
            w.source,
        )
        for m in order
        if (w := windows.get(m)) is not None
    ]
    head = ("measure", "low", "high", "aim", "unit", "reason", "source")
    return f"## {shot.value.capitalize()}\n\n{table(head, rows)}"


def default_windows_page() -> str:
    """Every default window with its reason and source."""
    standards = default_standards()
    sources = {w.source for windows in standards.shots.values() for w in windows.values()}
    count = sum(len(windows) for windows in standards.shots.values())
    stations = table(
        ("stop", "measures"),
        [
            (s.name, ", ".join(f"[{MEASURES[m].title}](measures/{m}.md)" for m in s.measures))
            for s in standards.stations
        ],
    )
    return page(
        "Default windows",
        f"The standards that come with the package: **{standards.name}**, version "
        f"`{standards.digest[:12]}`. {count} windows for {len(standards.shots)} kinds of shot, "
        f"from {len(sources)} different sources, of which *common practice, no source* is by far "
        f"the most "
        "frequent. Copy the [file](../../src/wellset/standards/default.yaml), change what you "
        "teach otherwise, and give your copy with `--standards`.",
        f"Club heads are counted {standards.heads.value} of the middle. A finding reads *inside* "
        f"from a probability of {standards.decision.inside_at_least:g} and *outside* up to "
        f"{standards.decision.outside_at_most:g}.",
        "## Order of checking",
        stations,
        *(_shot(shot, windows) for shot, windows in standards.shots.items()),
    )


def pages() -> dict[str, str]:
    """Every page of this kind by its path under ``docs``."""
    return {"reference/default-windows.md": default_windows_page()}
