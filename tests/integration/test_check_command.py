"""`wellset check` on real pictures."""

import json
from pathlib import Path

import pytest

import wellset
from tests.support.truth import SCENES
from wellset.cli import main
from wellset.errors import InputError
from wellset.reports.check_contract import CheckDocument

SCENE = SCENES / "mid_iron_ball_too_far_back_21"
PICTURES = [
    *("--face-on", str(SCENE / "face_on.jpg")),
    *("--down-the-line", str(SCENE / "down_the_line.jpg")),
]


def test_pictures_are_compared_with_a_plan_from_a_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan, out = tmp_path / "plan.json", tmp_path / "robin"
    assert main(["plan", "--height", "179 cm", "--club", "7-iron", "--json", str(plan)]) == 0
    capsys.readouterr()
    # the height stands in the plan
    run = ["check", *PICTURES, "--club", "7-iron", "--plan", str(plan), "--quiet"]
    assert main([*run, "--out", str(out), "--json", "-"]) == 0
    document = CheckDocument.model_validate_json(capsys.readouterr().out)
    assert document.plan.source == "file"
    assert document.student.stature_m == pytest.approx(1.79)
    # what was built into the scene: the ball lies too far back
    assert document.to_do[0].measure == "ball_position"
    assert {path.name for path in out.iterdir()} == {"check.html", "check.json", "landmarks.json"}
    assert json.loads((out / "check.json").read_text("utf-8"))["schema"] == "wellset.check/1"
    page = (out / "check.html").read_text("utf-8")
    assert page.count("data:image/jpeg") == 2
    assert "http" not in page.replace("http://www.w3.org/2000/svg", "")


def test_a_club_that_the_plan_lacks_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = tmp_path / "plan.json"
    assert main(["plan", "--height", "179 cm", "--club", "7-iron", "--json", str(plan)]) == 0
    assert main(["check", *PICTURES, "--club", "driver", "--plan", str(plan)]) == 3
    assert "The plan says nothing of the driver" in capsys.readouterr().err


def test_python_compares_too() -> None:
    with pytest.raises(InputError, match="no such file"):
        wellset.check(club="7-iron", height="178 cm", plan="none.json")
