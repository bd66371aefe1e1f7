"""Files: whole or not at all, without metadata, and what was written stays."""

from __future__ import annotations

import errno
import io
import json
import os
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from tests.support.reports import assessment, plain_picture
from wellset.errors import OutputError
from wellset.figure.views import View
from wellset.reports.contract import AssessmentDocument
from wellset.reports.marks import Box
from wellset.reports.paint import MOST_PIXELS, jpeg_bytes, shown_pixels
from wellset.reports.writing import write_file, write_report

LEFT = "mid_iron_left_handed_weight_in_heels_01"


def test_a_report_is_a_page_the_data_and_the_marked_up_pictures(tmp_path: Path) -> None:
    written = write_report(
        assessment(), tmp_path / "new" / "folder", extra={"landmarks.json": "{}"}
    )
    names = {path.name for path in written.folder.iterdir()}
    assert names == {
        "report.html",
        "assessment.json",
        "face_on.jpg",
        "down_the_line.jpg",
        "landmarks.json",
    }
    assert set(written.all) == set(written.folder.iterdir())
    AssessmentDocument.model_validate(json.loads(written.data.read_text(encoding="utf-8")))


def test_marked_up_pictures_carry_no_metadata(tmp_path: Path) -> None:
    for path in write_report(assessment(LEFT), tmp_path).pictures.values():
        data = path.read_bytes()
        assert b"Exif" not in data
        assert b"http" not in data
        with Image.open(io.BytesIO(data)) as picture:
            assert not picture.getexif()
            assert set(picture.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}


def test_marks_are_painted_on_the_picture(tmp_path: Path) -> None:
    written = write_report(assessment(), tmp_path)
    for view, path in written.pictures.items():
        with Image.open(path) as picture:
            colours = np.asarray(picture.convert("RGB")).reshape(-1, 3).astype(int)
        amber = np.abs(colours - [255, 184, 28]).max(axis=1) < 40
        assert amber.sum() > 50, view
        assert max(picture.size) <= MOST_PIXELS


def test_metadata_of_the_source_cannot_reach_a_written_picture() -> None:
    source = Image.fromarray(plain_picture(60, 80))
    source.getexif()[0x010E] = "secret"
    source.info["comment"] = b"secret"
    assert b"secret" not in jpeg_bytes(source)


def test_a_large_picture_is_made_smaller_and_an_absent_one_is_plain() -> None:
    frame = Box(x=0, y=0, width=3000, height=4000)
    assert max(shown_pixels(plain_picture(3000, 4000), frame).size) == MOST_PIXELS
    assert len(np.unique(np.asarray(shown_pixels(None, frame)).reshape(-1, 3), axis=0)) == 1


def test_the_shown_part_is_cut_where_the_frame_says() -> None:
    rgb = plain_picture(100, 100)
    rgb[30, 20] = (255, 0, 0)
    shown = shown_pixels(rgb, Box(x=20, y=30, width=40, height=50))
    assert shown.size == (40, 50)
    assert shown.getpixel((0, 0)) == (255, 0, 0)


def test_a_file_in_the_way_is_told_and_left_alone(tmp_path: Path) -> None:
    taken = tmp_path / "taken"
    taken.write_text("mine", encoding="utf-8")
    with pytest.raises(OutputError, match="in the way"):
        write_report(assessment(), taken)
    assert taken.read_text(encoding="utf-8") == "mine"


def test_a_full_disk_is_told_and_what_was_there_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = write_file(tmp_path / "page.html", "old")

    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(OutputError, match="the disk is full"):
        write_file(path, "new")
    assert path.read_text(encoding="utf-8") == "old"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.skipif(os.geteuid() == 0, reason="the administrator may write everywhere")
def test_a_folder_without_permission_is_told(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    with pytest.raises(OutputError, match="no permission"):
        write_file(tmp_path / "page.html", "new")


def test_the_data_survive_when_the_page_cannot_be_written(tmp_path: Path) -> None:
    (tmp_path / "report.html").mkdir()
    with pytest.raises(OutputError):
        write_report(assessment(), tmp_path)
    assert (tmp_path / "assessment.json").is_file()


def test_one_picture_gives_one_marked_up_file(tmp_path: Path) -> None:
    written = write_report(assessment(views=(View.FACE_ON,)), tmp_path)
    assert set(written.pictures) == {View.FACE_ON}
