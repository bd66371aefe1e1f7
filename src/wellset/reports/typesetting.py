"""Setting a page as a PDF: templates, pictures and letters that travel with the package.

Every document is a tagged PDF (PDF/UA-1), and the same call gives the same bytes: no date, no
name of the machine, only the letters of ``reports/fonts``. One thing may differ between
machines: a name in a script that those fonts lack is set in the machine's own.
"""

from __future__ import annotations

import json
import unicodedata
from collections.abc import Mapping
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Final

import typst

FAMILIES: Final = (
    "Noto Sans",
    "Noto Sans Arabic",
    "Noto Sans Hebrew",
    "Noto Sans Devanagari",
    "Noto Sans Thai",
)
"""The families in ``reports/fonts``, in the order in which a letter is looked for."""

_SCRIPTS: Final = ("LATIN", "GREEK", "CYRILLIC", "ARABIC", "HEBREW", "DEVANAGARI", "THAI")
"""First words of the names that Unicode gives to the letters which those families hold."""


def typeset(
    template: str, /, *, given: Mapping[str, object], files: Mapping[str, bytes] | None = None
) -> bytes:
    """Set one of our templates as a PDF.

    Parameters
    ----------
    template : str
        Name in ``reports/templates``, such as ``"lesson.typ"``. It reads what it is given by
        ``#let given = json("given.json")`` and may ``#import "kit.typ": …``.
    given : mapping
        What the template asks for; plain JSON values.
    files : mapping of str to bytes, optional
        Pictures and drawings, by the names under which the template reads them.

    Returns
    -------
    bytes
        The document.

    Raises
    ------
    TypeError
        The typesetter gave no single document.
    """
    words = json.dumps(given, ensure_ascii=False)
    folder = resources.files("wellset.reports").joinpath("templates")
    # the typesetter takes several files at a time, though its types don't say so
    made: object = typst.compile(  # type: ignore[call-overload]
        {
            "main.typ": folder.joinpath(template).read_bytes(),
            "kit.typ": folder.joinpath("kit.typ").read_bytes(),
            "given.json": words.encode(),
            **(files or {}),
        },
        format="pdf",
        font_paths=_fonts(system=not _all_held(words)),
        pdf_standards=["ua-1"],
    )
    if not isinstance(made, bytes):
        raise TypeError("the typesetter gave no single document")
    return made


@cache
def _fonts(*, system: bool) -> typst.Fonts:
    folder = resources.files("wellset.reports").joinpath("fonts")
    return typst.Fonts(include_system_fonts=system, font_paths=[Path(str(folder))])


def _all_held(text: str) -> bool:
    """Whether every letter is of a script that our fonts hold."""
    return all(
        unicodedata.name(each, "").split(" ")[0] in _SCRIPTS
        for each in set(text)
        if unicodedata.category(each).startswith("L")
    )
