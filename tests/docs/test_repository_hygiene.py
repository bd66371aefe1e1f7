"""What a stranger finds in the repository speaks of the project alone and installs safely."""

import re
import shutil
import subprocess
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
REQUIREMENTS = ROOT / "requirements"
LONGEST_MODULE = 400  # lines; past that, split by noun (CONTRIBUTING.md)

# Written in pieces, so that this file doesn't find itself.
MACHINE_PATH = re.compile(r"(?<![\w.~/>-])/(?:work|tmp|root|home|opt|Users)" + r"/\w")
REGISTRY_HOST = re.compile(r"(?:pypi|pythonhosted|npmjs|anaconda)" + r"\.(?:org|com)|deb\.debian")
OUTSIDE_FOLDER = re.compile(r"\.\./" + r"shared|landmarknet" + r"/README")


def project_files() -> list[Path]:
    """Give every file that belongs to the project: what git knows or would add."""
    git = shutil.which("git")
    if git and (ROOT / ".git").exists():
        listed = subprocess.run(
            [git, "-C", ROOT, "ls-files", "-co", "--exclude-standard", "-z"],
            capture_output=True,
            text=True,
            check=False,
        )
        if listed.returncode == 0:
            paths = [ROOT / name for name in listed.stdout.split("\0") if name]
            return [path for path in paths if path.is_file()]
    kept_out = {".git", ".venv", "__pycache__"}
    return [path for path in ROOT.rglob("*") if path.is_file() and not kept_out & set(path.parts)]


def texts() -> list[tuple[str, str]]:
    """Give the name and the text of every text file of the project."""
    found = []
    for path in project_files():
        content = path.read_bytes()
        if b"\0" not in content[:8192]:
            found.append((str(path.relative_to(ROOT)), content.decode("utf-8")))
    return found


def pins(name: str) -> dict[str, str]:
    """Read which version of each package a requirements file names."""
    listed = (REQUIREMENTS / name).read_text("utf-8")
    return dict(re.findall(r"^([a-z0-9-]+)==(\S+)", listed, flags=re.MULTILINE))


@pytest.mark.parametrize(
    "unwanted",
    [
        pytest.param(MACHINE_PATH, id="a folder of somebody's machine"),
        pytest.param(REGISTRY_HOST, id="the address of a package registry"),
        pytest.param(OUTSIDE_FOLDER, id="a folder outside the repository"),
    ],
)
def test_no_file_names(unwanted: re.Pattern[str]) -> None:
    found = [
        f"{name}:{number}: {line.strip()}"
        for name, text in texts()
        for number, line in enumerate(text.splitlines(), start=1)
        if unwanted.search(line)
    ]
    assert not found, "\n".join(found)


def test_the_patterns_find_what_they_are_meant_to_find() -> None:
    assert MACHINE_PATH.search("see " + "/home" + "/ann/pictures")
    assert not MACHINE_PATH.search("docs/how-to/" + "tmp/with-sticks.md")
    assert REGISTRY_HOST.search("https://files." + "pythonhosted" + ".org/x")
    assert OUTSIDE_FOLDER.search(".." + "/shared/notes.md")


def test_no_lock_file_with_addresses_is_kept() -> None:
    names = {path.name for path in project_files()}
    assert not names & {"uv.lock", "poetry.lock", "pylock.toml", "package-lock.json"}


def test_no_module_is_longer_than_the_limit() -> None:
    lengths = {
        str(path.relative_to(ROOT)): len(path.read_text("utf-8").splitlines())
        for path in [ROOT / "start.py", *(ROOT / "src").rglob("*.py")]
    }
    assert {name: lines for name, lines in lengths.items() if lines > LONGEST_MODULE} == {}


@pytest.mark.parametrize(
    ("name", "sentence"),
    [
        ("LICENSE", "Apache License"),
        ("NOTICE", "mediapipe 0.10.21"),
        ("CHANGELOG.md", "# "),
        ("CONTRIBUTING.md", "start.py test"),
        ("README.md", "python3 start.py demo"),
        ("README.md", "python3 start.py test"),
    ],
)
def test_a_reader_finds(name: str, sentence: str) -> None:
    assert sentence in (ROOT / name).read_text("utf-8")


@pytest.mark.parametrize("name", ["run.txt", "test.txt"])
def test_every_required_package_is_pinned_with_hashes_and_without_an_address(name: str) -> None:
    listed = (REQUIREMENTS / name).read_text("utf-8")
    entries = re.split(r"\n(?=\S)", listed.strip())
    assert len(entries) > 20
    unpinned = [
        entry
        for entry in entries
        if not re.match(r"[a-z0-9-]+==\S+( ; .+)? \\\n +--hash=sha256:[0-9a-f]{64}", entry)
    ]
    assert unpinned == []
    assert "://" not in listed
    assert "--index" not in listed


def test_the_tests_run_with_the_versions_that_a_coach_runs() -> None:
    assert pins("run.txt").items() <= pins("test.txt").items()


def test_every_file_of_the_package_ships_with_it() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    shipped = ["*.py", *project["tool"]["setuptools"]["package-data"]["*"]]
    package = ROOT / "src" / "wellset"
    left_out = [
        str(path.relative_to(ROOT))
        for path in project_files()
        if package in path.parents and not any(path.match(pattern) for pattern in shipped)
    ]
    assert left_out == []


def test_everything_the_package_depends_on_is_in_the_requirements() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))
    groups = project["dependency-groups"]
    for name, wanted in {
        "run.txt": [*project["project"]["dependencies"], *groups["models"], *groups["build"]],
        "test.txt": groups["test"],
    }.items():
        asked = {re.split(r"[<>=~! \[]", requirement, maxsplit=1)[0] for requirement in wanted}
        assert asked <= pins(name).keys()


@pytest.mark.parametrize(
    ("system", "digest"),
    # The wheels for CPython 3.11, hashed after `pip download --platform` on 25 November 2026.
    [
        ("Linux x86-64", "05dc4a9e593655a79558d05d6227d31018c2537a4bd3362b51e230cf22aecfe3"),
        ("macOS", "b4946abad54d62812ce4c543187373a4872985fd66cd43fe7437f4b95d53d9ec"),
        ("Windows x86-64", "c9ad3adcf2b606f0ebde89afce29da8852f1c93f4fcb7f8dc93d72313625aa6d"),
    ],
)
def test_the_pose_model_wheel_may_be_installed_on(system: str, digest: str) -> None:
    listed = (REQUIREMENTS / "run.txt").read_text("utf-8")
    entry = re.search(r"^mediapipe==(?:.*\\\n)+.*", listed, flags=re.MULTILINE)
    assert entry is not None
    assert digest in entry.group(), system
