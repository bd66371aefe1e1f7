"""Picture files to pixels and facts, and back; nothing of a file's metadata is kept.

Only the focal length tag and the orientation are read from a file's metadata.
Everything else there (place, time, owner, camera) is dropped with the file, so
no value of the project and nothing it writes can carry it.
"""

from __future__ import annotations

import hashlib
import io
import struct
import warnings
from pathlib import Path
from typing import Final

import numpy as np
from attrs import field, frozen
from numpy.typing import NDArray
from PIL import Image, ImageOps

from wellset.errors import OutputError, PictureError
from wellset.figure.notes import Note
from wellset.figure.sighting import PictureFacts
from wellset.vision.files import open_header

Pixels = NDArray[np.uint8]

MOST_PIXELS: Final = 60_000_000
"""Larger pictures are refused from their header. The largest phone sensors in common
use give 50 megapixels; 60 leaves room (own choice, no source)."""

LARGEST_FILE_BYTES: Final = 256 * 1024 * 1024
"""Larger files are refused unread: a 60-megapixel picture is smaller in every format
read here (three bytes a pixel are 180 MB)."""

SMALLEST_SIDES_PX: Final = (160, 320)
"""Least short and long side. A picture cut closely around a golfer may be narrow; below the
second number a golfer fills too few pixels for the landmark network's 320-pixel crop to hold
anything but blur (own choice, no source)."""

ORIENTATION_TAG: Final = 0x0112
EXIF_FOLDER_TAG: Final = 0x8769
FOCAL_35MM_TAG: Final = 0xA405
SIZE_TAGS: Final = (0xA002, 0xA003)
"""Exif numbers: Orientation, the Exif sub-folder, FocalLengthIn35mmFilm, PixelXDimension and
PixelYDimension (CIPA DC-008). Programs that cut a picture often leave the last two alone."""

BELIEVABLE_FOCAL_35MM: Final = (8.0, 400.0)
"""From a fisheye to a long tele lens; 0 means *unknown* in CIPA DC-008, anything else
outside is taken for a mistake of the program that wrote it (own choice)."""

SENSOR_ASPECTS: Final = (4 / 3, 3 / 2, 16 / 9, 1.0, 2.0, 19.5 / 9, 20 / 9)
"""Shapes cameras deliver, the last three in full-screen modes of phones (from memory). Any
other shape has been cut by hand."""

ASPECT_TOLERANCE: Final = 0.01


_BAD_TAG: Final = (
    AttributeError,
    LookupError,
    OSError,
    SyntaxError,
    TypeError,
    ValueError,
    ZeroDivisionError,
    OverflowError,
    struct.error,
)
"""Any mess in a tag means that there is no tag."""


def _read_only(value: Pixels) -> Pixels:
    array = np.ascontiguousarray(value, dtype=np.uint8)
    if array.ndim != 3 or array.shape[2] != 3:
        raise ValueError(f"expected (height, width, 3) pixels, got {array.shape}")
    if array.flags.writeable:
        array = array.copy() if array is value else array
        array.setflags(write=False)
    return array


@frozen(kw_only=True, eq=False)
class Picture:
    """An upright picture: its pixels, what is known about its file, and remarks.

    Parameters
    ----------
    facts : PictureFacts
        Size after the orientation tag was applied, focal length, checksum.
    rgb : (height, width, 3) uint8 array, read-only
        Upright pixels, red, green, blue.
    notes : tuple of Note
        Doubtful but usable findings about the file.
    """

    facts: PictureFacts
    rgb: Pixels = field(converter=_read_only)
    notes: tuple[Note, ...] = ()


