"""Markdown by hand: tables, and the line that says a page is generated."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

GENERATED: Final = (
    "<!-- Made by `python -m docs.generate` from the code: change it there, then run that. -->"
)


def cell(text: object) -> str:
    """One cell: no line break, no bar that would end it."""
    return " ".join(str(text).split()).replace("|", "\\|")


def table(head: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """A table with a line for each row."""
    lines = [
        "| " + " | ".join(head) + " |",
        "| " + " | ".join("---" for _ in head) + " |",
        *("| " + " | ".join(cell(each) for each in row) + " |" for row in rows),
    ]
    return "\n".join(lines)


def bullets(items: Iterable[str]) -> str:
    """A list, one item a line."""
    return "\n".join(f"- {' '.join(item.split())}" for item in items)


def page(title: str, *parts: str) -> str:
    """A whole page: title, the generated line, then the parts with room between."""
    body = "\n\n".join(part.strip("\n") for part in parts if part)
    return f"{GENERATED}\n\n# {title}\n\n{body}\n"
