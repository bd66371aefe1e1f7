"""How many years of school a text asks for.

The formula is the Flesch-Kincaid grade level, 0.39 words per sentence + 11.8 syllables per
word - 15.59 (Kincaid, Fishburne, Rogers and Chissom 1975), quoted from memory. A reader of
twelve is in grade 6 or 7. Syllables are counted by groups of vowels, a silent e left out,
which is right for most English words.
"""

from __future__ import annotations

import re

_WORD = re.compile(r"[A-Za-z']+")
_SENTENCE = re.compile(r"[.!?:;]+(?:\s|$)")
_VOWELS = re.compile(r"[aeiouy]+")


def syllables(word: str) -> int:
    """Count the syllables of an English word."""
    plain = word.lower().strip("'")
    found = len(_VOWELS.findall(plain))
    if plain.endswith("e") and not plain.endswith(("le", "ee")) and found > 1:
        found -= 1
    if re.search(r"[^td]ed$", plain) and found > 1:
        found -= 1
    return max(found, 1)


def grade(text: str) -> float:
    """Give the Flesch-Kincaid grade level of a text of whole sentences."""
    words = _WORD.findall(text)
    sentences = max(len(_SENTENCE.findall(text)), 1)
    return 0.39 * len(words) / sentences + 11.8 * sum(map(syllables, words)) / len(words) - 15.59
