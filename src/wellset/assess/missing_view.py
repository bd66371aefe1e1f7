"""The picture that was not taken, as it would ordinarily come out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from attrs import evolve
from numpy.typing import NDArray

from wellset.assess.cameras import BASE, SAME_PHONE_SD, TYPICAL_POSITION_M, camera_prior, same_phone
from wellset.assess.common import SHARED, shared_shift
from wellset.assess.fit import Fit
from wellset.assess.gap import gap_m
from wellset.assess.laid import seen_too
from wellset.assess.observe import whiten
from wellset.assess.problem import CAMERA, LANDMARK, SWAY_HEIGHT_M, SWAY_SD_M
from wellset.assess.settle import Extra
from wellset.assess.terms import CameraSlot, ReprojectionTerm
from wellset.estimation import LinearTerm
from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.figure.sighting import Sighting
from wellset.figure.views import View
from wellset.geometry import Camera

Array = NDArray[np.float64]

OWN_SD_M: Final = 0.003
"""Standard uncertainty of a landmark as the network ordinarily states it, per coordinate:
median 2.5 mm on rendered scenes, joints up to twice that."""


def missing_view(
    fit: Fit, sightings: Sequence[Sighting], *, view: View, rendered_to_real: bool
) -> Extra:
    """All landmarks in a picture of the other view, by the same phone held as usual.

    What lies on the ground already is seen in it too.

    Parameters
    ----------
    fit : Fit
        Of the one picture there is.
    sightings : sequence of Sighting
        That picture.
    view : View
        The one that is missing.
    rendered_to_real : bool
    """
    n, picture = len(fit.parameters), sightings[0].picture
    prior = camera_prior(view, picture)
    start = prior.mean.copy()
    ankles = fit.figure.points[[INDEX["lead_ankle"], INDEX["trail_ankle"]]].mean(0)
    start[4:6] = TYPICAL_POSITION_M[view][:2] + (ankles[:2] - [0.0, 0.69]) * abs(BASE[view][0, :2])
    start[0] = np.log(fit.cameras[sightings[0].view].focal_px)
    groups = len(SHARED[view])
    camera, sway = slice(n, n + 10), slice(n + 10, n + 12)
    shared = slice(n + 12, n + 12 + groups)
    slot = CameraSlot(
        block=camera, base=BASE[view], width_px=picture.width_px, height_px=picture.height_px
    )
    parameters = np.concatenate([fit.parameters, start, np.zeros(2 + groups)])
    term = _landmarks(
        fit, slot.camera(parameters), view=view, slot=slot, rendered_to_real=rendered_to_real
    )
    extra = Extra(
        terms=(evolve(term, sway=sway, shared=shared),),
        parameters=parameters,
        new_sd=np.concatenate([prior.sd, np.full(2, SWAY_SD_M), np.ones(groups)]),
    )
    extra = seen_too(extra, fit, slot=slot)
    if not same_phone(picture, picture):
        return extra
    focal = _same_focal(fit, sightings[0].view, size=len(extra.parameters), column=n)
    return evolve(extra, terms=(*extra.terms, focal))


def _landmarks(
    fit: Fit, camera: Camera, *, view: View, slot: CameraSlot, rendered_to_real: bool
) -> ReprojectionTerm:
    points = fit.figure.points
    gap = np.array([gap_m(name) for name in LANDMARKS]) * rendered_to_real
    sd = np.hypot(OWN_SD_M, gap) * camera.focal_px / np.maximum(camera.depth(points), 0.3)
    shift = shared_shift(view, list(LANDMARKS), sd_px=np.stack([sd, sd], 1))
    alone = (sd**2)[:, None, None] * np.eye(2) - np.einsum("kig,kjg->kij", shift, shift)
    return ReprojectionTerm(
        view=view,
        slot=slot,
        points=fit.layout["points"],
        which=np.arange(len(LANDMARKS)),
        positions_px=np.zeros((len(LANDMARKS), 2)),
        whitening=whiten(alone),
        row_shares={LANDMARK: np.ones(2 * len(LANDMARKS))},
        sway=None,
        # the golfer as seen in the present picture is what the solution stands for
        sway_gain=np.clip(points[:, 2] / SWAY_HEIGHT_M, 0.0, 2.0),
        shared=slice(0, 0),
        shared_shift_px=shift,
    )


def _same_focal(fit: Fit, view: View, *, size: int, column: int) -> LinearTerm:
    row = np.zeros((1, size))
    row[0, fit.layout[view.value].start], row[0, column] = -1, 1
    return LinearTerm(source=CAMERA, matrix=row, target=0.0, sd=SAME_PHONE_SD)
