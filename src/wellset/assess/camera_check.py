"""How each phone was held: height, distance, aim, tilt and roll, with intervals.

All values are in the frame of the estimate (left-handers mirrored), as somebody behind the
phone would say them: ``+`` is to the right, up, or with the right side up.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.assess.fit import Fit
from wellset.figure.landmarks import INDEX
from wellset.figure.views import View
from wellset.geometry import CAMERA_PARAMETERS, Camera
from wellset.measures import COVERAGE_FACTOR
from wellset.measures.evaluate import COMPLEX_STEP

Array = NDArray[np.float64]

CROWN_M: Final = 0.13
"""Top of the head above the ears, for the golfer's height in the picture (our judgement)."""

_POINTS: Final = (
    "lead_ankle",
    "trail_ankle",
    "lead_shoe_toe",
    "trail_shoe_toe",
    "lead_hip",
    "trail_hip",
    "grip_mid",
)
_CAMERA: Final = len(CAMERA_PARAMETERS)


@frozen(kw_only=True)
class CameraValue:
    """One quantity of a camera with its standard uncertainty; metre or radian."""

    value: float
    sd: float

    @property
    def interval95(self) -> tuple[float, float]:
        """The 95 % interval."""
        half = COVERAGE_FACTOR * self.sd
        return self.value - half, self.value + half


@frozen(kw_only=True)
class CameraState:
    """How one phone was held, against a square and level one.

    Parameters
    ----------
    view : View
    height : CameraValue
        Of the lens above the ground, metre.
    distance : CameraValue
        Level distance from the lens to the middle between the ankles, metre.
    aim : CameraValue
        Where the phone looks, seen from above, against square, radian; + to the right.
        Square is straight across the target line face-on, along it down-the-line.
    tilt : CameraValue
        Of the line of sight, radian; + looks up.
    roll : CameraValue
        About the line of sight, radian; + with the right side of the phone up.
    sideways : CameraValue
        How far to the right the lens stands of where square would be, metre: face-on on the
        line through the middle of the stance, down-the-line on the line midway between the
        hands and the toes.
    bearing : CameraValue
        The angle that comes from `sideways` at this distance, radian: how far from square
        the golfer was seen, wherever the phone looked.
    over_hips : CameraValue
        Height of the lens above the middle of the hips, metre.
    hip_height : float
        Of the middle of the hips, metre.
    golfer_px : float
        Height of the golfer in the picture, pixel.
    share : float
        The same as a share of the picture's height.
    landscape : bool
        Whether the picture is wider than high.
    """

    view: View
    height: CameraValue
    distance: CameraValue
    aim: CameraValue
    tilt: CameraValue
    roll: CameraValue
    sideways: CameraValue
    bearing: CameraValue
    over_hips: CameraValue
    hip_height: float
    golfer_px: float
    share: float
    landscape: bool


@frozen(kw_only=True, eq=False)
class _Inputs:
    """Camera parameters and a few points, real or complex; leading axes are a batch."""

    values: NDArray[np.float64]
    base: Array

    def parameter(self, name: str) -> NDArray[np.float64]:
        """One of :data:`wellset.geometry.CAMERA_PARAMETERS`."""
        return self.values[..., CAMERA_PARAMETERS.index(name)]

    @property
    def lens(self) -> NDArray[np.float64]:
        """The optical centre, shape (..., 3)."""
        at = CAMERA_PARAMETERS.index("x")
        return self.values[..., at : at + 3]

    def __getitem__(self, landmark: str) -> NDArray[np.float64]:
        start = _CAMERA + 3 * _POINTS.index(landmark)
        return self.values[..., start : start + 3]

    def mid(self, stem: str) -> NDArray[np.float64]:
        """Midpoint of both sides, shape (..., 3)."""
        middle: NDArray[np.float64] = (self["lead_" + stem] + self["trail_" + stem]) / 2
        return middle

    @property
    def square_through(self) -> NDArray[np.float64]:
        """A point that the square line of sight passes through, shape (..., 3)."""
        if abs(self.base[1, 1]) > 0.5:  # looks along y
            return self.mid("ankle")
        middle: NDArray[np.float64] = (self["grip_mid"] + self.mid("shoe_toe")) / 2
        return middle

    @property
    def sideways(self) -> NDArray[np.float64]:
        """The lens's offset to the right of the square line, shape (...)."""
        offset: NDArray[np.float64] = (self.lens - self.square_through) @ self.base[0]
        return offset


