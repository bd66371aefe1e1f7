"""Things that could be laid or planted on the ground, as the cameras would see them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Final

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.assess.fit import Fit
from wellset.assess.markers import (
    FREE_SD,
    MARKER_HEIGHT_M,
    MARKER_HEIGHT_SD_M,
    MARKER_TILT_SD,
    MarkerTerm,
    marker_corners,
)
from wellset.assess.problem import SHEET, STICK, camera_slots
from wellset.assess.settle import Extra
from wellset.assess.sticks import ACROSS, ALONG, STICK_HEIGHT_M, UPRIGHT, spreads
from wellset.assess.terms import CameraSlot, StickTerm, UprightTerm
from wellset.equipment.sheet import SHEET_MARKER
from wellset.estimation import Block, Term
from wellset.figure.sighting import Sighting
from wellset.geometry import Camera

Array = NDArray[np.float64]

MARKER: Final = SHEET_MARKER.name
STICK_SD_PX: Final = 0.8
"""Standard uncertainty of a place across a stick that is found (as measured on sticks in
rendered scenes)."""
CORNER_SD_PX: Final = 0.3
"""The same of a corner of the marker sheet."""
ALONG_SD_M: Final = 3.0
"""Where on a stick a seen place is, nobody knows."""
PLACES: Final[Mapping[str, tuple[Array, Array]]] = {
    ALONG: (np.array([0.0, -0.10, STICK_HEIGHT_M[ALONG]]), np.linspace(-0.6, 0.6, 13)),
    ACROSS: (np.array([0.0, 0.0, STICK_HEIGHT_M[ACROSS]]), np.linspace(0.1, 0.8, 8)),
    UPRIGHT: (np.array([0.0, -0.25, 0.0]), np.linspace(0.0, 1.2, 13)),
}
"""A point of each stick as the how-to page asks for it, and places along it, metre."""
SHEET_AT: Final = np.array([0.0, -0.30, MARKER_HEIGHT_M, 0.0, 0.0, 0.0, SHEET_MARKER.side_m])
SHEET_SD: Final = (
    FREE_SD,
    FREE_SD,
    MARKER_HEIGHT_SD_M,
    FREE_SD,
    MARKER_TILT_SD,
    MARKER_TILT_SD,
    SHEET_MARKER.side_sd * SHEET_MARKER.side_m,
)
"""A sheet beyond the ball, its arrow not aimed: place and turn are found out."""
_AXIS: Final = {ALONG: 0, ACROSS: 1, UPRIGHT: 2}
SHORTEST_M: Final = 0.4
"""A stick of which less than this lies in a picture is not counted on there."""


@frozen(kw_only=True, eq=False)
class _Growing:
    """Parameters that get longer, thing by thing."""

    parameters: list[float]
    new_sd: list[float] = field(factory=list)
    terms: list[Term] = field(factory=list)

    def add(self, values: Sequence[float], sd: Sequence[float], /) -> Block:
        """New parameters behind the others, and where they are."""
        start = len(self.parameters)
        self.parameters.extend(float(v) for v in values)
        self.new_sd.extend(float(s) for s in sd)
        return slice(start, len(self.parameters))


def laid(fit: Fit, sightings: Sequence[Sighting], *, names: Sequence[str]) -> Extra:
    """Some things more on the ground, seen in every picture that has room for them.

    Parameters
    ----------
    fit : Fit
    sightings : sequence of Sighting
        Those of the fit.
    names : sequence of str
        ``target_stick``, ``cross_stick``, ``upright_stick`` or ``sheet``.

    Returns
    -------
    Extra
        Without terms where no picture has room.
    """
    slots = camera_slots(sightings, fit.layout)
    seen_by = [(slots[view], camera) for view, camera in fit.cameras.items()]
    growing = _Growing(parameters=list(fit.parameters))
    for name in names:
        add = _sheet(growing, seen_by) if name == MARKER else _stick(name, growing, seen_by=seen_by)
        growing.terms.extend(list(add))
    return Extra(
        terms=tuple(growing.terms),
        parameters=np.array(growing.parameters),
        new_sd=np.array(growing.new_sd),
    )


def seen_too(extra: Extra, fit: Fit, /, *, slot: CameraSlot) -> Extra:
    """The same, with the sticks of a fit seen by one more camera.

    Parameters
    ----------
    extra : Extra
        Has the camera's parameters in the slot's place.
    fit : Fit
    slot : CameraSlot
    """
    growing = _Growing(parameters=list(extra.parameters), new_sd=list(extra.new_sd))
    camera = slot.camera(extra.parameters)
    for name in dict.fromkeys(stick.name for stick in fit.sticks):
        ends = _visible(name, camera)
        if ends is not None:
            along = growing.add(ends, (ALONG_SD_M, ALONG_SD_M))
            growing.terms.append(_term(name, slot, line=fit.layout[name], along=along))
    return Extra(
        terms=(*extra.terms, *growing.terms),
        parameters=np.array(growing.parameters),
        new_sd=np.array(growing.new_sd),
    )


def _inside(pixels: Array, camera: Camera) -> NDArray[np.bool_]:
    """Which places lie in the picture; those behind the camera are not a number."""
    frame = np.array([camera.width_px, camera.height_px])
    return np.asarray(((pixels > 0) & (pixels < frame)).all(1), dtype=np.bool_)


def _sheet(growing: _Growing, seen_by: Sequence[tuple[CameraSlot, Camera]]) -> Iterator[Term]:
    block = growing.add(SHEET_AT.tolist(), SHEET_SD)
    corners, _ = marker_corners(SHEET_AT)
    for slot, camera in seen_by:
        pixels = camera.project(corners)
        if _inside(pixels, camera).all():
            yield MarkerTerm(
                source=SHEET,
                slot=slot,
                marker=block,
                corners_px=pixels,
                whitening=np.stack([np.eye(2) / CORNER_SD_PX] * 4),
            )


def _stick(
    name: str, growing: _Growing, *, seen_by: Sequence[tuple[CameraSlot, Camera]]
) -> Iterator[Term]:
    line = growing.add(_start(name), spreads(name))
    for slot, camera in seen_by:
        ends = _visible(name, camera)
        if ends is not None:
            along = growing.add(ends, (ALONG_SD_M, ALONG_SD_M))
            yield _term(name, slot, line=line, along=along)


def _start(name: str) -> tuple[float, ...]:
    point, _ = PLACES[name]
    if name == UPRIGHT:
        return float(point[0]), float(point[1]), 0.0, 0.0
    return float(point[1 - _AXIS[name]]), 0.0, float(point[2])


def _visible(name: str, camera: Camera) -> tuple[float, float] | None:
    """The farthest two places along a stick that lie in the picture."""
    point, along = PLACES[name]
    places = point + along[:, None] * np.eye(3)[_AXIS[name]]
    shown = along[_inside(camera.project(places), camera)]
    if len(shown) < 2 or np.ptp(shown) < SHORTEST_M:
        return None
    return float(shown[0]), float(shown[-1])


def _term(name: str, slot: CameraSlot, *, line: Block, along: Block) -> Term:
    # where the ends are seen does not matter: only derivatives are used
    ends_px = np.zeros((2, 2))
    if name == UPRIGHT:
        return UprightTerm(
            slot=slot, line=line, along=along, ends_px=ends_px, sd_px=STICK_SD_PX, source=STICK
        )
    return StickTerm(
        slot=slot,
        axis=_AXIS[name],
        line=line,
        along=along,
        ends_px=ends_px,
        sd_px=STICK_SD_PX,
        source=STICK,
    )
