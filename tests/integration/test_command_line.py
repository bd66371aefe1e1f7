"""The command line on real picture files, from options to files."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support.door import Ran, run
from tests.support.truth import SCENES, load
from wellset.errors import InputError
from wellset.measures import MEASURES
from wellset.reports.contract import AssessmentDocument, SeenPoint, Withheld

RIGHT = "mid_iron_neutral_21"
LEFT = "mid_iron_left_handed_weight_in_heels_01"
FILES = {
    "report.html",
    "assessment.json",
    "landmarks.json",
    "face_on.jpg",
    "down_the_line.jpg",
    "face_on-stand-here.jpg",
    "down_the_line-stand-here.jpg",
}


def typed(scene: str) -> list[str]:
    truth = load(scene)
    return ["--club", truth["club"].replace("_", " "), "--height", f"{truth['stature_m']} m"]


def pictures(scene: str) -> list[str]:
    folder = SCENES / scene
    front, side = folder / "face_on.jpg", folder / "down_the_line.jpg"
    return ["--face-on", str(front), "--down-the-line", str(side)]


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("right")


@pytest.fixture(scope="module")
def right(folder: Path) -> Ran:
    """The right-hander's two pictures, files written to ``folder``."""
    return run("assess", *pictures(RIGHT), *typed(RIGHT), "--json", "-", "--out", folder)


def test_two_pictures_give_the_whole_document_on_standard_output(right: Ran) -> None:
    assert right.code == 0
    assert list(right.document.measures) == list(MEASURES)
    assert right.document.hand == "right"


def test_measures_lie_within_four_of_their_uncertainties_of_the_scene(right: Ran) -> None:
    for measure, truth in load(RIGHT)["measures"].items():
        found = right.document.measures[measure]
        assert not isinstance(found, Withheld), measure
        assert found.unit == truth["unit"]
        assert abs(found.value - truth["value"]) < 4 * found.sd, measure


def test_progress_goes_to_standard_error_alone(right: Ran) -> None:
    lines = right.err.splitlines()
    assert len(lines) > 3
    assert all(line.startswith("[") and "%]" in line for line in lines)
    assert "%]" not in right.out


def test_the_folder_holds_page_data_pictures_and_landmarks(right: Ran, folder: Path) -> None:
    assert right.code == 0
    assert {path.name for path in folder.iterdir()} == FILES
    written = AssessmentDocument.model_validate_json((folder / "assessment.json").read_text())
    assert written == right.document


@pytest.mark.parametrize("view", ["face_on", "down_the_line"])
def test_one_picture_alone_says_which_measures_want_the_other(view: str) -> None:
    option = "--" + view.replace("_", "-")
    path = SCENES / RIGHT / f"{view}.jpg"
    ran = run("assess", option, path, *typed(RIGHT), "--json", "-", "--quiet")
    assert (ran.code, ran.err) == (0, "")
    withheld = [m.not_measurable for m in ran.document.measures.values() if isinstance(m, Withheld)]
    assert "view_missing" in {reason.code for reason in withheld}
    assert all(reason.why and reason.fix for reason in withheld)
    assert len(withheld) < len(MEASURES)
    assert list(ran.document.pictures) == [view]


def test_without_json_the_report_is_printed_in_words(folder: Path, right: Ran) -> None:
    assert right.code == 0
    ran = run("assess", "--landmarks", folder / "landmarks.json", *typed(RIGHT), "--quiet")
    assert (ran.code, ran.err) == (0, "")
    assert "Forward bend" in ran.out
    assert "{" not in ran.out


def test_written_landmarks_give_the_same_measures_without_looking_again(
    right: Ran, folder: Path, tmp_path: Path
) -> None:
    file = tmp_path / "again" / "result.json"
    again = run(
        "assess", "--landmarks", folder / "landmarks.json", *typed(RIGHT), "--json", file,
        "--out", tmp_path / "page",
    )  # fmt: skip
    assert again.code == 0
    assert "Reading" not in again.err
    assert "Opening" not in again.err
    rerun = Ran(code=0, out=file.read_text(), err="")
    for measure in MEASURES:
        # Coordinates are written to a hundredth of a pixel.
        before, after = right.value(measure), rerun.value(measure)
        assert abs(after.value - before.value) < 0.1 * before.sd, measure
        assert after.sd == pytest.approx(before.sd, rel=0.05), measure
    assert {path.name for path in (tmp_path / "page").iterdir()} == FILES


def corrected(folder: Path, to: Path, *, keep: tuple[str, ...] | None = None) -> Path:
    """The written landmarks with the neck moved 30 pixels by a coach."""
    data = json.loads((folder / "landmarks.json").read_text())
    points = data["views"]["down_the_line"]["landmarks"]
    old = points["c7"]
    points["c7"] = {"x_px": old["x_px"] + 30, "y_px": old["y_px"], "sd_px": 1}
    if keep is not None:
        data["views"]["down_the_line"]["landmarks"] = {name: points[name] for name in keep}
        data["views"]["down_the_line"]["sticks"] = []
        del data["views"]["face_on"]
    path = to / "corrected.json"
    path.write_text(json.dumps(data))
    return path


