"""Pictures and clips on their way into the media store: streamed, never held in memory."""

from __future__ import annotations

from collections.abc import AsyncIterator, Iterator
from itertools import chain
from typing import Final

from anyio import from_thread, to_thread
from fastapi import Request
from starlette.datastructures import UploadFile
from starlette.requests import ClientDisconnect

from wellset.errors import InputError
from wellset.lessons import PlateFile, Shown
from wellset.services.asked import plate_of_bytes
from wellset.services.media_kinds import HEAD, media_kind
from wellset.services.media_store import MediaStore
from wellset.services.weighing import check_plate
from wellset.web.site import Site

_PIECE: Final = 1 << 20
MOST_PLATE: Final = 32_000_000
"""An hour of readings, written out long."""


async def keep_stream(request: Request, site: Site, *, name: str) -> Shown:
    """Keep the body of a request.

    Raises
    ------
    PictureError
        When it is no picture and no clip; told from its first bytes.
    InputError
        When it is empty, too large or broken off.
    """
    length = request.headers.get("content-length", "")
    most = site.options.most_upload
    if length.isdigit() and int(length) > most:
        raise _too_large(most)
    pieces = request.stream()
    return await to_thread.run_sync(
        lambda: keep_pieces(site.desk.media, _pulled(pieces), name=name, most=most)
    )


def keep_upload(site: Site, upload: UploadFile, /) -> Shown:
    """Keep a file of a plain form."""
    name = upload.filename or "picture"
    pieces = iter(lambda: upload.file.read(_PIECE), b"")
    return keep_pieces(site.desk.media, pieces, name=name, most=site.options.most_upload)


def keep_plate(site: Site, upload: UploadFile, /) -> PlateFile:
    """Keep a pressure plate's file of a plain form, once it can be read.

    Raises
    ------
    InputError
    """
    return plate_kept(site, upload.file.read(MOST_PLATE + 1), name=upload.filename or "plate.csv")


def plate_kept(site: Site, data: bytes, /, *, name: str) -> PlateFile:
    """Keep the bytes of a pressure plate's file, once they can be read.

    Raises
    ------
    InputError
    """
    if len(data) > MOST_PLATE:
        raise _too_large(MOST_PLATE)
    name = plain_name(name)
    check_plate(plate_of_bytes(data, name=name))
    kept = site.desk.media.keep(iter([data]), most=MOST_PLATE)
    return PlateFile(media=kept.media, name=name)


async def keep_plate_stream(request: Request, site: Site, *, name: str) -> PlateFile:
    """Keep the body of a request as a pressure plate's file, once it can be read.

    Raises
    ------
    InputError
    """
    data = b""
    try:
        async for piece in request.stream():
            data += piece
            if len(data) > MOST_PLATE:
                raise _too_large(MOST_PLATE)
    except ClientDisconnect:
        raise _broken_off() from None
    return await to_thread.run_sync(lambda: plate_kept(site, data, name=name))


def kept_before(site: Site, *, media: str, name: str) -> Shown:
    """A picture or clip that was sent before its form.

    Raises
    ------
    MissingError, PictureError
    """
    with site.desk.media.path(media).open("rb") as file:
        kind = media_kind(file.read(HEAD), name=name)
    return Shown(media=media, name=plain_name(name), kind=kind.type)


def keep_pieces(media: MediaStore, pieces: Iterator[bytes], *, name: str, most: int) -> Shown:
    """Look at the first bytes, then keep all of them."""
    head = b""
    for piece in pieces:
        head += piece
        if len(head) >= HEAD:
            break
    if not head:
        raise InputError(
            "This file is empty", why="it has no bytes.", fix="Choose it again.", where=name
        )
    kind = media_kind(head[:HEAD], name=name)
    kept = media.keep(chain([head], pieces), most=most)
    return Shown(media=kept.media, name=plain_name(name), kind=kind.type)


def plain_name(name: str, /) -> str:
    """The last part of a file's name, printable, not too long."""
    last = name.replace("\\", "/").rsplit("/", maxsplit=1)[-1]
    return "".join(c for c in last if c.isprintable())[-200:].strip() or "picture"


def _pulled(pieces: AsyncIterator[bytes]) -> Iterator[bytes]:
    """The pieces of a request, from inside a thread."""

    async def one() -> bytes | None:
        try:
            return await anext(pieces)
        except StopAsyncIteration:
            return None
        except ClientDisconnect:
            raise _broken_off() from None

    while True:
        piece = from_thread.run(one)
        if piece is None:
            return
        if piece:
            yield piece


def _broken_off() -> InputError:
    return InputError(
        "The file did not arrive whole",
        why="the connection broke off.",
        fix="Send it again; nothing was half kept.",
    )


def _too_large(most: int) -> InputError:
    return InputError(
        "This file is too large",
        why=f"it has more than {most // 1_000_000} MB.",
        fix="Send a shorter clip or a smaller picture.",
    )
