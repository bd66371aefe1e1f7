"""Video files: small grey and colour samples of a stretch of time, and whole single frames.

Times are the container's own time stamps, so a variable frame rate needs no thought.
Everything comes out upright: the rotation that a phone writes beside its frames is applied.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Final

import av
import cv2
import numpy as np
from attrs import evolve, field, frozen

from wellset.errors import PictureError
from wellset.vision.clip_files import broken, container_format, no_codec, no_frames
from wellset.vision.values import Array, Pixels

WORKING_SIDE_PX: Final = 640
"""Long side of the samples, roughly: a golfer who fills two fifths of it is 250 pixels tall,
6 mm a pixel, and about as large as the landmark network wants to see one."""

SAMPLES_A_SECOND: Final = 30.0
MOST_SAMPLES: Final = 900
MOST_SECONDS: Final = 60.0
"""At most this much of a clip is looked through at a time, at 30 samples a second or fewer: 60
seconds at 15 a second are 900 samples, 210 MB."""

SKIPPED_FROM_RATE: Final = 48.0
"""At more frames a second than this, those that no other frame is built upon are left undecoded:
half of an HEVC clip at 60 a second, in half the time."""

COLOUR_EVERY_S: Final = 0.25
"""A still moment at address lasts longer, so at least one colour sample falls into it."""

START_ROOM_S: Final = 1.0
"""Room before a wanted start, so that a still moment around it is seen from its beginning."""

BROKEN_OFF_S: Final = 0.6
"""A clip whose last frame is missing by more than this ended before it should (own choice: longer
than the time between two frames of any clip worth reading)."""

LARGEST_SIDE_PX: Final = 8192
SMALLEST_SIDE_PX: Final = 240
"""Larger frames are no video's (8K has 7680); smaller ones hold nothing but blur."""

DECODE_ERRORS: Final = (av.FFmpegError, EOFError)


def _small(value: object) -> Pixels:
    array = np.asarray(value, dtype=np.uint8)
    array.setflags(write=False)
    return array


@frozen(kw_only=True, eq=False)
class Samples:
    """A stretch of a clip, reduced.

    Parameters
    ----------
    times_s : (N,) array, second
        Increasing; the clip's own time stamps, its first frame at 0.
    grey : (N, h, w) uint8 array
    colour : (M, h, w, 3) uint8 array
        Fewer, evenly spread.
    colour_rows : tuple of int
        Which of the N samples they are.
    factor : float
        Pixels of the clip per pixel here.
    broke_off : bool
        Whether the file stopped making sense before its end.
    """

    times_s: Array
    grey: Pixels = field(converter=_small)
    colour: Pixels = field(converter=_small)
    colour_rows: tuple[int, ...]
    factor: float
    broke_off: bool = False

    @property
    def count(self) -> int:
        """Number of samples."""
        return int(self.times_s.size)

    @property
    def step_s(self) -> float:
        """Usual time between two samples, second."""
        return float(np.median(np.diff(self.times_s)))