def read_picture(path: Path | str) -> Picture:
    """Read a JPEG, PNG, WebP or HEIC file into upright pixels and facts.

    Parameters
    ----------
    path : path-like
        The picture file. Its content decides its kind, not its name.

    Returns
    -------
    Picture
        The name in its facts is the file's name without folders.

    Raises
    ------
    PictureError
        The file is missing, unreadable, cut short, not a picture, of more than
        60 megapixels or smaller than 160 x 320 pixels.
    """
    path = Path(path)
    content = _content(path)
    name = _printable_name(path)
    with warnings.catch_warnings():  # a corrupt tag is no reason to print at the user
        warnings.simplefilter("ignore")
        image = open_header(content, name=name)
        _check_size(image.size, name=name)
        focal, notes = _focal_35mm(image, name=name)
        taken_as = _size_when_taken(image)
        rgb = _upright_pixels(image, name=name)
    height, width = rgb.shape[:2]
    was_cut = not _looks_uncut(width, height, taken_as=taken_as)
    facts = PictureFacts(
        name=name,
        width_px=width,
        height_px=height,
        focal_35mm=focal,
        sha256=hashlib.sha256(content).hexdigest(),
        was_cut=was_cut,
    )
    if was_cut:
        notes = (*notes, _cut_note(width, height, name=name))
    return Picture(facts=facts, rgb=rgb, notes=notes)


def _printable_name(path: Path) -> str:
    """The file's name without folders; bytes that are no text become question marks."""
    return path.name.encode("utf-8", "replace").decode()


def encode_jpeg(rgb: Pixels, *, quality: int = 90) -> bytes:
    """Pixels as a JPEG file's bytes, without any metadata.

    Parameters
    ----------
    rgb : (height, width, 3) uint8 array
    quality : int
        JPEG quality, 1 to 95.
    """
    buffer = io.BytesIO()
    Image.fromarray(np.ascontiguousarray(rgb)).save(buffer, "JPEG", quality=quality, optimize=True)
    return buffer.getvalue()


def write_picture(path: Path | str, rgb: Pixels, *, quality: int = 90) -> None:
    """Write pixels to a JPEG file that carries no metadata.

    Raises
    ------
    OutputError
        The file cannot be written.
    """
    path = Path(path)
    try:
        path.write_bytes(encode_jpeg(rgb, quality=quality))
    except OSError as error:
        raise OutputError(
            "The picture could not be written",
            why=f"the system says: {error.strerror or error}.",
            fix="Choose a folder you may write to, with room left.",
            where=str(path),
        ) from error


def _content(path: Path) -> bytes:
    """The file's bytes, or a sentence why there are none."""
    name = path.name or str(path)
    if path.is_dir():
        raise PictureError(
            "This is a folder, not a picture",
            why="a single picture file is needed for each view.",
            fix="Give the path of the picture inside the folder.",
            where=name,
        )
    try:
        size = path.stat().st_size
        if size > LARGEST_FILE_BYTES:
            raise PictureError(
                "The file is too large for a picture",
                why=f"it has {size / 2**20:.0f} MB; at most {LARGEST_FILE_BYTES / 2**20:.0f} MB "
                "are read.",
                fix="Save it as a JPEG of at most 60 megapixels.",
                where=name,
            )
        content = path.read_bytes()
    except OSError as error:
        raise _unreachable(error, name=name) from error
    if not content:
        raise PictureError(
            "The file is empty",
            why="it has 0 bytes; the copy or download was probably broken off.",
            fix="Copy the picture again from the phone or camera.",
            where=name,
        )
    return content


def _unreachable(error: OSError, *, name: str) -> PictureError:
    missing = isinstance(error, FileNotFoundError)
    return PictureError(
        "There is no such picture" if missing else "The picture cannot be opened",
        why="no file of this name was found." if missing else f"the system says: {error.strerror}.",
        fix="Check the spelling of the path." if missing else "Check that you may read the file.",
        where=name,
    )


def _check_size(size: tuple[int, int], *, name: str) -> None:
    width, height = size
    if width * height > MOST_PIXELS:
        raise PictureError(
            "The picture is too large",
            why=f"its header says {width} x {height}, {width * height / 1e6:.0f} megapixels; "
            f"at most {MOST_PIXELS / 1e6:.0f} are read.",
            fix="Save it smaller: 2000 pixels on the long side are plenty.",
            where=name,
        )
    short, long = SMALLEST_SIDES_PX
    if min(width, height) < short or max(width, height) < long:
        raise PictureError(
            "The picture is too small",
            why=f"it has {width} x {height} pixels; at least {short} x {long} are needed.",
            fix="Use the original picture, not a preview or a picture sent by a messenger.",
            where=name,
        )


