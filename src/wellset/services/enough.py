"""Whether pictures show enough to be solved."""

from __future__ import annotations

from wellset.errors import SceneError
from wellset.figure.landmarks import BALL, LANDMARKS
from wellset.figure.sighting import NotSeen, Sighting
from wellset.services.ports import Seen

FEWEST_LANDMARKS = 12
"""Fewer points than this in a picture cannot place a camera and a body (our judgement)."""


def _count(sighting: Sighting) -> int:
    """How many landmarks a picture shows."""
    places = sighting.landmarks
    return sum(not isinstance(places.get(name), NotSeen | None) for name in LANDMARKS)


def shows_enough(sighting: Sighting, *, of: int) -> bool:
    """Whether one of so many pictures shows enough to be solved."""
    ball = not isinstance(sighting.landmarks.get(BALL), NotSeen | None)
    return _count(sighting) >= FEWEST_LANDMARKS and (ball or of == 2)


def check_enough(seen: Seen) -> None:
    """Refuse pictures that show too little.

    Raises
    ------
    SceneError
    """
    for view, picture in seen.pictures.items():
        if shows_enough(picture.sighting, of=len(seen.pictures)):
            continue
        count = _count(picture.sighting)
        why = (
            f"only {count} of {len(LANDMARKS)} landmarks can be seen in it."
            if count < FEWEST_LANDMARKS
            else "the ball cannot be seen, and everything is measured from it."
        )
        raise SceneError(
            f"The {view.words} picture shows too little",
            why=why,
            fix="Retake it with the whole golfer, both feet, the club and the ball in it.",
            where=picture.sighting.picture.name,
        )
