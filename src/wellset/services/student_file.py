"""The student file: who stands there, and what a tape measure says."""

from __future__ import annotations

from typing import Literal

from pydantic import Field, field_validator

from wellset.body import TAPE_MEASURES, Build, Sex
from wellset.errors import InputError
from wellset.figure.views import Hand
from wellset.services.assessment import Student
from wellset.services.documents import Document, parse_yaml, validate
from wellset.units import parse_length, parse_mass


class _File(Document):
    schema_: Literal["wellset.student/1"] = Field(alias="schema")
    name: str = Field(default="", max_length=120)
    height: str | None = None
    sex: str = "unspecified"
    hand: Hand | None = None
    weight: str | None = None
    tape: dict[str, str] = Field(default_factory=dict)

    @field_validator("sex")
    @classmethod
    def _sex(cls, value: str) -> str:
        try:
            Sex.from_words(value)
        except InputError as error:
            raise ValueError(f"{error.why} {error.fix}") from None
        return value

    @field_validator("tape")
    @classmethod
    def _tape(cls, value: dict[str, str]) -> dict[str, str]:
        unknown = [name for name in value if name not in TAPE_MEASURES]
        if unknown:
            known = ", ".join(TAPE_MEASURES)
            raise ValueError(f"{', '.join(unknown)} is not a tape measure; they are: {known}")
        for name, text in value.items():
            try:
                parse_length(text)
            except InputError as error:
                raise ValueError(f"{name}: {error.why} {error.fix}") from None
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
    file = _File(schema="wellset.student/1")
    if file_text is not None:
        data = parse_yaml(file_text, where=where, what="The student file")
        file = validate(_File, data, where=where, what="The student file")
    stature = height if height is not None else file.height
    if stature is None:
        raise InputError(
            "The student's height is missing",
            why="scale and build follow from it.",
            fix='Give --height "178 cm", or `height:` in the student file.',
            where=where if file_text is not None else "",
        )
    tapes = {name: parse_length(text, where=f"tape.{name}") for name, text in file.tape.items()}
    build = Build(
        stature=parse_length(stature, where="height"),
        sex=Sex.from_words(file.sex),
        mass=parse_mass(file.weight, where="weight") if file.weight is not None else None,
        **tapes,  # type: ignore[arg-type]  # every name is checked to be a tape measure
    )
    return Student(name=file.name, hand=file.hand, build=build)
