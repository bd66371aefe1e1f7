"""`wellset template` and `wellset card` through their door."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.support.printed import texts
from wellset.cli import main
from wellset.reports.floor.contract import TemplateDocument

WHO = ("--height", "178 cm")


def test_a_floor_plan_is_written_and_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = tmp_path / "plan.pdf"
    assert main(["template", *WHO, "--club", "7i", "--out", str(out)]) == 0
    assert "100 %" in capsys.readouterr().out
    said = texts(out.read_bytes())
    assert "7-iron" in said[0]
    assert "100 mm" in said[-1]


def test_the_list_is_printed_and_no_file_is_left(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["template", *WHO, "--ladder", "--club", "7i", "--club", "pw", "--list"]) == 0
    text = capsys.readouterr().out
    rows = [line.split("  ")[0] for line in text.splitlines()]
    assert "7-iron" in rows
    assert "pitching wedge" in rows
    assert list(tmp_path.iterdir()) == []


def test_inches_are_given_to_an_eighth(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["template", *WHO, "--club", "7i", "--list", "--units", "in"]) == 0
    text = capsys.readouterr().out
    assert " cm" not in text
    assert "/8 in" in text


def test_the_json_agrees_with_the_plans(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["template", *WHO, "--club", "7i", "--hand", "left", "--json", "-"]) == 0
    made = json.loads(capsys.readouterr().out)
    TemplateDocument.model_validate(made)
    assert main(["plan", *WHO, "--club", "7i", "--hand", "left", "--json", "-"]) == 0
    plan = json.loads(capsys.readouterr().out)["clubs"][0]
    (club,) = made["clubs"]
    for name in ("gap_m", "ball_from_lead_heel_m", "ball_from_toes_m", "gap_club_heads"):
        assert club[name] == pytest.approx(plan["floor"][name], abs=2e-4 if "_m" in name else 0.01)
    toe, ball = plan["points"]["lead_shoe_toe"], plan["points"]["ball"]
    assert club["tees"]["lead_toe"] == pytest.approx(
        {"along_m": toe[0] - ball[0], "back_m": toe[1] - ball[1]}, abs=2e-5
    )


def test_one_club_of_a_bag_is_taken_from_the_bag(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bag = tmp_path / "bag.yaml"
    bag.write_text(
        "schema: wellset.bag/1\nclubs: [{name: 7-iron, head: 10 cm}, {name: putter}]\n", "utf-8"
    )
    arguments = ["template", *WHO, "--bag", str(bag), "--club", "7i", "--json", "-"]
    assert main(arguments) == 0
    (club,) = json.loads(capsys.readouterr().out)["clubs"]
    assert club["gap_club_heads"] == pytest.approx(club["gap_m"] / 0.10, abs=0.01)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((), "one club or a whole bag"),
        (("--club", "7i", "--club", "pw"), "one club or a whole bag"),
        (("--club", "broom"), "No club is called"),
    ],
)
def test_what_cannot_be_printed_is_told_in_one_line(
    arguments: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["template", *WHO, *arguments]) == 3
    message = capsys.readouterr().err
    assert said in message
    assert len(message.splitlines()) == 1


def test_a_card_is_one_page(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "card.pdf"
    assert main(["card", *WHO, "--paper", "letter", "--units", "in", "--out", str(out)]) == 0
    assert "fold" in capsys.readouterr().out
    (page,) = texts(out.read_bytes())
    assert "lob wedge" in page
    assert " cm" not in page


def test_a_file_that_cannot_be_written_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "in the way").write_text("")
    out = tmp_path / "in the way" / "card.pdf"
    assert main(["card", *WHO, "--club", "7i", "--out", str(out)]) == 7
    assert "could not be written" in capsys.readouterr().err
