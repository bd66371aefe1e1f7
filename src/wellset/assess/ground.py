"""All things on the ground that an assessment uses: sticks, uprights, the marker sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.assess.markers import MARKER_PARAMETERS, LaidMarker, lay_markers, marker_terms
from wellset.assess.sticks import (
    ACROSS,
    ALONG,
    PARAMETERS,
    UPRIGHT,
    LabelledStick,
    label,
    stick_terms,
)
from wellset.assess.terms import CameraSlot
from wellset.estimation import Layout, Term
from wellset.figure.ground import GroundKind, GroundUse, OnTheGround
from wellset.figure.sighting import Sighting
from wellset.figure.views import View
from wellset.geometry import Camera

Array = NDArray[np.float64]

_KIND: Final = {
    ALONG: GroundKind.STICK,
    ACROSS: GroundKind.STICK,
    UPRIGHT: GroundKind.UPRIGHT,
}
_LIES: Final = {ALONG: "along the target line", ACROSS: "from the ball to the golfer", UPRIGHT: ""}
BY_HAND: Final = "left out as you asked"
NO_LINE: Final = (
    "it is not clear how it lies: along the target line, across it or upright, alone and near "
    "the ball"
)
NOT_FLAT: Final = "it does not lie flat on the ground near the ball"


@frozen(kw_only=True, eq=False)
class Ground:
    """What is used of the things on the ground, and what became of each.

    Parameters
    ----------
    sticks : tuple of LabelledStick
    markers : tuple of LaidMarker
    things : tuple of OnTheGround
        Everything found, used or not.
    """

    sticks: tuple[LabelledStick, ...]
    markers: tuple[LaidMarker, ...]
    things: tuple[OnTheGround, ...]

    def blocks(self) -> list[tuple[str, list[str]]]:
        """Names of the parameters that the used things add."""
        blocks = [
            (name, [f"{name}.{parameter}" for parameter in PARAMETERS[name]])
            for name in sorted({s.name for s in self.sticks})
        ]
        blocks += [
            (f"{s.name}.{s.view.value}", [f"{s.name}.{s.view.value}.{i}" for i in (1, 2)])
            for s in self.sticks
        ]
        blocks += [
            (name, [f"{name}.{parameter}" for parameter in MARKER_PARAMETERS])
            for name in dict.fromkeys(m.block for m in self.markers)
        ]
        return blocks

    def started(self, start: Array, layout: Layout) -> Array:
        """Starting values with those of the used things filled in."""
        start = start.copy()
        for stick in self.sticks:
            start[layout[stick.name]] = stick.start
            start[layout[f"{stick.name}.{stick.view.value}"]] = stick.along
        for marker in self.markers:
            start[layout[marker.block]] = marker.start
        return start

    def terms(self, layout: Layout, *, slots: Mapping[View, CameraSlot]) -> list[Term]:
        """What the used things tell."""
        return [
            *stick_terms(self.sticks, layout, slots=slots),
            *marker_terms(self.markers, layout, slots=slots),
        ]


def survey(
    sightings: Sequence[Sighting], cameras: Mapping[View, Camera], *, use: GroundUse
) -> Ground:
    """What lies where, as first cameras see it, and what of it is to be used."""
    sticks = label(sightings, cameras)
    markers = lay_markers(sightings, cameras, aimed=use.sheet_aimed)
    things = [*_stick_things(sightings, sticks, use=use)]
    things += _marker_things(sightings, markers, use=use)
    ignored = use.ignore
    return Ground(
        sticks=tuple(s for s in sticks if _KIND[s.name] not in ignored),
        markers=() if GroundKind.SHEET in ignored else markers,
        things=tuple(things),
    )


def _stick_things(
    sightings: Sequence[Sighting], sticks: Sequence[LabelledStick], *, use: GroundUse
) -> list[OnTheGround]:
    names = {id(stick.sighting): stick.name for stick in sticks}
    things = []
    for s in sightings:
        for stick in s.sticks:
            name = names.get(id(stick))
            kind = GroundKind.STICK if name is None else _KIND[name]
            why = NO_LINE if name is None else BY_HAND if kind in use.ignore else ""
            lies = "" if name is None else _LIES[name]
            things.append(OnTheGround(kind=kind, view=s.view, lies=lies, used=not why, why=why))
    return things


def _marker_things(
    sightings: Sequence[Sighting], markers: Sequence[LaidMarker], *, use: GroundUse
) -> list[OnTheGround]:
    laid = {id(marker.sighting): marker for marker in markers}
    ignored = GroundKind.SHEET in use.ignore
    things = []
    for s in sightings:
        for marker in s.markers:
            found = laid.get(id(marker))
            why = NOT_FLAT if found is None else BY_HAND if ignored else ""
            lies = "" if found is None else _sheet_lies(found, said_aimed=use.sheet_aimed)
            things.append(
                OnTheGround(kind=GroundKind.SHEET, view=s.view, lies=lies, used=not why, why=why)
            )
    return things


def _sheet_lies(marker: LaidMarker, *, said_aimed: bool) -> str:
    """What is to be said of a sheet that lies on the ground."""
    moved = "moved between the pictures" if marker.block != marker.sighting.name else ""
    aim = "aimed at the target" if marker.aimed else "not aimed at the target" if said_aimed else ""
    return ", ".join(part for part in (aim, moved) if part)
