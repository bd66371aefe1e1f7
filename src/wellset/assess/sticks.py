"""Which way a stick lies, and the terms it adds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.assess.problem import STICK, STICK_SLOPE_SD
from wellset.assess.terms import CameraSlot, StickTerm
from wellset.estimation import Layout, Term, prior
from wellset.figure.sighting import Sighting, StickSighting
from wellset.figure.views import View
from wellset.geometry import Camera

Array = NDArray[np.float64]

ALONG, ACROSS = "target_stick", "cross_stick"
LABEL_LIMIT = np.radians(20.0)
"""A stick that lies farther than this from both ground directions is left alone."""
REACH_M = 2.5
"""A stick farther from the ball than this is somebody else's."""
STICK_HEIGHT_M = {ALONG: 0.008, ACROSS: 0.014}
"""Height of the centre line above what the soles stand on: 3-4 mm for a stick 6-8 mm thick
on a mat, up to 12 mm where grass carries it; a cross stick rests on the other (our
judgement)."""
STICK_HEIGHT_SD_M = 0.005
_LINE_SD = [2.0, STICK_SLOPE_SD, STICK_HEIGHT_SD_M]
"""Spread of a stick's offset, slope and height before the pictures."""


@frozen(kw_only=True, eq=False)
class LabelledStick:
    """A stick in one picture, which way it lies, and where on it the two places are."""

    view: View
    name: str
    sighting: StickSighting
    offset: float
    along: Array


def ground_points(camera: Camera, pixels: Array, *, height: float) -> Array | None:
    """Where lines of sight meet the plane at a height, shape (k, 2); None if they don't.

    Distortion is left out: the answer is used for labels and starting values.
    """
    middle = np.array([camera.width_px, camera.height_px]) / 2
    centre = middle + camera.parameters[8:10] * np.hypot(camera.width_px, camera.height_px)
    plane = (pixels - centre) / camera.focal_px
    rays = np.stack([plane[:, 0], np.ones(len(plane)), -plane[:, 1]], 1) @ camera.axes
    if np.any(rays[:, 2] > -1e-3):
        return None
    reach = (height - camera.position[2]) / rays[:, 2]
    places: Array = (camera.position + reach[:, None] * rays)[:, :2]
    return places


def label(sighting: Sighting, camera: Camera, /) -> list[LabelledStick]:
    """Sticks of one picture that lie along or across the target line, one of each.

    Of several in one direction the one nearest to the ball is kept.
    """
    best: dict[str, tuple[float, LabelledStick]] = {}
    for stick in sighting.sticks:
        places = ground_points(camera, stick.ends_px, height=STICK_HEIGHT_M[ALONG])
        if places is None or np.min(np.linalg.norm(places, axis=1)) > REACH_M:
            continue
        run = places[1] - places[0]
        for name, axis in ((ALONG, 0), (ACROSS, 1)):
            turn = np.arctan2(abs(run[1 - axis]), abs(run[axis]))
            if turn > LABEL_LIMIT:
                continue
            offset = float(places[:, 1 - axis].mean())
            found = LabelledStick(
                view=sighting.view,
                name=name,
                sighting=stick,
                offset=offset,
                along=places[:, axis],
            )
            if name not in best or abs(offset) < best[name][0]:
                best[name] = (abs(offset), found)
    return [found for _, found in best.values()]


def stick_terms(
    sticks: Sequence[LabelledStick], layout: Layout, *, slots: Mapping[View, CameraSlot]
) -> list[Term]:
    """Residuals of all labelled sticks and the priors of their parameters."""
    size, terms = layout.size, list[Term]()
    for name in {s.name for s in sticks}:
        line = layout[name]
        terms.append(
            prior(
                STICK, size=size, columns=line, mean=[0.0, 0.0, STICK_HEIGHT_M[name]], sd=_LINE_SD
            )
        )
    for stick in sticks:
        along = layout[f"{stick.name}.{stick.view.value}"]
        terms.append(prior(STICK, size=size, columns=along, mean=stick.along, sd=3.0))
        terms.append(
            StickTerm(
                slot=slots[stick.view],
                axis=0 if stick.name == ALONG else 1,
                line=layout[stick.name],
                along=along,
                ends_px=stick.sighting.ends_px,
                sd_px=max(stick.sighting.sd_px, 0.5),
                source=STICK,
            )
        )
    return terms
