"""Marker sheets laid into scenes: as exact sightings, and into the pictures themselves."""

from __future__ import annotations

import json
from collections.abc import Sequence
from functools import cache
from typing import Final

import cv2
import numpy as np
import pypdfium2
from attrs import evolve, frozen
from numpy.typing import NDArray

from tests.support.sightings import scene_px
from tests.support.truth import SCENES, MarkerTruth, Truth, load, scene_name
from wellset.equipment.sheet import PRINT_SCALE_SD, SHEET_MARKER, Marker
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.sighting import MarkerSighting, Sighting
from wellset.figure.views import View
from wellset.reports.sheet import PAPERS, placed, sheet_pdf

Array = NDArray[np.float64]
Rgb = NDArray[np.uint8]

MARKED_SCENE: Final = "mid_iron_ball_too_far_back_21"
"""A scene whose renderer laid a marker of its own on the ground."""
CORNER_SD_PX: Final = 0.25
DPI: Final = 150.0


@frozen(kw_only=True)
class Lie:
    """Where a sheet truly lies, in the project's frame; metre and radian."""

    x: float = -0.5
    y: float = 0.05
    height: float = 0.002
    yaw: float = 0.0

    def corners(self, side: float) -> Array:
        """Corners of the square by (u, v), shape (4, 3)."""
        turn = np.array(
            [[np.cos(self.yaw), -np.sin(self.yaw)], [np.sin(self.yaw), np.cos(self.yaw)]]
        )
        square = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]]) * side / 2
        at = square @ turn.T + [self.x, self.y]
        return np.column_stack([at, np.full(4, self.height)])


def corners_px(truth: Truth, view: View, world: Array) -> Array:
    """Pixels in the picture as taken of points in the project's frame."""
    mirror = np.array([1.0 if truth["hand"] == "right" else -1.0, 1.0, 1.0])
    return scene_px(truth["views"][view.value], world * mirror)


def sighting_of(
    truth: Truth, view: View, lie: Lie, *, rng: np.random.Generator | None = None
) -> MarkerSighting:
    """The sheet as a picture shows it, in the frame the estimate uses."""
    side = SHEET_MARKER.side_m
    pixels = corners_px(truth, view, lie.corners(side))
    if truth["hand"] == "left":
        pixels = pixels * [-1, 1] + [truth["views"][view.value]["width"], 0]
    if rng is not None:
        pixels = pixels + rng.normal(0, CORNER_SD_PX, (4, 2))
    return MarkerSighting(
        name=SHEET_MARKER.name,
        corners_px=pixels,
        covariance_px2=np.stack([np.eye(2) * CORNER_SD_PX**2] * 4),
        side_m=side,
        side_sd_m=PRINT_SCALE_SD * side,
    )


def with_sheet(
    scene: str, sightings: Sequence[Sighting], lie: Lie, *, seed: int | None = None
) -> list[Sighting]:
    """The scene's sightings with a sheet in each picture."""
    rng = None if seed is None else np.random.default_rng(seed)
    truth = load(scene)
    return [evolve(s, markers=(sighting_of(truth, s.view, lie, rng=rng),)) for s in sightings]


@cache
def sheet_raster(paper: str, dpi: float = DPI) -> NDArray[np.uint8]:
    """The printed sheet in grey, shape (h, w)."""
    with pypdfium2.PdfDocument(sheet_pdf(PAPERS[paper])) as document:
        page = document[0]
        grey = page.render(scale=dpi / 72, grayscale=True).to_numpy()
        page.close()
    return np.array(grey).reshape(grey.shape[:2])


def picture(scene: str, view: View) -> Rgb:
    """A scene's picture, red first."""
    read = cv2.imread(str(SCENES / scene / f"{view.value}.jpg"))
    assert read is not None
    return np.ascontiguousarray(read[..., ::-1], dtype=np.uint8)


def landmarks_in(scene: str, view: View) -> dict[str, Array]:
    """True points in the picture as taken, by our names."""
    truth = load(scene)
    seen = truth["views"][view.value]["landmarks_px"]
    return {name: np.array(seen[scene_name(truth, name)]) for name in LANDMARKS}


def lay_into(scene: str, view: View, lie: Lie, *, blur_px: float = 0.6) -> Rgb:
    """The scene's picture with a printed sheet lying in it, somewhat unsharp and noisy."""
    truth, rgb = load(scene), picture(scene, view)
    at, grey = placed(PAPERS["a4"]), sheet_raster("a4")
    left, top, side = at.square_left, at.square_top, at.square_side
    square = np.array([[left, top], [left + side, top], [left + side, top + side]])
    square = np.vstack([square, [left, top + side]]) * DPI / 25.4 - 0.5
    pixels = corners_px(truth, view, lie.corners(SHEET_MARKER.side_m))
    # top left, top right, bottom right, bottom left of the print; a left-hander's golfer
    # stands to the right of the arrow
    pixels = pixels[[2, 1, 0, 3]] if truth["hand"] == "right" else pixels[[1, 2, 3, 0]]
    fine = 4
    matrix = cv2.getPerspectiveTransform(
        square.astype(np.float32), (pixels * fine - 0.5).astype(np.float32)
    )
    size = (rgb.shape[1] * fine, rgb.shape[0] * fine)
    layers = np.dstack([30 + 195 * (grey / 255.0), np.full(grey.shape, 255.0)]).astype(np.float32)
    soft = cv2.GaussianBlur(layers, (0, 0), 1.0)
    shown = cv2.resize(
        cv2.warpPerspective(soft, matrix, size), rgb.shape[1::-1], interpolation=cv2.INTER_AREA
    )
    cover = shown[..., 1:] / 255
    mixed = cv2.GaussianBlur(rgb * (1 - cover) + shown[..., :1] * cover, (0, 0), blur_px)
    noise = np.random.default_rng(5).normal(0, 2.0, mixed.shape)
    near = cv2.dilate(np.ascontiguousarray(cover), np.ones((9, 9)))[..., None] > 0
    laid = np.where(near, mixed + noise * (cover > 0), rgb)  # the rest stays as it was
    return np.clip(np.rint(laid), 0, 255).astype(np.uint8)


def rendered_marker() -> tuple[Marker, MarkerTruth]:
    """The renderer's own marker as one to look for, and its truth.

    Its pattern belongs to no published dictionary.
    """
    text = (SCENES / MARKED_SCENE / "truth.json").read_text(encoding="utf-8")
    truth: MarkerTruth = json.loads(text)["on_the_ground"]["marker"]
    marker = Marker(
        name="sheet",
        bits=tuple(tuple(row) for row in truth["inner_bits"]),
        side_m=truth["side_m"],
        side_sd=PRINT_SCALE_SD,
    )
    return marker, truth
