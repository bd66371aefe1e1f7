"""What a student takes home about each measure, read from a file of the package."""

# mypy: disable-error-code="explicit-any"
# The validator's base class brings "anything" into every model; none is written here.

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Annotated, Literal, Self

import yaml
from attrs import frozen
from pydantic import BaseModel, ConfigDict, Field, model_validator

from wellset.measures import MEASURES

Text = Annotated[str, Field(min_length=1, strict=True)]


@frozen(kw_only=True)
class WayHome:
    """One direction in which a measure may have to go.

    Parameters
    ----------
    do : str
        The change in a few words.
    way : str
        Which way the thing moves.
    feel : str
        How it should feel.
    """

    do: str
    way: str
    feel: str


@frozen(kw_only=True)
class TakeHome:
    """What the student is told about one measure.

    Parameters
    ----------
    moves : str
        What moves: ``"your hands"``.
    then : str
        What is said when it comes right by itself, as half a sentence.
    good : str
        What is said when it is fine already.
    up, down : WayHome
        For a number that must grow, or shrink.
    check : str
        How to see it alone, with a club and a stick.
    """

    moves: str
    then: str
    good: str
    up: WayHome
    down: WayHome
    check: str

    def way(self, amount: float, /) -> WayHome:
        """The direction for an amount with its sign."""
        return self.up if amount > 0 else self.down


class _Model(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class _Way(_Model):
    do: Text
    way: Text
    feel: Text


class _Measure(_Model):
    moves: Text
    then: Text
    good: Text
    up: _Way
    down: _Way
    check: Text


class _File(_Model):
    schema_: Literal["wellset.take-home/1"] = Field(alias="schema")
    measures: dict[str, _Measure]

    @model_validator(mode="after")
    def _whole(self) -> Self:
        names = set(self.measures) ^ set(MEASURES)
        if names:
            raise ValueError(f"measures: {', '.join(sorted(names))} stands on one side only")
        return self


@cache
def take_home() -> Mapping[str, TakeHome]:
    """The words that come with the package, read once.

    Raises
    ------
    ValidationError
        The file of the package is broken.
    """
    text = resources.files("wellset.advise").joinpath("take_home.yaml").read_text("utf-8")
    file = _File.model_validate(yaml.safe_load(text))
    return MappingProxyType(
        {
            name: TakeHome(
                moves=part.moves,
                then=part.then,
                good=part.good,
                up=WayHome(do=part.up.do, way=part.up.way, feel=part.up.feel),
                down=WayHome(do=part.down.do, way=part.down.way, feel=part.down.feel),
                check=part.check,
            )
            for name, part in file.measures.items()
        }
    )
