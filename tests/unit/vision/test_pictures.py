"""Picture files: what is read, what is dropped, what is refused and in which words."""

from __future__ import annotations

import contextlib
import hashlib
import io
import os
import struct
import zlib
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pillow_heif
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray
from PIL import Image

from wellset.errors import OutputError, PictureError
from wellset.vision.pictures import encode_jpeg, read_picture, write_picture

WIDTH, HEIGHT = 400, 300
MAKE, ORIENTATION, GPS_FOLDER, FOCAL_35MM = 0x010F, 0x0112, 0x8825, 0xA405
EXIF_FOLDER = 0x8769


def gradient() -> NDArray[np.uint8]:
    """Red grows to the right, green grows downwards; no two corners alike."""
    down, across = np.mgrid[0:HEIGHT, 0:WIDTH]
    picture = np.zeros((HEIGHT, WIDTH, 3))
    picture[..., 0] = across * 255 / (WIDTH - 1)
    picture[..., 1] = down * 255 / (HEIGHT - 1)
    return picture.astype(np.uint8)


STORED: dict[int, Callable[[NDArray[np.uint8]], NDArray[np.uint8]]] = {
    1: lambda a: a,
    2: lambda a: a[:, ::-1],
    3: lambda a: a[::-1, ::-1],
    4: lambda a: a[::-1],
    5: lambda a: a.transpose(1, 0, 2),
    6: np.rot90,
    7: lambda a: np.rot90(a, 2).transpose(1, 0, 2),
    8: lambda a: np.rot90(a, -1),
}
"""How a camera held in each of the eight ways stores an upright scene."""


def tags(*, orientation: int = 1, focal: float | None = None) -> Image.Exif:
    exif = Image.Exif()
    exif[MAKE] = "a camera"
    exif[ORIENTATION] = orientation
    exif.get_ifd(GPS_FOLDER)[1] = "N"
    exif.get_ifd(GPS_FOLDER)[2] = (51.0, 30.0, 0.0)
    if focal is not None:
        exif.get_ifd(EXIF_FOLDER)[FOCAL_35MM] = focal
    return exif


def save(path: Path, image: Image.Image, *, exif: Image.Exif | None = None) -> Path:
    if exif is None:
        image.save(path)
    else:
        image.save(path, exif=exif.tobytes())
    return path


def refusal(path: Path) -> PictureError:
    with pytest.raises(PictureError) as caught:
        read_picture(path)
    error = caught.value
    assert error.where == path.name
    assert error.why
    assert error.fix
    return error


def test_a_png_comes_back_pixel_for_pixel_and_read_only(tmp_path: Path) -> None:
    path = save(tmp_path / "a.png", Image.fromarray(gradient()))
    picture = read_picture(path)
    np.testing.assert_array_equal(picture.rgb, gradient())
    assert not picture.rgb.flags.writeable
    assert picture.facts.name == "a.png"
    assert picture.facts.sha256 == hashlib.sha256(path.read_bytes()).hexdigest()


@pytest.mark.parametrize("orientation", range(1, 9))
def test_every_orientation_of_a_jpeg_comes_back_upright(tmp_path: Path, orientation: int) -> None:
    # The eight values of Exif's Orientation tag (CIPA DC-008) and what undoes them.
    image = Image.fromarray(np.ascontiguousarray(STORED[orientation](gradient())))
    path = tmp_path / "turned.jpg"
    image.save(path, quality=95, exif=tags(orientation=orientation).tobytes())
    picture = read_picture(path)
    assert (picture.facts.width_px, picture.facts.height_px) == (WIDTH, HEIGHT)
    assert np.abs(picture.rgb.astype(int) - gradient()).max() < 12


def test_a_heic_comes_back_upright_with_its_focal_length(tmp_path: Path) -> None:
    stored = Image.fromarray(np.ascontiguousarray(np.rot90(gradient())))
    heif = pillow_heif.from_pillow(stored)
    path = tmp_path / "phone.heic"
    heif.save(path, quality=90, exif=tags(orientation=6, focal=26).tobytes())
    picture = read_picture(path)
    assert picture.rgb.shape == (HEIGHT, WIDTH, 3)
    assert np.abs(picture.rgb.astype(int) - gradient()).mean() < 5
    assert picture.facts.focal_35mm == 26.0


