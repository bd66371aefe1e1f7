"""What a kept assessment says to the student: one change, what is right, nothing else."""

from __future__ import annotations

from attrs import frozen

from wellset.lessons import SetUp
from wellset.measures import MEASURES
from wellset.services.lesson_work import document_of


@frozen(kw_only=True)
class Exercise:
    """A drill in the student's words.

    Parameters
    ----------
    title, purpose : str
    steps : tuple of str
    self_check, dose, caution : str
    """

    title: str
    purpose: str
    steps: tuple[str, ...]
    self_check: str
    dose: str
    caution: str


@frozen(kw_only=True)
class ForStudent:
    """One set-up in the student's words.

    Parameters
    ----------
    title : str
        What to change first, or ``""`` when nothing must.
    what : str
        The change in a sentence.
    exercise : Exercise or None
    later : tuple of (str, str)
        Title and sentence of what stays for later.
    right : tuple of (str, str)
        Title and sentence of what is as it should be.
    """

    title: str
    what: str
    exercise: Exercise | None
    later: tuple[tuple[str, str], ...]
    right: tuple[tuple[str, str], ...]


def for_student(setup: SetUp, /) -> ForStudent:
    """What to tell the student of an assessed set-up."""
    document = document_of(setup)
    advice, findings = _parts(document, "advice"), _parts(document, "findings")
    first = next((part for part in advice if part["kind"] == "first_change"), None)
    name = str(first["measure"]) if first is not None else ""
    said = {str(part["measure"]): str(part["for_student"]) for part in findings}
    verdicts = {str(part["measure"]): part["verdict"] for part in findings}

    def told(verdict: str) -> tuple[tuple[str, str], ...]:
        return tuple(
            (_title(measure), words)
            for measure, words in said.items()
            if verdicts[measure] == verdict and measure != name and words
        )

    return ForStudent(
        title=_title(name) if name else "",
        what=said.get(name, ""),
        exercise=_exercise(first),
        later=told("outside"),
        right=told("inside"),
    )


def _parts(document: dict[str, object], name: str) -> list[dict[str, object]]:
    parts = document.get(name, [])
    return [part for part in parts if isinstance(part, dict)] if isinstance(parts, list) else []


def _title(measure: str) -> str:
    known = MEASURES.get(measure)
    return known.title if known is not None else measure.replace("_", " ")


def _exercise(first: dict[str, object] | None) -> Exercise | None:
    drill = first.get("drill") if first is not None else None
    if not isinstance(drill, dict):
        return None
    return Exercise(
        title=drill["title"],
        purpose=drill["purpose"],
        steps=tuple(drill["steps"]),
        self_check=drill["self_check"],
        dose=drill["dose"],
        caution=drill["caution"],
    )
