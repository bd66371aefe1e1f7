"""The texts about phones, read from a file of the package and checked when read."""

# mypy: disable-error-code="explicit-any"
# The validator's base class brings "anything" into every model; none is written here.

from __future__ import annotations

from enum import StrEnum
from functools import cache
from importlib import resources
from typing import Annotated, Final, Literal

import yaml
from pydantic import BaseModel, ConfigDict, Field

from wellset.figure.views import View

Text = Annotated[str, Field(min_length=1, strict=True)]
QuantityName = Literal["height", "distance", "sideways", "aim", "tilt", "roll"]
QUANTITIES: Final[tuple[QuantityName, ...]] = (
    "height",
    "distance",
    "sideways",
    "aim",
    "tilt",
    "roll",
)


class Way(StrEnum):
    """Which way a phone should go or turn, as whoever holds it sees it."""

    LEFT = "left"
    RIGHT = "right"
    NEARER = "nearer"
    BACK = "back"
    UP = "up"
    DOWN = "down"
    TURN_LEFT = "turn_left"
    TURN_RIGHT = "turn_right"
    TIP_BACK = "tip_back"
    TIP_FORWARD = "tip_forward"
    CLOCKWISE = "clockwise"
    COUNTERCLOCKWISE = "counterclockwise"
    ORIGINAL = "original"


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class SidesPart(_Part):
    """What lies to one side of the square line and to the other."""

    toward: Text
    away: Text


class CameraWords(_Part):
    """Everything that is said about how a phone was held."""

    schema_: Literal["wellset.cameras/1"] = Field(alias="schema")
    titles: dict[QuantityName, Text]
    signs: dict[QuantityName, Text]
    ways: dict[View, SidesPart]
    moves: dict[Way, Text]
    square: dict[View, Text]
    fine: Text
    unsure: Text
    again: Text
    one_height: Text


@cache
def camera_words() -> CameraWords:
    """The words that come with the package, read once."""
    text = resources.files("wellset.advise").joinpath("cameras.yaml").read_text("utf-8")
    return CameraWords.model_validate(yaml.safe_load(text))
