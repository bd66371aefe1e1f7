"""The script that sets everything up says plainly what stands in its way."""

import importlib.util
import json
import subprocess
import sys
from collections import namedtuple
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[2]
SCRIPT = ROOT / "start.py"


@pytest.fixture
def start(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> ModuleType:
    """Load the script afresh, with a folder of its own that doesn't exist yet."""
    monkeypatch.setenv("WELLSET_VENV", str(tmp_path / "venv"))
    spec = importlib.util.spec_from_file_location("start", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def pretend_python(start: ModuleType, monkeypatch: pytest.MonkeyPatch, *version: int) -> None:
    """Let the script believe that another Python reads it, with no other on the path."""
    info = namedtuple("info", "major minor micro")  # noqa: PYI024  as sys.version_info is read
    monkeypatch.setattr(start.sys, "version_info", info(*version))
    monkeypatch.setattr(start.shutil, "which", lambda _name: None)


def test_help_names_every_command() -> None:
    shown = subprocess.run(
        [sys.executable, SCRIPT, "--help"], capture_output=True, text=True, check=True
    ).stdout
    for command in ("demo", "run", "test", "setup"):
        assert f"python3 start.py {command}" in shown


def test_an_unknown_command_gets_the_help_and_exit_code_2(
    start: ModuleType, capsys: pytest.CaptureFixture[str]
) -> None:
    assert start.main(["dmeo"]) == 2
    assert "python3 start.py demo" in capsys.readouterr().out


@pytest.mark.parametrize("version", [(3, 10, 4), (3, 13, 0)])
def test_a_python_that_does_not_fit_is_named_with_those_that_do(
    start: ModuleType,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    version: tuple[int, int, int],
) -> None:
    pretend_python(start, monkeypatch, *version)
    assert start.main(["demo"]) == 69
    said = capsys.readouterr().err
    assert f"can't start with Python 3.{version[1]}." in said
    assert "it needs Python 3.11 or 3.12" in said
    assert "apt install python3" in said


def test_a_folder_that_somebody_else_made_is_left_alone(
    start: ModuleType, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    theirs = tmp_path / "venv" / "letter.txt"
    theirs.parent.mkdir()
    theirs.write_text("mine")
    assert start.main(["setup"]) == 69
    assert theirs.read_text() == "mine"
    assert "it wasn't made by start.py, so start.py leaves it alone" in capsys.readouterr().err


def test_too_little_room_is_said_before_anything_is_fetched(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    usage = namedtuple("usage", "free")  # noqa: PYI024  as shutil.disk_usage is read
    monkeypatch.setattr(start.shutil, "disk_usage", lambda _folder: usage(41_000_000))
    assert start.main(["setup"]) == 69
    assert "Why: 41 MB are free, " in capsys.readouterr().err


def test_a_missing_venv_module_is_said_with_the_package_that_holds_it(
    start: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(start, "works", lambda *_command: False)
    assert start.main(["setup"]) == 69
    assert "apt install python3-venv" in capsys.readouterr().err


@pytest.mark.parametrize(
    ("printed", "meant"),
    [
        # Parts of what pip 23.0 and uv 0.13 printed when each was provoked; the last two were not.
        ("OSError: [Errno 28] No space left on device", "the disk is full"),
        ("ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM", "its hash differs"),
        (
            (
                "WARNING: Retrying after connection broken by 'NewConnectionError('\n"
                "ERROR: No matching distribution found for ai-edge-litert==2.3.0"
            ),
            "couldn't be reached",
        ),
        ("error: Request failed after 3 retries\n  cause: dns error", "couldn't be reached"),
        ("ERROR: No matching distribution found for attrs==26.1.0", "no ready-made file"),
        ("something nobody foresaw", "something nobody foresaw"),
    ],
)
def test_what_the_installer_printed_becomes_a_plain_reason(
    start: ModuleType, printed: str, meant: str
) -> None:
    assert meant in str(start.setup_trouble(printed))


def test_a_finished_folder_is_not_touched_again(start: ModuleType, tmp_path: Path) -> None:
    wanted = {**start.wanted_stamp(), "python": start.here()}
    python = Path(start.program("python"))
    python.parent.mkdir(parents=True)
    python.symlink_to(sys.executable)
    start.write_stamp(wanted)
    start.prepare("test")
    assert json.loads((tmp_path / "venv" / start.STAMP_NAME).read_text()) == wanted
    assert [path.name for path in (tmp_path / "venv").iterdir() if path.is_file()] == [
        start.STAMP_NAME
    ]


@pytest.mark.parametrize(
    ("kind", "changed", "stale"),
    [
        ("run", "run", True),
        ("run", "test", False),  # who only runs Wellset doesn't care for the tests' list
        ("test", "test", True),
        ("test", "run", True),
    ],
)
def test_a_changed_list_makes_the_folder_stale(
    start: ModuleType, kind: str, changed: str, stale: bool
) -> None:
    wanted = start.wanted_stamp()
    assert start.is_stale({**wanted, changed: "other"}, wanted=wanted, kind=kind) is stale


def test_the_exit_code_of_the_command_is_passed_on(start: ModuleType, tmp_path: Path) -> None:
    assert start.call([sys.executable, "-c", "raise SystemExit(5)"], folder=tmp_path) == 5
    end = "import os, signal; os.kill(os.getpid(), signal.SIGTERM)"
    assert start.call([sys.executable, "-c", end], folder=tmp_path) == 128 + 15
