"""Is a followed ridge a stick? Everything that must hold before it is reported.

A false stick is worse than a missed one: each check refuses, none rescues.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

import numpy as np
from attrs import frozen
from numpy.typing import NDArray

from wellset.vision.stick_area import WorkArea, distance_to_segment
from wellset.vision.stick_ridges import Line
from wellset.vision.stick_trace import Trace

Array = NDArray[np.float64]

# Limits below were set on rendered scenes kept apart for tuning; none is a measured
# property of real pictures.
LEAST_STRENGTH: Final = 6.0
LEAST_EVENNESS: Final = 0.3
LEAST_COVERAGE: Final = 0.85
MOST_SCATTER_PX: Final = 0.4
MOST_BOW: Final = 0.012
"""Sagitta over length: twice what k1 = 0.05 does to the longest stick in a picture."""
MOST_WIDTH_M: Final = 0.016
"""Alignment sticks are 5 to 12 mm thick (common practice, no source); nearer ones look
larger."""
BLUR_PX: Final = 1.5
"""What lens and resampling add to a width, working pixel."""
NEARER_SCALE: Final = 1.5
"""How much larger than at the feet a centimetre can be at the ball (0.9 m nearer)."""
MOST_LENGTH_M: Final = 1.35
"""Longest stick sold for the purpose is near 1.25 m (common practice, no source)."""
NEAR_M: Final = 0.5
"""A stick that matters passes this close to a shoe or the ball ..."""
NEAR_LEVEL_M: Final = 0.3
"""... and if level in the picture, this close: 0.3 m up the picture is 0.7 m or more back."""
MOST_LEAN_TO_ONE_SIDE: Final = 0.3
CORNER_GAP_M: Final = 0.025
LEAST_CORNER: Final = 0.2
"""Rims meet within this gap, at more than this angle (its sine)."""
MOST_DIFFERENT_SIDES: Final = 0.62
"""A stick has ground on both sides; the rim of a mat has mat and floor. Rendered sticks
show up to 0.53, where they pass close to a shoe or the shaft, and mostly under 0.3."""
LEAST_KEPT_LIGHT: Final = 0.85
"""At least one colour of the ground must be left on a stick to this share. A shadow takes
light from all three (to 0.2 to 0.65 of the stored values in rendered shade)."""
HIDDEN_ENDS_STRENGTH: Final = 10.0
"""What a stick with neither end in view must stand out by."""


@frozen(kw_only=True, eq=False)
class Profile:
    """Mean colours on the ridge and on both sides of it, 0 to 255, and its width.

    Parameters
    ----------
    core, low, high : (3,) arrays
        On the centre line, and on the sides of negative and positive offset.
    lean : float
        Difference of the sides over twice the contrast, along the contrast: 0 for a
        stick on even ground, 1 for the edge between two surfaces.
    sides : float
        Difference of the two sides in any colour, over the contrast.
    width_px : float
        Full width at half height, working pixel.
    """

    core: Array
    low: Array
    high: Array
    lean: float
    sides: float
    width_px: float


def profile_of(trace: Trace, *, metre_px: float) -> Profile:
    """Colours across the stick, averaged over the cross-sections that show it."""
    strip = trace.strip
    shown = strip.colour[trace.present & trace.clear]
    if not len(shown):
        shown = strip.colour[trace.present]
    across = strip.across
    gap = max(3.5, 0.014 * metre_px)
    far = gap + max(3.0, 0.012 * metre_px)
    low = shown[:, (across < -gap) & (across > -far)].mean(axis=1)
    high = shown[:, (across > gap) & (across < far)].mean(axis=1)
    core = shown[:, np.abs(across) <= 0.75].mean(axis=1)
    contrast = (core - 0.5 * (low + high)).mean(axis=0)
    size = max(float(contrast @ contrast), 1e-9)
    # Each run of cross-sections on its own: sides that take turns do not cancel.
    count = max(1, len(shown) // 12)
    lean = [
        abs(float(part.mean(axis=0) @ contrast)) / size
        for part in np.array_split(0.5 * (high - low), count)
    ]
    return Profile(
        core=core.mean(axis=0),
        low=low.mean(axis=0),
        high=high.mean(axis=0),
        lean=float(np.median(lean)),
        sides=float(np.linalg.norm((high - low).mean(axis=0)) / np.sqrt(size)),
        width_px=_width_px(
            shown.mean(axis=0), across, contrast=contrast, base=0.5 * (low + high).mean(axis=0)
        ),
    )


def _width_px(mean: Array, across: Array, *, contrast: Array, base: Array) -> float:
    """Full width at half height of the mean cross-section, along the contrast."""
    height = (mean - base) @ contrast
    middle = int(np.abs(across).argmin())
    top = middle - 3 + int(height[middle - 3 : middle + 4].argmax())
    below = height <= 0.5 * height[top]
    left = int(np.flatnonzero(below[:top])[-1]) if below[:top].any() else 0
    right = top + int(below[top:].argmax()) if below[top:].any() else len(height) - 1

    def crossing(outer: int, inner: int) -> float:
        rise = height[inner] - height[outer]
        part = (0.5 * height[top] - height[outer]) / rise if rise > 0 else 0.0
        return float(across[outer] + part * (across[inner] - across[outer]))

    return crossing(right, right - 1) - crossing(left, left + 1)


def is_shadow_like(profile: Profile) -> bool:
    """Whether taking light away could have made it: darker than the ground in all colours.

    Shadows of shaft and golfer, seams and dark painted lines fall here; so does a black
    or dark stick on bright ground, which cannot safely be told from them.
    """
    ground = np.maximum(0.5 * (profile.low + profile.high), 4.0)
    ratio = np.maximum(profile.core, 4.0) / ground
    return bool(ratio.max() < LEAST_KEPT_LIGHT)


def refusal(trace: Trace, area: WorkArea, *, upright: bool) -> str:
    """Why this ridge is not reported as a stick; empty where nothing speaks against it."""
    why = _refused_shape(trace, area)
    if not why and stands_up(trace, area):
        why = _refused_upright(trace, area, wanted=upright)
    elif not why:
        why = _refused_place(trace, area)
    return why or _refused_look(trace, area)


def _first(*checks: tuple[bool, str]) -> str:
    """The words of the first check that holds."""
    return next((words for holds, words in checks if holds), "")


def _refused_shape(trace: Trace, area: WorkArea) -> str:
    uneven = trace.evenness < LEAST_EVENNESS or trace.coverage < LEAST_COVERAGE
    longest = MOST_LENGTH_M * NEARER_SCALE * area.metre_px
    return _first(
        (trace.strength < LEAST_STRENGTH, "too faint"),
        (uneven, "uneven"),
        (trace.scatter_px > MOST_SCATTER_PX, "ragged"),
        (abs(trace.bow[0]) * trace.length_px / 4 > MOST_BOW, "bent"),
        (all(trace.at_border), "runs through the picture"),
        (trace.length_px > longest, "too long"),
        (_on_club(trace.end_points, area, most_turn=0.1), "the club"),
    )


def _refused_upright(trace: Trace, area: WorkArea, *, wanted: bool) -> str:
    return _first((not wanted, "upright"), (not _stands_by_ball(trace, area), "stands elsewhere"))


def _refused_place(trace: Trace, area: WorkArea) -> str:
    ends = trace.end_points
    unseen = any(trace.at_border) or trace.strength < HIDDEN_ENDS_STRENGTH
    left, top, right, bottom = area.box
    outside = (ends < (left, top)).any() or (ends > (right, bottom)).any()
    shown = trace.points(trace.strip.along[trace.present])
    return _first(
        (unseen and not any(trace.tips), "no end in view"),
        (bool(outside), "beyond the ground"),
        (trace.length_px < _least_length_px(ends, area.metre_px), "too short"),
        (_share_on(area.person, shown) > 0.3, "on the golfer"),
        (_share_beside(area, trace) > 0.5, "along the golfer"),
        (not _passes_near(ends, area), "far from ball and feet"),
    )


def _refused_look(trace: Trace, area: WorkArea) -> str:
    profile = profile_of(trace, metre_px=area.metre_px)
    return _first(
        (profile.lean > MOST_LEAN_TO_ONE_SIDE, "an edge"),
        (profile.sides > MOST_DIFFERENT_SIDES, "the rim of something"),
        (profile.width_px > MOST_WIDTH_M * area.metre_px + BLUR_PX, "too wide"),
        (is_shadow_like(profile), "like a shadow"),
    )


def corners_on(trace: Trace, others: Sequence[Trace], *, metre_px: float) -> bool:
    """Whether another ridge turns off at one of its ends: two rims of a sheet or a mat.

    Sticks cross or touch along their length; ends that meet, both in view, are a frame.
    """
    for other in others:
        a, b = trace.line.direction, other.line.direction
        if other is trace or abs(a[0] * b[1] - a[1] * b[0]) < LEAST_CORNER:
            continue
        gaps = np.linalg.norm(trace.end_points[:, None] - other.end_points[None], axis=2)
        if gaps.min() < CORNER_GAP_M * metre_px + BLUR_PX:
            return True
    return False


def worth_following(line: Line, area: WorkArea) -> bool:
    """Whether a candidate passes near feet or ball and is not the club."""
    return _passes_near(line.ends, area) and not _on_club(line.ends, area, most_turn=0.05)


def _passes_near(ends: Array, area: WorkArea) -> bool:
    """Near shoes or ball; level lines nearer, as depth is seen foreshortened."""
    distance = float(distance_to_segment(area.near, ends).min())
    run = np.abs(ends[1] - ends[0])
    level = run[1] < 0.35 * run[0]
    return distance < (NEAR_LEVEL_M if level else NEAR_M) * area.metre_px


def _on_club(ends: Array, area: WorkArea, *, most_turn: float) -> bool:
    """Whether both ends lie on the shaft and the line runs along it (radian)."""
    if not {"grip_end", "shaft_end"} <= area.points.keys():
        return False
    grip, foot = area.points["grip_end"], area.points["shaft_end"]
    beyond = foot + 0.1 * (foot - grip)
    run, shaft = ends[1] - ends[0], foot - grip
    sine = abs(run[0] * shaft[1] - run[1] * shaft[0])
    if sine > most_turn * np.linalg.norm(run) * np.linalg.norm(shaft):
        return False
    return bool((distance_to_segment(ends, np.stack([grip, beyond])) < 0.04 * area.metre_px).all())


def _least_length_px(ends: Array, metre_px: float) -> float:
    """Level lines are seen at full length, steep ones run into the depth."""
    run = np.abs(ends[1] - ends[0])
    steep = float(np.arctan2(run[1], run[0]) / (np.pi / 2))
    return metre_px * (0.6 - 0.43 * min(1.0, 2 * steep))


def _share_on(mask: NDArray[np.bool_], points: Array) -> float:
    column = np.clip(points[:, 0].astype(int), 0, mask.shape[1] - 1)
    row = np.clip(points[:, 1].astype(int), 0, mask.shape[0] - 1)
    return float(mask[row, column].mean())


def _share_beside(area: WorkArea, trace: Trace) -> float:
    """Share of the ridge that has the golfer within 25 mm on either side: a lit edge."""
    shown = trace.points(trace.strip.along[trace.present])
    aside = 0.025 * area.metre_px * trace.line.normal
    return max(_share_on(area.person, shown - aside), _share_on(area.person, shown + aside))


def stands_up(trace: Trace, area: WorkArea) -> bool:
    """Whether it rises so far above feet and ball that it cannot lie on the ground."""
    ends = trace.end_points
    return bool(ends[:, 1].min() < area.box[1])


def _stands_by_ball(trace: Trace, area: WorkArea) -> bool:
    """Near the vertical, foot close to the ball, most of it in clear view."""
    if "ball" not in area.points:
        return False
    ends = trace.end_points
    foot = ends[int(ends[:, 1].argmax())]
    run = np.abs(ends[1] - ends[0])
    if run[0] > 0.2 * run[1]:
        return False
    off = (foot - area.points["ball"]) / area.metre_px
    return bool(
        abs(off[0]) < 0.4
        and -0.35 < off[1] < 0.35
        and run[1] > 0.5 * area.metre_px
        and (trace.present & trace.clear).sum() > 0.1 * area.metre_px
    )
