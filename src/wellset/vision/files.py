"""What a file is, from its first bytes, and its header opened by the right decoder.

The decoder is chosen from the content, never from the name, and only four
decoders are ever used; everything else is named in words and refused.
"""

from __future__ import annotations

import io
import struct
from collections.abc import Callable
from typing import Final

from PIL import Image
from PIL.JpegImagePlugin import jpeg_factory
from PIL.PngImagePlugin import PngImageFile
from PIL.WebPImagePlugin import WebPImageFile
from pillow_heif.as_plugin import HeifImageFile

from wellset.errors import PictureError
from wellset.services.media_kinds import STILL_BRANDS

SIGNATURES: Final = (
    (b"\xff\xd8\xff", "JPEG"),
    (b"\x89PNG\r\n\x1a\n", "PNG"),
    (b"%PDF", "PDF document"),
    (b"PK\x03\x04", "zip archive"),
    (b"PK\x05\x06", "zip archive"),
    (b"\x1f\x8b", "gzip archive"),
    (b"7z\xbc\xaf\x27\x1c", "7z archive"),
    (b"Rar!", "RAR archive"),
    (b"\x1aE\xdf\xa3", "video"),
    (b"GIF8", "GIF picture"),
    (b"BM", "BMP picture"),
    (b"II*\x00", "TIFF or raw picture"),
    (b"MM\x00*", "TIFF or raw picture"),
    (b"8BPS", "layered picture of a paint program"),
    (b"<svg", "drawing (SVG)"),
    (b"<?xml", "XML text"),
    (b"<!DOCTYPE", "web page"),
    (b"<html", "web page"),
)
"""First bytes of common files (open tables of file signatures; from memory)."""

Decoder = Callable[[io.BytesIO], Image.Image]

DECODERS: Final[dict[str, Decoder]] = {
    "JPEG": jpeg_factory,
    "PNG": PngImageFile,
    "WebP": WebPImageFile,
    "HEIC": HeifImageFile,
}

READ_AS: Final = "Save it as a JPEG, PNG or HEIC picture."


def kind_of(content: bytes) -> str:
    """What the bytes are, in words, or ``"unknown"``.

    Examples
    --------
    >>> kind_of(b"%PDF-1.7")
    'PDF document'
    >>> kind_of(b"hello")
    'unknown'
    """
    head = content[:32]
    if head[4:8] == b"ftyp":
        return _media_kind(head)
    if head[:4] == b"RIFF":
        return {b"WEBP": "WebP", b"AVI ": "video"}.get(head[8:12], "unknown")
    if head[4:8] in {b"moov", b"mdat", b"wide"}:
        return "video"
    for start, kind in SIGNATURES:
        if head.lstrip().startswith(start) if start.startswith(b"<") else head.startswith(start):
            return kind
    return "unknown"


def open_header(content: bytes, *, name: str) -> Image.Image:
    """Open a picture's header without decoding its pixels.

    Parameters
    ----------
    content : bytes
        The whole file.
    name : str
        File name for messages.

    Raises
    ------
    PictureError
        The file is a video, a document, an archive, another kind of picture, or
        its header is broken.
    """
    kind = kind_of(content)
    if kind not in DECODERS:
        raise _refusal(kind, name=name)
    try:
        return DECODERS[kind](io.BytesIO(content))
    except Image.DecompressionBombError as error:
        raise PictureError(
            "The picture is too large",
            why=f"its header promises more pixels than can be read ({error}).",
            fix="Save it smaller: 2000 pixels on the long side are plenty.",
            where=name,
        ) from error
    except (
        OSError,
        SyntaxError,
        ValueError,
        TypeError,
        IndexError,
        EOFError,
        RuntimeError,
        struct.error,
    ) as error:
        raise PictureError(
            "The picture cannot be read",
            why=f"it starts like a {kind} file, but its header is damaged ({error}).",
            fix="Copy or download it again, or save it anew as a JPEG.",
            where=name,
        ) from error


def _media_kind(head: bytes) -> str:
    brand = head[8:12]
    if brand in STILL_BRANDS:
        return "HEIC"
    return "AVIF picture" if brand in {b"avif", b"avis"} else "video"


def _refusal(kind: str, *, name: str) -> PictureError:
    if kind == "video":
        return PictureError(
            "Videos cannot be read here",
            why="the file holds a video, and a single picture is wanted.",
            fix="Pause it where the student stands still over the ball, save that still as a "
            "picture, and give the picture.",
            where=name,
        )
    if kind == "PDF document":
        return PictureError(
            "PDF documents cannot be read",
            why="the file is a document that may hold pictures, not a picture.",
            fix="Save the picture inside it as a still (JPEG, PNG or HEIC) and give that.",
            where=name,
        )
    why = "its first bytes fit no kind of picture." if kind == "unknown" else f"it is a {kind}."
    if kind.endswith("picture"):
        return PictureError("This kind of picture is not read", why=why, fix=READ_AS, where=name)
    return PictureError("This is not a picture", why=why, fix=READ_AS, where=name)
