"""Scenes with exact truth, in the names and the frame of the project.

The scenes are rendered pictures of invented golfers; their truth files were written by the
renderer, not by this project. Left-handed scenes are mirrored, as the doors do.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Final, TypedDict

import numpy as np
from numpy.typing import NDArray

from wellset.figure.figure import BUILD_SCALARS, FigureState
from wellset.figure.landmarks import LANDMARKS

Array = NDArray[np.float64]

SCENES: Final = Path(__file__).parents[1] / "data" / "scenes"
THREE_SCENES: Final = (
    "mid_iron_neutral_21",
    "mid_iron_left_handed_weight_in_heels_01",
    "driver_neutral_01",
)
SOME_SCENES: Final = (
    *THREE_SCENES,
    "putter_high_handle_closed_01",
    "wedge_arched_lower_back_21",
    "fairway_wood_left_handed_reaching_21",
)
ORDINARY_SCALARS: Final = {
    "shoe_breadth": 0.083,
    "thigh_half_depth": 0.125,
    "nape_cloth": 0.008,
    "mass_offset_x": 0.0,
    "mass_offset_y": 0.0,
}


class ViewTruth(TypedDict):
    """One picture of a scene."""

    width: int
    height: int
    K: list[list[float]]
    R: list[list[float]]
    t: list[float]
    k1_k2: list[float]
    landmarks_px: dict[str, list[float]]
    depth_m: dict[str, float]
    focal_35mm_tag: float | None


class MeasureTruth(TypedDict):
    """One measure of a scene."""

    value: float
    unit: str


class StickTruth(TypedDict):
    """One stick on the ground."""

    ends: list[list[float]]


class MarkerTruth(TypedDict):
    """One marker on the ground; corners clockwise from the top left of the pattern."""

    corners: list[list[float]]
    side_m: float
    inner_bits: list[list[int]]


class Truth(TypedDict):
    """The parts of a truth file that the tests read."""

    name: str
    hand: str
    lead_side: str
    club: str
    club_length_m: float
    stature_m: float
    landmarks_m: dict[str, list[float]]
    measures: dict[str, MeasureTruth]
    views: dict[str, ViewTruth]
    on_the_ground: dict[str, StickTruth]


_RENAMED: Final = {
    "c7": "C7_cloth",
    "t8": "T8_cloth",
    "t12": "T12L1_cloth",
    "l3": "L3_cloth",
    "s1": "S1_cloth",
    "sternum": "sternum_cloth",
}


def load(scene: str) -> Truth:
    """The truth file of a scene."""
    truth: Truth = json.loads((SCENES / scene / "truth.json").read_text(encoding="utf-8"))
    return truth


def scene_name(truth: Truth, landmark: str) -> str:
    """What the scene calls one of our landmarks."""
    side, _, stem = landmark.partition("_")
    lead = truth["lead_side"]
    if side == "lead":
        return f"{stem}_{lead}"
    if side == "trail":
        return f"{stem}_{'left' if lead == 'right' else 'right'}"
    return _RENAMED.get(landmark, landmark)


def points(truth: Truth) -> Array:
    """Points in the order of ``LANDMARKS``, shape (N, 3), target at +x for both hands."""
    mirror = np.array([1.0 if truth["hand"] == "right" else -1.0, 1.0, 1.0])
    raw = [truth["landmarks_m"][scene_name(truth, name)] for name in LANDMARKS]
    at: Array = np.array(raw) * mirror
    return at


def state(at: Array, **scalars: float) -> FigureState:
    """A figure of these points; without mass weights and with ordinary build scalars."""
    build = [{**ORDINARY_SCALARS, **scalars}[name] for name in BUILD_SCALARS]
    return FigureState(
        values=np.concatenate([at.ravel(), build]), mass_weights=np.zeros(len(LANDMARKS))
    )
