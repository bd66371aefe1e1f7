"""Sticks on the ground, found in one picture.

A golfer often lays alignment sticks down: one along the target line, one from the
ball to the feet; sometimes one stands upright by the ball. Each is a line of known
direction, so each tells the cameras something. A stick is looked for as a thin
two-sided ridge of any colour, straight, even along its length, near feet or ball,
ending in plain view, and neither the club nor a shadow.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.figure.sighting import StickSighting
from wellset.vision.stick_area import (
    FEET,
    Mask,
    Points,
    Rgb,
    WorkArea,
    distance_to_segment,
    lay_out,
    metre_at_feet_px,
)
from wellset.vision.stick_checks import (
    corners_on,
    profile_of,
    refusal,
    stands_up,
    worth_following,
)
from wellset.vision.stick_ridges import candidate_lines
from wellset.vision.stick_trace import Trace, follow

MOST_STICKS: Final = 4
"""Reported at most; more than that on one tee is a pattern of the ground."""
SAME_LINE_PX: Final = 7.0
"""Two traces whose ends lie this close to each other's line are one ridge."""
CENTRE_BIAS_SHARE: Final = 0.1
"""Light falls on one side of a round stick and its contact shadow lies on the other, so
the brightest line is not the middle. Share of the width, one sigma; from the rendered
scenes kept for tuning (0.0 to 0.25)."""
LEAST_SD_PX: Final = 0.15
"""No line is trusted more than this, in working pixels: lens and resampling."""
UPRIGHT_RISE_M: Final = 0.5
"""An upright stick reaches at least this far above feet and ball in the picture."""


class StickLabel(StrEnum):
    """Which way a stick seems to lie: along the target line, across it, upright."""

    ALONG = "along"
    ACROSS = "across"
    UPRIGHT = "upright"
    UNKNOWN = "unknown"


@frozen(kw_only=True, eq=False)
class FoundStick:
    """A stick with a hint of what it is for.

    Parameters
    ----------
    sighting : StickSighting
    label : StickLabel
        A hint from directions in the picture alone; the cameras decide.
    score : float
        0 to 1: how far it stands out from its surroundings.
    """

    sighting: StickSighting
    label: StickLabel
    score: float


def find_sticks(
    rgb: Rgb,
    *,
    person_mask: Mask | None,
    landmarks: Mapping[str, Points],
    upright: bool = True,
) -> tuple[StickSighting, ...]:
    """Sticks lying on the ground or standing by the ball, surest first.

    Parameters
    ----------
    rgb : (H, W, 3) uint8 array
    person_mask : (H, W) bool array or None
        The golfer's outline. Without it, limbs are drawn around the landmarks.
    landmarks : mapping of name to (2,) array, picture frame, pixel
        Named as in :mod:`wellset.figure.landmarks`; feet and any of nose, shoulders and
        hips are needed, ball and club help.
    upright : bool
        Whether sticks standing by the ball are looked for as well.

    Returns
    -------
    tuple of StickSighting
        The reported points lie on the stick's centre line in the picture as taken,
        lens distortion included: the line between them may bow away from the chord.
        Empty where nothing is sure, or where the golfer's size is unknown.

    Raises
    ------
    InputError
        The picture is not 8-bit colour, or the outline has another size.

    Notes
    -----
    A false stick is worse than a missed one. Not seen: sticks darker than the ground in
    every colour (no different from a shadow), out of the picture at both ends, more than
    half a metre from feet and ball, or tip to tip with another line (a frame).
    """
    found = find_labelled(rgb, person_mask=person_mask, landmarks=landmarks, upright=upright)
    return tuple(stick.sighting for stick in found)


def find_labelled(
    rgb: Rgb,
    *,
    person_mask: Mask | None,
    landmarks: Mapping[str, Points],
    upright: bool = True,
) -> tuple[FoundStick, ...]:
    """As :func:`find_sticks`, each with a hint of which way it lies and a score."""
    area = lay_out(rgb, person_mask=person_mask, landmarks=landmarks)
    if area is None:
        return ()
    followed: list[Trace] = []
    kept: list[Trace] = []
    for line in candidate_lines(area):
        if not worth_following(line, area) or _among(line.ends, followed):
            continue
        trace = follow(area, line)
        if trace is None or _among(trace.end_points, followed):
            continue
        followed.append(trace)
        if not refusal(trace, area, upright=upright):
            kept.append(trace)
    kept = [
        trace
        for trace in kept
        if stands_up(trace, area) or not corners_on(trace, followed, metre_px=area.metre_px)
    ]
    kept.sort(key=lambda t: -t.strength)
    return tuple(_found(trace, area, landmarks=landmarks) for trace in kept[:MOST_STICKS])


