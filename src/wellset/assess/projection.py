"""How surely a place in the world is drawn at its place in a picture.

The ball is the anchor: it is seen in the picture and lies at the origin, so its own place is
sure. What stands away from it turns about it with the target line, which the pictures know
to a few degrees only, and shifts with the rest of the camera. Both come out of one thing, the
covariance of the camera's parameters together.
"""

from __future__ import annotations

from typing import Final

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.assess.fit import Fit
from wellset.figure.views import View
from wellset.geometry import Camera, project_with_jacobian

Array = NDArray[np.float64]

_ALONG: Final = np.array([[-0.5, 0.0, 0.0], [0.5, 0.0, 0.0]])
_SQUARE: Final = np.array([[0.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
"""Two places a metre apart, on the target line and square to it: how they are drawn against
each other tells how each direction is turned."""


def _read_only(value: object) -> Array:
    array = np.array(value, dtype=np.float64)
    array.setflags(write=False)
    return array


@frozen(kw_only=True, eq=False)
class Projection:
    """A picture's estimated camera, and how well it is known.

    Parameters
    ----------
    camera : Camera
    covariance : (10, 10) array
        Of :data:`wellset.geometry.CAMERA_PARAMETERS`.
    """

    camera: Camera
    covariance: Array = field(converter=_read_only)

    def spread_px(self, points_world: Array, /) -> Array:
        """Covariance of where fixed places are drawn, shape (n, 2, 2), pixel squared."""
        _, _, by_camera = project_with_jacobian(self.camera, points_world)
        spread: Array = by_camera @ self.covariance @ by_camera.swapaxes(1, 2)
        return spread

    def _on_the_ground(self, points_world: Array) -> Array:
        """How the ground under a pixel moves with the camera, shape (n, 2, 10), metre."""
        _, by_point, by_camera = project_with_jacobian(self.camera, points_world)
        moved = np.linalg.solve(by_point[:, :, :2], by_camera)
        return np.asarray(moved, dtype=np.float64)

    def spread_on_the_ground(self, points_world: Array, /) -> Array:
        """Covariance of the place on the ground where a mark is seen, shape (n, 2, 2), m².

        Parameters
        ----------
        points_world : (n, 3) array
            Places on level ground (their height is kept).
        """
        moved = self._on_the_ground(points_world)
        spread: Array = moved @ self.covariance @ moved.swapaxes(1, 2)
        return spread

    @property
    def target_line_sd(self) -> float:
        """Standard uncertainty of the target line's direction as drawn, radian."""
        return self._turned(_ALONG, across=1)

    @property
    def square_sd(self) -> float:
        """Standard uncertainty of the direction from ball to golfer as drawn, radian.

        A line seen from straight in front keeps its place while the camera is turned about
        it, so one picture may know the target line well and what is square to it badly.
        """
        return self._turned(_SQUARE, across=0)

    def _turned(self, places: Array, *, across: int) -> float:
        first, last = self._on_the_ground(places)
        turned = last[across] - first[across]
        return float(np.sqrt(turned @ self.covariance @ turned))


def projection(fit: Fit, view: View, /) -> Projection:
    """A picture's camera in a fit, with its covariance."""
    block = fit.layout[view.value]
    covariance = sum(
        (factor[block] @ factor[block].T for factor in fit.known.factors.values()),
        start=np.zeros(()),
    )
    return Projection(camera=fit.cameras[view], covariance=covariance)
