"""Whose tables."""

from __future__ import annotations

import pytest

from wellset.body import Sex
from wellset.errors import InputError


@pytest.mark.parametrize(
    ("text", "sex"),
    [
        ("man", Sex.MEN),
        ("Men", Sex.MEN),
        ("woman", Sex.WOMEN),
        (" female ", Sex.WOMEN),
        ("unspecified", Sex.POOLED),
        ("", Sex.POOLED),
        ("pooled", Sex.POOLED),
    ],
)
def test_a_public_word_chooses_the_tables(text: str, sex: Sex) -> None:
    assert Sex.from_words(text) is sex


def test_every_sex_is_found_by_its_own_word() -> None:
    for sex in Sex:
        assert Sex.from_words(sex.words) is sex


def test_another_word_is_refused_with_the_words_to_use() -> None:
    with pytest.raises(InputError, match="unspecified"):
        Sex.from_words("junior")
