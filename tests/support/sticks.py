"""Pictures of sticks with exactly known centre lines, drawn for tests."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import cv2
import numpy as np
from numpy.typing import NDArray

from tests.support.truth import Truth, ViewTruth, scene_name
from wellset.figure.landmarks import LANDMARKS

Array = NDArray[np.float64]
Picture = NDArray[np.uint8]

WIDTH: Final = 720
HEIGHT: Final = 960
METRE_PX: Final = 300.0
GRASS: Final = (62.0, 112.0, 52.0)
FACE_ON: Final[dict[str, tuple[float, float]]] = {
    "nose": (360.0, 325.0),
    "lead_shoulder": (410.0, 349.0),
    "trail_shoulder": (310.0, 352.0),
    "lead_hip": (395.0, 451.0),
    "trail_hip": (325.0, 451.0),
    "lead_knee": (415.0, 570.0),
    "trail_knee": (305.0, 570.0),
    "lead_ankle": (425.0, 700.0),
    "trail_ankle": (295.0, 700.0),
    "lead_shoe_heel": (424.0, 703.0),
    "trail_shoe_heel": (296.0, 703.0),
    "lead_shoe_toe": (435.0, 735.0),
    "trail_shoe_toe": (285.0, 735.0),
    "grip_end": (372.0, 480.0),
    "shaft_end": (340.0, 795.0),
    "ball": (362.0, 800.0),
}
"""A golfer seen face-on, 1.2 m from shoulder to ankle shown as 350 px."""


def landmarks() -> dict[str, Array]:
    """The face-on golfer's landmarks, in pixels."""
    return {name: np.array(place) for name, place in FACE_ON.items()}


def grass(*, seed: int = 0, stripe_px: int | None = None) -> Array:
    """Grass-like texture, with mown stripes where asked for; float, 0 to 255."""
    rng = np.random.default_rng(seed)
    blades = cv2.GaussianBlur(rng.normal(0, 1, (HEIGHT, WIDTH)), (0, 0), 1.0)
    ground = np.array(GRASS) + 28 * blades[..., None] * [0.8, 1.0, 0.6]
    if stripe_px is not None:
        mown = (np.arange(HEIGHT) // stripe_px) % 2
        ground = ground * (1 + 0.12 * mown[:, None, None])
    return ground


def blended(picture: Array, cover: Array, *, colour: tuple[float, float, float]) -> Array:
    """``picture`` with ``colour`` laid over it to the share ``cover``."""
    return np.asarray(picture * (1 - cover[..., None]) + np.array(colour) * cover[..., None])


def with_stick(
    picture: Array,
    ends: Array,
    *,
    colour: tuple[float, float, float] = (230.0, 110.0, 40.0),
    width_px: float = 3.0,
    sagitta_px: float = 0.0,
) -> Array:
    """A stick between two points, anti-aliased; bowed by ``sagitta_px`` at its middle."""
    y, x = np.mgrid[: picture.shape[0], : picture.shape[1]] + 0.5
    run = ends[1] - ends[0]
    length = float(np.linalg.norm(run))
    along = ((x - ends[0, 0]) * run[0] + (y - ends[0, 1]) * run[1]) / length
    across = ((y - ends[0, 1]) * run[0] - (x - ends[0, 0]) * run[1]) / length
    across = across - sagitta_px * 4 * along * (length - along) / length**2
    beyond = np.maximum(np.maximum(-along, along - length), 0.0)
    side = np.clip(0.5 * width_px + 0.5 - np.abs(across), 0, 1)
    return blended(picture, side * np.clip(1 - beyond, 0, 1), colour=colour)


def as_picture(picture: Array, *, seed: int = 1) -> Picture:
    """Softened by a lens, with sensor noise, as 8-bit."""
    rng = np.random.default_rng(seed)
    soft = cv2.GaussianBlur(picture, (0, 0), 0.6) + rng.normal(0, 2.0, picture.shape)
    return np.clip(np.rint(soft), 0, 255).astype(np.uint8)


def distance_px(points: Array, ends: Array) -> Array:
    """Distance of points to the straight line through two ends, signed."""
    run = ends[1] - ends[0]
    off = points - ends[0]
    cross: Array = (off[:, 1] * run[0] - off[:, 0] * run[1]) / np.linalg.norm(run)
    return cross


def scene_landmarks(truth: Truth, view: ViewTruth) -> dict[str, Array]:
    """The landmarks of a rendered scene as its truth file has them, in pixels."""
    return {name: np.array(view["landmarks_px"][scene_name(truth, name)]) for name in LANDMARKS}


def scene_stick_px(view: ViewTruth, ends: list[list[float]]) -> Array:
    """The centre line of a scene's stick in the picture, ``(200, 2)``, lens included."""
    share = np.linspace(0, 1, 200)[:, None]
    world = np.array(ends[0]) * (1 - share) + np.array(ends[1]) * share
    seen = world @ np.array(view["R"]).T + np.array(view["t"])
    plane = seen[:, :2] / seen[:, 2:]
    r2 = (plane**2).sum(axis=1, keepdims=True)
    k1, k2 = view["k1_k2"]
    matrix = np.array(view["K"])
    pixels: Array = plane * (1 + k1 * r2 + k2 * r2**2) @ matrix[:2, :2].T + matrix[:2, 2]
    return pixels


def distance_to_curve_px(point: Array, curve: Array) -> float:
    """Distance of a point to a chain of points."""
    near = int(np.linalg.norm(curve - point, axis=1).argmin())
    first = min(max(near - 1, 0), len(curve) - 3)
    return float(np.abs(distance_px(point[None], curve[[first, first + 2]]))[0])


def mirrored(places: Mapping[str, Array]) -> dict[str, Array]:
    """Landmarks of the mirrored picture."""
    return {name: np.array([WIDTH - p[0], p[1]]) for name, p in places.items()}