def _size_when_taken(image: Image.Image) -> tuple[int, int] | None:
    """Width and height that the camera wrote into the file, if it did."""
    try:
        tags = image.getexif().get_ifd(EXIF_FOLDER_TAG)
        width, height = (int(tags.get(tag, 0)) for tag in SIZE_TAGS)
    except _BAD_TAG:
        return None
    return (width, height) if width > 0 and height > 0 else None


def _focal_35mm(image: Image.Image, *, name: str) -> tuple[float | None, tuple[Note, ...]]:
    """The 35 mm-equivalent focal length tag in millimetres, if it is believable."""
    try:
        value = float(image.getexif().get_ifd(EXIF_FOLDER_TAG).get(FOCAL_35MM_TAG, 0.0))
    except _BAD_TAG:
        return None, ()
    low, high = BELIEVABLE_FOCAL_35MM
    if low <= value <= high:
        return value, ()
    if value == 0.0 or not np.isfinite(value):
        return None, ()
    note = Note(
        code="focal_length_absurd",
        message=f"The picture's tag claims a focal length of {value:g} mm (35 mm equivalent), "
        "which no ordinary camera has; the tag is ignored.",
        remedy="Use the original file from the camera if there is one.",
        where=name,
    )
    return None, (note,)


def _upright_pixels(image: Image.Image, *, name: str) -> Pixels:
    """Decode, turn upright and bring to 8-bit RGB, whatever the file's colours are."""
    try:
        image.load()
        image = ImageOps.exif_transpose(image)
    except (
        Image.DecompressionBombError,
        EOFError,
        IndexError,
        OSError,
        RuntimeError,
        SyntaxError,
        ValueError,
    ) as error:
        raise PictureError(
            "The picture cannot be read to its end",
            why=f"the file is damaged or cut short ({error}).",
            fix="Copy or download it again, or save it anew as a JPEG.",
            where=name,
        ) from error
    return np.asarray(_to_rgb(image), dtype=np.uint8)


def _to_rgb(image: Image.Image) -> Image.Image:
    if image.mode.startswith("I") or image.mode == "F":  # 16-bit grey, or wider
        values = np.asarray(image, dtype=np.float64)
        top = 65535.0 if values.max() > 255.0 else 255.0
        grey = np.clip(np.round(values * (255.0 / top)), 0, 255).astype(np.uint8)
        return Image.fromarray(grey).convert("RGB")
    if image.mode in {"RGBA", "LA", "PA", "RGBa", "La"} or "transparency" in image.info:
        layered = image.convert("RGBA")  # what is see-through becomes white
        ground = Image.new("RGBA", layered.size, (255, 255, 255, 255))
        return Image.alpha_composite(ground, layered).convert("RGB")
    return image.convert("RGB")


def _looks_uncut(width: int, height: int, *, taken_as: tuple[int, int] | None) -> bool:
    """Whether the shape is one that cameras deliver, and the one the camera wrote down."""
    aspect = max(width, height) / min(width, height)
    known = list(SENSOR_ASPECTS)
    if taken_as is not None:
        known = [max(taken_as) / min(taken_as)]
    return any(abs(aspect / each - 1.0) <= ASPECT_TOLERANCE for each in known)


def _cut_note(width: int, height: int, *, name: str) -> Note:
    return Note(
        code="picture_cut",
        message=f"The picture was probably cut after it was taken: {width} x {height} is not the "
        "shape that the camera made. Where its middle was is then unknown, and a focal length tag "
        "no longer fits; the ranges allow for that.",
        remedy="Use the uncut picture if there is one.",
        where=name,
    )
