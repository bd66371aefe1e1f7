"""Whether a file is a video, told from its first bytes, and what to say when it can't be read.

The demuxer is named from the content, never guessed by the library: formats that are lists of
other files or addresses are thus never opened.
"""

from __future__ import annotations

from pathlib import Path
from typing import Final

from wellset.errors import PictureError
from wellset.vision.files import kind_of

VIDEO_SUFFIXES: Final = frozenset({".mp4", ".mov", ".m4v", ".qt", ".avi", ".mkv", ".webm"})
HEAD_BYTES: Final = 32


def is_video(path: Path | str) -> bool:
    """Whether a file is, or by its name claims to be, a video.

    A file that cannot be opened is none: the reading of pictures says why.
    """
    path = Path(path)
    head = _head(path)
    if not head:
        return False
    kind = kind_of(head)
    return kind == "video" or (kind == "unknown" and path.suffix.lower() in VIDEO_SUFFIXES)


def container_format(path: Path) -> tuple[str, str]:
    """Name of the demuxer for a file, and the file's printable name.

    Raises
    ------
    PictureError
        The bytes are no video's.
    """
    name = path.name.encode("utf-8", "replace").decode()
    head = _head(path)
    if kind_of(head) != "video":
        raise PictureError(
            "This is not a video",
            why=f"it is named {path.suffix}, but its first bytes fit no kind of video.",
            fix="Copy the clip again from the phone, as MP4 or MOV.",
            where=name,
        )
    if head[:4] == b"RIFF":
        return "avi", name
    return ("matroska" if head.startswith(b"\x1aE\xdf\xa3") else "mov"), name


def _head(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(HEAD_BYTES)
    except OSError:
        return b""


def broken(name: str, error: Exception) -> PictureError:
    """The error for a file that starts like a video and cannot be decoded."""
    return PictureError(
        "The video cannot be read",
        why=f"the file is damaged or cut short ({getattr(error, 'strerror', None) or error}).",
        fix="Copy the clip again from the phone; if the recording was broken off, record it anew.",
        where=name,
    )


def no_codec(name: str) -> PictureError:
    """The error for a coding that no decoder knows."""
    return PictureError(
        "The video's coding is not read",
        why="no decoder knows how its pictures are packed.",
        fix="Save it anew as MP4 with H.264, which every phone and video program can write.",
        where=name,
    )


def no_frames(name: str, *, start_s: float, length_s: float) -> PictureError:
    """The error for a stretch of a clip that holds hardly any picture."""
    if start_s > 0.0 and length_s > 0.0:
        why = f"from {start_s:.1f} s on nothing can be decoded; the clip is {length_s:.1f} s long."
        fix = "Name an earlier start, or copy the clip again from the phone."
    else:
        why = "fewer than two of its pictures can be decoded."
        fix = "Copy the clip again from the phone, or give a picture."
    return PictureError("The video holds too little", why=why, fix=fix, where=name)
