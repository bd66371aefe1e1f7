"""One window of the file: what stands there, and what becomes of an inherited one."""

from __future__ import annotations

from collections.abc import Mapping

from attrs import frozen
from pydantic import ValidationError

from wellset.measures import MEASURES
from wellset.standards.document import WindowPart
from wellset.standards.problems import Problem, from_validation
from wellset.standards.scale import WrittenUnit, units_allowed
from wellset.standards.values import COMMON_PRACTICE, Standard


@frozen(kw_only=True)
class Patch:
    """The fields that a window states, as written."""

    part: WindowPart
    stated: frozenset[str]


def read_patch(raw: object, *, path: str) -> tuple[Patch | None, list[Problem]]:
    """Check one window's fields, whatever it inherits."""
    try:
        part = WindowPart.model_validate(raw)
    except ValidationError as error:
        return None, from_validation(error, path=path, known=WindowPart.model_fields)
    return Patch(part=part, stated=frozenset(part.model_fields_set)), []


def merged(
    start: Mapping[str, Standard], patches: Mapping[str, Patch | None], *, path: str
) -> tuple[dict[str, Standard], list[Problem]]:
    """Inherited windows with the changes laid over them; an empty entry takes one away."""
    standards = dict(start)
    problems: list[Problem] = []
    for measure, patch in patches.items():
        if patch is None:
            standards.pop(measure, None)
            continue
        standard, found = _laid_over(
            standards.get(measure), patch, measure=measure, path=f"{path}.{measure}"
        )
        problems += found
        if standard is not None:
            standards[measure] = standard
    return standards, problems


def _laid_over(
    old: Standard | None, patch: Patch, *, measure: str, path: str
) -> tuple[Standard | None, list[Problem]]:
    part, stated = patch.part, patch.stated
    unit, problems = _unit(old, part, measure=measure, path=path)
    limits_change = bool(stated & {"low", "high", "unit"})

    def limit(name: str) -> float | None:
        value: float | None = getattr(part, name)
        return value if name in stated or old is None else getattr(old, name)

    low, high = limit("low"), limit("high")
    problems += _limit_problems(low, high, path=path)
    target = _target(old, patch, low=low, high=high, keep=not limits_change)
    if "target" in stated and target is not None and not _within(target, low=low, high=high):
        problems.append(Problem(f"{path}.target", f"{target:g} lies outside the window."))
    reason = part.reason or (old.reason if old else None)
    # New limits no longer come from the publication that the old ones came from.
    old_source = COMMON_PRACTICE if limits_change else (old.source if old else None)
    source = part.source or (old_source if old else None)
    if reason is None:
        problems.append(Problem(f"{path}.reason", "is missing; say why in plain words."))
    if source is None:
        problems.append(
            Problem(f"{path}.source", f'is missing; name it or write "{COMMON_PRACTICE}".')
        )
    if problems or unit is None or reason is None or source is None:
        return None, problems
    weight = part.weight if "weight" in stated or old is None else old.weight
    return Standard(measure=measure, unit=unit, low=low, high=high, target=target,
                    weight=weight, reason=reason, source=source), []  # fmt: skip


def _unit(
    old: Standard | None, part: WindowPart, *, measure: str, path: str
) -> tuple[WrittenUnit | None, list[Problem]]:
    if part.unit is None:
        if old is not None:
            return old.unit, []
        return None, [Problem(f"{path}.unit", "is missing.")]
    allowed = units_allowed(measure, MEASURES[measure].unit)
    if part.unit not in allowed:
        text = f'"{part.unit}" does not fit {measure}; use {", ".join(allowed)}.'
        return None, [Problem(f"{path}.unit", text)]
    return WrittenUnit(part.unit), []


def _limit_problems(low: float | None, high: float | None, *, path: str) -> list[Problem]:
    if low is None and high is None:
        return [Problem(path, "has neither low nor high; give at least one.")]
    if low is not None and high is not None and low >= high:
        word = "crosses" if low > high else "equals"
        return [Problem(f"{path}.low", f"{low:g} {word} high ({high:g}); low must be below high.")]
    return []


def _target(
    old: Standard | None, patch: Patch, *, low: float | None, high: float | None, keep: bool
) -> float | None:
    """A stated target, or an inherited one that still lies in the window and unit."""
    if "target" in patch.stated or old is None:
        return patch.part.target
    if keep or ("unit" not in patch.stated and _within(old.target, low=low, high=high)):
        return old.target
    return None


def _within(value: float | None, *, low: float | None, high: float | None) -> bool:
    if value is None:
        return False
    return (low is None or low <= value) and (high is None or value <= high)
