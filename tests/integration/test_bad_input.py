"""Whatever is given, the answer is one sentence that a coach can act on, never a traceback."""

from __future__ import annotations

import json
import re
import struct
import zipfile
import zlib
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image

from tests.support.door import Ran, run
from tests.support.reports import plain_picture
from tests.support.truth import SCENES, load, scene_name
from wellset.reports.contract import Withheld

SCENE = "mid_iron_neutral_21"
FRONT = SCENES / SCENE / "face_on.jpg"
SIDE = SCENES / SCENE / "down_the_line.jpg"
OTHER_FRONT = SCENES / "mid_iron_left_handed_weight_in_heels_01" / "face_on.jpg"
TYPED = ("--club", "mid iron", "--height", "179 cm")

INPUT, PICTURE, SCENE_CODE, OUTPUT = 3, 4, 5, 7
"""Exit codes as ``wellset --help`` lists them."""

Pixels = NDArray[np.uint8]


def check_refusal(ran: Ran, *, code: int, words: str) -> None:
    """One line in words, nothing on standard output, the documented exit code."""
    check_sentence(ran.err, words=words)
    assert ran.code == code, ran.err
    assert ran.out == ""


def check_sentence(err: str, *, words: str) -> None:
    assert re.fullmatch(r"wellset: [^\n]+[.?]\n", err), err
    assert "Traceback" not in err
    assert "fault in the program" not in err
    assert re.search(words, err), err


def assess(*arguments: object) -> Ran:
    return run("assess", *arguments, "--quiet")


def pixels(path: Path) -> Pixels:
    with Image.open(path) as image:
        return np.array(image.convert("RGB"))


def saved(rgb: Pixels, folder: Path) -> Path:
    path = folder / "picture.jpg"
    Image.fromarray(np.ascontiguousarray(rgb)).save(path, quality=92)
    return path


# ── Files that are no pictures ───────────────────────────────────────────────────────────────────


def missing(folder: Path) -> Path:
    return folder / "nowhere.jpg"


def directory(folder: Path) -> Path:
    return folder


def empty(folder: Path) -> Path:
    path = folder / "empty.jpg"
    path.write_bytes(b"")
    return path


def text(folder: Path) -> Path:
    path = folder / "text.jpg"
    path.write_text("Dear coach, here is my picture.", encoding="utf-8")
    return path


def archive(folder: Path) -> Path:
    path = folder / "archive.jpg"
    with zipfile.ZipFile(path, "w") as file:
        file.writestr("a.txt", "a")
    return path


