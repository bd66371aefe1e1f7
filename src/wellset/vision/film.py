"""A video as the frames to be measured: those of the still moment at address."""

from __future__ import annotations

import hashlib
from collections.abc import Sequence
from pathlib import Path
from typing import Final

import cv2
import numpy as np
from attrs import evolve, field, frozen

from wellset.errors import InputError, PictureError
from wellset.figure.sighting import PictureFacts
from wellset.figure.still import Choice, StillMoment, Stretch
from wellset.vision.camera_motion import camera_motion, corners
from wellset.vision.clips import Clip, Samples, open_clip
from wellset.vision.film_notes import film_notes
from wellset.vision.general import GeneralModel
from wellset.vision.moments import Onlooker, SetUp, preferred, set_ups
from wellset.vision.motion import Stage, lag_of, speeds_mm_s
from wellset.vision.network import LandmarkNetwork
from wellset.vision.pictures import Picture
from wellset.vision.spans import Span, still_spans
from wellset.vision.stages import find_stages
from wellset.vision.values import Array, Pixels, affine

FRAMES: Final = 5
"""Frames that are measured: as many as cut-outs of a still picture."""

MARGIN_S: Final = 0.1
MARGIN_SHARE: Final = 0.15
"""What is left out at both ends of the still moment, where the last movement fades and the next
begins: this time, or this share of a short one."""

SHARPER: Final = 1.05
"""A frame counts as sharper than its neighbour from this ratio on; coding alone makes 1.02."""

HASHED_BYTES: Final = 256 * 1024 * 1024
"""Larger files get no checksum: reading them whole would take longer than measuring them."""


@frozen(kw_only=True, eq=False)
class Frame:
    """One frame to be measured.

    Parameters
    ----------
    rgb : (height, width, 3) uint8 array
        Upright.
    from_shown : (2, 3) array
        Map of points of the shown frame to points of this one, as the camera moved; pixels of
        the whole frame, corner convention.
    """

    rgb: Pixels
    from_shown: Array = field(converter=affine)


@frozen(kw_only=True, eq=False)
class Film:
    """What a video gives to be measured.

    Parameters
    ----------
    picture : Picture
        The shown frame, with what is known about the file, and remarks.
    frames : tuple of Frame
        In their order; the shown one is among them.
    moment : StillMoment
        Sway not yet measured.
    mm_per_px : float
        Millimetres at the golfer per pixel of the whole frame.
    """

    picture: Picture
    frames: tuple[Frame, ...]
    moment: StillMoment
    mm_per_px: float


def read_film(
    path: Path | str, *, choice: Choice, model: GeneralModel, network: LandmarkNetwork
) -> Film:
    """Find the still moment of a video and read its frames.

    Parameters
    ----------
    path : path-like
    choice : Choice
    model : GeneralModel
    network : LandmarkNetwork

    Raises
    ------
    PictureError
        The file cannot be read as a video.
    SceneError
        There is nobody, no still moment, or none at address.
    InputError
        There is no set-up of the number or after the start that was asked for.
    """
    clip = open_clip(path)
    samples = clip.samples(start_s=choice.start_s or 0.0)
    stages = find_stages(samples, model=model, name=clip.name)
    speeds, shake = speeds_mm_s(samples, stages=stages.each)
    spans = still_spans(speeds, shake=shake, times_s=samples.times_s, lag=lag_of(samples))
    found = set_ups(spans, onlooker=Onlooker(stages=stages, network=network, name=clip.name))
    chosen = _chosen(found, choice, samples=samples, name=clip.name)
    span = found[chosen].span
    stage = stages.each[span.middle]
    rows = measured_rows(span, samples=samples, stage=stage)
    shown = _shown_row(rows, samples=samples, stage=stage)
    return _film(clip, samples, stage=stage, found=found, chosen=chosen, rows=rows, shown=shown)


def measured_rows(span: Span, *, samples: Samples, stage: Stage) -> tuple[int, ...]:
    """Samples whose frames are measured: spread over the still moment, each the sharpest near.

    Parameters
    ----------
    span : Span
    samples : Samples
    stage : Stage
        Where the golfer stands.
    """
    times = samples.times_s
    length = times[span.last] - times[span.first]
    margin = min(MARGIN_S, MARGIN_SHARE * length)
    inside = np.flatnonzero(
        (times >= times[span.first] + margin) & (times <= times[span.last] - margin)
    )
    parts = [part for part in np.array_split(inside, FRAMES) if part.size]
    return tuple(_sharpest(part.tolist(), samples=samples, stage=stage) for part in parts)


