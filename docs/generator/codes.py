"""Codes of notes and of measures that were withheld."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Final

import yaml

import wellset
from docs.generator.text import page

SOURCE: Final = Path(wellset.__file__).parent
_NOTE: Final = re.compile(r"(?:Note|Caution)\(\s*code=f?\"([a-z_{}A-Z]+)\"")
_WITHHELD: Final = re.compile(r"_refuse\(\s*measure,\s*\"([a-z_]+)\"")


def _found(pattern: re.Pattern[str]) -> set[str]:
    texts = [path.read_text("utf-8") for path in SOURCE.rglob("*.py")]
    return {code for text in texts for code in pattern.findall(text)}


def note_codes() -> set[str]:
    """Codes of every note that the code can write."""
    return {code.replace("{name}", "MEASURE") for code in _found(_NOTE)}


def withheld_codes() -> set[str]:
    """Codes of every reason for which a measure is withheld."""
    return _found(_WITHHELD)


@cache
def meanings(kind: str) -> dict[str, str]:
    """What stands in the text file about each code."""
    text = (Path(__file__).parent / "codes.yaml").read_text("utf-8")
    found: dict[str, dict[str, str]] = yaml.safe_load(text)
    return found[kind]


def _parts(kind: str) -> list[str]:
    return [f"## `{code}`\n\n{said.strip()}" for code, said in meanings(kind).items()]


def pages() -> dict[str, str]:
    """Every page of this kind by its path under ``docs``."""
    return {
        "reference/not-measurable.md": page(
            "Why a measure has no number",
            "A measure that the pictures don't support is withheld. In JSON it reads "
            '`{"not_measurable": {"code": …, "why": …, "fix": …}}`; `why` gives the numbers, `fix` '
            "the remedy. A finding about it is *undecided*.",
            *_parts("not_measurable"),
        ),
        "reference/notes.md": page(
            "Notes",
            "What weakens an answer without spoiling it. A note has a `code`, a `message` with "
            "the numbers, a `remedy`, and `where`: the picture, or nothing.",
            *_parts("notes"),
        ),
    }
