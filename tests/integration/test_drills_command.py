"""`wellset drills` through its doors."""

from __future__ import annotations

import json
from pathlib import Path

import pypdfium2
import pytest

from wellset.advise import house_book
from wellset.cli import main


def test_a_list_of_all_drills_is_printed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["drills", "--find", "stick"]) == 0
    assert "Three points on the stick" in capsys.readouterr().out


def test_drills_for_one_finding_are_printed_whole_the_best_first(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["drills", "--for", "Forward-bend low"]) == 0
    text = capsys.readouterr().out
    assert text.index("Hips to the wall") < text.index("Three points on the stick")
    assert "It worked when:" in text
    assert "Tall, then bow" not in text
    assert "Lead is the side nearer the target" in text


def test_an_unfit_drill_is_left_out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "robin.yaml"
    file.write_text(
        "schema: wellset.student/1\nname: Robin\nheight: 175 cm\ncareful_with: [back]\n"
    )
    assert main(["drills", "--for", "forward bend low", "--student", str(file)]) == 0
    text = capsys.readouterr().out
    assert "Hips to the wall" not in text
    assert "Lean on the cane" in text


def test_page_paper_text_and_data_are_written_and_the_same_each_time(tmp_path: Path) -> None:
    for name in ("one", "two"):
        arguments = ["drills", "--drill", "Hips to the wall", "--height", "5 ft 6 in"]
        arguments += ["--club", "driver", "--hand", "left", "--units", "in"]
        assert main([*arguments, "--out", str(tmp_path / name)]) == 0
    names = {path.name for path in (tmp_path / "one").iterdir()}
    assert names == {"drills.html", "drills.pdf", "drills.json", "drills.txt"}
    for name in names:
        assert (tmp_path / "one" / name).read_bytes() == (tmp_path / "two" / name).read_bytes()
    page = (tmp_path / "one" / "drills.html").read_text("utf-8")
    assert "left-handed" in page
    assert page.count("drill-drawing target") == 1
    assert "http" not in page.replace("http://www.w3.org/2000/svg", "")


def test_the_paper_is_tagged_and_says_all(tmp_path: Path) -> None:
    pdfium = pypdfium2
    out = tmp_path / "out"
    assert main(["drills", "--drill", "ground_up", "--paper", "letter", "--out", str(out)]) == 0
    data = (out / "drills.pdf").read_bytes()
    assert b"/StructTreeRoot" in data or b"/MarkInfo" in data or b"pdfuaid" in data
    with pdfium.PdfDocument(data) as document:
        text = "\n".join(page.get_textpage().get_text_range() for page in document)
        assert document[0].get_size() == pytest.approx((612, 792), abs=0.5)  # 8.5 x 11 in
    drill = house_book().get("ground_up")
    assert drill is not None
    flat = " ".join(text.split())
    for words in (drill.title, drill.steps[0], drill.self_check):
        assert words in flat


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_house_drill_fits_one_page_of_either_paper(paper: str, tmp_path: Path) -> None:
    assert main(["drills", "--paper", paper, "--out", str(tmp_path)]) == 0
    with pypdfium2.PdfDocument((tmp_path / "drills.pdf").read_bytes()) as document:
        pages = [page.get_textpage().get_text_range() for page in document]
    assert len(pages) == len(house_book().drills)
    for drill, text in zip(house_book(), pages, strict=True):
        assert drill.title in text
        assert "Take care" in text


def test_the_data_holds_words_and_drawings(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["drills", "--drill", "towel_under_arms", "--json", "-"]) == 0
    data = json.loads(capsys.readouterr().out)
    (drill,) = data["drills"]
    assert data["schema"] == "wellset.drill-sheet/1"
    assert drill["id"] == "towel_under_arms"
    assert drill["also_for"] == ["arm_hang high", "hand_gap high", "ball_to_toes high"]
    assert [each["fault"] is None for each in drill["drawings"]] == [True, False]
    assert drill["drawings"][0]["target"].startswith("<svg")


def test_a_coachs_own_drills_are_shown(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "mine.yaml"
    file.write_text(
        "schema: wellset.drills/1\nname: Mine\ndrills:\n  my_bow: {title: My bow, purpose: Why., "
        "steps: [Bow.], check: You did., dose: Daily., first_for: [forward_bend low]}\n"
        "cautions: {general: Stop if it hurts.}\n"
    )
    assert main(["drills", "--drills", str(file)]) == 0
    assert "My bow" in capsys.readouterr().out
    file.write_text(file.read_text().replace("forward_bend low", "smile low"))
    assert main(["drills", "--drills", str(file)]) == 3
    assert '"smile low" is no finding' in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (["--for", "smile"], '"smile" is no measure'),
        (["--drill", "nothing"], "There is no such drill"),
        (["--find", "zebra"], "There is no such drill"),
        (["--club", "broom"], "broom"),
    ],
)
def test_what_cannot_be_shown_is_said(
    arguments: list[str], message: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["drills", *arguments]) == 3
    assert message in capsys.readouterr().err
