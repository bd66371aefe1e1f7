"""The general body model: where people are, 33 points of one of them, and an outline.

Two small networks (Apache-2.0) that ship inside an installed wheel are run by
ai-edge-litert; the wheel's own code is never imported. The first finds people
(a score and four key points for each of 2254 places), the second reads 33 body
points, a presence score and a 256 x 256 outline from a square cut-out turned so
that the body stands upright in it.
"""

from __future__ import annotations

import contextlib
import importlib.util
import os
import sys
import threading
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any, Final

import cv2
import numpy as np
from ai_edge_litert.interpreter import Interpreter
from attrs import field, frozen
from numpy.typing import NDArray

from wellset.errors import WellsetError
from wellset.figure.sighting import frozen_array
from wellset.vision.crops import Box, Cutout, reduce_for, square_cutout
from wellset.vision.values import Array, Float32, Pixels, pair

PACKAGE_WITH_MODELS: Final = "mediapipe"
DETECTOR_FILE: Final = "modules/pose_detection/pose_detection.tflite"
LANDMARK_FILE: Final = "modules/pose_landmark/pose_landmark_full.tflite"

DETECTOR_SIZE: Final = 224
BODY_SIZE: Final = 256
STRIDES: Final = (8, 16, 32, 32, 32)
LEAST_SCORE: Final = 0.5
OVERLAP_OF_ONE: Final = 0.3
"""Detections that overlap more than this are one person; with the score, the values the
model was published with."""

FLAT_BELOW: Final = 128.0
"""Range of brightness (1st to 99th percentile) below which contrast is stretched."""

ROOM_AROUND: Final = 1.25
"""Side of the body cut-out against the diameter through hip centre and head; as published."""

POINTS: Final = 33
GENERAL_POINTS: Final = {
    "nose": 0,
    "left_eye": 2, "right_eye": 5,
    "left_ear": 7, "right_ear": 8,
    "left_shoulder": 11, "right_shoulder": 12,
    "left_elbow": 13, "right_elbow": 14,
    "left_wrist": 15, "right_wrist": 16,
    "left_hip": 23, "right_hip": 24,
    "left_knee": 25, "right_knee": 26,
    "left_ankle": 27, "right_ankle": 28,
    "left_shoe_heel": 29, "right_shoe_heel": 30,
    "left_shoe_toe": 31, "right_shoe_toe": 32,
}  # fmt: skip
"""Row of each point in the general model's output; left and right are anatomical."""


def _points_px(value: object) -> Array:
    return frozen_array(POINTS, 2)(value)


def _points_m(value: object) -> Array:
    return frozen_array(POINTS, 3)(value)


def _visibility(value: object) -> Array:
    return frozen_array(POINTS)(value)


@frozen(kw_only=True, eq=False)
class Detection:
    """Somebody in a picture, as the first network sees them.

    Parameters
    ----------
    score : float
        0 to 1.
    head : Box
        Box around head and chest, picture pixels.
    hips_px, top_px : (2,) arrays
        Hip centre, and a point on the circle around the whole body above the head.
    """

    score: float
    head: Box
    hips_px: Array = field(converter=pair)
    top_px: Array = field(converter=pair)

    @property
    def reach_px(self) -> float:
        """Radius of the circle around the whole body, pixels."""
        return float(np.hypot(*(self.top_px - self.hips_px)))

    @property
    def turn(self) -> float:
        """How far the body is turned on the screen, clockwise from upright, radian."""
        across, down = self.top_px - self.hips_px
        return float(np.arctan2(across, -down))


@frozen(kw_only=True, eq=False)
class Body:
    """One person's body, as the second network sees it.

    Parameters
    ----------
    presence : float
        0 to 1: whether there is a person in the cut-out.
    points_px : (33, 2) array, picture frame, pixel
    visibility : (33,) array
        0 to 1: whether each point is in view and not hidden.
    points_m : (33, 3) array
        The model's guess in space: x to the right of the picture, y down, z away from
        the camera, metre, origin between the hips.
    outline : (256, 256) float32 array
        Probability that a pixel of the cut-out belongs to the person.
    cutout : Cutout
        Where the cut-out lies in the picture.
    """

    presence: float
    points_px: Array = field(converter=_points_px)
    visibility: Array = field(converter=_visibility)
    points_m: Array = field(converter=_points_m)
    outline: Float32
    cutout: Cutout


