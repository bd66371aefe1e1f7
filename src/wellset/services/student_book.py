"""Use cases around students: keep what a form says, keep the bag, remove one for good."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Final

from attrs import evolve, field, frozen

from wellset.body import TAPE_MEASURES
from wellset.errors import InputError
from wellset.lessons import Bag, BagClub, Guardian, StudentCard, WrittenUnits
from wellset.services.lesson_book import forget_media
from wellset.services.lesson_work import Desk, new_id
from wellset.services.student_file import make_student
from wellset.units import foot_length_of_shoe

SCHEMA: Final = "wellset.student/1"


@frozen(kw_only=True)
class StudentEntry:
    """A student as a form shows them: everything as typed.

    Parameters
    ----------
    name, hand, height, sex, weight : str
        ``hand`` is ``""`` when it is to be recognised.
    shoe : str
        Shoe size; it stands for the foot's length where no tape gives that.
    tape : mapping of name to str
        Tape measures, only those that were taken.
    limits : mapping of name to str
        What caps a plan.
    careful_with : tuple of str
        What drills must spare.
    units, injuries, note : str
    minor : bool
    guardian, contact, allowed_on : str
        Guardian's name and contact, and the day they allowed pictures.
    """

    name: str = ""
    hand: str = ""
    height: str = ""
    sex: str = "unspecified"
    weight: str = ""
    shoe: str = ""
    tape: Mapping[str, str] = field(factory=dict)
    limits: Mapping[str, str] = field(factory=dict)
    careful_with: tuple[str, ...] = ()
    units: str = "cm"
    injuries: str = ""
    note: str = ""
    minor: bool = False
    guardian: str = ""
    contact: str = ""
    allowed_on: str = ""


def entry_of(card: StudentCard, /) -> StudentEntry:
    """A kept student for the form."""
    file = json.loads(card.file)
    guardian = card.guardian
    return StudentEntry(
        name=card.name,
        hand=card.hand,
        height=str(file.get("height", "")),
        sex=str(file.get("sex", "unspecified")),
        weight=str(file.get("weight", "")),
        shoe=str(file.get("shoe_size", "")),
        tape={name: str(text) for name, text in file.get("tape", {}).items()},
        limits={name: _as_typed(value) for name, value in file.get("limits", {}).items()},
        careful_with=tuple(file.get("careful_with", ())),
        units=card.units.value,
        injuries=card.injuries,
        note=card.note,
        minor=card.minor,
        guardian=guardian.name if guardian is not None else "",
        contact=guardian.contact if guardian is not None else "",
        allowed_on=(guardian.pictures_allowed_on or "") if guardian is not None else "",
    )


def _as_typed(value: object) -> str:
    """A number as a person types it: 40, not 40.0."""
    return f"{value:g}" if isinstance(value, float) else str(value)


def student_file_text(entry: StudentEntry, /) -> str:
    """The student file that an entry makes, checked.

    Raises
    ------
    InputError
        Naming every wrong value.
    """
    if entry.shoe:
        foot_length_of_shoe(entry.shoe)
    unknown = sorted(set(entry.tape) - set(TAPE_MEASURES))
    if unknown:
        raise InputError(
            "This tape measure is not known", why=f"{unknown[0]}.", fix="Leave it out."
        )
    parts: dict[str, object] = {
        "schema": SCHEMA,
        "name": entry.name.strip(),
        "height": entry.height,
        "sex": entry.sex or "unspecified",
        "hand": entry.hand or None,
        "weight": entry.weight or None,
        "shoe_size": entry.shoe or None,
        "tape": dict(entry.tape) or None,
        "limits": _limits(entry.limits) or None,
        "careful_with": list(entry.careful_with) or None,
    }
    text = json.dumps({name: value for name, value in parts.items() if value is not None})
    make_student(height=None, file_text=text, where="student")
    return text


def _limits(typed: Mapping[str, str]) -> dict[str, object]:
    """Limits as the student file has them: degrees, and one that is only said or not."""
    limits: dict[str, object] = {}
    for name, text in typed.items():
        if name == "no_deep_bend":
            limits[name] = text not in {"", "False", "off"}
            continue
        try:
            limits[name] = float(text.removesuffix("°").replace(",", "."))
        except ValueError:
            raise InputError(
                "This limit cannot be read",
                why=f'"{text[:30]}" is no number of degrees.',
                fix="Write a number, such as 30.",
                where=name.replace("_", " "),
            ) from None
    return limits


def _units(typed: str) -> WrittenUnits:
    if typed not in set(WrittenUnits):
        raise InputError(
            "These units are not known", why=f'they are "{typed[:20]}".', fix="Choose cm or inches."
        )
    return WrittenUnits(typed)


def keep_student(
    desk: Desk, entry: StudentEntry, *, student_id: str = "", version: int = 0
) -> StudentCard:
    """Keep a new student, or changes to one.

    Parameters
    ----------
    student_id : str
        Empty for a new one.
    version : int
        Of the card the form was opened with.

    Raises
    ------
    InputError, ConflictError, MissingError
    """
    now = desk.now()
    guardian = (
        Guardian(
            name=entry.guardian,
            contact=entry.contact,
            pictures_allowed_on=entry.allowed_on or None,
        )
        if entry.guardian.strip()
        else None
    )
    card = StudentCard(
        id=student_id or new_id(),
        version=version,
        file=student_file_text(entry),
        name=entry.name,
        hand=entry.hand,
        units=_units(entry.units),
        injuries=entry.injuries,
        note=entry.note,
        minor=entry.minor,
        guardian=guardian,
        created_at=now,
        changed_at=now,
    )
    with desk.book.writing() as pages:
        if student_id:
            card = evolve(card, created_at=pages.student(student_id).created_at)
        return pages.save_student(card)


def remove_student(desk: Desk, student_id: str, /) -> None:
    """Remove a student for good: lessons, set-ups, plans, links, pictures.

    Raises
    ------
    MissingError
    """
    with desk.book.writing() as pages:
        gone = pages.remove_student(student_id)
    forget_media(desk, gone)


def keep_bag(desk: Desk, student_id: str, *, version: int, clubs: tuple[BagClub, ...]) -> Bag:
    """Keep a student's bag.

    Raises
    ------
    InputError, EquipmentError, ConflictError, MissingError
    """
    with desk.book.writing() as pages:
        return pages.save_bag(Bag(student=student_id, version=version, clubs=clubs))