@pytest.mark.parametrize("whole", [True, False], ids=["whole file", "that point alone"])
def test_a_point_a_coach_moves_changes_the_result_and_is_marked_as_the_coachs(
    whole: bool, right: Ran, folder: Path, tmp_path: Path
) -> None:
    path = corrected(folder, tmp_path, keep=None if whole else ("c7",))
    ran = run(
        "assess", *pictures(RIGHT), *typed(RIGHT), "--landmarks", path, "--json", "-", "--quiet"
    )
    assert (ran.code, ran.err) == (0, "")
    before, after = right.value("forward_bend"), ran.value("forward_bend")
    assert after.value > before.value + 1  # degrees: 30 px over a back of about 200 px
    points = ran.document.pictures["down_the_line"].landmarks
    placed = {n: p.placed_by for n, p in points.items() if isinstance(p, SeenPoint)}
    assert [name for name, by in placed.items() if by == "coach"] == ["c7"]


def test_a_left_hander_is_recognised_and_reruns_from_the_landmarks_to_the_same(
    tmp_path: Path,
) -> None:
    first = run(
        "assess", *pictures(LEFT), *typed(LEFT), "--json", "-", "--quiet", "--out", tmp_path
    )
    assert (first.code, first.err) == (0, "")
    assert first.document.hand == "left"
    again = run(
        "assess", "--landmarks", tmp_path / "landmarks.json", *typed(LEFT), "--json", "-", "--quiet"
    )
    assert again.document.hand == "left"
    for measure in MEASURES:
        before, after = first.value(measure), again.value(measure)
        assert abs(after.value - before.value) < 0.1 * before.sd, measure


def test_the_demo_writes_its_files_where_it_says(tmp_path: Path) -> None:
    ran = run("demo", "--no-open", "--quiet", "--out", tmp_path / "shown")
    assert (ran.code, ran.err) == (0, "")
    assert {path.name for path in (tmp_path / "shown").iterdir()} == FILES
    assert str(tmp_path / "shown" / "report.html") in ran.out.replace("\n", "")


def test_the_demo_started_as_a_program_names_a_folder_beside_it(tmp_path: Path) -> None:
    source = Path(__file__).parents[2] / "src"
    done = subprocess.run(
        [sys.executable, "-m", "wellset", "demo", "--no-open"],
        capture_output=True,
        text=True,
        check=False,
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(source)},
    )
    assert done.returncode == 0, done.stderr
    assert {path.name for path in (tmp_path / "wellset-demo").iterdir()} == FILES
    assert "wellset-demo/report.html" in done.stdout
    assert "Traceback" not in done.stderr
    assert all(line.startswith("[") for line in done.stderr.splitlines())


def test_a_reader_that_hangs_up_is_no_fault(folder: Path, right: Ran) -> None:
    assert right.code == 0
    source = Path(__file__).parents[2] / "src"
    with subprocess.Popen(
        [sys.executable, "-m", "wellset", "assess", "--landmarks", folder / "landmarks.json",
         *typed(RIGHT), "--json", "-", "--quiet"],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(source)},
    ) as program:  # fmt: skip
        assert program.stdout is not None
        assert program.stderr is not None
        program.stdout.close()
        assert program.stderr.read() == ""
    assert program.returncode == 7


@pytest.mark.parametrize(
    ("encoding", "stand_ins"),
    [("ascii", {"−": "-", "±": "+/-", "°": " deg"}), ("cp1252", {"−": "-"})],
)
def test_a_redirected_output_of_few_characters_still_gets_every_sign(
    encoding: str, stand_ins: dict[str, str], folder: Path, right: Ran
) -> None:
    assert right.code == 0
    source = Path(__file__).parents[2] / "src"
    given = ["--landmarks", str(folder / "landmarks.json"), *typed(RIGHT), "--quiet"]
    usual = run("assess", *given).out
    assert set(stand_ins) <= set(usual)
    done = subprocess.run(
        [sys.executable, "-m", "wellset", "assess", *given],
        capture_output=True,
        check=False,
        env={**os.environ, "PYTHONPATH": str(source), "PYTHONIOENCODING": encoding},
    )
    assert (done.returncode, done.stderr) == (0, b"")
    printed = done.stdout.decode(encoding).replace(os.linesep, "\n")
    for sign, stand_in in stand_ins.items():
        usual = usual.replace(sign, stand_in)
    assert printed == usual


def test_debug_shows_where_an_error_arose() -> None:
    with pytest.raises(InputError):
        run("assess", *typed(RIGHT), "--debug")


def test_units_are_the_coachs_choice_on_the_page_and_never_in_the_data(
    right: Ran, folder: Path
) -> None:
    assert right.code == 0
    given = ["assess", "--landmarks", folder / "landmarks.json", *typed(RIGHT), "--quiet"]
    inches = run(*given, "--units", "in")
    data = run(*given, "--units", "in", "--json", "-")
    assert " in" in inches.out
    assert " cm" not in inches.out
    assert data.value("stance_width").unit == "m"
