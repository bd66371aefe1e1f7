"""Residual terms of the assessment: pictures, sticks, the line of the shaft."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.estimation import Block, OneSourceTerm
from wellset.figure.views import View
from wellset.geometry import Camera, project_with_jacobian

Array = NDArray[np.float64]


@frozen(kw_only=True, eq=False)
class CameraSlot:
    """Where a camera's parameters live in the vector, and its fixed facts."""

    block: Block
    base: Array
    width_px: int
    height_px: int

    def camera(self, parameters: Array, /) -> Camera:
        """The camera at these parameters."""
        return Camera(
            parameters=parameters[self.block],
            base=self.base,
            width_px=self.width_px,
            height_px=self.height_px,
        )


@frozen(kw_only=True, eq=False)
class ReprojectionTerm:
    """Landmarks in one picture.

    Parameters
    ----------
    view : View
        The picture.
    slot : CameraSlot
    points : slice
        Block of all points.
    which : (k,) int array
        Landmarks seen in this picture.
    positions_px : (k, 2) array
    whitening : (k, 2, 2) array
        Maps a pixel error to unit variance.
    row_shares : mapping of source to (2 k,) array
        Sources of the variance of each row.
    sway : slice or None
        Block of two parameters: how far the golfer's upper part moved horizontally
        between the pictures.
    sway_gain : (k,) array
        Share of the sway that each point takes in this picture (signed by picture).
    shared : slice
        Block of errors that several landmarks share, in standard deviations.
    shared_shift_px : (k, 2, g) array
        Pixels that a unit of each shared error moves each landmark.
    """

    view: View
    slot: CameraSlot
    points: Block
    which: NDArray[np.intp]
    positions_px: Array
    whitening: Array
    row_shares: Mapping[str, Array]
    sway: Block | None
    sway_gain: Array
    shared: Block
    shared_shift_px: Array
    robust_scale: float | None = 2.5
    hard: bool = False
    group: int = 2

    @property
    def shares(self) -> Mapping[str, Array | float]:
        """Landmark spread, gap to real people, coach's hand."""
        return dict(self.row_shares)

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        k = len(self.which)
        world = parameters[self.points].reshape(-1, 3)[self.which]
        if self.sway is not None:
            world = world.copy()
            world[:, :2] += self.sway_gain[:, None] * parameters[self.sway]
        pixels, by_point, by_camera = project_with_jacobian(self.slot.camera(parameters), world)
        pixels = pixels + self.shared_shift_px @ parameters[self.shared]
        residuals = np.einsum("kij,kj->ki", self.whitening, pixels - self.positions_px)
        by_point = self.whitening @ by_point
        jacobian = np.zeros((k, 2, len(parameters)))
        columns = self.points.start + 3 * self.which[:, None] + np.arange(3)
        jacobian[np.arange(k)[:, None], :, columns] = by_point.transpose(0, 2, 1)
        jacobian[:, :, self.slot.block] = self.whitening @ by_camera
        jacobian[:, :, self.shared] = self.whitening @ self.shared_shift_px
        if self.sway is not None:
            jacobian[:, :, self.sway] = by_point[:, :, :2] * self.sway_gain[:, None, None]
        return residuals.ravel(), jacobian.reshape(2 * k, -1)


@frozen(kw_only=True, eq=False)
class StickTerm(OneSourceTerm):
    """Two places on a straight stick lying on the ground, seen in one picture.

    The stick is ``origin + along * direction``, parametrised by an offset across it and
    its small turn from the world axis it lies along; where on the stick each seen place
    is, is a parameter of its own.

    Parameters
    ----------
    axis : int
        0 for a stick along the target line, 1 for one from the ball to the golfer.
    line : slice
        Block of three parameters: offset (metre), slope (radian) and height of the centre
        line (metre).
    along : slice
        Block of two parameters, one for each seen place (metre).
    """

    slot: CameraSlot
    axis: int
    line: Block
    along: Block
    ends_px: Array
    sd_px: float
    robust_scale: float | None = 2.5
    group: int = 2

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        offset, slope, height = parameters[self.line]
        along = parameters[self.along]
        world = np.full((2, 3), height)
        world[:, self.axis] = along
        # a turn of the axis y towards -x keeps both sticks of a T square to each other
        sign = 1.0 if self.axis == 0 else -1.0
        world[:, 1 - self.axis] = offset + sign * slope * along
        pixels, by_point, by_camera = project_with_jacobian(self.slot.camera(parameters), world)
        jacobian = np.zeros((2, 2, len(parameters)))
        jacobian[:, :, self.slot.block] = by_camera
        across = by_point[:, :, 1 - self.axis]
        jacobian[:, :, self.line.start] = across
        jacobian[:, :, self.line.start + 1] = sign * across * along[:, None]
        jacobian[:, :, self.line.start + 2] = by_point[:, :, 2]
        for i in range(2):
            jacobian[i, :, self.along.start + i] = (
                by_point[i, :, self.axis] + sign * slope * across[i]
            )
        residuals = (pixels - self.ends_px) / self.sd_px
        return residuals.ravel(), jacobian.reshape(4, -1) / self.sd_px


@frozen(kw_only=True, eq=False)
class UprightTerm(OneSourceTerm):
    """Two places on an upright stick or plumb line, seen in one picture.

    Parameters
    ----------
    line : slice
        Block of four parameters: foot x and y (metre), and lean along x and y (radian).
    along : slice
        Block of two parameters, the height of each seen place (metre).
    """

    slot: CameraSlot
    line: Block
    along: Block
    ends_px: Array
    sd_px: float
    robust_scale: float | None = 2.5
    group: int = 2

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        foot, lean = np.split(parameters[self.line], 2)
        height = parameters[self.along]
        world = np.column_stack([foot + height[:, None] * lean, height])
        pixels, by_point, by_camera = project_with_jacobian(self.slot.camera(parameters), world)
        jacobian = np.zeros((2, 2, len(parameters)))
        jacobian[:, :, self.slot.block] = by_camera
        start = self.line.start
        jacobian[:, :, start : start + 2] = by_point[:, :, :2]
        jacobian[:, :, start + 2 : start + 4] = by_point[:, :, :2] * height[:, None, None]
        upward = by_point @ np.append(lean, 1.0)
        for i in range(2):
            jacobian[i, :, self.along.start + i] = upward[i]
        residuals = (pixels - self.ends_px) / self.sd_px
        return residuals.ravel(), jacobian.reshape(4, -1) / self.sd_px


@frozen(kw_only=True, eq=False)
class OnLineTerm(OneSourceTerm):
    """The grip's middle lies on the straight line from the butt to the shaft's end.

    ``middle - butt - along (tip - butt)`` vanishes within ``sd`` metre; ``along`` is the
    parameter in ``along_column``.
    """

    points: Block
    butt: int
    tip: int
    middle: int
    along_column: int
    sd: float

    def linearise(self, parameters: Array, /) -> tuple[Array, Array]:
        """See :meth:`wellset.estimation.Term.linearise`."""
        points = parameters[self.points].reshape(-1, 3)
        along = parameters[self.along_column]
        shaft = points[self.tip] - points[self.butt]
        residuals = points[self.middle] - points[self.butt] - along * shaft
        jacobian = np.zeros((3, len(parameters)))
        for index, gain in ((self.middle, 1.0), (self.butt, along - 1), (self.tip, -along)):
            start = self.points.start + 3 * index
            jacobian[:, start : start + 3] += gain * np.eye(3)
        jacobian[:, self.along_column] = -shaft
        return residuals / self.sd, jacobian / self.sd