@frozen(kw_only=True)
class Clip:
    """A video file that was opened once and can be read.

    Parameters
    ----------
    path : Path
    name : str
        The file's name without folders.
    demuxer : str
        Kind of container, by its first bytes.
    stream : int
        Index of the video stream.
    width_px, height_px : int
        Upright size.
    length_s : float
        Length as the file states it, second; 0 where it states none.
    rate : float
        Mean frames a second as the file states it; 0 where it states none.
    """

    path: Path
    name: str
    demuxer: str
    stream: int
    width_px: int
    height_px: int
    length_s: float
    rate: float

    def samples(self, *, start_s: float = 0.0) -> Samples:
        """Look through the clip from a time on, at most a minute.

        Parameters
        ----------
        start_s : float
            Where to begin, second; a little before it is looked at too.

        Raises
        ------
        PictureError
            Nothing can be decoded there.
        """
        first = max(0.0, start_s - START_ROOM_S)
        left = self.length_s - first if self.length_s > 0.0 else MOST_SECONDS
        step = max(1.0 / SAMPLES_A_SECOND, min(left, MOST_SECONDS) / MOST_SAMPLES)
        taken = _Taken(factor=max(1, round(max(self.width_px, self.height_px) / WORKING_SIDE_PX)))
        whole = False
        try:
            with self._open() as (container, stream):
                if self.rate >= SKIPPED_FROM_RATE:
                    stream.codec_context.skip_frame = "NONREF"
                self._seek(container, stream, to_s=first)
                for frame in container.decode(stream):
                    time = self._time(frame, stream)
                    if time > first + MOST_SECONDS or len(taken.times) >= MOST_SAMPLES:
                        whole = True
                        break
                    # A tenth of a step of patience: 29.97 frames a second are not skipped.
                    if time >= first and time >= taken.latest + 0.9 * step:
                        taken.take(frame, time_s=time)
        except DECODE_ERRORS:
            whole = False
        if len(taken.times) < 2:
            raise no_frames(self.name, start_s=start_s, length_s=self.length_s)
        missing = self.length_s - taken.times[-1]
        return taken.samples(broke_off=not whole and missing > BROKEN_OFF_S)

    def frames(self, times_s: Sequence[float]) -> tuple[Pixels, ...]:
        """Whole upright frames, ``(height, width, 3)`` uint8 each.

        Parameters
        ----------
        times_s : sequence of float
            Increasing times of frames, as the samples state them, second.

        Raises
        ------
        PictureError
            The frames can no longer be decoded.
        """
        found: list[Pixels] = []
        wanted = list(times_s)
        try:
            with self._open() as (container, stream):
                self._seek(container, stream, to_s=wanted[0])
                for frame in container.decode(stream):
                    if self._time(frame, stream) >= wanted[len(found)] - 1e-6:
                        found.append(_upright(_pixels(frame), frame))
                        if len(found) == len(wanted):
                            break
        except DECODE_ERRORS as error:
            raise broken(self.name, error) from error
        if len(found) < len(wanted):
            raise no_frames(self.name, start_s=wanted[0], length_s=self.length_s)
        return tuple(found)

    @contextmanager
    def _open(self) -> Iterator[tuple[av.container.InputContainer, av.VideoStream]]:
        with av.open(str(self.path), format=self.demuxer) as container:
            stream = next(s for s in container.streams.video if s.index == self.stream)
            stream.thread_type = "AUTO"
            yield container, stream

    @staticmethod
    def _seek(
        container: av.container.InputContainer, stream: av.VideoStream, *, to_s: float
    ) -> None:
        if to_s > 0.0 and stream.time_base:
            offset = int(to_s / stream.time_base) + (stream.start_time or 0)
            container.seek(offset, stream=stream, backward=True)

    @staticmethod
    def _time(frame: av.VideoFrame, stream: av.VideoStream) -> float:
        if frame.pts is None or stream.time_base is None:
            return 0.0
        return float((frame.pts - (stream.start_time or 0)) * stream.time_base)


