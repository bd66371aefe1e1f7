"""What was found on the ground, and what became of it, in words."""

from __future__ import annotations

from collections.abc import Sequence

from wellset.figure.ground import OnTheGround
from wellset.figure.views import View

NOTHING = "nothing found that the estimate could use"


def ground_words(things: Sequence[OnTheGround], /) -> str:
    """Everything found on the ground in one line; each thing once, with its pictures."""
    pictures: dict[tuple[str, str], list[View]] = {}
    for thing in things:
        name = f"{thing.kind.words} {thing.lies}".strip()
        pictures.setdefault((name, thing.why), []).append(thing.view)
    if not pictures:
        return NOTHING
    return "; ".join(_one(name, why, views=views) for (name, why), views in pictures.items())


def _one(name: str, why: str, *, views: Sequence[View]) -> str:
    where = "both pictures" if len(set(views)) > 1 else f"{views[0].words} picture"
    return f"{name} ({where})" + (f", not used: {why}" if why else "")
