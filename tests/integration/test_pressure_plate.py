"""`wellset assess --plate` on real pictures."""

import json
from pathlib import Path

import pytest

import wellset
from tests.support.pressure import plate_text
from tests.support.truth import SCENES
from wellset.cli import main
from wellset.errors import InputError

SCENE = "mid_iron_neutral_21"
PICTURES = [
    *("--face-on", str(SCENES / SCENE / "face_on.jpg")),
    *("--down-the-line", str(SCENES / SCENE / "down_the_line.jpg")),
]


def test_a_plate_narrows_the_balance_of_a_run(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    feet = tmp_path / "feet.csv"
    feet.write_text(plate_text(SCENE), encoding="utf-8-sig")
    run = ["assess", *PICTURES, "--club", "mid iron", "--height", "179 cm", "--plate", str(feet)]
    assert main([*run, "--json", "-", "--quiet"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["plate"]["used"]
    assert data["plate"]["name"] == "feet.csv"
    alone = data["plate"]["measures"]["heel_toe_balance"]["pictures"]["sd"]
    assert data["measures"]["heel_toe_balance"]["sd"] < 0.6 * alone


def test_a_plate_that_cannot_be_read_is_told_with_its_place(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    feet = tmp_path / "feet.csv"
    feet.write_text("time,x,y\n0,1,2\n")
    run = ["assess", *PICTURES, "--club", "mid iron", "--height", "179 cm", "--plate", str(feet)]
    assert main(run) == 3
    assert f"{feet}: The pressure plate file cannot be used" in capsys.readouterr().err


def test_python_takes_a_plate_too() -> None:
    with pytest.raises(InputError, match="no such file"):
        wellset.assess(club="7-iron", height="178 cm", face_on="a.jpg", plate="feet.csv")
