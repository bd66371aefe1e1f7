"""Clips made for tests: coded files, and golfers of still scenes whose parts are moved."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction
from pathlib import Path
from typing import Final

import av
import cv2
import numpy as np
from numpy.typing import NDArray
from PIL import Image

Array = NDArray[np.float64]
Pixels = NDArray[np.uint8]

TICKS: Final = 9000
"""Time stamps a second: fine enough for any frame rate."""


def frames_of(path: Path) -> list[Pixels]:
    """All frames of a file as they are stored, not turned upright."""
    with av.open(str(path)) as container:
        return [
            np.asarray(frame.to_ndarray(format="rgb24"), dtype=np.uint8)
            for frame in container.decode(video=0)
        ]


def write_clip(
    path: Path,
    frames: Iterable[Pixels],
    *,
    rate: float = 15.0,
    times_s: Sequence[float] | None = None,
    codec: str = "libx264",
    quality: int = 20,
    rotation: int | None = None,
) -> Path:
    """Code frames into a file.

    Parameters
    ----------
    path : Path
        Its ending names the container.
    frames : iterable of (h, w, 3) uint8 arrays
        Even width and height.
    rate : float
        Frames a second.
    times_s : sequence of float, optional
        Time of each frame where the rate varies.
    codec : str
        ``libx264`` or ``libx265``.
    quality : int
        Constant rate factor; less is better.
    rotation : int, optional
        Degrees counter-clockwise by which a player turns the frames.
    """
    with av.open(str(path), "w") as container:
        stream: av.VideoStream | None = None
        for number, frame in enumerate(frames):
            if stream is None:
                added = container.add_stream(codec, rate=Fraction(rate).limit_denominator(1001))
                assert isinstance(added, av.VideoStream)
                stream = added
                stream.height, stream.width = frame.shape[:2]
                stream.pix_fmt = "yuv420p"
                stream.codec_context.time_base = Fraction(1, TICKS)
                quiet = {"x265-params": "log-level=none"} if codec == "libx265" else {}
                stream.options = {"crf": str(quality), "preset": "ultrafast", **quiet}
                if rotation is not None:
                    stream.set_display_rotation(rotation)
            picture = av.VideoFrame.from_ndarray(np.ascontiguousarray(frame), format="rgb24")
            picture.time_base = Fraction(1, TICKS)
            time = number / rate if times_s is None else times_s[number]
            picture.pts = round(time * TICKS)
            container.mux(stream.encode(picture))
        assert stream is not None
        container.mux(stream.encode(None))
    return path


def shaken(
    frames: Sequence[Pixels],
    *,
    rate: float,
    by_px: float = 12.0,
    turn: float = 0.006,
    seed: int = 0,
) -> Iterator[Pixels]:
    """Frames as a camera in the hand takes them: drifting, trembling and turning smoothly.

    Parameters
    ----------
    frames : sequence of (h, w, 3) uint8 arrays
    rate : float
        Frames a second.
    by_px : float
        Standard deviation of the shift, pixel.
    turn : float
        Standard deviation of the turn, radian.
    seed : int
    """
    rng = np.random.default_rng(seed)
    time = np.arange(len(frames)) / rate
    curves = []
    for size in (by_px, by_px, turn):
        waves = [
            rng.normal() * np.sin(2.0 * np.pi * f * time + rng.uniform(0.0, 6.3)) / f**0.5
            for f in (0.3, 0.8, 1.7, 3.1)
        ]
        curve = np.sum(waves, axis=0)
        curves.append(size * curve / curve.std())
    height, width = frames[0].shape[:2]
    reach = max(np.abs(curves[:2]).max(), np.abs(curves[2]).max() * max(height, width) / 2.0)
    larger = 1.0 + 2.0 * reach / min(height, width)  # nothing from beyond the edge comes in
    for frame, x, y, angle in zip(frames, *curves, strict=True):
        matrix = cv2.getRotationMatrix2D((width / 2, height / 2), np.degrees(angle), larger)
        matrix[:, 2] += np.array([x, y])
        yield np.asarray(
            cv2.warpAffine(frame, matrix, (width, height), borderMode=cv2.BORDER_REFLECT),
            dtype=np.uint8,
        )


def noisy(frames: Iterable[Pixels], *, sd: float, seed: int = 0) -> Iterator[Pixels]:
    """Frames with a sensor's noise, in grey values."""
    rng = np.random.default_rng(seed)
    for frame in frames:
        noise = rng.normal(0.0, sd, frame.shape[:2])[..., None]
        yield np.clip(frame + noise, 0, 255).astype(np.uint8)


