"""What may be kept as a picture or clip, told from its first bytes, never from its name."""

from __future__ import annotations

from typing import Final

from attrs import frozen

from wellset.errors import PictureError

HEAD: Final = 32
"""Bytes that tell."""

STILL_BRANDS: Final = frozenset(
    {b"heic", b"heix", b"hevc", b"hevx", b"heim", b"heis", b"mif1", b"msf1"}
)
"""Brands of still pictures in the ISO base media format (ISO/IEC 23008-12)."""
_OTHERS: Final = (
    (b"PK", "a zip archive"),
    (b"%PDF", "a PDF document"),
    (b"GIF8", "a GIF picture"),
    (b"<", "a web page or drawing"),
    (b"\x1aE\xdf\xa3", "a video of a kind that is not read (WebM, Matroska)"),
)


@frozen
class MediaKind:
    """A kind of file.

    Parameters
    ----------
    type : str
        Its media type.
    clip : bool
        Whether it moves.
    """

    type: str
    clip: bool


def media_kind(head: bytes, *, name: str) -> MediaKind:
    """The kind of a file from its first :data:`HEAD` bytes.

    Raises
    ------
    PictureError
        For anything but JPEG, PNG, WebP, HEIC, MP4 and MOV.
    """
    if head.startswith(b"\xff\xd8\xff"):
        return MediaKind("image/jpeg", clip=False)
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return MediaKind("image/png", clip=False)
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return MediaKind("image/webp", clip=False)
    if head[4:8] == b"ftyp":
        if head[8:12] in STILL_BRANDS:
            return MediaKind("image/heic", clip=False)
        return MediaKind("video/quicktime" if head[8:10] == b"qt" else "video/mp4", clip=True)
    if head[4:8] in {b"moov", b"mdat", b"wide"}:
        return MediaKind("video/quicktime", clip=True)
    what = next((words for start, words in _OTHERS if head.lstrip().startswith(start)), "")
    raise PictureError(
        "This is no picture and no clip that can be used",
        why=f"its content is {what}." if what else "its content is of an unknown kind.",
        fix="Send a JPEG, PNG or HEIC picture, or an MP4 or MOV clip.",
        where=name,
    )
