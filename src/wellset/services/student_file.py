"""The student file: who stands there, and what a tape measure says."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator, Field, ValidationInfo, field_validator

from wellset.advise import BodyLimit
from wellset.body import TAPE_MEASURES, Build, Sex
from wellset.errors import InputError
from wellset.figure.views import Hand
from wellset.prescribe import Limits
from wellset.services.assessment import Student
from wellset.services.documents import Document, parse_yaml, validate
from wellset.units import foot_length_of_shoe, parse_length, parse_mass


def _length(value: object) -> str:
    return _readable(value, parse_length)


def _mass(value: object) -> str:
    return _readable(value, parse_mass)


def _shoe(value: object) -> str:
    return _readable(value, foot_length_of_shoe)


def _readable(value: object, parse: Callable[[str], float], /) -> str:
    """The text as it is, once it reads as a quantity; a bare number has no unit."""
    text = str(value)
    try:
        parse(text)
    except InputError as error:
        raise ValueError(f"{error.why} {error.fix}") from None
    return text


def _tape_name(name: str) -> str:
    if name not in TAPE_MEASURES:
        raise ValueError(f"there is no such tape measure; they are {', '.join(TAPE_MEASURES)}")
    return name


_Angle = Annotated[float, Field(ge=0, le=120, allow_inf_nan=False)]


class _Limits(Document):
    """What the student can't or mustn't do, in degrees."""

    max_forward_bend: _Angle | None = None
    max_knee_flex: _Angle | None = None
    max_side_bend: _Angle | None = None
    no_deep_bend: bool = False


_Length = Annotated[str, BeforeValidator(_length)]
_Mass = Annotated[str, BeforeValidator(_mass)]
_Shoe = Annotated[str, BeforeValidator(_shoe)]
_HEIGHT_IS_TYPED = "height_is_typed"


class _File(Document):
    schema_: Literal["wellset.student/1"] = Field(alias="schema")
    name: str = Field(default="", max_length=120)
    height: _Length | None = Field(default=None, validate_default=True)
    sex: str = "unspecified"
    hand: Hand | None = None
    weight: _Mass | None = None
    shoe_size: _Shoe | None = None
    tape: dict[Annotated[str, AfterValidator(_tape_name)], _Length] = Field(default_factory=dict)
    age: int | None = Field(default=None, ge=3, le=110)
    posture: Literal["standing", "seated", "one-armed"] = "standing"
    limits: _Limits = _Limits()
    careful_with: frozenset[BodyLimit] = frozenset()

    @field_validator("sex")
    @classmethod
    def _sex(cls, value: str) -> str:
        try:
            Sex.from_words(value)
        except InputError as error:
            raise ValueError(f"{error.why} {error.fix}") from None
        return value

    @field_validator("name")
    @classmethod
    def _name(cls, value: str) -> str:
        if not value.isprintable():
            raise ValueError("must be on one line, without control characters")
        return value

    @field_validator("height")
    @classmethod
    def _height(cls, value: str | None, info: ValidationInfo) -> str | None:
        if value is None and not (info.context or {}).get(_HEIGHT_IS_TYPED):
            raise ValueError('it is missing. Write, for example, height: "178 cm", or use --height')
        return value


def make_student(
    *, height: str | None, file_text: str | None = None, where: str = "student"
) -> Student:
    """A student from a student file, a height, or both; the height given wins.

    Parameters
    ----------
    height : str or None
        Barefoot height with its unit.
    file_text : str or None
        Text of a student file.
    where : str
        The file's name, for messages.

    Raises
    ------
    InputError
        When neither gives a height, or an entry is wrong.
    """
    if file_text is None and height is None:
        raise InputError(
            "The student's height is missing",
            why="scale and build follow from it.",
            fix='Give --height "178 cm", or `height:` in the student file.',
        )
    data = {"schema": "wellset.student/1"} if file_text is None else None
    file = validate(
        _File,
        data or parse_yaml(file_text or "", where=where, what="The student file"),
        where=where,
        what="The student file",
        context={_HEIGHT_IS_TYPED: height is not None},
    )
    tapes = {name: parse_length(text, where=f"tape.{name}") for name, text in file.tape.items()}
    if file.shoe_size is not None and not {"foot_length", "shoe_length"} & tapes.keys():
        tapes["foot_length"] = foot_length_of_shoe(file.shoe_size)
    build = Build(
        stature=parse_length(height or file.height or "", where="height"),
        sex=Sex.from_words(file.sex),
        mass=parse_mass(file.weight, where="weight") if file.weight is not None else None,
        **tapes,  # type: ignore[arg-type]  # every name is checked to be a tape measure
    )
    return Student(
        name=file.name,
        hand=file.hand,
        build=build,
        limits=Limits.of(**file.limits.model_dump()),
        posture=file.posture,
        age=file.age,
        careful_with=file.careful_with,
    )