class GeneralModel:
    """The two networks, loaded once; calls from several threads take turns."""

    def __init__(self, *, threads: int = 1) -> None:
        self._lock = threading.Lock()
        folder = _models_folder()
        self._detector = _interpreter(folder / DETECTOR_FILE, threads=threads)
        self._body = _interpreter(folder / LANDMARK_FILE, threads=threads)

    def detect(
        self, picture: Pixels, *, part: Box | None = None, least_score: float = LEAST_SCORE
    ) -> tuple[Detection, ...]:
        """Everybody in a picture, or in a part of it, best score first.

        Parameters
        ----------
        picture : (height, width, 3) uint8 array
        part : Box, optional
            The part to look at; the whole picture if left out.
        least_score : float
            Places with a lower score are passed over.
        """
        height, width = picture.shape[:2]
        part = part or Box(left=0.0, top=0.0, right=width, bottom=height)
        cutout = square_cutout(
            centre_px=part.centre, side_px=max(part.width, part.height), size=DETECTOR_SIZE
        )
        drawn = _visible(
            reduce_for(picture, cutout=cutout, margin=0.0).draw(cutout, outside=cv2.BORDER_CONSTANT)
        )
        with self._lock:
            boxes, scores = _run(self._detector, drawn / np.float32(127.5) - np.float32(1.0))
        return _detections(
            boxes[0], _sigmoid(scores[0, :, 0]), cutout=cutout, least_score=least_score
        )

    def body(self, picture: Pixels, *, detection: Detection) -> Body:
        """The 33 points and the outline of one detected person."""
        cutout = square_cutout(
            centre_px=(float(detection.hips_px[0]), float(detection.hips_px[1])),
            side_px=2.0 * detection.reach_px * ROOM_AROUND,
            size=BODY_SIZE,
            turn=detection.turn,
        )
        drawn = _visible(reduce_for(picture, cutout=cutout, margin=0.0).draw(cutout))
        with self._lock:
            points, presence, outline, heat, metres = _run(self._body, drawn / np.float32(255.0))
        rows = points.reshape(-1, 5)[:POINTS].astype(np.float64)
        inside = _refined(rows[:, :2], heat=_sigmoid(heat[0]))
        return Body(
            presence=float(_sigmoid(presence)[0, 0] if presence.max() > 1.0 else presence[0, 0]),
            points_px=cutout.to_picture(inside),
            visibility=_sigmoid(rows[:, 3]),
            points_m=metres.reshape(-1, 3)[:POINTS],
            outline=_sigmoid(outline[0, :, :, 0]).astype(np.float32),
            cutout=cutout,
        )


@cache
def general_model(threads: int = 1) -> GeneralModel:
    """The general model, loaded at the first call and kept."""
    return GeneralModel(threads=threads)


def _models_folder() -> Path:
    """The installed package that carries the two files, found without importing it."""
    found = importlib.util.find_spec(PACKAGE_WITH_MODELS)
    places = list(found.submodule_search_locations or ()) if found else []
    for place in places:
        if (Path(place) / DETECTOR_FILE).is_file() and (Path(place) / LANDMARK_FILE).is_file():
            return Path(place)
    raise WellsetError(
        "The body model is missing",
        why=f"the two model files of the {PACKAGE_WITH_MODELS} package are not installed.",
        fix="Install the project again with its pinned requirements.",
        where=LANDMARK_FILE,
    )


def _interpreter(path: Path, *, threads: int) -> Interpreter:
    with _native_silence():
        interpreter = Interpreter(model_path=str(path), num_threads=threads)
        interpreter.allocate_tensors()
    return interpreter


@contextlib.contextmanager
def _native_silence() -> Iterator[None]:
    """Keep the runtime's greeting off the terminal; its C++ code writes past Python."""
    sys.stderr.flush()
    kept = os.dup(2)
    try:
        with Path(os.devnull).open("wb") as nowhere:
            os.dup2(nowhere.fileno(), 2)
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)


