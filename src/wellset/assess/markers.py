"""A printed marker on the ground: where it lies, and the terms it adds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final, TypeVar

import numpy as np
from attrs import evolve, frozen
from numpy.typing import NDArray

from wellset.assess.observe import whiten
from wellset.assess.problem import SHEET
from wellset.assess.sticks import LABEL_LIMIT, REACH_M, ground_points
from wellset.assess.terms import CameraSlot
from wellset.estimation import Block, Layout, OneSourceTerm, Term, prior
from wellset.figure.sighting import MarkerSighting, Sighting
from wellset.figure.views import View
from wellset.geometry import Camera, project_with_jacobian

Array = NDArray[np.float64]
Number = TypeVar("Number", np.float64, np.complex128)
"""Complex where derivatives are checked."""

MARKER_HEIGHT_M: Final = 0.005
"""Height of the print above what the soles stand on: 0 on the mat itself, 3 to 10 mm on a
board or where grass carries it (our judgement)."""
MARKER_HEIGHT_SD_M: Final = 0.005
MARKER_TILT_SD: Final = np.radians(1.0)
"""How flat a sheet lies: 3 mm over its 16 cm, from grass or paper that curls (our judgement)."""
SHEET_AIM_SD: Final = np.radians(1.5)
"""How well a coach points the sheet's long edge at the target, said to be aimed: a stick four
times as long is pointed to 0.6 degrees (our judgement)."""
AIM_LIMIT: Final = LABEL_LIMIT
"""An arrow seen farther from the target than this was not aimed at it, whatever was said."""
SIZE_LIMITS: Final = (0.6, 1.6)
"""Sides of the square as the first cameras see it on the ground, over its true side: outside
of this it doesn't lie on the ground."""
MOVED_M, MOVED_TURN = 0.35, np.radians(20.0)
"""Two pictures whose sheets lie farther apart than this show a sheet that was moved between
them: each then speaks for its own picture only."""
FREE_SD: Final = 3.0
"""Spread of place (metre) and turn (radian) before the pictures: nothing is known."""

MARKER_PARAMETERS: Final = ("x", "y", "height", "yaw", "tilt.x", "tilt.y", "side")
"""Middle of the square, its turn from the target line, slopes along x and y, side; metre and
radian."""
_SIGNS: Final = np.array([[-1.0, -1.0], [1.0, -1.0], [1.0, 1.0], [-1.0, 1.0]])
"""Corners by (u, v), in the order of :class:`~wellset.figure.sighting.MarkerSighting`."""


@frozen(kw_only=True, eq=False)
class LaidMarker:
    """A marker in one picture, and where it seems to lie.

    Parameters
    ----------
    view : View
    block : str
        Name of its block of parameters; both pictures share one unless it was moved.
    sighting : MarkerSighting
    start : (7,) array
        Starting values of :data:`MARKER_PARAMETERS`.
    aimed : bool
        Whether its arrow is taken to point at the target: the coach says so, and no picture
        shows it otherwise.
    """

    view: View
    block: str
    sighting: MarkerSighting
    start: Array
    aimed: bool = False


@frozen(kw_only=True, eq=False)
class MarkerTerm(OneSourceTerm):
    """The four corners of a square lying nearly flat on the ground, seen in one picture.

    Parameters
    ----------
    slot : CameraSlot
    marker : slice
        Block of the seven :data:`MARKER_PARAMETERS`.
    corners_px : (4, 2) array
    whitening : (4, 2, 2) array
        Maps a pixel error to unit variance.
    """

    slot: CameraSlot
    marker: Block
    corners_px: Array
    whitening: Array
    robust_scale: float | None = 2.5
    group: int = 2

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        corners, by_marker = marker_corners(parameters[self.marker])
        pixels, by_point, by_camera = project_with_jacobian(self.slot.camera(parameters), corners)
        jacobian = np.zeros((4, 2, len(parameters)))
        jacobian[:, :, self.slot.block] = self.whitening @ by_camera
        jacobian[:, :, self.marker] = self.whitening @ by_point @ by_marker
        residuals = np.einsum("kij,kj->ki", self.whitening, pixels - self.corners_px)
        return residuals.ravel(), jacobian.reshape(8, -1)


