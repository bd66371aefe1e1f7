"""How a set-up was taken, as a column."""

from __future__ import annotations

import json

from wellset.figure.still import Choice
from wellset.figure.views import View
from wellset.lessons import HowTaken, PlateFile


def how_text(how: HowTaken, /) -> str:
    """As JSON; the plate's media has a column of its own."""
    kept = how.as_data()
    if how.plate is not None:
        kept["plate"] = how.plate.name
    return json.dumps(kept)


def how_of(text: str, /, *, plate: str) -> HowTaken:
    """The value again."""
    kept = json.loads(text)
    name = kept.pop("plate", "")
    choices = {View(view): Choice(**each) for view, each in kept.pop("choices", {}).items()}
    return HowTaken(
        **kept,
        choices=choices,
        plate=PlateFile(media=plate, name=name) if plate else None,
    )
