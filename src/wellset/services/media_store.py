"""The store of pictures, clips and plates' files as the use cases need it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager
from pathlib import Path
from typing import Protocol

from attrs import frozen


@frozen(kw_only=True)
class Kept:
    """A file in the media store."""

    media: str
    size: int


class MediaStore(Protocol):
    """Keeps files by the digest of their bytes: the same picture is kept once."""

    def keep(self, chunks: Iterator[bytes], *, most: int) -> Kept:
        """Keep a stream of bytes whole or not at all.

        Raises
        ------
        InputError
            When it has more than `most` bytes.
        StorageError
            When the disk is full.
        """

    def path(self, media: str, /) -> Path:
        """Where a kept file can be read. Raises :class:`MissingError`."""

    def lend(self, media: str, *, name: str) -> AbstractContextManager[Path]:
        """A kept file under the name it was given, for programs that read names.

        Raises
        ------
        MissingError
        """

    def remove(self, media: str, /) -> None:
        """Remove a file; it may be gone already."""

    def all(self) -> Iterator[str]:
        """Digests of everything kept."""