def marker_corners(marker: NDArray[Number], /) -> tuple[NDArray[Number], NDArray[Number]]:
    """World corners of a marker and their derivatives.

    Parameters
    ----------
    marker : (7,) array
        :data:`MARKER_PARAMETERS`.

    Returns
    -------
    corners : (4, 3) array, world, metre
    derivatives : (4, 3, 7) array
    """
    x, y, height, yaw, slope_x, slope_y, side = marker
    u, v = (0.5 * _SIGNS).T
    dx, dy = np.cos(yaw) * u - np.sin(yaw) * v, np.sin(yaw) * u + np.cos(yaw) * v
    rise = slope_x * dx + slope_y * dy
    corners = np.stack([x + side * dx, y + side * dy, height + side * rise], axis=1)
    derivatives = np.zeros((4, 3, 7), dtype=corners.dtype)
    for axis in range(3):
        derivatives[:, axis, axis] = 1.0
    # a turn moves each corner square to its offset
    turn_rise = slope_x * -dy + slope_y * dx
    derivatives[:, :, 3] = side * np.stack([-dy, dx, turn_rise], axis=1)
    derivatives[:, 2, 4] = side * dx
    derivatives[:, 2, 5] = side * dy
    derivatives[:, :, 6] = np.stack([dx, dy, rise], axis=1)
    return corners, derivatives


def lay_markers(
    sightings: Sequence[Sighting], cameras: Mapping[View, Camera], *, aimed: bool
) -> tuple[LaidMarker, ...]:
    """Markers that lie on the ground near the ball, as first cameras see them.

    Parameters
    ----------
    aimed : bool
        Whether the coach says that the arrow points at the target. Where a picture shows it
        far from there, the turn stays free.
    """
    found = [
        laid
        for s in sightings
        for marker in s.markers
        if (laid := _laid(marker, cameras[s.view], view=s.view)) is not None
    ]
    found = [_own(each) if _was_moved(each, found) else each for each in found]
    astray = {m.block for m in found if abs(m.start[3]) > AIM_LIMIT}
    return tuple(evolve(m, aimed=aimed and m.block not in astray) for m in found)


def _laid(marker: MarkerSighting, camera: Camera, *, view: View) -> LaidMarker | None:
    corners = ground_points(camera, marker.corners_px, height=MARKER_HEIGHT_M)
    if corners is None:
        return None
    sides = np.linalg.norm(np.roll(corners, -1, axis=0) - corners, axis=1) / marker.side_m
    low, high = SIZE_LIMITS
    middle = corners.mean(axis=0)
    if sides.min() < low or sides.max() > high or np.linalg.norm(middle) > REACH_M:
        return None
    along = (corners[1] + corners[2] - corners[0] - corners[3]) / 2
    yaw = float(np.arctan2(along[1], along[0]))
    start = np.array([*middle, MARKER_HEIGHT_M, yaw, 0.0, 0.0, marker.side_m])
    return LaidMarker(view=view, block=marker.name, sighting=marker, start=start)


def _was_moved(one: LaidMarker, found: Sequence[LaidMarker]) -> bool:
    others = [o for o in found if o is not one and o.block == one.block]
    for other in others:
        apart = float(np.linalg.norm(one.start[:2] - other.start[:2]))
        turn = one.start[3] - other.start[3]
        turned = abs(float(np.arctan2(np.sin(turn), np.cos(turn))))
        if apart > MOVED_M or turned > MOVED_TURN:
            return True
    return False


def _own(marker: LaidMarker) -> LaidMarker:
    return evolve(marker, block=f"{marker.block} in {marker.view.value}")


def marker_terms(
    markers: Sequence[LaidMarker],
    layout: Layout,
    *,
    slots: Mapping[View, CameraSlot],
) -> list[Term]:
    """Residuals of all markers and the priors of their parameters.

    An aimed arrow points at the target; the turn of any other is free.
    """
    terms = list[Term]()
    for name, first in {m.block: m for m in reversed(markers)}.items():
        mean = np.array([*first.start[:2], MARKER_HEIGHT_M, first.start[3], 0.0, 0.0, 0.0])
        mean[3] = 0.0 if first.aimed else mean[3]
        mean[6] = first.sighting.side_m
        sd = [FREE_SD, FREE_SD, MARKER_HEIGHT_SD_M, SHEET_AIM_SD if first.aimed else FREE_SD]
        sd += [MARKER_TILT_SD, MARKER_TILT_SD, first.sighting.side_sd_m]
        terms.append(prior(SHEET, size=layout.size, columns=layout[name], mean=mean, sd=sd))
    terms += [
        MarkerTerm(
            source=SHEET,
            slot=slots[marker.view],
            marker=layout[marker.block],
            corners_px=marker.sighting.corners_px,
            whitening=whiten(marker.sighting.covariance_px2),
        )
        for marker in markers
    ]
    return terms
