"""``wellset report``, as a coach uses it at the keyboard."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from importlib import resources
from pathlib import Path

import pytest

import wellset
from tests.support.door import run
from tests.support.take_home import document, text_of
from wellset.bootstrap.report import read_assessment
from wellset.errors import InputError

DEMO = Path(str(resources.files("wellset").joinpath("demo")))
DAYS = ("--day", "2026-11-25", "--next", "2026-12-09")


@pytest.fixture
def kept(tmp_path: Path) -> Path:
    """A folder with a kept assessment."""
    folder = tmp_path / "sam"
    folder.mkdir()
    text = document().model_dump_json(by_alias=True)
    (folder / "assessment.json").write_text(text, encoding="utf-8")
    return folder


def test_a_kept_assessment_becomes_a_sheet_without_reading_pictures_again(kept: Path) -> None:
    out = kept / "sheet.pdf"
    done = run("report", "--from", kept, *DAYS, "--note", "Well done.", "--out", out)
    assert done.code == 0, done.err
    assert done.out.strip() == str(out)
    assert "is not beside the assessment" in done.err
    first, second = text_of(out.read_bytes())
    assert "For Sam Poole" in first
    assert "Well done." in first
    assert "Wednesday 9 December 2026" in second


def test_the_coachs_sheet_has_all_that_was_measured(kept: Path) -> None:
    out = kept / "coach.pdf"
    assert run("report", "--from", kept / "assessment.json", "--for", "coach",
               "--units", "in", "--out", out).code == 0  # fmt: skip
    text = " ".join(text_of(out.read_bytes()))
    for title in ("Stance width", "Handle height", "Window", "Mostly from", "Versions", "Tables"):
        assert title in text
    assert " cm" not in text
    assert text.count("±") > 20


def test_a_name_that_ends_in_html_makes_a_page(kept: Path) -> None:
    out = kept / "sheet.html"
    assert run("report", "--from", kept, "--name", "Jo", "--out", out).code == 0
    page = out.read_text(encoding="utf-8")
    assert "Jo" in page
    assert "<script" not in page


def test_two_runs_write_the_same_bytes_also_in_another_process(kept: Path) -> None:
    wanted = ("report", "--from", kept, *DAYS, "--paper", "letter", "--quiet", "--out")
    assert run(*wanted, kept / "one.pdf").code == 0
    command = [sys.executable, "-m", "wellset", *map(str, wanted), str(kept / "two.pdf")]
    subprocess.run(command, check=True, capture_output=True)
    assert (kept / "one.pdf").read_bytes() == (kept / "two.pdf").read_bytes()


def test_the_pictures_that_were_assessed_are_found_by_name_and_contents(tmp_path: Path) -> None:
    folder = tmp_path / "demo"
    assert run("demo", "--no-open", "--quiet", "--out", folder).code == 0
    # the folder's own face_on.jpg is the marked-up one: it is not mistaken for the demo's picture
    found, shown = folder / "found.pdf", folder / "shown.pdf"
    given = ("--face-on", DEMO / "face_on.jpg", "--down-the-line", DEMO / "down_the_line.jpg")
    assert run("report", "--from", folder, "--out", found).err == ""
    assert run("report", "--from", folder, *given, "--out", shown).code == 0
    assert found.read_bytes() == shown.read_bytes()
    own = {"face_on": "front.jpg", "down_the_line": "side.jpg"}
    kept = json.loads((folder / "assessment.json").read_text(encoding="utf-8"))
    for view, name in own.items():
        kept["pictures"][view]["name"] = name
    (folder / "assessment.json").write_text(json.dumps(kept), encoding="utf-8")
    assert "is not beside" in run("report", "--from", folder, "--out", folder / "drawn.pdf").err
    for view, name in own.items():
        shutil.copy(DEMO / f"{view}.jpg", tmp_path / name)
    assert run("report", "--from", folder, "--out", folder / "again.pdf").err == ""
    assert (folder / "again.pdf").read_bytes() == shown.read_bytes()


def test_a_picture_of_another_size_is_refused(kept: Path) -> None:
    done = run("report", "--from", kept, "--face-on", DEMO / "face_on.jpg", "--out", kept / "x.pdf")
    assert done.code == 3
    assert "was made from" in done.err


@pytest.mark.parametrize(
    ("options", "said"),
    [
        ((), "The club is missing"),
        (("--from", "nowhere"), "there is no such file"),
        (("--from", "KEPT", "--day", "25.11.2026"), "Cannot use this day"),
        (("--from", "KEPT", "--for", "coach", "--out", "x.html"), "PDF only"),
        (("--from", "KEPT", "--out", "x.docx"), "ends neither in .pdf nor in .html"),
    ],
)
def test_what_is_wrong_is_said(kept: Path, options: tuple[str, ...], said: str) -> None:
    done = run("report", *(str(kept) if each == "KEPT" else each for each in options))
    assert done.code == 3
    assert said in done.err


def test_an_assessment_of_another_version_is_refused_in_words() -> None:
    with pytest.raises(InputError, match="Assess the pictures again"):
        read_assessment('{"schema": "wellset.assessment/0"}', where="old.json")


def test_python_gives_the_same_sheet_as_bytes() -> None:
    assert wellset.report.__doc__
    with pytest.raises(InputError, match="The paper is not known"):
        wellset.report(DEMO / "nothing.json", paper="a5")
