"""Reading documents that people edit: one clear sentence for every mistake, all at once."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, Final, TypeVar

import yaml
from pydantic import BaseModel, ConfigDict, ValidationError

from wellset.errors import InputError


class Document(BaseModel):
    """A validated document; unknown fields are refused."""

    model_config = ConfigDict(extra="forbid", frozen=True)


SomeDocument = TypeVar("SomeDocument", bound=Document)


_PLAIN: Final = {
    "extra_forbidden": "this field is not known",
    "missing": "this field is missing",
    "model_type": "fields with names are expected here",
    "dict_type": "fields with names are expected here",
}


def _problem(error: dict[str, Any]) -> str:
    """One mistake as ``path: what``."""
    # Parts in brackets or with an underscore are the validator's own, not the document's.
    parts = [str(part) for part in error["loc"]]
    path = ".".join(part for part in parts if not part.startswith(("_", "["))) or "the document"
    message = str(error["msg"]).removeprefix("Value error, ")
    message = _PLAIN.get(error["type"], message).rstrip(".")
    return f"{path}: {message[0].lower()}{message[1:]}"


def validate(
    kind: type[SomeDocument],
    data: object,
    *,
    where: str,
    what: str,
    context: Mapping[str, object] | None = None,
) -> SomeDocument:
    """Check data against a document's model; the context is what its validators must know.

    Raises
    ------
    InputError
        Naming every mistake with its path.
    """
    try:
        return kind.model_validate(data, context=context)
    except ValidationError as error:
        raise refused(error, where=where, what=what) from None


def refused(error: ValidationError, /, *, where: str, what: str) -> InputError:
    """What is wrong with a document, every mistake with its path."""
    problems = "; ".join(_problem(dict(e)) for e in error.errors())
    return InputError(
        f"{what} cannot be used",
        why=f"{problems}.",
        fix="Mend these entries; the reference page of the file shows each field.",
        where=where,
    )


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
    except (ValueError, RecursionError) as error:  # a date like 2024-13-45, or endless brackets
        raise _unreadable(error, where=where, what=what) from None


def _unreadable(error: Exception, *, where: str, what: str) -> InputError:
    deep = isinstance(error, RecursionError)
    why = "it is nested too deeply" if deep else "it holds a date or number that is none"
    return InputError(
        f"{what} cannot be used",
        why=f"{why}.",
        fix="Mend that entry; the reference page of the file shows each field.",
        where=where,
    )


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
    except (ValueError, RecursionError) as error:  # a number of thousands of digits, or brackets
        raise _unreadable(error, where=where, what=what) from None
