"""Finding the golfer: candidates in the order worth trying, and who else is there.

The general model finds a person in most pictures at the first look. When it does
not (small, grey or noisy pictures), it is shown parts of the picture and asked for
less certain answers; the landmark network then has the last word on each candidate.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import cv2
import numpy as np
from attrs import evolve

from wellset.vision.crops import Box
from wellset.vision.general import GENERAL_POINTS, Body, Detection, GeneralModel
from wellset.vision.values import Array, Flags, Pixels

FAINT_SCORE: Final = 0.15
"""Least detector score worth a second look. Grey and noisy versions of the tuned-on
scenes gave true golfers scores down to 0.14; the landmark network weeds out the rest."""

MOST_FAINT: Final = 5
PARTS: Final = (0.8, 0.6)
"""Sides of the square parts looked at, as shares of the picture's height, when the whole
picture shows nobody: a golfer twice as large in the detector's 224 pixels."""

TURNED_SCORE: Final = 0.6
STANDING: Final = 0.7
"""Detector score that counts as standing out in a turned picture, and how far from upright a
standing body may lean, radian."""

CENTRED_WORTH: Final = 0.5
"""A person at the picture's edge counts as this much smaller than one in its middle."""

CROP_CHANGE: Final = 0.15
"""If the body's points ask for a cut-out that differs by more than this share of its size,
the body is read again from there."""

OTHER_SCORE: Final = 0.4
OTHER_PRESENCE: Final = 0.7
OTHER_HEIGHT: Final = 0.5
LEAST_HEIGHT: Final = 0.35
"""What is worth a look of the landmark network as a second golfer: detector score, presence
and height against the golfer; and the height from which somebody may disturb its look at the
golfer: people pasted into scenes at 0.4 of the golfer's height moved no point, at 0.7 nearly
all."""

MOST_OTHERS: Final = 3

SURE_PRESENCE: Final = 0.95
SURE_VISIBILITY: Final = 0.7
"""Presence and mean visibility of what surely is a person. Phantoms that the detector sees
where the golfer was painted over stay below on all 48 scenes."""

ERASED_ABOVE: Final = 0.2
ERASED_ROOM: Final = 0.035
"""Outline probability that is painted over, and how far beyond, as a share of the cut-out."""

WORKING_SIDE_PX: Final = 288
FILLED_FROM: Final = 0.11
"""Width of the surroundings that fill what is painted over, as a share of the picture."""

MARGINS: Final = {"left": 0.07, "top": 0.125, "right": 0.05, "bottom": 0.05}
"""Room from the general model's outermost points to the golfer's outline, as shares of the
points' height: means over the tuned-on scenes (sd 0.01 to 0.05)."""


def golfer_box(body: Body) -> Box:
    """Box around a golfer's outline, guessed from the general model's points, pixels."""
    points = Box.around(body.points_px)
    return Box(
        left=points.left - MARGINS["left"] * points.height,
        top=points.top - MARGINS["top"] * points.height,
        right=points.right + MARGINS["right"] * points.height,
        bottom=points.bottom + MARGINS["bottom"] * points.height,
    )


def clear_people(picture: Pixels, *, model: GeneralModel) -> Iterator[Body]:
    """People who stand out, largest and most central first; each is read when asked for.

    Parameters
    ----------
    picture : (height, width, 3) uint8 array
    model : GeneralModel
    """
    for detection in likeliest_first(model.detect(picture), width_px=picture.shape[1]):
        yield read_body(picture, model=model, detection=detection)


def likeliest_first(found: Sequence[Detection], *, width_px: int) -> list[Detection]:
    """Detections by how likely each is the golfer: large and near the middle first."""
    return sorted(found, key=lambda detection: -_worth(detection, width_px=width_px))


