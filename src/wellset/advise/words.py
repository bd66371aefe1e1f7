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
class Drill:
    """An exercise a student can do alone or with the coach.

    Parameters
    ----------
    id : str
    title, purpose, self_check, dose, caution : str
        `self_check` is how the student sees that it worked; `dose` how often.
    steps : tuple of str
    """

    id: str
    title: str
    purpose: str
    steps: tuple[str, ...]
    self_check: str
    dose: str
    caution: str


@frozen(kw_only=True)
class SideWords:
    """What to say when a measure is low, or high."""

    coach: str
    student: str
    drill: Drill


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
    drill: Text


class _MeasurePart(_Model):
    fine: Text
    low: _SidePart
    high: _SidePart


class _DrillPart(_Model):
    title: Text
    purpose: Text
    steps: Annotated[tuple[Text, ...], Field(min_length=2)]
    check: Text
    dose: Text
    caution: Text


class _WordsFile(_Model):
    schema_: Literal["wellset.words/1"] = Field(alias="schema")
    measures: dict[str, _MeasurePart]
    cautions: dict[str, Text]
    drills: dict[str, _DrillPart]

    @model_validator(mode="after")
    def _names_lead_somewhere(self) -> Self:
        """Every measure is there, and every name used is written out and the reverse."""
        used = {side.drill for m in self.measures.values() for side in (m.low, m.high)}
        for what, names, known in (
            ("measures", set(self.measures), set(MEASURES)),
            ("drills", used, set(self.drills)),
            ("cautions", {d.caution for d in self.drills.values()}, set(self.cautions)),
        ):
            if names != known:
                message = f"{what}: {', '.join(sorted(names ^ known))} stands on one side only"
                raise ValueError(message)
        return self


def read_words(text: str) -> Mapping[str, MeasureWords]:
    """The words for every measure.

    Raises
    ------
    ValidationError
        The file of the package is broken: a measure without words, a drill that is named
        but not written, or one that is written but never named.
    """
    file = _WordsFile.model_validate(yaml.safe_load(text))
    drills = {
        name: Drill(
            id=name,
            title=part.title,
            purpose=part.purpose,
            steps=part.steps,
            self_check=part.check,
            dose=part.dose,
            caution=file.cautions[part.caution],
        )
        for name, part in file.drills.items()
    }
    return MappingProxyType(
        {
            measure: MeasureWords(
                fine=part.fine,
                sides=MappingProxyType(
                    {
                        side: SideWords(
                            coach=text.coach, student=text.student, drill=drills[text.drill]
                        )
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


@cache
def all_drills() -> tuple[Drill, ...]:
    """Every drill of the package once, in order of title."""
    drills = {
        side.drill.id: side.drill for each in words().values() for side in each.sides.values()
    }
    return tuple(sorted(drills.values(), key=lambda drill: drill.title))
