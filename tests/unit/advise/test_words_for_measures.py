"""The texts of advice."""

from __future__ import annotations

import re
from importlib import resources

import pytest
from pydantic import ValidationError

from wellset.advise import MeasureWords, Side, read_words, words
from wellset.measures import MEASURES

TEXT = resources.files("wellset.advise").joinpath("words.yaml").read_text("utf-8")
JARGON = re.compile(
    r"flex|lumbar|thorac|kypho|lordo|pelvis|sternum|trunk|plumb|flare|centre of mass|"
    r"percent|degree|°|%|\bopen\b|\bclosed\b|\bhinge\b",
    re.IGNORECASE,
)


def every_text(text: MeasureWords) -> list[str]:
    parts = [text.fine]
    for side in text.sides.values():
        parts += [side.coach, side.student]
    return parts


def test_every_measure_has_words_for_both_sides() -> None:
    assert set(words()) == set(MEASURES)
    assert all(set(text.sides) == set(Side) for text in words().values())


@pytest.mark.parametrize("measure", list(MEASURES))
def test_the_texts_of_a_measure_are_finished_sentences(measure: str) -> None:
    for text in every_text(words()[measure]):
        assert not re.search(r"[{}<>]|TODO|\bNone\b|%[sd]", text)
        assert not re.search(r"\b(left|right)\b", text, re.IGNORECASE)
        assert text == text.strip()
    for side in words()[measure].sides.values():
        for sentence in (side.coach, side.student):
            assert sentence.endswith(".")


@pytest.mark.parametrize("measure", list(MEASURES))
def test_a_student_reads_plain_words_without_numbers(measure: str) -> None:
    for sentence in (words()[measure].fine, *(s.student for s in words()[measure].sides.values())):
        assert not JARGON.search(sentence)
        assert not re.search(r"\d", sentence)


@pytest.mark.parametrize("measure", list(MEASURES))
def test_the_two_sides_are_told_apart(measure: str) -> None:
    low, high = words()[measure].sides[Side.LOW], words()[measure].sides[Side.HIGH]
    assert low.coach != high.coach
    assert low.student != high.student


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("  stance_gap:\n", "  stance_gup:\n", "stance_gap, stance_gup"),
        ("    fine: Your feet", "    fin: Your feet", "fin"),
    ],
)
def test_a_broken_file_of_words_does_not_load(old: str, new: str, message: str) -> None:
    assert old in TEXT
    with pytest.raises(ValidationError, match=message):
        read_words(TEXT.replace(old, new, 1))