def faint_people(picture: Pixels, *, model: GeneralModel) -> Iterator[Body]:
    """What might be people, in the whole picture and in parts of it, likeliest first.

    Parameters
    ----------
    picture : (height, width, 3) uint8 array
    model : GeneralModel
    """
    for detection in faint_detections(picture, model=model)[:MOST_FAINT]:
        yield read_body(picture, model=model, detection=detection)


def faint_detections(picture: Pixels, *, model: GeneralModel) -> list[Detection]:
    """What might be people, in the whole picture and in parts of it, best score first."""
    height, width = picture.shape[:2]
    faint = [
        each
        for part in _parts(height, width)
        for each in model.detect(picture, part=part, least_score=FAINT_SCORE)
    ]
    return sorted(faint, key=lambda detection: -detection.score)


def read_body(picture: Pixels, *, model: GeneralModel, detection: Detection) -> Body:
    """The body of a detected person; read twice where the first cut-out sat badly."""
    body = model.body(picture, detection=detection)
    better = detection_from(body.points_px)
    moved = float(np.hypot(*(better.hips_px - detection.hips_px))) / detection.reach_px
    grown = abs(better.reach_px / detection.reach_px - 1.0)
    if max(moved, grown / 2.0) <= CROP_CHANGE:
        return body
    again = model.body(picture, detection=better)
    return again if again.presence >= min(body.presence, SURE_PRESENCE) else body


def detection_from(points_px: Array) -> Detection:
    """The detection that fits a body's 33 points: hip centre, upright axis and reach."""
    hips = points_px[[GENERAL_POINTS["left_hip"], GENERAL_POINTS["right_hip"]]].mean(axis=0)
    chest = points_px[[GENERAL_POINTS["left_shoulder"], GENERAL_POINTS["right_shoulder"]]].mean(
        axis=0
    )
    reach = float(np.hypot(*(points_px - hips).T).max())
    axis = chest - hips
    length = float(np.hypot(*axis))
    upward = axis / length if length > 0.0 else np.array([0.0, -1.0])
    return Detection(
        score=1.0,
        head=Box.around(points_px[:11]),
        hips_px=hips,
        top_px=hips + upward * reach,
    )


def lies_turned(picture: Pixels, *, model: GeneralModel) -> bool:
    """Whether a person stands out once the picture is turned by quarter turns."""
    for quarter in (1, 2, 3):
        upright = np.ascontiguousarray(np.rot90(picture, quarter))
        for detection in model.detect(upright, least_score=TURNED_SCORE)[:1]:
            stands = abs(detection.turn) < STANDING  # the model finds people who lie, too
            if stands and is_person(read_body(upright, model=model, detection=detection)):
                return True
    return False


def others(
    picture: Pixels, *, golfer: Body, model: GeneralModel
) -> tuple[tuple[Body, ...], Pixels]:
    """Further people of similar size, found with the golfer painted over.

    Parameters
    ----------
    picture : (height, width, 3) uint8 array
    golfer : Body
    model : GeneralModel

    Returns
    -------
    bodies : tuple of Body
        In pixels of the picture; empty in most pictures. Some may be phantoms.
    alone : (height, width, 3) uint8 array
        The picture they were read from; the picture itself where nobody was found.
    """
    small, covered, factor = _painted_small(picture, body=golfer)
    seen = model.detect(_composed(small, covered=covered), least_score=OTHER_SCORE)
    detections = seen[:MOST_OTHERS]
    if not detections:
        return (), picture
    alone = without(picture, body=golfer)
    bodies = [
        model.body(alone, detection=_scaled(detection, factor=factor)) for detection in detections
    ]
    return tuple(body for body in bodies if _is_another(body, golfer=golfer)), alone


def without(picture: Pixels, *, body: Body, but: Body | None = None) -> Pixels:
    """The picture with one person painted over by the surroundings.

    Parameters
    ----------
    picture : (height, width, 3) uint8 array
    body : Body
        Who is painted over.
    but : Body, optional
        Who stands in front and stays.
    """
    small, covered, _ = _painted_small(picture, body=body)
    if but is not None:
        covered = covered & ~_painted_small(picture, body=but)[1]
    height, width = picture.shape[:2]
    filling = cv2.resize(_composed(small, covered=covered), (width, height))
    there = cv2.resize(covered.astype(np.uint8), (width, height)) > 0
    return np.where(there[..., None], filling, picture).astype(np.uint8)


