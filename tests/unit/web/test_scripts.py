"""The pure modules of the browser's scripts, under Node where there is one."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[3]
SUITES = sorted((ROOT / "tests/js").glob("*.test.js"))
PURE = ("geometry.js", "state.js", "tools.js")
SCRIPTS = ROOT / "src/wellset/web/static/js/landmark-editor"
NODE = shutil.which("node")


def too_old() -> bool:
    """Whether Node takes a file for a module only when a package.json says so."""
    told = subprocess.run([str(NODE), "--version"], capture_output=True, text=True, check=True)
    major, minor = map(int, told.stdout.strip().removeprefix("v").split(".")[:2])
    return (major, minor) < (20, 19) or (22, 0) <= (major, minor) < (22, 7)


@pytest.mark.skipif(NODE is None, reason="there is no Node on this machine")
@pytest.mark.skipif(NODE is not None and too_old(), reason="Node is older than 20.19")
@pytest.mark.parametrize("suite", SUITES, ids=lambda path: path.name)
def test_the_pure_modules_do_what_their_tests_say(suite: Path) -> None:
    done = subprocess.run(
        [str(NODE), "--no-warnings", "--test", "--test-reporter=tap", str(suite)],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stdout[-4000:] + done.stderr[-2000:]
    ran = re.search(r"^# pass (\d+)$", done.stdout, re.MULTILINE)
    assert ran is not None
    assert int(ran.group(1)) > 3


def test_pure_modules_know_no_page_and_import_only_each_other() -> None:
    for name in PURE:
        text = (SCRIPTS / name).read_text("utf-8")
        code = re.sub(r"/\*.*?\*/|//[^\n]*", "", text, flags=re.DOTALL)
        assert not re.search(r"\b(document|window|fetch|localStorage)\b", code), name
        assert set(re.findall(r'from "\./([\w.-]+)"', code)) <= set(PURE), name


def test_state_knows_no_zoom() -> None:
    text = (SCRIPTS / "state.js").read_text("utf-8")
    assert not re.search(r"\b(scale|toScreen|zoomed|port)\b", text)


def test_the_module_that_wires_the_editor_is_short() -> None:
    assert len((SCRIPTS / "main.js").read_text("utf-8").splitlines()) <= 50
