"""Where a fit expects a landmark in a picture, and how surely."""

from __future__ import annotations

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.assess.fit import Fit
from wellset.assess.gap import gap_m
from wellset.figure.landmarks import INDEX
from wellset.figure.sighting import ProposedByModel
from wellset.figure.views import View
from wellset.geometry import project_with_jacobian

Array = NDArray[np.float64]


@frozen(kw_only=True, eq=False)
class Expected:
    """A landmark's place in a picture as everything else in a fit implies it.

    Parameters
    ----------
    position_px : (2,) array, the sighting's frame, pixel
    covariance_px2 : (2, 2) array, pixel squared
    pixels_per_metre : float
        Scale of the picture at the landmark.
    """

    position_px: Array
    covariance_px2: Array
    pixels_per_metre: float

    def distance(self, position_px: Array, *, covariance_px2: Array) -> float:
        """Distance of a point placed there, in the uncertainties of both together."""
        apart = position_px - self.position_px
        both = self.covariance_px2 + covariance_px2
        return float(np.sqrt(apart @ np.linalg.solve(both, apart)))


def uncertainty_of_proposal(
    proposal: ProposedByModel, landmark: str, /, *, pixels_per_metre: float
) -> Array:
    """Covariance of a network's point, the gap to real people included, ``(2, 2)``, px squared."""
    gap_px = gap_m(landmark) * pixels_per_metre
    return np.asarray(proposal.covariance_px2 + gap_px**2 * np.eye(2))


def expected(fit: Fit, landmark: str, /, *, view: View) -> Expected:
    """Where a fit puts a landmark in one of its pictures; sway between pictures left out.

    Parameters
    ----------
    fit : Fit
        Of sightings in which the landmark need not be seen.
    landmark : str
    view : View
    """
    camera, world = fit.cameras[view], fit.figure[landmark][None]
    pixels, by_point, by_camera = project_with_jacobian(camera, world)
    first = fit.layout["points"].start + 3 * INDEX[landmark]
    gradient = np.zeros((2, len(fit.parameters)))
    gradient[:, first : first + 3] = by_point[0]
    gradient[:, fit.layout[view.value]] = by_camera[0]
    covariance = np.zeros((2, 2))
    for factor in fit.known.factors.values():
        rows = gradient @ factor
        covariance += rows @ rows.T
    return Expected(
        position_px=pixels[0],
        covariance_px2=covariance,
        pixels_per_metre=float(camera.focal_px / max(float(camera.depth(world)[0]), 0.3)),
    )