def _worth(detection: Detection, *, width_px: int) -> float:
    off = abs(float(detection.hips_px[0]) / width_px - 0.5) * 2.0
    return detection.reach_px * (1.0 - (1.0 - CENTRED_WORTH) * min(off, 1.0))


def _parts(height: int, width: int) -> tuple[Box | None, ...]:
    """The whole picture, then square parts of it, a little below the middle."""
    parts: list[Box | None] = [None]
    for share in PARTS:
        half = share * height / 2.0
        centres = [width / 2.0] if 2.0 * half >= width else [half, width / 2.0, width - half]
        middle = 0.53 * height
        parts.extend(
            Box(left=x - half, top=middle - half, right=x + half, bottom=middle + half)
            for x in centres
        )
    return tuple(parts)


def is_person(body: Body) -> bool:
    """Whether a body is surely a person, not a phantom of the detector."""
    return bool(body.presence >= SURE_PRESENCE and body.visibility.mean() >= SURE_VISIBILITY)


def is_as_tall(body: Body, *, as_who: Body) -> bool:
    """Whether somebody is tall enough in the picture to be taken for the golfer."""
    one, other = Box.around(as_who.points_px), Box.around(body.points_px)
    return bool(other.height >= OTHER_HEIGHT * one.height)


def _is_another(body: Body, *, golfer: Body) -> bool:
    one, other = Box.around(golfer.points_px), Box.around(body.points_px)
    return bool(
        body.presence >= OTHER_PRESENCE
        and other.height >= LEAST_HEIGHT * one.height
        and one.overlap(other) < 0.5
    )


def _painted_small(picture: Pixels, *, body: Body) -> tuple[Pixels, Flags, float]:
    """A small copy of the picture, where the body covers it, and the reduction."""
    height, width = picture.shape[:2]
    factor = max(1, max(height, width) // WORKING_SIDE_PX)
    size = (width // factor, height // factor)
    whole = picture[: size[1] * factor, : size[0] * factor]
    small = np.asarray(cv2.resize(whole, size, interpolation=cv2.INTER_AREA), dtype=np.uint8)
    affine = body.cutout.picture_from_cutout / factor
    centres = np.column_stack(
        [affine[:, :2], affine[:, 2] + affine[:, :2] @ np.array([0.5, 0.5]) - 0.5]
    )
    there = (body.outline > ERASED_ABOVE).astype(np.uint8)
    outline = cv2.warpAffine(there, centres, size, flags=cv2.INTER_NEAREST)
    room = max(1, round(ERASED_ROOM * body.cutout.size / body.cutout.scale / factor))
    covered = cv2.dilate(outline, np.ones((2 * room + 1, 2 * room + 1), np.uint8)) > 0
    return small, np.asarray(covered), float(factor)


def _composed(small: Pixels, *, covered: Flags) -> Pixels:
    """The small picture with what is covered filled from around."""
    around = np.where(covered, 0.0, 1.0).astype(np.float32)
    side = int(FILLED_FROM * max(small.shape[:2])) | 1
    wide = (side, side)  # twice a box is nearly a Gaussian, and quick
    light = cv2.blur(cv2.blur(small.astype(np.float32) * around[..., None], wide), wide)
    weight = cv2.blur(cv2.blur(around, wide), wide) + 1e-4
    return np.where(covered[..., None], light / weight[..., None], small).astype(np.uint8)


def _scaled(detection: Detection, *, factor: float) -> Detection:
    """A detection in a reduced picture, in pixels of the whole one."""
    return evolve(detection, hips_px=detection.hips_px * factor, top_px=detection.top_px * factor)
