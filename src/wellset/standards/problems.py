"""What is wrong with a standards file: everything at once, each with its path."""

from __future__ import annotations

from collections.abc import Iterable

from attrs import frozen
from pydantic import ValidationError

from wellset.errors import StandardsError


@frozen
class Problem:
    """One thing wrong: where (``shots.mid iron.stance_gap.low``) and what, with its mend."""

    path: str
    text: str

    def __str__(self) -> str:
        """Path and text on one line."""
        return f"{self.path}: {self.text}" if self.path else self.text


class StandardsFileError(StandardsError):
    """A standards file with one or more problems.

    Parameters
    ----------
    problems : tuple of Problem
        All of them, in the order of the file.
    where : str
        Name of the file.
    """

    def __init__(self, problems: tuple[Problem, ...], *, where: str = "") -> None:
        self.problems = problems
        count = "one problem" if len(problems) == 1 else f"{len(problems)} problems"
        super().__init__(
            f"The standards file has {count}",
            why="; ".join(str(problem) for problem in problems),
            fix="Mend what is named and try again.",
            where=where,
        )


_TEXTS = {
    "missing": "is missing.",
    "finite_number": "must be a plain number, not endless.",
    "string_too_short": "must not be empty.",
}
_KINDS = {
    "float": "a number",
    "string": "text",
    "dict": "a list of names with values",
    "model": "a list of names with values",
    "list": "a list",
    "tuple": "a list",
}


def from_validation(error: ValidationError, *, path: str, known: Iterable[str]) -> list[Problem]:
    """A validator's findings in a coach's words.

    Parameters
    ----------
    error : ValidationError
    path : str
        Where the checked part stands in the file.
    known : iterable of str
        Fields that may stand there, for the message about one that may not.
    """
    fields = ", ".join(known)
    problems = []
    for each in error.errors(include_url=False):
        where = ".".join([path, *map(str, each["loc"])] if path else map(str, each["loc"]))
        kind = each["type"]
        stem = kind.split("_", maxsplit=1)[0]
        if kind == "extra_forbidden":
            text = f"is not a field of this part; it may have {fields}."
        elif kind in _TEXTS:
            text = _TEXTS[kind]
        elif kind.endswith("_type") and stem in _KINDS:
            text = f"must be {_KINDS[stem]}, not {_shown(each['input'])}."
        else:
            text = f"{each['msg'].removeprefix('Value error, ').rstrip('.').lower()}."
        problems.append(Problem(where, text))
    return problems


def _shown(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 30 else f"{text[:27]}..."
