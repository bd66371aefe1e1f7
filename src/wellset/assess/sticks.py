"""Which way a stick lies, and the terms it adds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.assess.observe import FORGIVING
from wellset.assess.problem import STICK, STICK_SLOPE_SD
from wellset.assess.terms import CameraSlot, StickTerm, UprightTerm
from wellset.estimation import Layout, Term, prior
from wellset.figure.sighting import Sighting, StickSighting
from wellset.figure.views import View
from wellset.geometry import Camera

Array = NDArray[np.float64]

ALONG, ACROSS, UPRIGHT = "target_stick", "cross_stick", "upright_stick"
LABEL_LIMIT = np.radians(20.0)
"""A stick that lies farther than this from both ground directions is left alone."""
REACH_M = 2.5
"""A stick farther from the ball than this is somebody else's."""
STICK_HEIGHT_M = {ALONG: 0.008, ACROSS: 0.014}
"""Height of the centre line above what the soles stand on: 3-4 mm for a stick 6-8 mm thick
on a mat, up to 12 mm where grass carries it; a cross stick rests on the other (our
judgement)."""
STICK_HEIGHT_SD_M = 0.005
LEAST_SD_PX = 0.5
"""No line in a picture is trusted to better than half a pixel: light and shadow shift its
middle."""
UPRIGHT_LEAST_M = 0.6
"""Shortest upright stick: one lying from the ball to the golfer, taken for upright by its
picture alone, would seem 40 cm high."""
UPRIGHT_FOOT_M = (-0.3, 0.6)
UPRIGHT_LIMIT = np.radians(6.0)
UPRIGHT_LEAN_SD = np.radians(1.0)
"""How straight a coach plants a stick; a plumb line hangs better (our judgement)."""

PARAMETERS = {
    ALONG: ("offset", "slope", "height"),
    ACROSS: ("offset", "slope", "height"),
    UPRIGHT: ("foot.x", "foot.y", "lean.x", "lean.y"),
}
"""What describes a stick; lengths in metre, slope and lean in radian."""
_SD = {
    ALONG: (2.0, STICK_SLOPE_SD, STICK_HEIGHT_SD_M),
    ACROSS: (2.0, STICK_SLOPE_SD, STICK_HEIGHT_SD_M),
    UPRIGHT: (1.0, 1.0, UPRIGHT_LEAN_SD, UPRIGHT_LEAN_SD),
}
"""Spread of these before the pictures."""


def spreads(name: str, /) -> tuple[float, ...]:
    """Spread of a stick's parameters before the pictures, in the order of `PARAMETERS`."""
    return tuple(float(sd) for sd in _SD[name])


@frozen(kw_only=True, eq=False)
class LabelledStick:
    """A stick in one picture, which way it lies, and where on it the two places are."""

    view: View
    name: str
    sighting: StickSighting
    start: tuple[float, ...]
    """Starting values of its parameters; lengths along it are in ``along``."""
    along: Array


def _rays(camera: Camera, pixels: Array) -> Array:
    """Lines of sight in the world, distortion left out, shape (k, 3).

    They are used for labels and starting values.
    """
    middle = np.array([camera.width_px, camera.height_px]) / 2
    centre = middle + camera.parameters[8:10] * np.hypot(camera.width_px, camera.height_px)
    plane = (pixels - centre) / camera.focal_px
    rays: Array = np.stack([plane[:, 0], np.ones(len(plane)), -plane[:, 1]], 1) @ camera.axes
    return rays


def ground_points(camera: Camera, pixels: Array, *, height: float) -> Array | None:
    """Where lines of sight meet the plane at a height, shape (k, 2); None if they don't."""
    rays = _rays(camera, pixels)
    if np.any(rays[:, 2] > -1e-3):
        return None
    reach = (height - camera.position[2]) / rays[:, 2]
    places: Array = (camera.position + reach[:, None] * rays)[:, :2]
    return places


def _upright(stick: StickSighting, camera: Camera, *, view: View) -> LabelledStick | None:
    """The stick as one that stands at the ball's distance, if it looks upright."""
    ahead = camera.axes[1] * [1, 1, 0]
    rays = _rays(camera, stick.ends_px)
    if np.any(rays @ ahead < 1e-3):
        return None
    reach = -(camera.position @ ahead) / (rays @ ahead)
    places = camera.position + reach[:, None] * rays
    low, high = places[np.argsort(places[:, 2])]
    drift, rise = float(np.hypot(*(high - low)[:2])), float(high[2] - low[2])
    at_foot = UPRIGHT_FOOT_M[0] < low[2] < UPRIGHT_FOOT_M[1]
    if not at_foot or drift > np.tan(UPRIGHT_LIMIT) * rise:
        return None
    return LabelledStick(
        view=view,
        name=UPRIGHT,
        sighting=stick,
        start=(float(low[0]), float(low[1]), 0.0, 0.0),
        along=places[:, 2],
    )


