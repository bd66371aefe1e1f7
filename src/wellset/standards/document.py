"""The shape of a standards file, and safe reading of its YAML."""

# mypy: disable-error-code="explicit-any"
# The validator's base class brings "anything" into every model; none is written here.

from __future__ import annotations

from collections.abc import Hashable
from typing import Annotated, Final

import yaml
from pydantic import BaseModel, ConfigDict, Field

from wellset.standards.problems import Problem, StandardsFileError

_LONGEST_TEXT: Final = 400_000
"""Characters. The default file has about a tenth; more is no standards file."""

Words = Annotated[str, Field(min_length=1, strict=True)]
Number = Annotated[float, Field(allow_inf_nan=False, strict=True)]

_STRICT: Final = ConfigDict(extra="forbid", frozen=True)


class WindowPart(BaseModel):
    """One window; with ``like`` only the fields that change need to stand."""

    model_config = _STRICT

    low: Number | None = None
    high: Number | None = None
    target: Number | None = None
    unit: Words | None = None
    weight: Annotated[Number, Field(gt=0)] = 1.0
    reason: Words | None = None
    source: Words | None = None


class DecisionPart(BaseModel):
    """The two thresholds; see :class:`wellset.standards.values.Decision`."""

    model_config = _STRICT

    inside_at_least: Annotated[Number, Field(ge=0, le=1)] = 0.8
    outside_at_most: Annotated[Number, Field(ge=0, le=1)] = 0.1


class StationPart(BaseModel):
    """One stop in the order of checking."""

    model_config = _STRICT

    station: Words
    measures: list[Words]


class HeadPart(BaseModel):
    """Everything of the file except its shots."""

    model_config = ConfigDict(extra="forbid", frozen=True, populate_by_name=True)

    schema_: Words = Field(alias="schema")
    name: Words
    based_on: Words | None = None
    club_heads_count: Words = "each side"
    decision: DecisionPart = DecisionPart()
    order: list[StationPart] | None = None


HEAD_FIELDS: Final = (
    "schema", "name", "based_on", "club_heads_count", "decision", "order", "shots",
)  # fmt: skip


class _Loader(yaml.SafeLoader):
    """Safe YAML that refuses a name written twice, which would silently win."""

    def construct_mapping(
        self,
        node: yaml.MappingNode,
        deep: bool = False,  # noqa: FBT001, FBT002 - the parent's signature
    ) -> dict[Hashable, object]:
        """Names with values, each name once."""
        seen: set[object] = set()
        for key, _ in node.value:
            if isinstance(key, yaml.ScalarNode):
                if key.value in seen:
                    raise yaml.MarkedYAMLError(
                        problem=f'"{key.value}" stands twice', problem_mark=key.start_mark
                    )
                seen.add(key.value)
        return super().construct_mapping(node, deep=deep)


def read_yaml(text: str, *, where: str) -> dict[object, object]:
    """The file's top level, or one error that says on which line it cannot be read.

    Raises
    ------
    StandardsFileError
        Not YAML, a name written twice, too long, or not a list of names with values.
    """

    def refuse(text: str, path: str = "") -> StandardsFileError:
        return StandardsFileError((Problem(path, text),), where=where)

    if len(text) > _LONGEST_TEXT:
        raise refuse(f"it has {len(text)} characters, more than {_LONGEST_TEXT}.")
    try:
        document: object = yaml.load(text, Loader=_Loader)  # noqa: S506 - a safe loader
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark
        line = f"line {mark.line + 1}" if mark else ""
        raise refuse(f"{error.problem or 'it is not YAML'}.", line) from None
    except (yaml.YAMLError, RecursionError, ValueError, TypeError):
        raise refuse("it is not YAML that can be read.") from None
    if not isinstance(document, dict):
        raise refuse('it must start with names and values, such as "schema: wellset.standards/1".')
    return document
