"""Long documents are kept deflated: an assessment shrinks to a fifth."""

from __future__ import annotations

import unicodedata
import zlib
from typing import Final

from wellset.errors import StorageError

_LEVEL: Final = 3
"""A tenth larger than at the usual level, in two thirds of the time: a coach waits for it."""


def pack(text: str, /) -> bytes:
    """Text as deflated bytes."""
    return zlib.compress(text.encode(), _LEVEL) if text else b""


def unpack(data: bytes, /) -> str:
    """The text again.

    Raises
    ------
    StorageError
        When the bytes are damaged.
    """
    if not data:
        return ""
    try:
        return zlib.decompress(data).decode()
    except (zlib.error, UnicodeDecodeError):
        raise StorageError(
            "A document of the lesson book cannot be read",
            why="its bytes are damaged.",
            fix="Restore the book from a backup.",
        ) from None


def sort_name(name: str, /) -> str:
    """A name to search and sort by: without case and accents."""
    plain = unicodedata.normalize("NFKD", name.casefold())
    return "".join(c for c in plain if not unicodedata.combining(c))[:400]