def _lying(stick: StickSighting, camera: Camera, *, view: View) -> LabelledStick | None:
    """The stick as one that lies along or across the target line, if it does."""
    places = ground_points(camera, stick.ends_px, height=STICK_HEIGHT_M[ALONG])
    if places is None or np.min(np.linalg.norm(places, axis=1)) > REACH_M:
        return None
    run = np.abs(places[1] - places[0])
    axis = int(run[1] > run[0])
    if np.arctan2(run[1 - axis], run[axis]) > LABEL_LIMIT:
        return None
    name = (ALONG, ACROSS)[axis]
    return LabelledStick(
        view=view,
        name=name,
        sighting=stick,
        start=(float(places[:, 1 - axis].mean()), 0.0, STICK_HEIGHT_M[name]),
        along=places[:, axis],
    )


@frozen(kw_only=True, eq=False)
class _Reading:
    """What one stick may be: lying, upright, or either."""

    lying: LabelledStick | None
    upright: LabelledStick | None

    @property
    def sure(self) -> LabelledStick | None:
        """The one thing it can be; ``None`` when it can be both or neither.

        A stick from the ball to the golfer and one that stands behind the ball look the same
        to a camera in front of the chest, unless the latter is seen at length.
        """
        if self.upright is not None and np.ptp(self.upright.along) >= UPRIGHT_LEAST_M:
            return self.upright
        return self.lying if self.upright is None else None


def _settle(reading: _Reading, shown: set[tuple[View, str]]) -> LabelledStick | None:
    """A stick that may lie or stand, as the one kind only another picture surely shows.

    Where that doesn't tell, a stick along the target line is one: few coaches plant a stick
    just where that one would seem to stand.
    """
    options = [
        option
        for option in (reading.lying, reading.upright)
        if option is not None
        and (option.view, option.name) not in shown
        and any(name == option.name for _, name in shown)
    ]
    if len(options) == 1:
        return options[0]
    along = reading.lying is not None and reading.lying.name == ALONG
    return reading.lying if along else None


def label(
    sightings: Sequence[Sighting], cameras: Mapping[View, Camera], /
) -> tuple[LabelledStick, ...]:
    """Sticks along the target line, across it, and upright; one of each in each picture.

    Of several in one direction the one nearest to the ball is kept. A stick that may lie or
    stand is what the other picture surely shows; when that shows neither, it is left out.
    """
    readings = [
        _Reading(
            lying=_lying(stick, cameras[s.view], view=s.view),
            upright=_upright(stick, cameras[s.view], view=s.view),
        )
        for s in sightings
        for stick in s.sticks
    ]
    sure = [found for reading in readings if (found := reading.sure) is not None]
    shown = {(found.view, found.name) for found in sure}
    settled = [_settle(reading, shown) for reading in readings if reading.sure is None]
    best: dict[tuple[View, str], LabelledStick] = {}
    for found in (*sure, *(s for s in settled if s is not None)):
        place = (found.view, found.name)
        if place not in best or abs(found.start[0]) < abs(best[place].start[0]):
            best[place] = found
    return tuple(best.values())


def stick_terms(
    sticks: Sequence[LabelledStick], layout: Layout, *, slots: Mapping[View, CameraSlot]
) -> list[Term]:
    """Residuals of all labelled sticks and the priors of their parameters."""
    size, terms = layout.size, list[Term]()
    for name, first in {s.name: s for s in reversed(sticks)}.items():
        mean = np.array(first.start) if name == UPRIGHT else [0.0, 0.0, STICK_HEIGHT_M[name]]
        terms.append(prior(STICK, size=size, columns=layout[name], mean=mean, sd=_SD[name]))
    for stick in sticks:
        along = layout[f"{stick.name}.{stick.view.value}"]
        terms.append(prior(STICK, size=size, columns=along, mean=stick.along, sd=3.0))
        terms.append(_term(stick, layout, slot=slots[stick.view]))
    return terms


def _term(stick: LabelledStick, layout: Layout, *, slot: CameraSlot) -> Term:
    line, along = layout[stick.name], layout[f"{stick.name}.{stick.view.value}"]
    ends_px, sd_px = stick.sighting.ends_px, max(stick.sighting.sd_px, LEAST_SD_PX)
    robust = None if stick.sighting.by_hand else FORGIVING  # a person's word goes
    if stick.name == UPRIGHT:
        return UprightTerm(
            slot=slot,
            line=line,
            along=along,
            ends_px=ends_px,
            sd_px=sd_px,
            source=STICK,
            robust_scale=robust,
        )
    return StickTerm(
        slot=slot,
        axis=0 if stick.name == ALONG else 1,
        line=line,
        along=along,
        ends_px=ends_px,
        sd_px=sd_px,
        source=STICK,
        robust_scale=robust,
    )
