"""A reading as landmarks: placed with a covariance, or not seen with a reason."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

import numpy as np

from wellset.figure.landmarks import LANDMARKS
from wellset.figure.notes import Note
from wellset.figure.sighting import NotSeen, Placement, ProposedByModel
from wellset.figure.views import View
from wellset.vision.backline import check_back
from wellset.vision.crosscheck import Checked, check, general_points
from wellset.vision.general import Body
from wellset.vision.noise import covariances_px2
from wellset.vision.reading import Reading
from wellset.vision.silhouette import Silhouette
from wellset.vision.values import Array

LOST_SPREAD: Final = 0.025
"""Spread b beyond this share of the golfer's height (4 cm): the network does not know where
the point is, and it is not given a number. The largest on the scenes is 0.004."""

EDGE_ROOM: Final = 0.012
NEAR_EDGE: Final = 0.04
UNSURE_AT_EDGE: Final = 0.008
"""A point this near to the picture's edge lies outside, or if its spread b exceeds the last
number, within the second (all in golfer heights). From scenes cut off at feet, shins and
hips: points from outside that the network placed inside lay within 0.04 with b of 0.006 to
0.034, or belong to a limb cut off higher up."""

HANGS_ON: Final = {
    "hip": ("knee", "ankle", "shoe_heel", "shoe_toe", "foot_ball"),
    "knee": ("ankle", "shoe_heel", "shoe_toe", "foot_ball"),
    "ankle": ("shoe_heel", "shoe_toe", "foot_ball"),
}
"""What must be outside the picture, below it, when a joint is."""


def place(
    reading: Reading,
    *,
    body: Body,
    silhouette: Silhouette,
    view: View,
    mirrored: bool,
    width_px: int,
    height_px: int,
) -> dict[str, Placement]:
    """Every landmark of a picture, in the mirrored frame for a left-hander.

    Parameters
    ----------
    reading : Reading
        In pixels of the unmirrored picture.
    body : Body
        The general model's view of the same golfer.
    silhouette : Silhouette
        The golfer's outline, in the same frame.
    view : View
    mirrored : bool
        Whether the golfer plays left-handed; then x becomes width - x.
    width_px, height_px : int
        Size of the picture.

    Returns
    -------
    dict of landmark name to Placement
    """
    theirs = general_points(body, mirrored=mirrored)
    covariances = covariances_px2(reading, view=view)
    unseen = _all_unseen(reading, size_px=(width_px, height_px))
    placed: dict[str, Placement] = {}
    for row, name in enumerate(LANDMARKS):
        if name in unseen:
            placed[name] = NotSeen(why=unseen[name])
            continue
        checked = check(
            name,
            position_px=reading.points_px[row],
            covariance_px2=covariances[row],
            other=theirs.get(name),
            view=view,
            height_px=reading.height_px,
            mirrored=mirrored,
        )
        checked = check_back(
            name,
            checked,
            silhouette=silhouette,
            view=view,
            height_px=reading.height_px,
            mirrored=mirrored,
        )
        placed[name] = _proposed(checked, mirrored=mirrored, width_px=width_px)
    return placed


def missing_note(landmarks: Mapping[str, Placement], *, name: str) -> Note | None:
    """The remark that feet, ball or club are not in the picture, or ``None``."""
    outside = [
        _words(landmark)
        for landmark, place in landmarks.items()
        if isinstance(place, NotSeen) and place.why == OUTSIDE
    ]
    if not outside:
        return None
    return Note(
        code="cut_off",
        message=f"Outside the picture: {', '.join(dict.fromkeys(outside))}.",
        remedy="Step back or tilt the phone so that the golfer, the whole club and the ball are "
        "in the picture with some room around them.",
        where=name,
    )


def disagreement_note(landmarks: Mapping[str, Placement], *, name: str) -> Note | None:
    """The remark that the two models disagree on some points, or ``None``."""
    apart = {
        landmark: place.disagreement_px
        for landmark, place in landmarks.items()
        if isinstance(place, ProposedByModel) and place.disagreement_px
    }
    if not apart:
        return None
    farthest = max(apart, key=lambda landmark: apart[landmark])
    return Note(
        code="models_disagree",
        message=f"The two models disagree on {', '.join(_words(each) for each in apart)} (most "
        f"on {_words(farthest)}, {apart[farthest]:.0f} pixels beyond their errors); the intervals "
        "that depend on them are wider.",
        remedy="Check these points in the drawing and move them if they are wrong.",
        where=name,
    )


OUTSIDE: Final = "outside the picture"
HIDDEN: Final = "hidden, or not found"
FAR: Final = "too far from the golfer to be read"


def _all_unseen(reading: Reading, *, size_px: tuple[int, int]) -> dict[str, str]:
    """Landmarks without a place in this picture, and why."""
    unseen: dict[str, str] = {}
    for row, name in enumerate(LANDMARKS):
        why = _unseen(reading, row=row, size_px=size_px)
        if why:
            unseen[name] = why
    for side in ("lead", "trail"):
        for joint, below in HANGS_ON.items():
            if unseen.get(f"{side}_{joint}") == OUTSIDE:
                unseen.update({f"{side}_{stem}": OUTSIDE for stem in below})
    return unseen


def _unseen(reading: Reading, *, row: int, size_px: tuple[int, int]) -> str:
    """Why one landmark has no place in this picture, or an empty string."""
    x, y = reading.points_px[row] / reading.height_px
    width, height = np.array(size_px) / reading.height_px
    spread = float(reading.spread_px[row].mean()) / reading.height_px
    to_edge = min(x, y, width - x, height - y)
    if to_edge < EDGE_ROOM or (to_edge < NEAR_EDGE and spread > UNSURE_AT_EDGE):
        return OUTSIDE
    if reading.clipped[row]:
        return FAR
    return HIDDEN if spread > LOST_SPREAD else ""


def _proposed(checked: Checked, *, mirrored: bool, width_px: int) -> ProposedByModel:
    position: Array = np.array(checked.position_px)
    covariance: Array = np.array(checked.covariance_px2)
    if mirrored:
        position[0] = width_px - position[0]
        covariance[0, 1] *= -1.0
        covariance[1, 0] *= -1.0
    return ProposedByModel(
        position_px=position,
        covariance_px2=covariance,
        disagreement_px=checked.disagreement_px,
    )


def _words(landmark: str) -> str:
    return landmark.replace("_", " ")
