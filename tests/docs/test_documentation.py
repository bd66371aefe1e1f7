"""What the program can do is documented, and what is documented is so."""

import argparse
import re
from pathlib import Path

import pytest

from docs.generate import pages, parts
from docs.generator import codes, commands, measures, published
from docs.generator.drills import DRILLS_EXAMPLE
from docs.generator.files import STANDARDS_EXAMPLE, STUDENT_EXAMPLE
from docs.generator.plate import PLATE_EXAMPLE
from wellset.cli import EXIT_CODES, build_parser
from wellset.figure.landmarks import LANDMARKS
from wellset.figure.views import Hand
from wellset.measures import MEASURES
from wellset.services.bag_file import read_bag
from wellset.services.drills_file import read_drills
from wellset.services.landmark_file import read_landmarks
from wellset.services.plate_file import read_recording
from wellset.services.student_file import make_student
from wellset.standards import Shot, load_standards

ROOT = Path(__file__).parents[2]
DOCS = ROOT / "docs"
REFERENCE = DOCS / "reference"

WRITTEN = sorted([ROOT / "README.md", ROOT / "CHANGELOG.md", *DOCS.rglob("*.md")])
PYTHON = re.compile(r"^```python\n(.*?)^```", re.MULTILINE | re.DOTALL)
SHELL = re.compile(r"^ *```sh\n(.*?)^ *```", re.MULTILINE | re.DOTALL)
LINK = re.compile(r"!?\[[^\]]*\]\(([^)\s]+)\)")
HEADING = re.compile(r"^#+ (.*)$", re.MULTILINE)
FENCED = re.compile(r"^ *```.*?^ *```", re.MULTILINE | re.DOTALL)


def shown(path: Path) -> str:
    return str(path.relative_to(ROOT))


def headings(name: str) -> set[str]:
    text = FENCED.sub("", (REFERENCE / name).read_text("utf-8"))
    return {each.replace("`", "").strip() for each in HEADING.findall(text)}


def anchor(heading: str) -> str:
    """Give the anchor that a page shows a heading under."""
    plain = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", heading).strip().lower()
    return re.sub(r"[^\w\- ]", "", plain).replace(" ", "-")


@pytest.fixture(scope="module")
def generated() -> dict[str, str]:
    return pages()


def test_generated_pages_are_what_the_code_says_now(generated: dict[str, str]) -> None:
    stale = [
        name
        for name, text in generated.items()
        if not (DOCS / name).exists() or (DOCS / name).read_text("utf-8") != text
    ]
    assert stale == [], "run python -m docs.generate"


def test_what_stands_beside_published_figures_is_what_the_solver_says_now() -> None:
    made = {**parts(), **published.files()}
    stale = [name for name, text in made.items() if (DOCS / name).read_text("utf-8") != text]
    assert stale == [], "run python -m docs.generate"


def test_a_plan_away_from_a_published_range_is_not_said_to_agree() -> None:
    one = published.STANCE[0]
    verdicts = {one.verdict(value) for value in (one.low - 1, one.high + 1)}
    assert verdicts == {"**narrower**", "**wider**"}
    assert one.verdict((one.low + one.high) / 2) == "agrees"


def test_no_page_says_it_is_generated_and_is_not(generated: dict[str, str]) -> None:
    claiming = {
        str(path.relative_to(DOCS))
        for path in DOCS.rglob("*.md")
        if path.read_text("utf-8").startswith("<!-- Made by")
    }
    assert claiming == {name for name in generated if name.endswith(".md")}


def test_every_measure_has_a_page_with_all_its_parts() -> None:
    for id_, measure in MEASURES.items():
        found = headings(f"measures/{id_}.md")
        parts = {"Formula", "Assumptions", "Error budget", "Limits", "Sources"}
        assert {measure.title, *parts} <= found, id_


def test_what_is_written_by_hand_about_measures_is_about_those_that_exist() -> None:
    assert list(measures.texts()) == list(MEASURES)
    assert measures.demo_budgets().keys() <= MEASURES.keys()


def test_the_budgets_shown_add_up() -> None:
    for id_, found in measures.demo_budgets().items():
        parts = sum(part**2 for source, part in found.items() if source != "sd")
        # every number was rounded to two digits
        assert parts**0.5 == pytest.approx(found["sd"], rel=0.06), id_