def label_sticks(
    sightings: tuple[StickSighting, ...], *, landmarks: Mapping[str, Points]
) -> tuple[StickLabel, ...]:
    """A hint of which way each stick lies, from directions in the picture.

    Along is the way from trail foot to lead foot, across the way from the feet to the
    ball, as the picture shows both; upright is near the picture's vertical and rises
    well above the ground. ``UNKNOWN`` where two answers are about as good, or where
    the landmarks needed are missing.
    """
    return tuple(_label(s.ends_px, landmarks) for s in sightings)


def _label(ends_px: NDArray[np.float64], landmarks: Mapping[str, Points]) -> StickLabel:
    feet = {
        side: _mean([f"{side}_{part}" for part in ("shoe_toe", "shoe_heel")], landmarks)
        for side in ("lead", "trail")
    }
    toes = _mean(["lead_shoe_toe", "trail_shoe_toe"], landmarks)
    metre = metre_at_feet_px(landmarks)
    if feet["lead"] is None or feet["trail"] is None or toes is None or metre is None:
        return StickLabel.UNKNOWN
    if "ball" not in landmarks:
        return StickLabel.UNKNOWN
    run = ends_px[1] - ends_px[0]
    rows = [landmarks[n][1] for n in (*FEET, "ball") if n in landmarks]
    rise = min(rows) - float(ends_px[:, 1].min())
    if abs(run[0]) < 0.2 * abs(run[1]) and rise > UPRIGHT_RISE_M * metre:
        return StickLabel.UPRIGHT
    along = _turn_deg(run, feet["lead"] - feet["trail"])
    across = _turn_deg(run, landmarks["ball"] - toes)
    if abs(along - across) < 10.0:
        return StickLabel.UNKNOWN
    return StickLabel.ALONG if along < across else StickLabel.ACROSS


def _mean(names: list[str], landmarks: Mapping[str, Points]) -> Points | None:
    known = [np.asarray(landmarks[n], dtype=np.float64) for n in names if n in landmarks]
    return np.asarray(np.mean(known, axis=0)) if known else None


def _turn_deg(a: Points, b: Points) -> float:
    """Angle between two lines, 0 to 90 degrees."""
    cosine = abs(float(a @ b)) / max(float(np.linalg.norm(a) * np.linalg.norm(b)), 1e-9)
    return float(np.rad2deg(np.arccos(min(1.0, cosine))))


def _among(ends: Points, traces: list[Trace]) -> bool:
    """Whether a piece of line is part of one of the ridges already followed."""
    return any(bool((distance_to_segment(ends, t.end_points) < SAME_LINE_PX).all()) for t in traces)


def _found(trace: Trace, area: WorkArea, *, landmarks: Mapping[str, Points]) -> FoundStick:
    width = profile_of(trace, metre_px=area.metre_px).width_px
    # Compression shifts whole blocks: what makes centres scatter also moves the line.
    parts = (max(trace.sd_px), trace.scatter_px, LEAST_SD_PX, CENTRE_BIAS_SHARE * width)
    sd = float(np.linalg.norm(parts))
    sighting = StickSighting(
        ends_px=area.to_full(trace.end_points),
        sd_px=sd / float(area.scale.mean()),
        ends_are_tips=all(trace.tips),
    )
    label = label_sticks((sighting,), landmarks=landmarks)[0]
    if label is not StickLabel.UPRIGHT and _could_stand(trace, area):
        label = StickLabel.UNKNOWN
    return FoundStick(
        sighting=sighting,
        label=label,
        score=float(
            (1 - np.exp(-trace.strength / 10)) * trace.coverage * min(1.0, trace.evenness * 2)
        ),
    )


def _could_stand(trace: Trace, area: WorkArea) -> bool:
    """Whether it may be the foot of an upright stick whose upper part was not followed."""
    if stands_up(trace, area):
        return False
    upper = int(trace.end_points[:, 1].argmin())
    run = np.abs(trace.end_points[1] - trace.end_points[0])
    return bool(run[0] < 0.12 * run[1] and not trace.tips[upper])
