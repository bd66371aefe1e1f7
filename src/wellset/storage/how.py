"""How a set-up was taken, as a column."""

from __future__ import annotations

import json
from typing import Final

from attrs import asdict

from wellset.figure.still import Choice
from wellset.figure.views import View
from wellset.lessons import HowTaken, PlateFile


def how_text(how: HowTaken, /) -> str:
    """As JSON, without what is as usual; the plate's media has a column of its own."""
    kept = {
        "phone_level": how.phone_level,
        "sheet_aimed": how.sheet_aimed,
        "ignore": sorted(how.ignore),
        "choices": {view.value: asdict(choice) for view, choice in how.choices},
        "club_length_m": how.club_length_m,
        "lie": how.lie,
        "plate": how.plate.name if how.plate is not None else "",
    }
    return json.dumps({name: value for name, value in kept.items() if value not in _USUAL})


_USUAL: Final[tuple[object, ...]] = (False, None, "", [], {})


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
