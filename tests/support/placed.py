"""Pictures of rendered set-ups by phones that are held as one asks.

Points are the true ones of a scene (left-handers mirrored, as the doors do), seen through a
camera of stated height, distance, place and attitude, with drawn noise of the stated size.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from tests.support.sightings import scene_setting
from tests.support.truth import load, points
from wellset.assess import Fit, fit
from wellset.assess.cameras import BASE
from wellset.assess.common import shared_shift
from wellset.figure.landmarks import INDEX, LANDMARKS
from wellset.figure.sighting import PictureFacts, ProposedByModel, Sighting, StickSighting
from wellset.figure.views import View
from wellset.geometry import Camera, focal_px_from_35mm

Array = NDArray[np.float64]

WIDTH_PX, HEIGHT_PX, FOCAL_35MM = 1512, 2016, 26.0
NOISE_M, STICK_SD_PX = 0.004, 0.7
STICKS: Final = {
    "target": np.array([[-0.55, -0.10, 0.008], [0.55, -0.10, 0.008]]),
    "cross": np.array([[0.0, 0.06, 0.014], [0.0, 0.75, 0.014]]),
    "upright": np.array([[0.1, -0.25, 0.0], [0.1, -0.25, 1.1]]),
}
"""Places on sticks that lie or stand truly, metre."""


@frozen(kw_only=True)
class Held:
    """How a phone is held, metre and degrees; signs as in the camera check."""

    height: float = 0.95
    distance: float = 3.2
    aim: float = 0.0
    tilt: float = 0.0
    roll: float = 0.0
    sideways: float = 0.0
    aimed_at_golfer: bool = False
    """Whether it is turned back to the golfer from where it stands, on top of `aim`."""
    width_px: int = WIDTH_PX
    height_px: int = HEIGHT_PX
    focal_35mm: float = FOCAL_35MM


SQUARE: Final = {view: Held() for view in View}


def camera(view: View, held: Held, *, at: Array) -> Camera:
    """The camera of a phone held like this before a figure."""
    ankles = (at[INDEX["lead_ankle"]] + at[INDEX["trail_ankle"]]) / 2
    toes = (at[INDEX["lead_shoe_toe"]] + at[INDEX["trail_shoe_toe"]]) / 2
    base = BASE[view]
    through = ankles if view is View.FACE_ON else (at[INDEX["grip_mid"]] + toes) / 2
    right = through @ base[0] + held.sideways
    across = right - ankles @ base[0]
    ahead = np.sqrt(held.distance**2 - across**2)
    place = right * base[0] + (ankles @ base[1] - ahead) * base[1]
    turn = held.aim + (np.degrees(-np.arctan2(held.sideways, ahead)) if held.aimed_at_golfer else 0)
    focal = focal_px_from_35mm(held.focal_35mm, width_px=held.width_px, height_px=held.height_px)
    yaw, pitch, roll = np.radians([-turn, held.tilt, held.roll])
    return Camera(
        parameters=[np.log(focal), yaw, pitch, roll, place[0], place[1], held.height, 0, 0, 0],
        base=base,
        width_px=held.width_px,
        height_px=held.height_px,
    )


def pictures(
    scene: str,
    held: Mapping[View, Held] = SQUARE,
    *,
    sticks: tuple[str, ...] = ("target", "cross"),
    seed: int | None = 0,
) -> list[Sighting]:
    """The pictures such phones take of a scene's set-up; ``seed`` None for no noise."""
    return pictures_of(points(load(scene)), held, sticks=sticks, seed=seed)


def pictures_of(
    at: Array,
    held: Mapping[View, Held] = SQUARE,
    *,
    sticks: tuple[str, ...] = ("target", "cross"),
    seed: int | None = 0,
) -> list[Sighting]:
    """The same of any points, in the order of the landmarks, ``(N, 3)``."""
    rng = None if seed is None else np.random.default_rng(seed)
    return [_picture(view, h, at=at, sticks=sticks, rng=rng) for view, h in held.items()]


def _picture(
    view: View,
    held: Held,
    *,
    at: Array,
    sticks: tuple[str, ...],
    rng: np.random.Generator | None,
) -> Sighting:
    seen_by = camera(view, held, at=at)
    sd = seen_by.focal_px / seen_by.depth(at) * NOISE_M
    pixels = seen_by.project(at)
    noise = np.zeros((2, 2))
    if rng is not None:
        shift = shared_shift(view, list(LANDMARKS), sd_px=np.stack([sd, sd], 1))
        alone = np.sqrt(sd[:, None] ** 2 - (shift**2).sum(2))
        pixels = pixels + alone * rng.normal(size=pixels.shape)
        pixels = pixels + shift @ rng.normal(size=shift.shape[2])
        noise = rng.normal(0, STICK_SD_PX, (2, 2))
    return Sighting(
        view=view,
        picture=PictureFacts(
            name=f"{view.value}.jpg",
            width_px=held.width_px,
            height_px=held.height_px,
            focal_35mm=held.focal_35mm,
        ),
        landmarks={
            name: ProposedByModel(position_px=pixels[i], covariance_px2=np.eye(2) * sd[i] ** 2)
            for i, name in enumerate(LANDMARKS)
        },
        sticks=tuple(
            StickSighting(ends_px=seen_by.project(STICKS[name]) + noise, sd_px=STICK_SD_PX)
            for name in sticks
        ),
    )


def fit_placed(
    scene: str,
    held: Mapping[View, Held] = SQUARE,
    *,
    sticks: tuple[str, ...] = ("target", "cross"),
    seed: int | None = 0,
) -> Fit:
    """The estimate from such pictures."""
    found = pictures(scene, held, sticks=sticks, seed=seed)
    return fit(scene_setting(scene), found, rendered_to_real=False)
