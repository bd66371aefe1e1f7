"""Pictures and clips in a folder, each under the digest of its bytes."""

from __future__ import annotations

import errno
import hashlib
import os
import re
import shutil
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Final

from wellset.errors import InputError, MissingError, StorageError
from wellset.services.media_store import Kept

_DIGEST: Final = re.compile(r"[0-9a-f]{64}")
_UNFINISHED: Final = "unfinished-"
_STALE_S: Final = 86_400.0
_NO_FILE_NAME: Final = re.compile(r"[^\w.()+ -]")


class FolderMedia:
    """A media store in a folder; see :class:`wellset.services.book.MediaStore`.

    A file appears under its name whole or not at all: bytes go to a file beside it, are
    forced to the disk, and are renamed. Names are digests, so nothing a person types
    becomes part of a path.

    Parameters
    ----------
    folder : Path
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        folder.mkdir(parents=True, exist_ok=True)

    def sweep(self) -> None:
        """Remove what a killed program left unfinished more than a day ago."""
        for left in self._folder.glob(f"{_UNFINISHED}*"):
            if time.time() - left.stat().st_mtime < _STALE_S:
                continue
            if left.is_dir():
                shutil.rmtree(left, ignore_errors=True)
            else:
                left.unlink(missing_ok=True)

    def keep(self, chunks: Iterator[bytes], *, most: int) -> Kept:
        """Keep a stream of bytes whole or not at all."""
        try:
            handle, name = tempfile.mkstemp(prefix=_UNFINISHED, dir=self._folder)
        except OSError as error:
            raise _trouble(error) from error
        unfinished = Path(name)
        try:
            with os.fdopen(handle, "wb") as file:
                digest, size = _copy(chunks, file=file, most=most)
                file.flush()
                os.fsync(file.fileno())
            goal = self._place(digest)
            goal.parent.mkdir(exist_ok=True)
            unfinished.replace(goal)
        except OSError as error:
            if isinstance(error, StorageError):
                raise
            raise _trouble(error) from error
        finally:
            unfinished.unlink(missing_ok=True)
        return Kept(media=digest, size=size)

    def path(self, media: str, /) -> Path:
        """Where a kept file can be read."""
        place = self._place(media) if _DIGEST.fullmatch(media) else None
        if place is None or not place.is_file():
            raise MissingError(
                "This picture is not in the lesson book",
                why="its file is gone from the media folder.",
                fix="Take or choose it again, or restore the book from a backup.",
            )
        return place

    @contextmanager
    def lend(self, media: str, *, name: str) -> Iterator[Path]:
        """A kept file under the name it was given; what a path could be made of is left out."""
        kept = self.path(media)
        plain = _NO_FILE_NAME.sub("_", name).lstrip(".")[-100:] or "picture"
        with tempfile.TemporaryDirectory(prefix=_UNFINISHED, dir=self._folder) as folder:
            lent = Path(folder) / plain
            try:
                lent.hardlink_to(kept)
            except OSError:  # a file system without links
                shutil.copyfile(kept, lent)
            yield lent

    def remove(self, media: str, /) -> None:
        """Remove a file; it may be gone already."""
        if _DIGEST.fullmatch(media):
            self._place(media).unlink(missing_ok=True)

    def all(self) -> Iterator[str]:
        """Digests of everything kept."""
        for place in sorted(self._folder.glob("??/*")):
            if _DIGEST.fullmatch(place.name):
                yield place.name

    def _place(self, media: str) -> Path:
        return self._folder / media[:2] / media


def _copy(chunks: Iterator[bytes], *, file: IO[bytes], most: int) -> tuple[str, int]:
    digest, size = hashlib.sha256(), 0
    for chunk in chunks:
        size += len(chunk)
        if size > most:
            raise InputError(
                "This file is too large",
                why=f"it has more than {most // 1_000_000} MB.",
                fix="Send a shorter clip or a smaller picture.",
            )
        digest.update(chunk)
        file.write(chunk)
    return digest.hexdigest(), size


def _trouble(error: OSError) -> StorageError:
    full = error.errno in {errno.ENOSPC, errno.EDQUOT}
    return StorageError(
        "The picture could not be kept",
        why="the disk is full." if full else f"the disk says: {error.strerror}.",
        fix="Free some space, then send it again." if full else "Check the folder, then try again.",
    )
