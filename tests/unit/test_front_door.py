"""The package's front: quick to open, and its verb is a function."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

HEAVY = ("numpy", "cv2", "onnxruntime", "scipy", "PIL", "pydantic", "jinja2", "ai_edge_litert")


def answer(code: str) -> str:
    """What a fresh interpreter prints."""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


@pytest.fixture(autouse=True)
def _finds_the_package(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join(filter(None, sys.path)))


def test_the_command_line_loads_nothing_heavy_before_it_is_used() -> None:
    loaded = answer(f"import sys, wellset.cli; print([n for n in {HEAVY} if n in sys.modules])")
    assert loaded == "[]"


def test_help_loads_nothing_heavy_and_lists_commands_and_exit_codes() -> None:
    printed = answer(
        "import sys, wellset.cli\n"
        "try:\n    wellset.cli.main(['--help'])\n"
        "except SystemExit as end:\n    print('ended', end.code)\n"
        f"print([n for n in {HEAVY} if n in sys.modules])"
    )
    assert printed.endswith("ended 0\n[]")
    for word in ("demo", "assess", "exit codes"):
        assert word in printed


def test_assess_stays_the_function_after_its_room_was_loaded() -> None:
    printed = answer(
        "import wellset\n"
        "from wellset.assess import Fit\n"
        "import wellset.assess.fit\n"
        "import wellset.services.assess_setup\n"
        "print(wellset.assess.__module__, wellset.assess.__name__, Fit.__name__)"
    )
    assert printed == "wellset.api assess Fit"


def test_assess_can_be_imported_by_name() -> None:
    assert answer("from wellset import assess; print(callable(assess))") == "True"


def test_running_the_package_is_running_the_command_line() -> None:
    done = subprocess.run(
        [sys.executable, "-m", "wellset", "--version"], capture_output=True, text=True, check=False
    )
    assert done.returncode == 0
    assert done.stdout.startswith("wellset ")
