"""Things on the ground from picture files to the result, and the sheet from the command line."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import cv2
import numpy as np
import pypdfium2
import pytest

import wellset
from tests.support.door import run
from tests.support.sheets import MARKED_SCENE, Lie, lay_into, rendered_marker
from tests.support.truth import SCENES, THREE_SCENES, load
from wellset.bootstrap import ground_use
from wellset.equipment import find_club
from wellset.errors import InputError
from wellset.figure.ground import GroundKind, GroundUse
from wellset.figure.views import View
from wellset.measures import COVERAGE_FACTOR, Measured
from wellset.reports.contract import MeasuredValue
from wellset.services.assess_setup import Request, assess_setup
from wellset.services.assessment import Assessment
from wellset.services.student_file import make_student
from wellset.standards import default_standards
from wellset.vision.reader import Reader

_, LEFT, _ = THREE_SCENES


@cache
def marked(*, ignored: bool) -> Assessment:
    """The rendered scene whose only thing on the ground is a marker, from its pictures."""
    truth, (marker, _) = load(MARKED_SCENE), rendered_marker()
    request = Request(
        pictures={view: str(SCENES / MARKED_SCENE / f"{view.value}.jpg") for view in View},
        student=make_student(height=f"{truth['stature_m']} m", file_text=None, where=""),
        club=find_club(truth["club"].replace("_", " "), length=truth["club_length_m"]),
        standards=default_standards(),
        rendered_to_real=False,
        ground=GroundUse(ignore=frozenset(GroundKind) if ignored else frozenset()),
    )
    return assess_setup(request, reader=Reader(markers=(marker,)))


def test_a_rendered_marker_narrows_measures_that_hang_on_level_and_scale() -> None:
    with_one, without = marked(ignored=False).measures, marked(ignored=True).measures
    for id_ in ("forward_bend", "arm_hang", "lead_share", "shoulder_tilt", "armpit_plumb"):
        narrow, wide = with_one[id_], without[id_]
        assert isinstance(narrow, Measured)
        assert isinstance(wide, Measured)
        assert narrow.sd < 0.8 * wide.sd, id_


def test_the_narrower_intervals_still_hold_the_scenes_truth() -> None:
    found, truth = marked(ignored=False).measures, load(MARKED_SCENE)["measures"]
    off = [
        abs(result.value - truth[id_]["value"]) / result.sd
        for id_, result in found.items()
        if isinstance(result, Measured) and id_ in truth
    ]
    assert len(off) > 24
    # of 28 values that are worth about 10 independent ones, two or three beyond 2 are chance
    assert np.mean(np.array(off) < COVERAGE_FACTOR) >= 0.9
    assert max(off) < 3.0


@pytest.fixture(scope="module")
def laid(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """A left-hander's two pictures with a printed sheet laid into them."""
    folder = tmp_path_factory.mktemp("laid")
    files = {}
    for view in View:
        path = folder / f"{view.value}.png"
        rgb = lay_into(LEFT, view, Lie(x=-0.45, y=0.0, yaw=0.02))
        assert cv2.imwrite(str(path), np.ascontiguousarray(rgb[..., ::-1]))
        files[view.value] = str(path)
    return files


def test_a_printed_sheet_beside_a_left_hander_is_used_and_can_be_left_out(
    laid: dict[str, str],
) -> None:
    truth = load(LEFT)
    options = ["--club", truth["club"].replace("_", " "), "--height", f"{truth['stature_m']} m"]
    options += ["--face-on", laid["face_on"], "--down-the-line", laid["down_the_line"]]
    found = run("assess", *options, "--sheet-aimed", "--json", "-", "--quiet")
    left_out = run(
        "assess", *options, "--ignore-ground", "sheet", "--ignore-ground", "stick", "--json", "-"
    )
    said = {(g.kind, g.view, g.used, g.lies) for g in found.document.on_the_ground}
    for view in View:
        assert ("sheet", view.value, True, "aimed at the target") in said
        assert len(found.document.pictures[view.value].markers_px) == 1
    assert all(not g.used and g.why for g in left_out.document.on_the_ground)
    assert found.value("lead_share").sd < left_out.value("lead_share").sd
    for id_, true in truth["measures"].items():
        value = found.document.measures[id_]
        if isinstance(value, MeasuredValue):
            assert abs(value.value - true["value"]) < 4 * value.sd, id_


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_the_command_writes_the_sheet_and_says_where(tmp_path: Path, paper: str) -> None:
    path = tmp_path / "new" / "sheet.pdf"
    done = run("sheet", "--paper", paper, "--out", path)
    assert done.code == 0
    assert str(path) in done.out
    with pypdfium2.PdfDocument(path) as opened:
        assert len(opened) == 1


def test_a_sheet_that_cannot_be_written_is_told_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    done = run("sheet", "--out", tmp_path / "file" / "sheet.pdf")
    assert done.code == 7
    assert done.err.count("\n") == 1


def test_what_to_leave_out_is_the_same_in_python() -> None:
    assert ground_use(["all"], sheet_aimed=False).ignore == frozenset(GroundKind)
    assert ground_use("upright", sheet_aimed=True) == GroundUse(
        ignore=frozenset({GroundKind.UPRIGHT}), sheet_aimed=True
    )
    with pytest.raises(InputError, match="'rope'"):
        wellset.assess(face_on="a.jpg", club="7-iron", height="178 cm", ignore_ground=["rope"])
