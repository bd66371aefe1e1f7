"""`wellset plan` through its doors."""

import json
from pathlib import Path

import pytest

import wellset
from wellset.cli import main
from wellset.measures import MEASURES
from wellset.reports.plan_contract import PlanDocument


def test_a_bag_is_planned_and_printed_as_a_ladder(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["plan", "--height", "178 cm"]) == 0
    text = capsys.readouterr().out
    rows = [line.split("  ")[0] for line in text.splitlines()]
    assert [name for name in rows if name in ("driver", "7-iron", "putter")] == [
        "driver",
        "7-iron",
        "putter",
    ]


def test_the_json_keeps_its_contract(capsys: pytest.CaptureFixture[str]) -> None:
    arguments = ["plan", "--height", "165 cm", "--club", "7i", "--club", "sand wedge"]
    assert main([*arguments, "--hand", "left", "--slope", "uphill 4", "--json", "-"]) == 0
    data = json.loads(capsys.readouterr().out)
    PlanDocument.model_validate(data)
    assert data["schema"] == "wellset.plan/1"
    assert data["hand"] == "left"
    assert data["place"]["uphill_deg"] == 4
    club = data["clubs"][0]
    assert (club["club"], club["kind"]) == ("7-iron", "mid iron")
    assert club["club_length_m"] == pytest.approx(0.9398)
    assert list(club["measures"]) == list(MEASURES)
    assert {m["unit"] for m in club["measures"].values()} == {"m", "%", "deg"}
    assert club["floor"]["gap_club_heads"] == pytest.approx(club["floor"]["gap_m"] / 0.08, abs=0.01)


def test_files_are_written_into_the_folder(tmp_path: Path) -> None:
    out = tmp_path / "robin"
    assert main(["plan", "--height", "178 cm", "--club", "driver", "--out", str(out)]) == 0
    assert {path.name for path in out.iterdir()} >= {"plan.json", "plan.txt"}
    assert "driver" in (out / "plan.txt").read_text("utf-8")
    drawings = {path.name for path in (out / "drawings").iterdir()}
    assert drawings == {
        "driver-front.svg", "driver-side.svg", "driver-from-above.svg", "ladder.svg",
    }  # fmt: skip


def test_what_does_not_fit_is_printed_with_what_would_mend_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bag = tmp_path / "bag.yaml"
    bag.write_text("schema: wellset.bag/1\nclubs: [{name: 9-iron, length: 33 in, lie: 56 deg}]\n")
    assert main(["plan", "--height", "175 cm", "--bag", str(bag)]) == 0
    text = capsys.readouterr().out
    assert "9-iron !" in text
    assert "more upright" in text


def test_windows_beyond_all_sense_are_answered_with_what_does_not_fit(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    mine = tmp_path / "mine.yaml"
    mine.write_text(
        "schema: wellset.standards/1\nname: Mine\nbased_on: default\nshots:\n  mid iron:\n"
        "    forward_bend: {low: 80, high: 85, target: 82, reason: far}\n"
        "    stance_width: {low: 150, high: 160, target: 155, unit: cm, reason: wide}\n"
    )
    arguments = ["plan", "--height", "178 cm", "--club", "7i", "--standards", str(mine)]
    assert main([*arguments, "--out", str(tmp_path / "out")]) == 0
    text = capsys.readouterr().out
    assert "7-iron !" in text
    assert "stance width" in text


def test_where_the_ladder_breaks_is_printed_too(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bag = tmp_path / "bag.yaml"
    # the shorter club lies far flatter, so the ball has to lie farther away
    bag.write_text(
        "schema: wellset.bag/1\nclubs: [{name: 6-iron, lie: 64 deg}, {name: 7-iron, lie: 58 deg}]\n"
    )
    assert main(["plan", "--height", "178 cm", "--bag", str(bag)]) == 0
    text = " ".join(capsys.readouterr().out.split())
    assert "Where the ladder breaks" in text
    assert "Ball to toes should fall from 6-iron to 7-iron, and rises" in text


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["--club", "7i"], "height is missing"),
        (["--height", "178 cm", "--club", "broom"], "No club is called"),
        (["--height", "178 cm", "--slope", "sideways"], "slope is not understood"),
        (["--height", "178 cm", "--bag", "none.yaml"], "no such file"),
        (["--height", "178 cm", "--club", "7i", "--shot", "lob"], "Unknown kind of shot"),
    ],
)
def test_a_wrong_word_is_answered_in_one_line(
    arguments: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["plan", *arguments]) == 3
    message = capsys.readouterr().err
    assert said in message
    assert len(message.splitlines()) == 1


def test_bag_and_clubs_together_are_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bag = tmp_path / "bag.yaml"
    bag.write_text("schema: wellset.bag/1\nclubs: [{name: 9-iron}]\n")
    assert main(["plan", "--height", "1.8 m", "--bag", str(bag), "--club", "7i"]) == 3
    assert "not both" in capsys.readouterr().err


def test_a_club_named_twice_is_planned_once() -> None:
    plans = wellset.prescribe(height="178 cm", clubs=["7i", "9-iron", "7-iron"]).plans
    assert [plan.club.name for plan in plans] == ["7-iron", "9-iron"]


def test_the_function_stands_over_the_room_of_its_name() -> None:
    from wellset.prescribe import Plan  # noqa: PLC0415 - the room is loaded on purpose

    plan = wellset.prescribe(height="178 cm", clubs=["7-iron"]).plans[0]
    assert isinstance(plan, Plan)
    assert plan.fits
