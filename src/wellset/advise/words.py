"""The texts of advice, read from a file of the package and checked when read."""

# mypy: disable-error-code="explicit-any"
# The validator's base class brings "anything" into every model; none is written here.

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Annotated, Literal, Self

import yaml
from attrs import frozen
from pydantic import BaseModel, ConfigDict, Field, model_validator

from wellset.measures import MEASURES

Text = Annotated[str, Field(min_length=1, strict=True)]


class Side(StrEnum):
    """Which limit of its window a measure is beyond, or leans to."""

    LOW = "low"
    HIGH = "high"


@frozen(kw_only=True)
class SideWords:
    """What to say when a measure is low, or high."""

    coach: str
    student: str


@frozen(kw_only=True)
class MeasureWords:
    """What to say about one measure.

    Parameters
    ----------
    fine : str
        To the student, when it is inside.
    sides : mapping of Side to SideWords
    """

    fine: str
    sides: Mapping[Side, SideWords]


class _Model(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class _SidePart(_Model):
    coach: Text
    student: Text


class _MeasurePart(_Model):
    fine: Text
    low: _SidePart
    high: _SidePart


class _WordsFile(_Model):
    schema_: Literal["wellset.words/1"] = Field(alias="schema")
    measures: dict[str, _MeasurePart]

    @model_validator(mode="after")
    def _names_lead_somewhere(self) -> Self:
        """Every measure is there, and no other."""
        if odd := set(self.measures) ^ set(MEASURES):
            raise ValueError(f"measures: {', '.join(sorted(odd))} stands on one side only")
        return self


def read_words(text: str) -> Mapping[str, MeasureWords]:
    """The words for every measure.

    Raises
    ------
    ValidationError
        The file of the package is broken: a measure without words, or one that is none.
    """
    file = _WordsFile.model_validate(yaml.safe_load(text))
    return MappingProxyType(
        {
            measure: MeasureWords(
                fine=part.fine,
                sides=MappingProxyType(
                    {
                        side: SideWords(coach=text.coach, student=text.student)
                        for side, text in ((Side.LOW, part.low), (Side.HIGH, part.high))
                    }
                ),
            )
            for measure, part in file.measures.items()
        }
    )


@cache
def words() -> Mapping[str, MeasureWords]:
    """The words that come with the package, read once."""
    return read_words(resources.files("wellset.advise").joinpath("words.yaml").read_text("utf-8"))
