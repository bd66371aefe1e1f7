"""Reading documents that people edit: one clear sentence for every mistake, all at once."""

from __future__ import annotations

import json
from typing import Any, TypeVar

import yaml
from pydantic import BaseModel, ConfigDict, ValidationError

from wellset.errors import InputError


class Document(BaseModel):
    """A validated document; unknown fields are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True)


SomeDocument = TypeVar("SomeDocument", bound=Document)


def _problem(error: dict[str, Any]) -> str:
    """One mistake as ``path: what``."""
    path = ".".join(str(part) for part in error["loc"]) or "the document"
    message = str(error["msg"]).removeprefix("Value error, ")
    if error["type"] == "extra_forbidden":
        message = "this field is not known"
    elif error["type"] == "missing":
        message = "this field is missing"
    return f"{path}: {message[0].lower()}{message[1:]}"


def validate(kind: type[SomeDocument], data: object, *, where: str, what: str) -> SomeDocument:
    """Check data against a document's model.

    Raises
    ------
    InputError
        Naming every mistake with its path.
    """
    try:
        return kind.model_validate(data)
    except ValidationError as error:
        problems = "; ".join(_problem(dict(e)) for e in error.errors())
        raise InputError(
            f"{what} cannot be used",
            why=f"{problems}.",
            fix="Mend these entries; the reference page of the file shows each field.",
            where=where,
        ) from None


def parse_yaml(text: str, *, where: str, what: str) -> object:
    """YAML (or JSON, which is YAML) to plain data.

    Raises
    ------
    InputError
        Naming the line of the first mistake.
    """
    try:
        return yaml.safe_load(text)
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        line = f"line {mark.line + 1} cannot be read" if mark else "it cannot be read as YAML"
        raise InputError(
            f"{what} cannot be used",
            why=f"{line}.",
            fix="Check the indentation and the quotes around that line.",
            where=where,
        ) from None


def parse_json(text: str, *, where: str, what: str) -> object:
    """JSON to plain data.

    Raises
    ------
    InputError
        Naming the line of the first mistake.
    """
    try:
        return json.loads(text)
    except json.JSONDecodeError as error:
        raise InputError(
            f"{what} cannot be used",
            why=f"line {error.lineno}, column {error.colno} is not valid JSON ({error.msg}).",
            fix="Mend that line, or write the file again from a run.",
            where=where,
        ) from None