def test_every_command_and_option_has_its_heading() -> None:
    found = headings("commands.md")
    for name, parser, _ in commands.commands():
        assert f"wellset {name}" in found
        names = {option for option, _ in commands.options(parser)}
        documented = {each.split()[0] for each in found if each.startswith("--")}
        assert names <= documented, name


def test_every_option_documented_has_a_sentence_of_its_own() -> None:
    every = {
        option for _, parser, _ in commands.commands() for option, _ in commands.options(parser)
    }
    assert every == commands.MORE.keys()


def test_every_exit_code_and_error_class_has_its_heading() -> None:
    found = headings("exit-codes.md")
    assert {str(code) for code in (0, 1, 2, *EXIT_CODES.values())} <= found
    classes = commands.all_error_classes()
    assert len(classes) == len(EXIT_CODES)
    assert {each.__name__ for each in classes} <= headings("errors.md")


def test_every_reason_for_withholding_a_measure_is_explained_and_no_other() -> None:
    known = codes.withheld_codes()
    assert "too_uncertain" in known
    assert known == codes.meanings("not_measurable").keys()
    assert known <= headings("not-measurable.md")


def test_every_note_is_explained_and_no_other() -> None:
    known = codes.note_codes()
    assert {"landmark_misfit", "unusual_MEASURE"} <= known
    assert known == codes.meanings("notes").keys()
    assert known <= headings("notes.md")


def test_every_shot_and_landmark_is_named_on_its_page() -> None:
    windows = headings("default-windows.md")
    assert {shot.value.capitalize() for shot in Shot} <= windows
    text = (REFERENCE / "landmark-file.md").read_text("utf-8")
    assert [name for name in LANDMARKS if f"`{name}`" not in text] == []


def test_the_files_shown_are_read() -> None:
    assert read_drills(DRILLS_EXAMPLE, where="example").drills[0].id == "bench_bow"
    standards = load_standards(STANDARDS_EXAMPLE)
    assert {"ball_position"} <= {w.measure for w in standards.for_shot("mid iron")}
    assert "chest_shift" not in {w.measure for w in standards.for_shot("mid iron")}
    assert make_student(height=None, file_text=STUDENT_EXAMPLE).build.shoe_length == 0.30
    plate = read_recording(PLATE_EXAMPLE, where="feet.csv", hand=Hand.RIGHT)
    assert plate.lead.along[0] == pytest.approx(0.1282)


def whole_standards_files() -> list[tuple[str, str]]:
    blocks = re.compile(r"^ *```yaml\n(.*?)^ *```", re.MULTILINE | re.DOTALL)
    return [
        (f"{shown(path)}:{number}", block)
        for path in WRITTEN
        for number, block in enumerate(blocks.findall(path.read_text("utf-8")), start=1)
        if "schema:" in block
    ]


def test_every_whole_file_in_the_pages_is_read() -> None:
    found = whole_standards_files()
    assert len(found) >= 4
    for name, block in found:
        indent = len(block) - len(block.lstrip(" "))
        text = "\n".join(line[indent:] for line in block.splitlines())
        if "wellset.student/1" in text:
            make_student(height=None, file_text=text, where=name)
        elif "wellset.bag/1" in text:
            assert read_bag(text, where=name)
        elif "wellset.drills/1" in text:
            assert read_drills(text, where=name).drills
        else:
            load_standards(text, where=name)


def test_every_landmark_file_in_the_pages_is_read() -> None:
    blocks = re.compile(r"^ *```json\n(.*?)^ *```", re.MULTILINE | re.DOTALL)
    found = [
        (shown(path), block)
        for path in WRITTEN
        for block in blocks.findall(path.read_text("utf-8"))
        if "wellset.landmarks/1" in block
    ]
    assert len(found) >= 2
    for name, block in found:
        assert read_landmarks(block, where=name).sightings


def python_blocks() -> list[tuple[str, str]]:
    return [
        (f"{shown(path)}:{number}", block)
        for path in WRITTEN
        for number, block in enumerate(PYTHON.findall(path.read_text("utf-8")), start=1)
    ]


def test_there_are_python_examples() -> None:
    assert len(python_blocks()) >= 4


@pytest.mark.parametrize("block", [pytest.param(code, id=name) for name, code in python_blocks()])
def test_a_python_example_runs(block: str) -> None:
    exec(compile(block, "example", "exec"), {})  # noqa: S102 - that is the point


