"""How easily a text is read: the school grade of Flesch and Kincaid.

Kincaid, Fishburne, Rogers & Chissom 1975, Derivation of new readability formulas for Navy
enlisted personnel, Research Branch Report 8-75: grade = 0.39 words a sentence + 11.8 syllables a
word - 15.59. American grade 6 is read at 11 to 12 years. Syllables are counted by a rule of
letters, right for about nine words in ten (our own count on the house drills).
"""

from __future__ import annotations

import re
from typing import Final

YEARS_ABOVE_GRADE: Final = 5.5
"""Age of a child in the middle of a grade: the first is entered at six (US schools)."""
_SENTENCE: Final = re.compile(r"[.!?]+(?:\s|$)")
_WORD: Final = re.compile(r"[A-Za-z]+(?:['’][a-z]+)?")  # both apostrophes
_GROUP: Final = re.compile(r"[aeiouy]+")


def syllables(word: str, /) -> int:
    """About how many syllables an English word has."""
    low = re.sub(r"['’][a-z]+$", "", word.lower())
    count = len(_GROUP.findall(low))
    if re.search(r"[^aeiouyl]e$|[^aeiouytd]ed$|[^aeiouyscxzhg]es$|[aeiouy]le$", low):
        count -= 1
    if re.search(r"[^l]ia|iet|rea$|io(?!u)|[^aeiou]ying|[^qg]ua", low) and not re.search(
        r"[ct]io|sio|cia|tia", low
    ):
        count += 1
    return max(1, count)


def reading_grade(text: str, /) -> float:
    """The school grade that reads a text with ease.

    Parameters
    ----------
    text : str
        Whole sentences; an empty text is of grade 0.
    """
    words = _WORD.findall(text)
    if not words:
        return 0.0
    sentences = max(1, len(_SENTENCE.findall(text)))
    spoken = sum(syllables(word) for word in words)
    # Kincaid et al. 1975, the recalculated grade level
    return 0.39 * len(words) / sentences + 11.8 * spoken / len(words) - 15.59


def reading_age(text: str, /) -> float:
    """The age at which a text is read with ease, years."""
    return max(5.0, reading_grade(text) + YEARS_ABOVE_GRADE)
