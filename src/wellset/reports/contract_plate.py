"""The published shape of what a pressure plate said."""

from __future__ import annotations

from typing import Annotated

from pydantic import ConfigDict, Field

from wellset.services.documents import Document


class _Part(Document):
    model_config = ConfigDict(extra="forbid", frozen=True)


class ReadingPart(_Part):
    """A number with its standard uncertainty, metre or per cent."""

    value: float
    sd: Annotated[float, Field(ge=0)]


class PlateFootPart(_Part):
    """Where one foot presses on the ground, from the back of its shoe, metre."""

    along: ReadingPart
    """Toward the toe."""
    across: ReadingPart
    """Outward, away from the other foot."""


class BesidePart(_Part):
    """One measure as each of them says it, in its published unit."""

    pictures: ReadingPart | None
    """Without the plate; null where the pictures alone give no number."""
    plate: ReadingPart
    """The plate's centre of pressure in the place of the centre of mass, over the feet as
    the pictures place them."""


class PlatePart(_Part):
    """What a pressure plate said of the same set-up."""

    name: str
    used: bool
    """Whether it went into the estimate; not when it contradicts the pictures."""
    chance: Annotated[float, Field(ge=0, le=1)]
    """Probability that an honest plate and honest pictures lie further apart."""
    apart_m: tuple[float, float]
    """Centre of mass of the pictures minus centre of pressure: to the target, to the heels."""
    apart_sd_m: tuple[float, float]
    seconds: Annotated[float, Field(gt=0)]
    readings_per_second: Annotated[float, Field(gt=0)]
    worth: Annotated[float, Field(gt=0)]
    """Independent readings that the most sluggish of the means is worth."""
    lead_load_percent: ReadingPart
    lead: PlateFootPart
    trail: PlateFootPart
    measures: dict[str, BesidePart]