class Puppet:
    """A golfer of a still scene whose club, arms or whole body can be moved.

    Parameters
    ----------
    folder : Path
        A scene with truth and masks.
    view : str
        ``face_on`` or ``down_the_line``.
    height : int
        Height of the frames, pixel.
    """

    def __init__(self, folder: Path, view: str, *, height: int = 960) -> None:
        truth = json.loads((folder / "truth.json").read_text())
        whole = np.asarray(Image.open(folder / f"{view}.jpg").convert("RGB"))
        scale = height / whole.shape[0]
        size = (round(whole.shape[1] * scale) // 2 * 2, height // 2 * 2)
        self.still: Pixels = np.asarray(
            cv2.resize(whole, size, interpolation=cv2.INTER_AREA), dtype=np.uint8
        )
        points = truth["views"][view]["landmarks_px"]
        self.points = {name: scale * np.array(at) for name, at in points.items()}
        mask = np.asarray(Image.open(folder / f"{view}_mask.png").convert("L"))
        self._golfer = np.asarray(cv2.resize(mask, size)) > 127
        self._club = self._line("grip_end", "club_head", width=0.012, ends="club_head")
        limbs = [
            self._line(f"shoulder_{side}", f"elbow_{side}", width=0.035)
            | self._line(f"elbow_{side}", f"wrist_{side}", width=0.03, ends=f"wrist_{side}")
            for side in ("left", "right")
        ]
        self._arms = (limbs[0] | limbs[1]) & self._golfer | self._club
        self._behind_club = self._without(self._club)
        self._behind_arms = self._without(self._arms)
        self._behind_all = self._without(self._golfer | self._club)

    @property
    def without_golfer(self) -> Pixels:
        """The place without golfer and club."""
        return self._behind_all

    def club(self, degrees: float) -> Pixels:
        """The club turned about the butt of its grip."""
        return self._moved(self._club, self._behind_club, pivot="grip_end", degrees=degrees)

    def arms(self, degrees: float) -> Pixels:
        """Arms and club turned about the middle of the shoulders."""
        return self._moved(self._arms, self._behind_arms, pivot="shoulders", degrees=degrees)

    def body(self, right_px: float) -> Pixels:
        """The whole golfer, with the club, shifted across the picture."""
        layer = self._golfer | self._club
        return self._moved(layer, self._behind_all, pivot="shoulders", right_px=right_px)

    def _moved(
        self,
        layer: NDArray[np.bool_],
        behind: Pixels,
        *,
        pivot: str,
        degrees: float = 0.0,
        right_px: float = 0.0,
    ) -> Pixels:
        shoulders = (self.points["shoulder_left"] + self.points["shoulder_right"]) / 2.0
        centre = shoulders if pivot == "shoulders" else self.points[pivot]
        matrix = cv2.getRotationMatrix2D((float(centre[0]), float(centre[1])), degrees, 1.0)
        matrix[0, 2] += right_px
        size = (self.still.shape[1], self.still.shape[0])
        moved = cv2.warpAffine(self.still, matrix, size, borderMode=cv2.BORDER_REPLICATE)
        soft = cv2.GaussianBlur(layer.astype(np.float32), (0, 0), 1.0)[..., None]
        there = cv2.warpAffine(soft, matrix, size)[..., None]
        # What the cut-out edges alone change is taken off, so that no motion is no change.
        seam = soft * self.still + (1.0 - soft) * behind - self.still
        drawn = there * moved + (1.0 - there) * behind - seam
        return np.asarray(np.clip(np.round(drawn), 0, 255), dtype=np.uint8)

    def _line(self, a: str, b: str, *, width: float, ends: str = "") -> NDArray[np.bool_]:
        drawn = np.zeros(self.still.shape[:2], np.uint8)
        height = self.still.shape[0]
        at = [tuple(int(v) for v in self.points[name]) for name in (a, b)]
        cv2.line(drawn, at[0], at[1], 1, max(2, round(width * height)))
        if ends:
            x, y = (int(v) for v in self.points[ends])
            cv2.circle(drawn, (x, y), round(0.024 * height), 1, -1)
        return drawn > 0

    def _without(self, layer: NDArray[np.bool_]) -> Pixels:
        hole = cv2.dilate(layer.astype(np.uint8), np.ones((7, 7), np.uint8))
        small = (self.still.shape[1] // 4, self.still.shape[0] // 4)
        filled = cv2.inpaint(
            cv2.resize(self.still, small), cv2.resize(hole, small), 5, cv2.INPAINT_TELEA
        )
        large = cv2.resize(filled, (self.still.shape[1], self.still.shape[0]))
        return np.where(hole[..., None] > 0, large, self.still).astype(np.uint8)


def eased(share: float) -> float:
    """0 to 1 with a soft start and end."""
    inside = min(max(share, 0.0), 1.0)
    return 3.0 * inside**2 - 2.0 * inside**3


Act = Callable[[float], Pixels]


def played(acts: Sequence[tuple[float, Act]], *, rate: float) -> Iterator[Pixels]:
    """Frames of acts one after another; each is told the seconds since it began.

    Parameters
    ----------
    acts : sequence of (float, callable)
        How long each lasts, second, and its picture at a time.
    rate : float
        Frames a second.
    """
    begins, number = 0.0, 0
    for length, act in acts:
        while number / rate < begins + length - 1e-9:
            yield act(number / rate - begins)
            number += 1
        begins += length
