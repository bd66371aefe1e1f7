"""The drill document (``wellset.drills/1``): checked when read, written as it is read."""

# mypy: disable-error-code="explicit-any"
# The validator's base class brings "anything" into every model; none is written here.

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib import resources
from types import MappingProxyType
from typing import Annotated, Final, Literal, Self

import yaml
from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    model_validator,
)

from wellset.advise.drill_drawing import Arms, Drawing, Prop, Seen
from wellset.advise.drills import BodyLimit, Drill, DrillBook, Fault, Level, Origin
from wellset.advise.words import Side
from wellset.measures import MEASURES

SCHEMA: Final = "wellset.drills/1"
HOUSE: Final = "house"
MOST_STEPS: Final = 8


def _printable(text: str) -> str:
    if not all(c.isprintable() or c == "\n" for c in text):
        raise ValueError("must not hold control characters")
    return text.strip()


def _fault(value: object) -> Fault:
    if isinstance(value, Fault):
        return value
    measure, _, side = str(value).strip().rpartition(" ")
    if measure not in MEASURES or side not in set(Side):
        raise ValueError(
            f'"{str(value)[:60]}" is no finding; write a measure and low or high, such as '
            f'"{next(iter(MEASURES))} low"'
        )
    return Fault(measure=measure, side=Side(side))


Text = Annotated[str, Field(min_length=1, max_length=600, strict=True), AfterValidator(_printable)]
Short = Annotated[str, Field(max_length=160, strict=True), AfterValidator(_printable)]
Maybe = Annotated[str, Field(max_length=600, strict=True), AfterValidator(_printable)]
Name = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]{1,59}$", strict=True)]
SomeFault = Annotated[Fault, BeforeValidator(_fault)]


class _Model(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True)


class DrawingPart(_Model):
    """One drawing of a drill."""

    from_: Seen = Field(alias="from")
    arms: Arms = Arms.CLUB
    props: dict[Prop, Short] = Field(default_factory=dict, max_length=4)
    fault: bool = False
    caption: Maybe = ""

    @model_validator(mode="after")
    def _props_can_be_seen(self) -> Self:
        for prop in self.props:
            if self.from_ not in prop.views:
                raise ValueError(f"{prop.words} can't be drawn from the {self.from_}")
        return self


class DrillPart(_Model):
    """One drill."""

    title: Annotated[Short, Field(min_length=1)]
    purpose: Text
    first_for: tuple[SomeFault, ...] = ()
    also_for: tuple[SomeFault, ...] = ()
    needs: tuple[Short, ...] = Field(default=(), max_length=6)
    steps: Annotated[tuple[Text, ...], Field(min_length=1, max_length=MOST_STEPS)]
    feel: Maybe = ""
    check: Text
    dose: Annotated[Short, Field(min_length=1)]
    caution: Name = "general"
    level: Level = Level.EASY
    easier: Maybe = ""
    harder: Maybe = ""
    not_with: dict[BodyLimit, Name] = Field(default_factory=dict)
    drawings: tuple[DrawingPart, ...] = Field(default=(), max_length=3)


class DrillsFile(_Model):
    """The whole document; one that is based on the house's holds only what differs."""

    schema_: Literal["wellset.drills/1"] = Field(alias="schema")
    name: Annotated[Short, Field(min_length=1)]
    based_on: Literal["house"] | None = None
    cautions: dict[Name, Text] = Field(default_factory=dict)
    hidden: tuple[Name, ...] = ()
    drills: dict[Name, DrillPart] = Field(default_factory=dict)


def read_book(text: str, /) -> DrillBook:
    """The drills of a document, with the house's where it is based on them.

    Raises
    ------
    ValidationError, ValueError
        Naming what is wrong.
    """
    return book_of(DrillsFile.model_validate(yaml.safe_load(text)))


def book_of(file: DrillsFile, /) -> DrillBook:
    """The drills of a checked document.

    Raises
    ------
    ValueError
        For a name that leads nowhere.
    """
    base = house_book() if file.based_on == HOUSE else None
    cautions = {**(base.cautions if base else {}), **file.cautions}
    house = {drill.id: drill for drill in base} if base else {}
    problems = [
        f"drills.{name}.caution: there is no caution {part.caution}"
        for name, part in file.drills.items()
        if part.caution not in cautions
    ]
    if problems:
        raise ValueError("; ".join(problems))
    origin = Origin.OWN if base else Origin.HOUSE
    given = {
        name: _drill(
            name, part, cautions=cautions, origin=Origin.EDITED if name in house else origin
        )
        for name, part in file.drills.items()
    }
    own = [drill for name, drill in given.items() if name not in house]
    every = {d.id: d for d in (*own, *(given.get(name, drill) for name, drill in house.items()))}
    _check_names(every, file.hidden)
    return DrillBook(
        name=file.name,
        drills=tuple(d for d in every.values() if d.id not in file.hidden),
        hidden=tuple(d for d in every.values() if d.id in file.hidden),
        cautions=MappingProxyType(cautions),
    )


def _check_names(every: Mapping[str, Drill], hidden: tuple[str, ...]) -> None:
    """Names of other drills lead somewhere."""
    problems = [f"hidden: there is no drill {name}" for name in hidden if name not in every]
    for drill in every.values():
        for limit, instead in drill.not_with.items():
            if instead not in every:
                problems.append(f"drills.{drill.id}.not_with: there is no drill {instead}")
            elif limit in every[instead].not_with:
                problems.append(
                    f"drills.{drill.id}.not_with: {instead} doesn't suit {limit.words} either"
                )
    if problems:
        raise ValueError("; ".join(problems))


def _drill(name: str, part: DrillPart, *, cautions: Mapping[str, str], origin: Origin) -> Drill:
    return Drill(
        id=name,
        title=part.title,
        purpose=part.purpose,
        steps=part.steps,
        self_check=part.check,
        dose=part.dose,
        caution=cautions[part.caution],
        needs=part.needs,
        feel=part.feel,
        level=part.level,
        easier=part.easier,
        harder=part.harder,
        first_for=part.first_for,
        also_for=part.also_for,
        not_with=part.not_with,
        drawings=tuple(
            Drawing(
                seen=each.from_,
                arms=each.arms,
                props=each.props,
                fault=each.fault,
                caption=each.caption,
            )
            for each in part.drawings
        ),
        caution_kind=part.caution,
        origin=origin,
    )


def entry_of(drill: Drill, /) -> dict[str, object]:
    """A drill as plain data of the document; reading it gives the drill again."""
    entry: dict[str, object] = {
        "title": drill.title,
        "purpose": drill.purpose,
        "first_for": [fault.name for fault in drill.first_for],
        "also_for": [fault.name for fault in drill.also_for],
        "needs": list(drill.needs),
        "steps": list(drill.steps),
        "feel": drill.feel,
        "check": drill.self_check,
        "dose": drill.dose,
        "caution": drill.caution_kind,
        "level": drill.level.value,
        "easier": drill.easier,
        "harder": drill.harder,
        "not_with": {limit.value: name for limit, name in drill.not_with.items()},
        "drawings": [
            {
                "from": each.seen.value,
                "arms": each.arms.value,
                "props": {prop.value: words for prop, words in each.props.items()},
                "fault": each.fault,
                "caption": each.caption,
            }
            for each in drill.drawings
        ],
    }
    return {name: value for name, value in entry.items() if value not in ("", [], {})}


@cache
def house_book() -> DrillBook:
    """The drills that come with the package, read once."""
    return read_book(resources.files("wellset.advise").joinpath("drills.yaml").read_text("utf-8"))