def truncated(folder: Path) -> Path:
    path = folder / "half.jpg"
    content = FRONT.read_bytes()
    path.write_bytes(content[: len(content) // 2])
    return path


def header_only(folder: Path) -> Path:
    path = folder / "stub.jpg"
    path.write_bytes(FRONT.read_bytes()[:20])
    return path


def _chunk(kind: bytes, content: bytes) -> bytes:
    body = kind + content
    return struct.pack(">I", len(content)) + body + struct.pack(">I", zlib.crc32(body))


def bomb(folder: Path) -> Path:
    """A PNG of a few bytes that says it has 100 megapixels."""
    path = folder / "bomb.png"
    size = struct.pack(">IIBBBBB", 10_000, 10_000, 8, 2, 0, 0, 0)
    path.write_bytes(
        b"\x89PNG\r\n\x1a\n"
        + _chunk(b"IHDR", size)
        + _chunk(b"IDAT", zlib.compress(b""))
        + _chunk(b"IEND", b"")
    )
    return path


def tiny(folder: Path) -> Path:
    return saved(pixels(FRONT)[::8, ::8], folder)


NO_PICTURES = {
    missing: r"nowhere\.jpg: .*no file of this name.*Check the spelling",
    directory: r"folder, not a picture.*Give the path of the picture",
    empty: r"empty\.jpg: .*0 bytes.*Copy the picture again",
    text: r"text\.jpg: This is not a picture.*Save it as a JPEG",
    archive: r"archive\.jpg: This is not a picture: it is a zip archive.*Save it as",
    truncated: r"half\.jpg: .*(cut|broken|damaged|end).*[Cc]opy",
    header_only: r"stub\.jpg: .*damaged.*Copy",
    bomb: r"bomb\.png: .*100 megapixels",
    tiny: r"picture\.jpg: .*pixels",
}


@pytest.mark.parametrize("make", NO_PICTURES, ids=lambda make: make.__name__)
@pytest.mark.parametrize("option", ["--face-on", "--down-the-line"])
def test_a_file_that_is_no_picture_is_refused(make: object, option: str, tmp_path: Path) -> None:
    assert callable(make)
    ran = assess(option, make(tmp_path), *TYPED)
    check_refusal(ran, code=PICTURE, words=NO_PICTURES[make])


# ── Pictures that show no set-up ─────────────────────────────────────────────────────────────────


def noise() -> Pixels:
    rng = np.random.default_rng(7)
    return rng.integers(0, 256, (960, 540, 3), dtype=np.uint8)


def landscape() -> Pixels:
    return plain_picture(720, 960)


def two_golfers() -> Pixels:
    return np.hstack([pixels(FRONT), pixels(FRONT)])


def head_only() -> Pixels:
    return pixels(FRONT)[:480]


NO_SET_UPS = {
    noise: r"picture\.jpg: .*[Nn]obody",
    landscape: r"picture\.jpg: .*[Nn]obody",
    two_golfers: r"picture\.jpg: .*(people|two|2).*[Cc]rop|alone|only",
    head_only: r"picture\.jpg: ",
}


@pytest.mark.parametrize("make", NO_SET_UPS, ids=lambda make: make.__name__)
def test_a_picture_without_one_golfer_at_address_is_refused(make: object, tmp_path: Path) -> None:
    assert callable(make)
    ran = assess("--face-on", saved(make(), tmp_path), *TYPED)
    check_refusal(ran, code=SCENE_CODE, words=NO_SET_UPS[make])


def _row(landmark: str) -> int:
    truth = load(SCENE)
    name = scene_name(truth, landmark)
    return int(truth["views"]["face_on"]["landmarks_px"][name][1])


def without_ball() -> Pixels:
    return pixels(FRONT)[: _row("ball") - 14]


def without_feet() -> Pixels:
    return pixels(FRONT)[: min(_row("lead_ankle"), _row("trail_ankle")) - 20]


@pytest.mark.parametrize("make", [without_ball, without_feet], ids=["ball", "feet"])
def test_a_picture_cut_at_feet_or_ball_is_refused_alone(make: object, tmp_path: Path) -> None:
    assert callable(make)
    ran = assess("--face-on", saved(make(), tmp_path), *TYPED)
    check_refusal(ran, code=SCENE_CODE, words=r"picture\.jpg: .*(ball|seen|cut|whole golfer)")


@pytest.mark.parametrize(
    ("make", "named"), [(without_ball, "ball"), (without_feet, "lead ankle")], ids=["ball", "feet"]
)
def test_beside_a_whole_picture_a_cut_one_gives_numbers_only_with_their_doubt(
    make: object, named: str, tmp_path: Path
) -> None:
    assert callable(make)
    cut = saved(make(), tmp_path)
    ran = assess("--face-on", cut, "--down-the-line", SIDE, *TYPED, "--json", "-")
    assert (ran.code, ran.err) == (0, "")
    said = " ".join(note.message for note in ran.document.pictures["face_on"].notes)
    assert "Outside the picture" in said
    assert named in said
    width = ran.document.measures["stance_width"]
    # Without the feet the front view cannot give their distance well enough to be told.
    assert isinstance(width, Withheld) is (make is without_feet)


def test_two_pictures_of_the_same_side_are_refused() -> None:
    ran = assess("--face-on", FRONT, "--down-the-line", OTHER_FRONT, *TYPED)
    check_refusal(ran, code=SCENE_CODE, words="same side.*Give a down-the-line picture")


def test_a_single_picture_given_as_the_other_view_is_refused() -> None:
    ran = assess("--down-the-line", FRONT, *TYPED)
    check_refusal(ran, code=SCENE_CODE, words="not down-the-line.*Give it as the face-on picture")


# ── Values and files typed ───────────────────────────────────────────────────────────────────────

VALUES: dict[str, tuple[tuple[object, ...], str]] = {
    "height without unit": (("--height", "178"), r"height: .*no unit.*178 cm"),
    "height of a toy": (("--height", "17 cm"), r"height: .*17 cm.*between 100 and 230 cm"),
    "height of a giant": (("--height", "5 m"), r"height: .*500 cm.*between 100 and 230 cm"),
    "height of letters": (("--height", "abc"), r"height: .*not a number.*178 cm"),
    "height that is no number": (("--height", "nan cm"), r"height: .*not a number"),
    "empty height": (("--height", ""), r"height: "),
    "unknown club": (("--club", "spoon"), r"club: .*\"spoon\""),
    "no club": (("--club", ""), r"club: "),
    "club too long": (("--club-length", "60 in"), r"club: .*60\.0 in.*at most .*48 in"),
    "club without unit": (("--club-length", "37"), r"club length: .*no unit"),
    "no length": (("--club-length", ""), r"club length: .*empty"),
    "no shot": (("--shot", ""), r"shot.*chip"),
    "height on two lines": (("--height", "178\ncm wide"), r"height: "),
    "club too upright": (("--club-lie", "85"), r"club: .*85\.0°.*at most 80°"),
    "lie that is no number": (("--club-lie", "flat"), r"club lie: .*not a number"),
    "unknown shot": (("--shot", "lob"), r"\"lob\".*chip"),
    "missing student": (("--student", "nobody.yaml"), r"nobody\.yaml: .*no such file.*Check"),
    "missing standards": (("--standards", "none.yaml"), r"none\.yaml: .*no such file.*Check"),
    "missing landmarks": (("--landmarks", "none.json"), r"none\.json: .*no such file.*Check"),
    "folder as standards": (("--standards", SCENES), r"it is a folder.*Give the file"),
    "picture as landmarks": (("--landmarks", FRONT), r"face_on\.jpg: .*no text.*UTF-8"),
}


@pytest.mark.parametrize("case", VALUES)
def test_a_wrong_value_is_refused_with_the_right_form(case: str) -> None:
    arguments, words = VALUES[case]
    check_refusal(assess("--face-on", FRONT, *TYPED, *arguments), code=INPUT, words=words)


def test_no_height_is_asked_for() -> None:
    ran = assess("--face-on", FRONT, "--club", "7-iron")
    check_refusal(ran, code=INPUT, words=r"height is missing.*--height")


def test_no_picture_is_asked_for() -> None:
    check_refusal(assess(*TYPED), code=INPUT, words="nothing to assess.*--face-on")


@pytest.mark.parametrize(
    "arguments", [["--club"], ["--hand", "both", *TYPED], ["--height", "1 m"], ["--colour"]]
)
def test_a_wrong_option_ends_with_code_two_and_the_usage(arguments: list[str]) -> None:
    ran = assess(*arguments)
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith("usage: wellset assess")
    assert "Traceback" not in ran.err


STANDARDS = """schema: wellset.standards/1
name: Ours
based_on: default
shots:
  mid iron:
    {measure}:
      low: {low}
      high: {high}
      unit: deg
      reason: To be refused.
      source: common practice
"""
BAD_STANDARDS = {
    "unknown measure": (
        STANDARDS.format(measure="elegance", low=1, high=2),
        r"own\.yaml: .*shots\.mid iron\.elegance",
    ),
    "crossed limits": (
        STANDARDS.format(measure="forward_bend", low=40, high=30),
        r"own\.yaml: .*forward_bend.*(low|above|below|high)",
    ),
    "not YAML": ("shots: [\n", r"own\.yaml: .*(line|YAML)"),
    "empty": ("", r"own\.yaml: "),
}


@pytest.mark.parametrize("case", BAD_STANDARDS)
def test_a_wrong_standards_file_is_refused(case: str, tmp_path: Path) -> None:
    content, words = BAD_STANDARDS[case]
    path = tmp_path / "own.yaml"
    path.write_text(content, encoding="utf-8")
    ran = assess("--face-on", FRONT, *TYPED, "--standards", path)
    check_refusal(ran, code=INPUT, words=words)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        ("{", r"l\.json: .*line 1, column 2 is not valid JSON"),
        ('{"schema": "wellset.landmarks/1"}', r"l\.json: .*views: this field is missing"),
        ('{"views": {"above": 1}}', r"l\.json: .*schema: .*missing.*views\.above"),
    ],
    ids=["broken", "no views", "other fields"],
)
def test_a_wrong_landmark_file_is_refused(content: str, words: str, tmp_path: Path) -> None:
    path = tmp_path / "l.json"
    path.write_text(content, encoding="utf-8")
    check_refusal(assess("--landmarks", path, *TYPED), code=INPUT, words=words)