@pytest.mark.parametrize(
    ("written", "read", "codes"),
    [(26, 26.0, []), (0, None, []), (None, None, []), (9000, None, ["focal_length_absurd"])],
)
def test_only_a_believable_focal_length_is_taken(
    tmp_path: Path, written: float | None, read: float | None, codes: list[str]
) -> None:
    path = save(tmp_path / "f.jpg", Image.fromarray(gradient()), exif=tags(focal=written))
    picture = read_picture(path)
    assert picture.facts.focal_35mm == read
    assert [note.code for note in picture.notes] == codes


def test_a_picture_of_a_shape_that_no_camera_delivers_was_cut(tmp_path: Path) -> None:
    cut = read_picture(save(tmp_path / "c.jpg", Image.fromarray(gradient()[:, :350])))
    assert [note.code for note in cut.notes] == ["picture_cut"]
    assert cut.facts.was_cut
    assert not read_picture(save(tmp_path / "w.jpg", Image.fromarray(gradient()))).facts.was_cut


@pytest.mark.parametrize(("taken_as", "was_cut"), [((4032, 3024), False), ((4032, 2268), True)])
def test_a_picture_of_another_shape_than_the_camera_wrote_down_was_cut(
    tmp_path: Path, taken_as: tuple[int, int], was_cut: bool
) -> None:
    exif = tags(focal=26)
    exif.get_ifd(0x8769).update({0xA002: taken_as[0], 0xA003: taken_as[1]})
    path = save(tmp_path / "t.jpg", Image.fromarray(gradient()), exif=exif)
    assert read_picture(path).facts.was_cut is was_cut


def test_no_tag_survives_writing(tmp_path: Path) -> None:
    source = save(tmp_path / "s.jpg", Image.fromarray(gradient()), exif=tags(focal=26))
    assert b"Exif" in source.read_bytes()
    write_picture(tmp_path / "w.jpg", read_picture(source).rgb)
    written = (tmp_path / "w.jpg").read_bytes()
    assert b"Exif" not in written
    assert b"a camera" not in written
    with Image.open(io.BytesIO(written)) as image:
        assert not image.getexif()
        assert image.size == (WIDTH, HEIGHT)


def test_writing_where_nothing_can_be_written_is_said_in_words(tmp_path: Path) -> None:
    with pytest.raises(OutputError, match="could not be written"):
        write_picture(tmp_path / "no" / "such" / "folder.jpg", gradient())


@pytest.mark.parametrize(
    ("mode", "suffix"), [("L", "png"), ("L", "jpg"), ("CMYK", "jpg"), ("P", "png"), ("1", "png")]
)
def test_other_colours_become_rgb(tmp_path: Path, mode: str, suffix: str) -> None:
    image = Image.fromarray(gradient()).convert(mode)
    picture = read_picture(save(tmp_path / f"a.{suffix}", image))
    expected = np.asarray(image.convert("RGB")).astype(int)
    assert np.abs(picture.rgb - expected).mean() < 3


def test_sixteen_bit_grey_is_scaled_not_cut(tmp_path: Path) -> None:
    deep = np.linspace(0, 65535, HEIGHT * WIDTH).reshape(HEIGHT, WIDTH).astype(np.uint16)
    picture = read_picture(save(tmp_path / "deep.png", Image.fromarray(deep)))
    np.testing.assert_allclose(picture.rgb[..., 0], deep / 257.0, atol=0.51)


def test_what_is_see_through_becomes_white(tmp_path: Path) -> None:
    layered = np.dstack([gradient(), np.zeros((HEIGHT, WIDTH), np.uint8)])
    picture = read_picture(save(tmp_path / "clear.png", Image.fromarray(layered)))
    assert picture.rgb.min() == 255


def test_a_bomb_is_refused_from_its_header_without_being_decoded(tmp_path: Path) -> None:
    header = struct.pack(">IIBBBBB", 30_000, 30_000, 8, 2, 0, 0, 0)
    chunk = b"IHDR" + header
    png = b"\x89PNG\r\n\x1a\n" + struct.pack(">I", len(header)) + chunk
    png += struct.pack(">I", zlib.crc32(chunk))
    # No pixels follow: decoding would fail, and say something else.
    body = b"IDAT" + zlib.compress(b"\x00")
    png += struct.pack(">I", len(body) - 4) + body + struct.pack(">I", zlib.crc32(body))
    path = tmp_path / "bomb.png"
    path.write_bytes(png)
    error = refusal(path)
    assert "too large" in error.what
    assert "900 megapixels" in error.why


