"""The texts about what would settle a finding, read from a file of the package."""

# mypy: disable-error-code="explicit-any"
# The validator's base class brings "anything" into every model; none is written here.

from __future__ import annotations

from functools import cache
from importlib import resources
from typing import Annotated, Literal, Self

import yaml
from pydantic import BaseModel, ConfigDict, Field, model_validator

from wellset.assess import Step

Text = Annotated[str, Field(min_length=1, strict=True)]


class _Part(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class StepWords(_Part):
    """One thing to do, and how many minutes it takes."""

    effort: Annotated[float, Field(gt=0)]
    what: Text


class SettlingWords(_Part):
    """Everything that is said about settling a finding."""

    schema_: Literal["wellset.settling/1"] = Field(alias="schema")
    steps: dict[Step, StepWords]
    narrows: Text
    perhaps: Text
    number: Text
    no_number: Text
    nothing: Text
    narrow_window: Text

    @model_validator(mode="after")
    def _every_step_has_words(self) -> Self:
        missing = set(Step) - set(self.steps)
        if missing:
            raise ValueError(f"steps: {', '.join(sorted(missing))} has no words")
        return self


@cache
def settling_words() -> SettlingWords:
    """The words that come with the package, read once."""
    text = resources.files("wellset.advise").joinpath("settling.yaml").read_text("utf-8")
    return SettlingWords.model_validate(yaml.safe_load(text))
