"""From what a coach writes to a club: ``7i``, ``iron 7``, ``PW``, ``mid_iron``."""

from __future__ import annotations

import difflib
import re
from typing import Final

from wellset.equipment.catalogue import TYPICAL, TypicalClub, typical_of_kind
from wellset.equipment.kinds import ClubKind
from wellset.errors import InputError

_LETTERS: Final = {
    "pw": "pitching wedge",
    "gw": "gap wedge",
    "aw": "gap wedge",
    "sw": "sand wedge",
    "lw": "lob wedge",
    "approach wedge": "gap wedge",
    "1 wood": "driver",
    "d": "driver",
}
_KINDS: Final = {kind.value: kind for kind in ClubKind}
_FAMILIES: Final = {"i": "iron", "w": "wood", "h": "hybrid"}
_NUMBER_WORDS: Final = {
    word: str(n)
    for n, word in enumerate(
        ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine"), start=1
    )
}
_FAMILY: Final = r"(irons?|woods?|hybrids?|i|w|h)"
_NUMBERED: Final = re.compile(rf"(\d+) ?{_FAMILY}|{_FAMILY} ?(\d+)")
_VAGUE: Final = {
    "iron": 'Say which one: "7-iron", or "long iron", "mid iron" or "short iron".',
    "wood": 'Say which one: "driver", "3-wood", or "fairway wood".',
}


def typical_club(text: str, *, where: str = "club") -> TypicalClub:
    """The typical club of that name or kind.

    Parameters
    ----------
    text : str
        A name or a kind in any common spelling; spaces, hyphens and underscores are alike.
    where : str
        For the message.

    Raises
    ------
    InputError
        For an unknown name, with the nearest ones.
    """
    clean = re.sub(r"[\s_‐‑–-]+", " ", text.strip().lower())  # noqa: RUF001
    words = [_NUMBER_WORDS.get(word, word) for word in clean.split(" ")]
    clean = " ".join(words)
    if clean in _KINDS:
        return typical_of_kind(_KINDS[clean])
    name = _LETTERS.get(clean, clean)
    if match := _NUMBERED.fullmatch(name):
        number, family = match[1] or match[4], match[2] or match[3]
        numbered = f"{number} {_FAMILIES[family[0]]}"
        name = _LETTERS.get(numbered, numbered.replace(" ", "-"))
    if name in TYPICAL:
        return TYPICAL[name]
    raise _unknown(text, name=name, where=where)


def _unknown(text: str, *, name: str, where: str) -> InputError:
    """The nearest names, or what to say instead of a word that means several clubs."""
    shown = text.strip()[:40]
    if fix := _VAGUE.get(name.removesuffix("s")):
        return InputError(
            f'The club "{shown}" is not one club', why="it may be any of several.", fix=fix,
            where=where,
        )  # fmt: skip
    choices = list(dict.fromkeys((*TYPICAL, *ClubKind, *_LETTERS)))
    near = difflib.get_close_matches(name, choices, n=3, cutoff=0.5)
    names = [f'"{_LETTERS.get(n, n)}"' for n in near] or ['"driver"', '"7-iron"', '"sand wedge"']
    unique = list(dict.fromkeys(names))
    said = unique[0] if len(unique) == 1 else f"{', '.join(unique[:-1])} or {unique[-1]}"
    return InputError(
        f'No club is called "{shown}"',
        why="it is neither a club nor a kind of club.",
        fix=f"{'Did you mean' if near else 'Write for example'} {said}{'?' if near else '.'}",
        where=where,
    )