def shell_lines() -> list[tuple[str, str]]:
    return [
        (shown(path), line.split("#")[0].strip())
        for path in WRITTEN
        for block in SHELL.findall(path.read_text("utf-8"))
        for line in block.splitlines()
        if "wellset " in line or "start.py run -- " in line
    ]


def known_options() -> dict[str, set[str]]:
    return {
        name: {option for option, _ in commands.options(parser)}
        for name, parser, _ in commands.commands()
    }


def test_every_option_in_a_shell_example_exists() -> None:
    lines = shell_lines()
    assert len(lines) >= 4
    for name, line in lines:
        command = re.sub(r"^.*?(?:start\.py run -- |wellset )", "", line).split()[0]
        unknown = set(re.findall(r"(?<!\S)--[a-z][a-z-]*", line.split(command, 1)[1]))
        assert unknown <= known_options()[command], f"{name}: {line}"


def test_every_option_in_the_text_exists() -> None:
    known = set().union(*known_options().values()) | {"--help", "--version", "--rendered", "--demo"}
    for path in WRITTEN:
        found = set(re.findall(r"`(--[a-z][a-z-]*)", path.read_text("utf-8")))
        assert found <= known, shown(path)


def test_the_parser_has_the_commands_that_the_pages_name() -> None:
    assert isinstance(build_parser(), argparse.ArgumentParser)
    assert [name for name, _, _ in commands.commands()] == [
        "demo",
        "assess",
        "check",
        "sheet",
        "serve",
        "backup",
        "restore",
        "export",
        "measures",
        "plan",
        "report",
        "template",
        "card",
        "drills",
    ]


@pytest.mark.parametrize("path", [pytest.param(path, id=shown(path)) for path in WRITTEN])
def test_links_lead_somewhere(path: Path) -> None:
    text = FENCED.sub("", path.read_text("utf-8"))
    for target in LINK.findall(text):
        if re.match(r"[a-z]+:", target):
            continue
        name, _, fragment = target.partition("#")
        goal = (path.parent / name).resolve() if name else path
        assert goal.exists(), target
        if fragment:
            there = {
                anchor(each) for each in HEADING.findall(FENCED.sub("", goal.read_text("utf-8")))
            }
            assert fragment in there, target


def test_every_page_can_be_reached_from_the_readme() -> None:
    seen, waiting = set(), [ROOT / "README.md"]
    while waiting:
        path = waiting.pop()
        if path in seen:
            continue
        seen.add(path)
        for target in LINK.findall(FENCED.sub("", path.read_text("utf-8"))):
            goal = (path.parent / target.partition("#")[0]).resolve()
            if goal.suffix == ".md" and goal.is_file():
                waiting.append(goal)
    assert sorted(shown(p) for p in DOCS.rglob("*.md") if p not in seen) == []


@pytest.mark.parametrize("path", [pytest.param(path, id=shown(path)) for path in WRITTEN])
def test_no_page_is_left_unfinished(path: Path) -> None:
    text = path.read_text("utf-8")
    # Written in pieces, so that this file doesn't find itself.
    unfinished = re.compile(r"\b(?:TO" + r"DO|FIX" + r"ME|TB[CD]|XX+|lorem|place" + r"holder)\b")
    assert not unfinished.search(text)
    assert len(text.split()) > 20


def test_decisions_stay_under_a_page() -> None:
    found = sorted((DOCS / "explanation" / "decisions").glob("0*.md"))
    assert len(found) >= 7
    for number, path in enumerate(found, start=1):
        text = path.read_text("utf-8")
        assert path.name.startswith(f"{number:04d}-")
        assert text.startswith(f"# {number}. ")
        assert len(text.split()) < 350
        for part in ("Context", "Choice", "Rejected", "Consequence"):
            assert f"**{part}.**" in text, path.name


def test_the_readme_says_what_it_is_first_then_how_to_start_then_shows_a_result() -> None:
    text = (ROOT / "README.md").read_text("utf-8")
    places = [
        text.index(part)
        for part in (
            "Wellset measures how a student stands",
            "python3 start.py demo",
            "python3 start.py test",
            "](docs/images/",
            "## How to read it",
            "## Your own pictures",
            "## Limits and cautions",
        )
    ]
    assert places == sorted(places)
    pictures = list((DOCS / "images").iterdir())
    assert pictures
    assert all(each.stat().st_size < 300_000 for each in pictures)