def test_a_student_file_with_the_mark_of_windows_editors_is_read(tmp_path: Path) -> None:
    path = tmp_path / "s.yaml"
    path.write_text("schema: wellset.student/1\nheight: 5 m\n", encoding="utf-8-sig")
    ran = assess("--face-on", FRONT, "--club", "7-iron", "--student", path)
    check_refusal(ran, code=INPUT, words="between 100 and 230 cm")


# ── Places that cannot be written ────────────────────────────────────────────────────────────────


@pytest.fixture(scope="module")
def landmarks(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The points of a run, so that the next ones need no looking."""
    folder = tmp_path_factory.mktemp("points")
    ran = assess("--face-on", FRONT, "--down-the-line", SIDE, *TYPED, "--out", folder)
    assert ran.code == 0
    return folder / "landmarks.json"


@pytest.mark.parametrize("option", ["--out", "--json"])
def test_what_was_computed_is_printed_when_it_cannot_be_written(
    option: str, landmarks: Path, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    ran = assess("--landmarks", landmarks, *TYPED, option, tmp_path / "file" / "below")
    assert ran.code == OUTPUT
    check_sentence(ran.err, words=r"could not be written.*in the way")
    assert "Forward bend" in ran.out


def test_the_document_is_printed_when_the_folder_cannot_be_written(
    landmarks: Path, tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    ran = assess(
        "--landmarks", landmarks, *TYPED, "--json", "-", "--out", tmp_path / "file" / "below"
    )
    assert ran.code == OUTPUT
    check_sentence(ran.err, words="could not be written")
    assert ran.document.schema_ == "wellset.assessment/1"


def test_a_folder_as_the_json_file_is_refused(landmarks: Path, tmp_path: Path) -> None:
    ran = assess("--landmarks", landmarks, *TYPED, "--json", tmp_path)
    assert ran.code == OUTPUT
    check_sentence(ran.err, words="could not be written")


def test_a_missing_folder_is_made_for_the_json_file(landmarks: Path, tmp_path: Path) -> None:
    path = tmp_path / "not" / "yet" / "result.json"
    ran = assess("--landmarks", landmarks, *TYPED, "--json", path)
    assert (ran.code, ran.err) == (0, "")
    assert json.loads(path.read_text(encoding="utf-8"))["schema"] == "wellset.assessment/1"
