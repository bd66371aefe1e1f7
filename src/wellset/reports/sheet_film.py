"""When to film again and how, for a student: from how the phones were held last time."""

from __future__ import annotations

from typing import Final

from wellset.advise.amounts import hand_breadths, steps
from wellset.advise.camera_advice import OVER_HIPS_M
from wellset.figure.views import View
from wellset.reports.contract import HeldPart, PhonePart, PicturePart
from wellset.reports.hand_measures import day_after, day_words, tape
from wellset.reports.lesson_sheet_model import FilmAgain
from wellset.units import UnitSystem

PRACTICE_DAYS: Final = 7
"""Days of practice before new pictures are worth while (common practice, no source)."""
_WAIT_FOR_LESSON_DAYS: Final = 10
"""A lesson this near is when the next pictures are taken anyway."""
STEPS_AWAY: Final = "four steps"
"""About three metres, where the network and the geometry serve best."""
SOON: Final = "As soon as you can, before you change anything."
_VIEWS: Final = {View.FACE_ON: "front picture", View.DOWN_THE_LINE: "picture from behind"}


def film_again(
    pictures: dict[View, PicturePart],
    /,
    *,
    on: str,
    next_day: str,
    units: UnitSystem,
    soon: bool = False,
) -> FilmAgain:
    """When and how.

    Parameters
    ----------
    pictures : mapping of View to PicturePart
        Of the assessment.
    on, next_day : str
        Days of this lesson and of the next, ``2026-11-25``; empty where not known.
    units : UnitSystem
    soon : bool
        Whether these pictures told nothing, so that there is nothing to practise first.
    """
    return FilmAgain(
        when=SOON if soon else _when(on, next_day),
        how=(
            (
                f"Stand the phone upright, as high as your hips{_hips(pictures, units)}. Let a "
                "friend or a bag hold it still."
            ),
            (
                f"Take one picture from the front, {STEPS_AWAY} away. Your whole body and the ball "
                "must be in it."
            ),
            (
                f"Take one from behind, {STEPS_AWAY} away. The phone looks along your hands to the "
                "target."
            ),
            "Lay the stick on the ground so that it points at the target, just past the ball.",
        ),
        last_time=tuple(
            words for view, picture in pictures.items() if (words := _last_time(view, picture))
        ),
    )


def _when(on: str, next_day: str) -> str:
    """A week from now, or with the coach when the next lesson is that near."""
    if on and next_day and next_day <= day_after(on, _WAIT_FOR_LESSON_DAYS):
        return "We film again in your next lesson. To film by yourself before that:"
    if on:
        return f"After a week of practice: on {day_words(day_after(on, PRACTICE_DAYS))}."
    return "After a week of practice."


def _hips(pictures: dict[View, PicturePart], units: UnitSystem) -> str:
    """The student's own hips: what is good enough for a phone is told from them."""
    for picture in pictures.values():
        hip = picture.phone.height.good[0] - OVER_HIPS_M[0]
        return f" ({tape(hip, units=units)} from the ground)"
    return ""


def _last_time(view: View, picture: PicturePart) -> str:
    """What to do otherwise next time; empty when the phone was held well."""
    asked = _moves(picture.phone)
    if not asked:
        return ""
    listed = asked[0] if len(asked) == 1 else f"{', '.join(asked[:-1])} and {asked[-1]}"
    return f"Next time, for the {_VIEWS[view]}: {listed}."


def _moves(phone: PhonePart) -> list[str]:
    found = []
    for held, words in (
        (phone.distance, _distance),
        (phone.height, _height),
        (phone.sideways, _sideways),
        (phone.aim, _aim),
        (phone.tilt, _tilt),
        (phone.roll, _roll),
    ):
        if held.standing == "change":
            found.append(words(held))
    return found[:2]  # more than two would not be kept in mind


def _middle(held: HeldPart) -> float:
    return sum(held.good) / 2


def _distance(held: HeldPart) -> str:
    if held.value < held.good[0]:
        return f"go {steps(3.0 - held.value)} farther away"
    if held.value > held.good[1]:
        return f"come {steps(held.value - 4.0)} closer"
    return "send the picture just as the phone took it"


def _height(held: HeldPart) -> str:
    off = held.value - (held.good[0] - OVER_HIPS_M[0])
    return f"hold the phone {hand_breadths(abs(off))} {'lower' if off > 0 else 'higher'}"


def _sideways(held: HeldPart) -> str:
    return f"move the phone {steps(abs(held.value))} to the {'left' if held.value > 0 else 'right'}"


def _aim(held: HeldPart) -> str:
    return f"turn the phone a little to the {'left' if held.value > 0 else 'right'}"


def _tilt(held: HeldPart) -> str:
    return f"tip the top of the phone {'away from' if held.value > 0 else 'toward'} you"


def _roll(held: HeldPart) -> str:
    del held
    return "hold the phone level"
