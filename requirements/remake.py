"""Remake run.txt and test.txt from pyproject.toml: names, versions and hashes, no addresses.

Needs uv on the path. One version of each package serves every Python and system (`fewest`).
"""

import pathlib
import shutil
import subprocess
import sys

FOLDER = pathlib.Path(__file__).resolve().parent
OPTIONS = [
    "--universal",
    "--generate-hashes",
    "--python-version=3.11",
    "--fork-strategy=fewest",
    "--no-emit-index-url",
    "--no-header",
    "--no-annotate",
    "--quiet",
    "--group=models",
    "--group=build",
]


def remake(name: str, *, more: list[str]) -> int:
    """Resolve one list; what it holds already stays unless `--upgrade` was asked for."""
    uv = shutil.which("uv")
    if uv is None:
        sys.exit("The lists can't be remade: uv is not on the path. Install it: pip install uv")
    target = f"--output-file=requirements/{name}"
    command = [uv, "pip", "compile", "pyproject.toml", *OPTIONS, *more, target, *sys.argv[1:]]
    return subprocess.run(command, cwd=FOLDER.parent, check=False).returncode


if __name__ == "__main__":
    sys.exit(
        remake("run.txt", more=[])
        or remake("test.txt", more=["--group=test", "--constraint=requirements/run.txt"])
    )