class _Taken:
    """Samples as they are gathered."""

    def __init__(self, *, factor: int) -> None:
        self.times: list[float] = []
        self.latest = -np.inf
        self._factor = factor
        self._grey: list[Pixels] = []
        self._colour: list[Pixels] = []
        self._rows: list[int] = []

    def take(self, frame: av.VideoFrame, *, time_s: float) -> None:
        size = (frame.width // self._factor, frame.height // self._factor)
        self._grey.append(_upright(_luma(frame, size=size), frame))
        if not self._rows or time_s - self.times[self._rows[-1]] >= COLOUR_EVERY_S:
            small = frame.reformat(
                width=size[0], height=size[1], format="rgb24", interpolation="AREA"
            )
            self._colour.append(_upright(_pixels(small), frame))
            self._rows.append(len(self.times))
        self.times.append(time_s)
        self.latest = time_s

    def samples(self, *, broke_off: bool) -> Samples:
        return Samples(
            times_s=np.array(self.times),
            grey=np.stack(self._grey),
            colour=np.stack(self._colour),
            colour_rows=tuple(self._rows),
            factor=float(self._factor),
            broke_off=broke_off,
        )


def open_clip(path: Path | str) -> Clip:
    """Open a video file and read what it says about itself.

    Raises
    ------
    PictureError
        It is no video, holds no pictures, is damaged, or in a coding that is not read.
    """
    path = Path(path)
    demuxer, name = container_format(path)
    try:
        with av.open(str(path), format=demuxer) as container:
            stream = _picture_stream(container, name=name)
            try:
                frame = next(container.decode(stream))
            except StopIteration:
                raise no_frames(name, start_s=0.0, length_s=0.0) from None
            clip = _described(stream, frame, path=path, name=name, demuxer=demuxer)
            if clip.length_s == 0.0 and container.duration:
                return evolve(clip, length_s=container.duration / av.time_base)
            return clip
    except LookupError as error:  # libav knows no decoder
        raise no_codec(name) from error
    except DECODE_ERRORS as error:
        raise broken(name, error) from error


def _picture_stream(container: av.container.InputContainer, *, name: str) -> av.VideoStream:
    moving = [
        each
        for each in container.streams.video
        if not each.disposition & av.stream.Disposition.attached_pic
    ]
    if not moving:
        raise PictureError(
            "The file holds no video",
            why="there is only sound, or a cover picture, in it.",
            fix="Give the clip that the phone recorded, or a picture.",
            where=name,
        )
    return moving[0]


def _described(
    stream: av.VideoStream, frame: av.VideoFrame, *, path: Path, name: str, demuxer: str
) -> Clip:
    shape = _upright(np.zeros((frame.height, frame.width), dtype=np.uint8), frame).shape
    if max(shape) > LARGEST_SIDE_PX or min(shape) < SMALLEST_SIDE_PX:
        raise PictureError(
            f"The video is too {'large' if max(shape) > LARGEST_SIDE_PX else 'small'}",
            why=f"its frames have {shape[1]} x {shape[0]} pixels; {SMALLEST_SIDE_PX} to "
            f"{LARGEST_SIDE_PX} on a side are read.",
            fix="Use the original clip from the phone, in 1080p or 720p.",
            where=name,
        )
    if stream.sample_aspect_ratio and stream.sample_aspect_ratio != 1:
        raise PictureError(
            "The video's pixels are not square",
            why=f"they are {float(stream.sample_aspect_ratio):.2f} times as wide as high, so "
            "every angle would be read wrong.",
            fix="Use the original clip from the phone, or save it anew with square pixels.",
            where=name,
        )
    length = 0.0
    if stream.duration is not None and stream.time_base is not None:
        length = float(stream.duration * stream.time_base)
    return Clip(
        path=path,
        name=name,
        demuxer=demuxer,
        stream=stream.index,
        width_px=shape[1],
        height_px=shape[0],
        length_s=max(length, 0.0),
        rate=float(stream.average_rate or 0.0),
    )


def _pixels(frame: av.VideoFrame) -> Pixels:
    """Red, green and blue as the frame is stored, not turned."""
    return np.asarray(frame.to_ndarray(format="rgb24"), dtype=np.uint8)


def _luma(frame: av.VideoFrame, *, size: tuple[int, int]) -> Pixels:
    """The frame's brightness, reduced by averaging."""
    if frame.format.name in {"yuv420p", "yuvj420p", "nv12"}:  # no conversion needed
        plane = frame.planes[0]
        whole = np.frombuffer(memoryview(plane), dtype=np.uint8).reshape(-1, plane.line_size)
        area = whole[: frame.height, : frame.width]
        return np.asarray(cv2.resize(area, size, interpolation=cv2.INTER_AREA), dtype=np.uint8)
    small = frame.reformat(width=size[0], height=size[1], format="gray", interpolation="AREA")
    return np.asarray(small.to_ndarray(), dtype=np.uint8)


def _upright(pixels: Pixels, frame: av.VideoFrame) -> Pixels:
    """Pixels as they are meant to be shown.

    The display matrix's angle is counter-clockwise, as is that of ``np.rot90``.
    """
    quarters = round(frame.rotation / 90.0) % 4
    return np.ascontiguousarray(np.rot90(pixels, quarters)) if quarters else pixels