def _distance(at: _Inputs) -> NDArray[np.float64]:
    # squares, not a norm: the derivative is taken along the imaginary axis
    away = (at.lens - at.mid("ankle"))[..., :2]
    distance: NDArray[np.float64] = np.sqrt((away**2).sum(-1))
    return distance


def _bearing(at: _Inputs) -> NDArray[np.float64]:
    ahead = (at.mid("ankle") - at.lens) @ at.base[1]
    angle: NDArray[np.float64] = np.arctan(at.sideways / ahead)
    return angle


_FORMULAS: Final[Mapping[str, Callable[[_Inputs], NDArray[np.float64]]]] = {
    "height": lambda at: at.parameter("z"),
    "distance": _distance,
    # the estimate's yaw turns the view to its left
    "aim": lambda at: -at.parameter("yaw"),
    "tilt": lambda at: at.parameter("pitch"),
    "roll": lambda at: at.parameter("roll"),
    "sideways": lambda at: at.sideways,
    "bearing": _bearing,
    "over_hips": lambda at: at.parameter("z") - at.mid("hip")[..., 2],
}


def camera_states(fit: Fit, /) -> Mapping[View, CameraState]:
    """How each phone of a solved set-up was held.

    Parameters
    ----------
    fit : Fit

    Returns
    -------
    mapping of View to CameraState
        Standard uncertainties are propagated linearly from the whole covariance, points
        included, with derivatives by complex step (Squire & Trapp 1998,
        doi 10.1137/S003614459631241X).
    """
    return {view: _state(fit, camera, view=view) for view, camera in fit.cameras.items()}


def _state(fit: Fit, camera: Camera, *, view: View) -> CameraState:
    points = fit.layout["points"].start
    columns = np.r_[
        fit.layout[view.value],
        np.concatenate([points + 3 * INDEX[name] + np.arange(3) for name in _POINTS]),
    ]
    real = fit.parameters[columns]
    stepped = real + 1j * COMPLEX_STEP * np.eye(len(columns))
    at = _Inputs(values=stepped, base=camera.base)
    results = np.array([formula(at) for formula in _FORMULAS.values()])
    gradients = np.imag(results) / COMPLEX_STEP
    variance = sum(
        ((gradients @ factor[columns]) ** 2).sum(1) for factor in fit.known.factors.values()
    )
    values = {
        name: CameraValue(value=float(value), sd=float(sd))
        for name, value, sd in zip(
            _FORMULAS, results[:, 0].real, np.sqrt(np.asarray(variance)), strict=True
        )
    }
    height_px = _golfer_px(fit, camera)
    return CameraState(
        view=view,
        **values,
        hip_height=values["height"].value - values["over_hips"].value,
        golfer_px=height_px,
        share=height_px / camera.height_px,
        landscape=camera.width_px > camera.height_px,
    )


def _golfer_px(fit: Fit, camera: Camera) -> float:
    """Height of the golfer in the picture, crown to shoes, lens distortion left out."""
    points = fit.figure.points
    ears = (fit.figure["lead_ear"] + fit.figure["trail_ear"]) / 2 + [0.0, 0.0, CROWN_M]
    seen = np.vstack([points[[INDEX[f"{s}_shoe_{e}"] for s in ("lead", "trail")
                              for e in ("heel", "toe")]], ears])  # fmt: skip
    pixels = camera.project(seen)[:, 1]
    return float(np.ptp(pixels))
