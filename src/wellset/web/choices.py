"""Clubs and kinds of shot to choose from."""

from __future__ import annotations

from wellset.equipment import standard_bag
from wellset.lessons import Bag
from wellset.standards import Shot

Options = tuple[tuple[str, str], ...]


def clubs_to_choose(bag: Bag, /) -> Options:
    """The student's clubs, or a standard bag; (value, words)."""
    names = [entry.club().name for entry in bag.clubs] or [club.name for club in standard_bag()]
    return tuple((name, name) for name in names)


def shots_to_choose() -> Options:
    """Kinds of shot, first the one that follows from the club."""
    return (("", "as the club says"), *((shot.value, shot.value) for shot in Shot))