@pytest.mark.parametrize("share", [0.02, 0.3, 0.9])
@pytest.mark.parametrize("suffix", ["jpg", "png", "webp"])
def test_a_picture_cut_short_is_refused(tmp_path: Path, suffix: str, share: float) -> None:
    noise = np.random.default_rng(0).integers(0, 255, (HEIGHT, WIDTH, 3), dtype=np.uint8)
    path = save(tmp_path / f"whole.{suffix}", Image.fromarray(noise))
    whole = path.read_bytes()
    path.write_bytes(whole[: max(40, int(len(whole) * share))])
    assert "cannot be read" in refusal(path).what


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"", "empty"),
        (b"PK\x03\x04" + bytes(200), "not a picture"),
        (b"%PDF-1.7\n" + bytes(200), "PDF"),
        (b"\x00\x00\x00\x18ftypmp42" + bytes(200), "Videos"),
        (b"\x00\x00\x00\x14ftypqt  " + bytes(200), "Videos"),
        (b"\x1aE\xdf\xa3" + bytes(200), "Videos"),
        (b"II*\x00" + bytes(200), "kind of picture"),
        (b"just some text, no picture at all", "not a picture"),
        (b"\xff\xd8\xff\xe0" + b"nonsense" * 30, "cannot be read"),
        (b"\x00\x00\x00\x18ftypheic" + b"nonsense" * 30, "cannot be read"),
    ],
)
def test_what_is_no_picture_is_named_and_refused(
    tmp_path: Path, content: bytes, words: str
) -> None:
    path = tmp_path / "holiday.jpg"
    path.write_bytes(content)
    assert words in refusal(path).what


def test_a_missing_file_and_a_folder_are_refused(tmp_path: Path) -> None:
    assert "no such picture" in refusal(tmp_path / "gone.jpg").what
    (tmp_path / "folder.jpg").mkdir()
    assert "folder" in refusal(tmp_path / "folder.jpg").what


def test_a_thumbnail_is_refused(tmp_path: Path) -> None:
    small = save(tmp_path / "small.jpg", Image.fromarray(gradient()[:150]))
    error = refusal(small)
    assert "too small" in error.what
    assert "400 x 150" in error.why


def test_a_jpeg_is_known_by_its_content_whatever_its_name(tmp_path: Path) -> None:
    path = tmp_path / "really_a_jpeg.png"
    path.write_bytes(encode_jpeg(gradient()))
    assert read_picture(path).rgb.shape == (HEIGHT, WIDTH, 3)


def bytes_of(kind: str) -> bytes:
    buffer = io.BytesIO()
    Image.fromarray(gradient()).save(buffer, kind, exif=tags(orientation=6, focal=26).tobytes())
    return buffer.getvalue()


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    kind=st.sampled_from(["JPEG", "PNG", "WEBP"]),
    changes=st.lists(st.tuples(st.floats(0.0, 0.999), st.integers(0, 255)), max_size=12),
    kept=st.floats(0.05, 1.0),
)
def test_a_damaged_file_is_read_or_refused_and_never_anything_else(
    tmp_path_factory: pytest.TempPathFactory,
    kind: str,
    changes: list[tuple[float, int]],
    kept: float,
) -> None:
    content = bytearray(bytes_of(kind))
    for place, value in changes:
        content[int(place * len(content))] = value
    path = tmp_path_factory.mktemp("damaged") / "damaged"
    path.write_bytes(content[: int(kept * len(content))])
    with contextlib.suppress(PictureError):
        assert read_picture(path).rgb.dtype == np.uint8


def test_a_file_name_that_is_no_text_is_shown_with_question_marks(tmp_path: Path) -> None:
    path = Path(os.fsdecode(os.fsencode(tmp_path) + b"/no\xfftext.png"))
    try:
        Image.new("RGB", (400, 300), "olive").save(path)
    except OSError:
        pytest.skip("this file system takes only names that are text")
    assert read_picture(path).facts.name == "no?text.png"
