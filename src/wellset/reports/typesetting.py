"""Setting a page as a PDF: templates, pictures and letters that travel with the package.

Every document is a tagged PDF (PDF/UA-1), and the same call gives the same bytes: no date, no
name of the machine, only the letters of ``reports/fonts``. One thing may differ between
machines: a name in a script that those fonts lack is set in the machine's own. What no font
holds is left out where it is a sign (a face from a phone's keyboard), and shown as ``?`` where
it is a letter: a name must never cost the student their sheet.
"""

from __future__ import annotations

import json
import re
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

_CANNOT_SHOW: Final = "could not be displayed"
"""What the typesetter says of a letter that no font has: PDF/UA allows no empty boxes."""

_ALONE: Final = b"""#set document(title: "-", date: none)
#set text(font: json("families.json"))
#json("letter.json")"""

_SIGN: Final = re.compile(r"[^\x20-\x7e](?:[\ufe0f\U0001f3fb-\U0001f3ff]|\u200d.)*", re.DOTALL)
"""One sign beyond ASCII with what hangs on it: a colour of skin, joined signs."""


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
    system = not _all_held(words)
    try:
        return _set(template, words, files=files or {}, system=system)
    except typst.TypstError as error:
        if _CANNOT_SHOW not in str(error):
            raise
    shown = json.dumps(_showable(given, system=system), ensure_ascii=False)
    return _set(template, shown, files=files or {}, system=system)


def _set(template: str, words: str, /, *, files: Mapping[str, bytes], system: bool) -> bytes:
    folder = resources.files("wellset.reports").joinpath("templates")
    # the typesetter takes several files at a time, though its types don't say so
    made: object = typst.compile(  # type: ignore[call-overload]
        {
            "main.typ": folder.joinpath(template).read_bytes(),
            "kit.typ": folder.joinpath("kit.typ").read_bytes(),
            "given.json": words.encode(),
            **files,
        },
        format="pdf",
        font_paths=_fonts(system=system),
        pdf_standards=["ua-1"],
    )
    if not isinstance(made, bytes):
        raise TypeError("the typesetter gave no single document")
    return made


def _showable(value: object, /, *, system: bool) -> object:
    """The same values without what no font can show."""
    if isinstance(value, str):
        return _SIGN.sub(lambda found: _instead(found[0], system=system), value)
    if isinstance(value, Mapping):
        return {name: _showable(each, system=system) for name, each in value.items()}
    if isinstance(value, list | tuple):
        return [_showable(each, system=system) for each in value]
    return value


def _instead(sign: str, /, *, system: bool) -> str:
    """What stands for a sign, made of several where they hang together."""
    if all(_can_show(each, system=system) for each in sign):
        return sign
    return "?" if any(unicodedata.category(each)[0] in "LN" for each in sign) else ""


@cache
def _can_show(letter: str, /, *, system: bool) -> bool:
    """Whether a font has it: asked of the typesetter itself, which alone knows."""
    alone = {
        "main.typ": _ALONE,
        "families.json": json.dumps(FAMILIES).encode(),
        "letter.json": json.dumps(letter).encode(),
    }
    try:
        typst.compile(  # type: ignore[call-overload]
            alone, format="pdf", font_paths=_fonts(system=system), pdf_standards=["ua-1"]
        )
    except typst.TypstError:
        return False
    return True


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