def _sharpest(rows: Sequence[int], *, samples: Samples, stage: Stage) -> int:
    """The middle one of some samples, or one that is clearly sharper."""
    middle = rows[len(rows) // 2]
    best = max(rows, key=lambda row: _sharpness(samples.grey[row], stage))
    clearly = _sharpness(samples.grey[best], stage) > SHARPER * _sharpness(
        samples.grey[middle], stage
    )
    return best if clearly else middle


def _shown_row(rows: Sequence[int], *, samples: Samples, stage: Stage) -> int:
    return _sharpest(rows, samples=samples, stage=stage)


def _sharpness(grey: Pixels, stage: Stage) -> float:
    """Mean square of the second differences on the golfer."""
    rows, columns = (np.flatnonzero(stage.body.any(axis=axis)) for axis in (1, 0))
    if rows.size == 0 or columns.size == 0:
        return 0.0
    part = grey[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]
    return float(np.square(cv2.Laplacian(part, cv2.CV_32F)).mean())


def _chosen(found: Sequence[SetUp], choice: Choice, *, samples: Samples, name: str) -> int:
    """Index of the set-up to measure."""
    times = samples.times_s
    if choice.swing is not None:
        if 1 <= choice.swing <= len(found):
            return choice.swing - 1
        raise InputError(
            f"There is no set-up number {choice.swing} in the clip",
            why=f"{len(found)} at address {'was' if len(found) == 1 else 'were'} found: "
            f"{_listed(found, samples)}.",
            fix=f"Give a number from 1 to {len(found)}.",
            where=name,
        )
    if choice.start_s is not None:
        for index, each in enumerate(found):
            if times[each.span.last] > choice.start_s:
                return index
        raise InputError(
            f"There is no set-up after {choice.start_s:g} s in the clip",
            why=f"the still moments at address that were found: {_listed(found, samples)}.",
            fix="Name an earlier start.",
            where=name,
        )
    return preferred(found)


def _listed(found: Sequence[SetUp], samples: Samples) -> str:
    return ", ".join(
        f"{samples.times_s[each.span.first]:.1f} to {samples.times_s[each.span.last]:.1f} s"
        for each in found
    )


def _film(
    clip: Clip,
    samples: Samples,
    *,
    stage: Stage,
    found: Sequence[SetUp],
    chosen: int,
    rows: Sequence[int],
    shown: int,
) -> Film:
    """The whole frames of the chosen samples, and what is known about them."""
    times = samples.times_s
    frames = clip.frames([float(times[row]) for row in rows])
    motions, shake_px = _motions(samples, stage, rows=rows, shown=shown)
    moment = StillMoment(
        window=_stretch(found[chosen], samples),
        frames_s=tuple(float(times[row]) for row in rows),
        shown_s=float(times[shown]),
        sway_mm=None,
        shake_mm=shake_px * stage.mm_per_px,
        set_ups=tuple(_stretch(each, samples) for each in found),
        chosen=chosen + 1,
        then_moves=found[chosen].then_swings,
    )
    rgb = frames[list(rows).index(shown)]
    facts = PictureFacts(
        name=clip.name,
        width_px=rgb.shape[1],
        height_px=rgb.shape[0],
        focal_35mm=None,
        sha256=_checksum(clip.path),
    )
    notes = film_notes(moment, clip=clip, samples=samples)
    return Film(
        picture=Picture(facts=facts, rgb=rgb, notes=notes),
        frames=tuple(
            Frame(rgb=frame, from_shown=motion)
            for frame, motion in zip(frames, motions, strict=True)
        ),
        moment=moment,
        mm_per_px=stage.mm_per_px / samples.factor,
    )


def _motions(
    samples: Samples, stage: Stage, *, rows: Sequence[int], shown: int
) -> tuple[list[Array], float]:
    """Maps from the shown frame to the others, whole pixels, and the farthest, sample pixels."""
    followed = corners(samples.grey[shown], where=stage.still)
    hips = np.array([stage.hips_px])
    maps: list[Array] = []
    farthest = 0.0
    for row in rows:
        motion = camera_motion(
            samples.grey[shown], samples.grey[row], followed=followed, at_feet=stage.feet
        )
        farthest = max(farthest, float(np.hypot(*(motion.forth(hips) - hips)[0])))
        linear, shift = np.hsplit(motion.later_from_earlier, [2])
        half = np.full((2, 1), 0.5)  # pixel centres lie at whole numbers there, at +0.5 here
        maps.append(np.hstack([linear, samples.factor * (shift + half - linear @ half)]))
    return maps, farthest


def _stretch(set_up: SetUp, samples: Samples) -> Stretch:
    return Stretch(
        start_s=float(samples.times_s[set_up.span.first]),
        end_s=float(samples.times_s[set_up.span.last]),
    )


def _checksum(path: Path) -> str:
    try:
        if path.stat().st_size > HASHED_BYTES:
            return ""
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        raise PictureError(
            "The video cannot be opened",
            why=f"the system says: {error.strerror}.",
            fix="Check that you may read the file.",
            where=path.name,
        ) from error


def with_sway(moment: StillMoment, *, sway_mm: float) -> StillMoment:
    """The moment with its sway measured, to a hundredth of a millimetre."""
    return evolve(moment, sway_mm=round(sway_mm, 2))