def _run(interpreter: Interpreter, image: Float32) -> list[NDArray[np.float32]]:
    interpreter.set_tensor(interpreter.get_input_details()[0]["index"], image[None])
    interpreter.invoke()
    return [
        np.asarray(interpreter.get_tensor(each["index"]), dtype=np.float32)
        for each in interpreter.get_output_details()
    ]


def _sigmoid(values: NDArray[np.floating[Any]]) -> Array:
    return np.asarray(1.0 / (1.0 + np.exp(-np.clip(values.astype(np.float64), -60.0, 60.0))))


@cache
def _anchors() -> Array:
    """Centres of the detector's 2254 places, as shares of the cut-out, ``(2254, 2)``.

    Neighbouring layers of one stride share a grid, with two places a layer.
    """
    grids: dict[int, int] = {}
    for stride in STRIDES:
        grids[stride] = grids.get(stride, 0) + 2
    centres: list[Array] = []
    for stride, places in grids.items():
        cells = DETECTOR_SIZE // stride
        axis = (np.arange(cells) + 0.5) / cells
        down, across = np.meshgrid(axis, axis, indexing="ij")
        centres.append(np.repeat(np.column_stack([across.ravel(), down.ravel()]), places, axis=0))
    return np.vstack(centres)


def _visible(drawn: Pixels) -> Float32:
    """The drawn cut-out, its contrast stretched where the picture is dark or flat.

    Both networks lose people in pictures three stops under-exposed; stretched, they
    find them (measured on darkened scenes: 11 of 48 lost against 1).
    """
    low, high = np.percentile(drawn[::4, ::4], (1.0, 99.0))
    if high - low >= FLAT_BELOW or high <= low:
        return drawn.astype(np.float32)
    stretched = (drawn.astype(np.float32) - np.float32(low)) * np.float32(255.0 / (high - low))
    return np.asarray(np.clip(stretched, 0.0, 255.0), dtype=np.float32)


def _detections(
    boxes: Float32, scores: Array, *, cutout: Cutout, least_score: float
) -> tuple[Detection, ...]:
    """Merge the places that mean the same person, each place weighing by its score."""
    left = np.flatnonzero(scores >= least_score)
    found: list[Detection] = []
    decoded = boxes.astype(np.float64).reshape(len(boxes), -1, 2)
    decoded[:, [0, *range(2, decoded.shape[1])]] += _anchors()[:, None] * DETECTOR_SIZE
    while left.size:
        best = left[scores[left].argmax()]
        same = np.array([_overlap(decoded[best], decoded[i]) > OVERLAP_OF_ONE for i in left])
        group = left[same]
        weights = scores[group] / scores[group].sum()
        mean = np.tensordot(weights, decoded[group], axes=1)
        corners = cutout.to_picture(np.array([mean[0] - mean[1] / 2, mean[0] + mean[1] / 2]))
        keys = cutout.to_picture(mean[2:4])
        head = Box.around(corners)
        found.append(
            Detection(score=float(scores[best]), head=head, hips_px=keys[0], top_px=keys[1])
        )
        left = left[~same]
    return tuple(found)


def _overlap(one: Array, other: Array) -> float:
    boxes = [Box.around(np.array([d[0] - d[1] / 2, d[0] + d[1] / 2])) for d in (one, other)]
    return boxes[0].overlap(boxes[1])


def _refined(points: Array, *, heat: Array) -> Array:
    """Move each point to the centre of its heat map's peak nearby, where there is one.

    Seven cells wide, and only where the peak reaches one half, as published.
    """
    cells = heat.shape[0]
    refined = points.copy()
    for row, (x, y) in enumerate(points / BODY_SIZE * cells):
        column, line = int(x), int(y)
        if not (0 <= column < cells and 0 <= line < cells):
            continue
        lines = np.arange(max(0, line - 3), min(cells, line + 4))
        columns = np.arange(max(0, column - 3), min(cells, column + 4))
        peak = heat[np.ix_(lines, columns)][..., row]
        if peak.max() < LEAST_SCORE:
            continue
        total = peak.sum()
        centre = np.array([(peak * columns).sum(), (peak * lines[:, None]).sum()]) / total
        refined[row] = centre / cells * BODY_SIZE
    return refined
