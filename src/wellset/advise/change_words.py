"""What a change asks of a student, in words, and what comes right with it."""

# mypy: disable-error-code="explicit-any"
# The validator's base class brings "anything" into every model; none is written here.

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache
from importlib import resources
from types import MappingProxyType

import yaml
from attrs import frozen
from pydantic import BaseModel, ConfigDict

from wellset.measures import MEASURES, Unit

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)
    up: str
    down: str
    right: str


@frozen(kw_only=True)
class ChangeWords:
    """Words for one measure: to grow it, to shrink it, and when it comes right by itself."""

    up: str
    down: str
    right: str


@cache
def change_words() -> Mapping[str, ChangeWords]:
    """The words that come with the package.

    Raises
    ------
    ValueError
        When a measure has none.
    """
    text = resources.files("wellset.advise").joinpath("changes.yaml").read_text("utf-8")
    parts = {name: _Part.model_validate(part) for name, part in yaml.safe_load(text).items()}
    if parts.keys() != MEASURES.keys():
        raise ValueError(f"changes.yaml lacks or exceeds: {parts.keys() ^ MEASURES.keys()}")
    return MappingProxyType(
        {name: ChangeWords(up=p.up, down=p.down, right=p.right) for name, p in parts.items()}
    )


def amount_words(amount: float, unit: Unit, /) -> str:
    """An amount as a coach says it: whole degrees and per cent, whole centimetres."""
    size = abs(amount)
    if unit is Unit.METRE:
        return f"{100 * size:.0f} cm" if size >= 0.015 else f"{100 * size:.1f} cm"
    return f"{size:.0f}{'°' if unit is Unit.DEGREE else ' %'}"


def action(measure: str, amount: float, /) -> str:
    """What moving a measure by an amount asks of the student."""
    words = change_words()[measure]
    text = words.up if amount > 0 else words.down
    return text.format(a=amount_words(amount, MEASURES[measure].unit))


def reason_words(
    measure: str, amount: float, *, right: Sequence[str], wrong: Sequence[str] = ()
) -> str:
    """One sentence: what to do, and what comes right with it.

    Parameters
    ----------
    measure : str
    amount : float
        Published unit.
    right : sequence of measure ids
        Other checks that come right, likeliest first.
    wrong : sequence of measure ids
        Checks that leave their windows, likeliest first.
    """
    watch = f" Watch afterwards: {_names(wrong[:2])}." if wrong else ""
    what = action(measure, amount)
    what = what[0].upper() + what[1:]
    if not right:
        spoils = "." if wrong else ", and spoils none."
        return f"{what}. It brings no other check right by itself{spoils}{watch}"
    follow = ", ".join(change_words()[name].right for name in right[:3])
    count = len(right) + 1
    number = _NUMBERS[count] if count < len(_NUMBERS) else str(count)
    return f"{what}: {follow}; {number} checks come right together.{watch}"


def _names(measures: Sequence[str]) -> str:
    return ", ".join(MEASURES[name].title.lower() for name in measures)
