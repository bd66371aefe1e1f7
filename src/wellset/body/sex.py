"""Whose tables to use."""

from __future__ import annotations

from enum import StrEnum
from typing import Final

from wellset.errors import InputError


class Sex(StrEnum):
    """Which population's tables describe the student.

    It is asked for one reason only: the tables were measured on men and on women
    separately. ``POOLED`` uses both and spreads wider.
    """

    MEN = "men"
    WOMEN = "women"
    POOLED = "pooled"

    @property
    def words(self) -> str:
        """The public word: man, woman or unspecified."""
        return _WORDS[self]

    @classmethod
    def from_words(cls, text: str, *, where: str = "") -> Sex:
        """Read a public word or a table name: ``"woman"``, ``"Men"``, ``"unspecified"``.

        Raises
        ------
        InputError
            For any other word.
        """
        clean = text.strip().lower()
        for sex in cls:
            if clean in (sex.value, sex.words, *_ALSO[sex]):
                return sex
        raise InputError(
            f'Cannot choose the body tables for "{text[:40]}"',
            why="the tables are for a man, a woman, or unspecified.",
            fix='Write "man", "woman" or "unspecified".',
            where=where,
        )


_WORDS: Final = {Sex.MEN: "man", Sex.WOMEN: "woman", Sex.POOLED: "unspecified"}
_ALSO: Final = {Sex.MEN: ("male", "m"), Sex.WOMEN: ("female", "f"), Sex.POOLED: ("",)}
