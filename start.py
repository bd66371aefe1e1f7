#!/usr/bin/env python3
"""Set Wellset up in a folder of its own, then run it or its tests.

    python3 start.py demo               show what Wellset does, on an invented student
    python3 start.py run -- ARGUMENTS   any wellset command, for example: run -- assess --help
    python3 start.py test               every check and test; `test -- ARGUMENTS` go to pytest
    python3 start.py setup [--tests]    only set up

The first start fetches the packages that requirements/ names, each checked against its hash;
later starts need no network. WELLSET_VENV names another folder to set up in than .venv.
Exit code 69 means that the setting up failed; any other is that of the command itself.
"""

# Standard library only, and no syntax newer than Python 3.6: whoever starts this with the wrong
# Python must get a sentence, not a syntax error.

import functools
import hashlib
import json
import os
import pathlib
import re
import shutil
import subprocess
import sys
import time

ROOT = pathlib.Path(__file__).resolve().parent
OLDEST, NEWEST = (3, 11), (3, 12)
SETUP_FAILED = 69  # EX_UNAVAILABLE of the BSD list of exit codes
LOG_NAME = "wellset-start.log"
STAMP_NAME = "wellset-start.json"

# Room on the disk, in megabytes, for the packages and what is unpacked on the way.
ROOM_MB = {"run": 1000, "test": 1600}

CHECKS = (
    ("style", ["ruff", "check", "."]),
    ("layout of the code", ["ruff", "format", "--check", "."]),
    ("types", ["mypy"]),
    ("which room imports which", ["lint-imports"]),
    ("spelling", ["codespell"]),
)

# Tests of one file stay together, since they share what is slow to make.
WORKERS = ["--numprocesses=auto", "--maxprocesses=4", "--dist=loadfile"]

# What pip or uv print when they fail, and what that means: sign, why, how to mend it.
SIGNS = (
    (r"No space left|Errno 28|Disk quota", "the disk is full.", "free some room and start again."),
    (
        r"DO NOT MATCH THE HASHES|[Hh]ash mismatch",
        "a fetched file is not the one that requirements/ names: its hash differs.",
        "start again; if it stays, ask whoever keeps your package mirror.",
    ),
    (
        (
            r"NewConnectionError|name resolution|getaddrinfo|Network is unreachable|[Tt]imed? ?out"
            r"|dns error|error sending request|Failed to fetch|ProxyError|SSLError|CERTIFICATE"
            r"|Connection (aborted|broken|refused|reset)|No route to host"
        ),
        "the package index couldn't be reached.",
        "check the network (or pip's proxy and mirror) and start again; later starts need none.",
    ),
    (
        r"Permission denied|Errno 13|Read-only file system",
        "a file or folder may not be written.",
        "work in a copy that is yours, or name another folder: WELLSET_VENV=~/wellset-venv",
    ),
    (
        r"No matching distribution|Could not find a version|no wheels? ",
        "a package has no ready-made file for this machine.",
        "use Python 3.11 or 3.12 on Linux x86-64, macOS 14 (Apple silicon) or Windows x86-64.",
    ),
)


class SetupError(Exception):
    """Something that keeps Wellset from being set up: what, why and how to mend it."""

    def __init__(self, what: str, *, why: str, fix: str) -> None:
        super().__init__(f"{what}\n  Why: {why}\n  Do:  {fix}")


def say(text: str) -> None:
    """Tell the person what is going on, apart from what the command itself prints."""
    print(text, file=sys.stderr, flush=True)


# ── Python ───────────────────────────────────────────────────────────────────────────────────────


def works(*command: str) -> bool:
    """Say whether a command can be started and ends well."""
    try:
        return subprocess.call(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL) == 0
    except OSError:
        return False


def here() -> str:
    """Give the version of the Python that reads this."""
    return "{}.{}".format(*sys.version_info)


def fits() -> bool:
    """Say whether Wellset runs on the Python that reads this."""
    return OLDEST <= sys.version_info[:2] <= NEWEST


@functools.lru_cache(maxsize=None)
def fitting_python() -> "tuple[str, str]":
    """Name this Python and its version if it fits, else one on the path that does."""
    if fits():
        # Of a virtual environment, take the Python behind it: the environment may be remade.
        return str(getattr(sys, "_base_executable", None) or sys.executable), here()
    for minor in range(NEWEST[1], OLDEST[1] - 1, -1):
        found = shutil.which(f"python3.{minor}")
        if found and works(found, "-c", ""):
            say(f"This is Python {here()}, which Wellset can't use; going on with {found}.")
            return found, f"3.{minor}"
    raise SetupError(
        f"Wellset can't start with Python {here()}.",
        why="it needs Python 3.11 or 3.12, and neither is on the path.",
        fix="install one of them (Debian 12: apt install python3 python3-venv), then start with "
        "it: python3.11 start.py demo",
    )


# ── The folder and its stamp ─────────────────────────────────────────────────────────────────────


def venv_folder() -> pathlib.Path:
    """Name the folder that everything is installed in."""
    named = os.environ.get("WELLSET_VENV")
    return pathlib.Path(named).expanduser().absolute() if named else ROOT / ".venv"


def program(name: str) -> str:
    """Name a program inside the folder."""
    if os.name == "nt":
        return str(venv_folder() / "Scripts" / f"{name}.exe")
    return str(venv_folder() / "bin" / name)


def digest(*names: str) -> str:
    """Sum up the contents of some files of the project in one hash."""
    return hashlib.sha256(b"\0".join((ROOT / name).read_bytes() for name in names)).hexdigest()


def wanted_stamp() -> "dict[str, str]":
    """Say what a finished folder is stamped with, beside its Python."""
    return {
        "run": digest("requirements/run.txt"),
        "test": digest("requirements/test.txt"),
        "project": digest("pyproject.toml", "src/wellset/__init__.py") + f" {ROOT}",
    }


def read_stamp() -> "dict[str, str]":
    """Read what the folder was stamped with; empty where there is no folder of ours."""
    try:
        stamp = json.loads((venv_folder() / STAMP_NAME).read_text("utf-8"))
    except (OSError, ValueError):
        return {}
    return stamp if isinstance(stamp, dict) else {}


def write_stamp(stamp: "dict[str, str]") -> None:
    """Stamp the folder: what is written here is installed in full."""
    (venv_folder() / STAMP_NAME).write_text(json.dumps(stamp, indent=1) + "\n", "utf-8")


def is_stale(stamp: "dict[str, str]", *, wanted: "dict[str, str]", kind: str) -> bool:
    """Say whether the folder holds packages of another list."""
    return any(stamp.get(name, wanted[name]) != wanted[name] for name in ("run", kind))


def prepare(kind: str) -> None:
    """Make the folder ready for `run` or `test`; does nothing where it is already."""
    began = time.monotonic()
    folder, stamp, wanted = venv_folder(), read_stamp(), wanted_stamp()
    alive = pathlib.Path(program("python")).exists()
    if stamp and (not alive or is_stale(stamp, wanted=wanted, kind=kind)):
        say(f"Its packages or its Python are out of date: making {folder} anew.")
        shutil.rmtree(str(folder))
        stamp = {}
    if not stamp:
        stamp = make_folder(kind)
    elif fits() and stamp.get("python") != here():
        say(f"{folder} was made with Python {stamp['python']} and goes on with it.")
    for name in ("run",) if kind == "run" else ("run", "test"):
        if stamp.get(name) != wanted[name]:
            install_packages(name)
            stamp[name] = wanted[name]
            write_stamp(stamp)
    if stamp.get("project") != wanted["project"]:
        install_project()
        stamp["project"] = wanted["project"]
        write_stamp(stamp)
        say(f"Set up after {time.monotonic() - began:.0f} s.\n")


# ── Setting up ───────────────────────────────────────────────────────────────────────────────────


def no_venv_module() -> SetupError:
    """Explain that a part of Python is not installed."""
    return SetupError(
        f"{fitting_python()[0]} can't set up a folder of its own for Wellset.",
        why="its modules venv and ensurepip are missing; Debian keeps them in a package apart.",
        fix="install them (Debian, Ubuntu: apt install python3-venv) and start again.",
    )


def make_folder(kind: str) -> "dict[str, str]":
    """Make an empty virtual environment where there is nothing yet; give its stamp."""
    folder, (python, version) = venv_folder(), fitting_python()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        taken = any(folder.iterdir())
        free_mb = shutil.disk_usage(str(folder)).free // 1_000_000
    except OSError as error:
        raise SetupError(
            f"The folder {folder} can't be made.",
            why=f"{error.strerror}.",
            fix="work in a copy that is yours, or name another folder: WELLSET_VENV=~/wellset-venv",
        ) from None
    if taken:
        raise SetupError(
            f"{folder} is already there.",
            why="it wasn't made by start.py, so start.py leaves it alone.",
            fix="move it away, or name another folder: WELLSET_VENV=.venv-wellset",
        )
    if free_mb < ROOM_MB[kind]:
        raise SetupError(
            f"There is too little room in {folder}.",
            why=f"{free_mb} MB are free, {ROOM_MB[kind]} MB are needed.",
            fix="free some room, or name a folder on another disk with WELLSET_VENV.",
        )
    say(f"Setting Wellset up in {folder}. The first time takes a minute or two.")
    write_stamp({"python": version})  # from here on the folder is known to be ours
    if not works(python, "-m", "venv", "--without-pip", str(folder)):
        raise no_venv_module()
    return read_stamp()


def clean_environment() -> "dict[str, str]":
    """Give the environment for everything started here: only our own folder counts."""
    left_out = ("PYTHONHOME", "PYTHONPATH", "PIP_TARGET", "PIP_PREFIX", "PIP_REQUIRE_VIRTUALENV")
    environment = {name: value for name, value in os.environ.items() if name not in left_out}
    programs = str(pathlib.Path(program("python")).parent)
    environment["PATH"] = programs + os.pathsep + os.environ.get("PATH", os.defpath)
    environment["VIRTUAL_ENV"] = str(venv_folder())
    environment.update(PIP_USER="0", PIP_DISABLE_PIP_VERSION_CHECK="1")
    return environment


def with_uv() -> "list[str]":
    """Give the start of an install command for uv; empty where uv is not there."""
    uv = shutil.which("uv")
    if uv and works(uv, "--version"):
        # pip compiles what it installs, uv only when asked: it halves every start afterwards
        return [uv, "pip", "install", "--compile-bytecode", "--python", program("python")]
    return []


def with_pip() -> "list[str]":
    """Give the start of an install command for pip, putting pip into the folder if need be."""
    options = ["install", "--no-input", "--progress-bar", "off"]
    python, outside = program("python"), fitting_python()[0]
    if works(python, "-m", "pip", "--version") or works(python, "-m", "ensurepip"):
        return [python, "-m", "pip", *options]
    if works(outside, "-m", "pip", "--python", python, "--version"):
        return [outside, "-m", "pip", "--python", python, *options]
    raise no_venv_module()


def install_packages(kind: str) -> None:
    """Fetch and install what the requirements file names, nothing else, each hash checked."""
    listed = str(ROOT / "requirements" / f"{kind}.txt")
    wanted = ["--no-deps", "--require-hashes", "--only-binary", ":all:", "-r", listed]
    if kind == "test":  # the one package without a wheel, built by what the first list brought
        wanted += ["--no-binary", "yeadon", "--no-build-isolation"]
    if with_uv():
        say("Fetching packages with uv:")
        if not logged([*with_uv(), *wanted]):
            return
        say("That failed.")  # pip may know a mirror or a proxy that uv doesn't
    installer = with_pip()
    say("Fetching packages with pip:")
    complaint = logged([*installer, *wanted])
    if complaint:
        raise setup_trouble(complaint)


def install_project() -> None:
    """Point the folder at the source beside this file, and make the `wellset` command."""
    wanted = ["--no-deps", "--no-build-isolation", "--quiet", "--editable", str(ROOT)]
    if with_uv() and not logged([*with_uv(), "--offline", *wanted]):
        return
    complaint = logged([*with_pip(), "--no-index", *wanted])
    if complaint:
        raise setup_trouble(complaint)


def logged(command: "list[str]") -> str:
    """Run a set-up step, telling what is fetched; give its output where it failed."""
    lines = []
    with (venv_folder() / LOG_NAME).open("a", encoding="utf-8") as log, subprocess.Popen(
        command,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        cwd=str(ROOT),
        env=clean_environment(),
    ) as step:
        log.write("$ {}\n".format(" ".join(command)))
        for raw in step.stdout or ():
            line = raw.decode("utf-8", "replace").rstrip()
            lines.append(line)
            log.write(line + "\n")
            fetched = re.match(r"(?:Collecting ([\w.-]+)==|Downloading ([\w.-]+) \()", line)
            if fetched:
                say("  " + str(fetched.group(1) or fetched.group(2)))
    return "\n".join(lines) or "(no output)" if step.returncode else ""


def setup_trouble(complaint: str) -> SetupError:
    """Turn what the installer printed into plain sentences."""
    errors = [line.strip() for line in complaint.splitlines() if "rror" in line] or [complaint]
    told = "\n       ".join(["the installer stopped:", *errors[-4:]])
    unknown = (told, "mend that and start again.")
    known = ((why, fix) for sign, why, fix in SIGNS if re.search(sign, complaint))
    why, fix = next(known, unknown)
    fix += f"\n  Log: {venv_folder() / LOG_NAME}"
    return SetupError("The packages couldn't be installed.", why=why, fix=fix)


# ── Commands ─────────────────────────────────────────────────────────────────────────────────────


def call(command: "list[str]", *, folder: pathlib.Path) -> int:
    """Run a command to its end and pass its exit code on."""
    code = subprocess.call(command, cwd=str(folder), env=clean_environment())
    return 128 - code if code < 0 else code  # ended by a signal: said as a shell says it


def wellset(arguments: "list[str]") -> int:
    """Run a wellset command, in the folder that the person is in."""
    prepare("run")
    return call([program("python"), "-m", "wellset", *arguments], folder=pathlib.Path.cwd())


def test(arguments: "list[str]") -> int:
    """Run every check, then the tests; stop at the first that fails."""
    prepare("test")
    steps = len(CHECKS) + 1
    for number, (name, command) in enumerate(CHECKS, start=1):
        print("== {}/{} {}: {}".format(number, steps, name, " ".join(command)), flush=True)
        code = call([program(command[0]), *command[1:]], folder=ROOT)
        if code != 0:
            print(f"\n== stopped at {number}/{steps}, {name}: mend what is named above", flush=True)
            return code
    print(f"== {steps}/{steps} tests: pytest", flush=True)
    return call([program("pytest"), *WORKERS, *arguments], folder=ROOT)


def setup(arguments: "list[str]") -> int:
    """Only set up."""
    prepare("test" if "--tests" in arguments else "run")
    say(f"Wellset is set up in {venv_folder()}.")
    return 0


def main(arguments: "list[str]") -> int:
    """Start the command that the person names."""
    name = arguments[0] if arguments else ""
    rest = arguments[2:] if arguments[1:2] == ["--"] else arguments[1:]
    commands = {
        "demo": lambda: wellset(["demo", *rest]),
        "run": lambda: wellset(rest),
        "test": lambda: test(rest),
        "setup": lambda: setup(rest),
    }
    if name not in commands:
        print(__doc__)
        return 0 if name in {"-h", "--help", "help"} else 2
    try:
        return commands[name]()
    except (SetupError, OSError) as error:
        say(f"\n{error if isinstance(error, SetupError) else setup_trouble(str(error))}")
        return SETUP_FAILED
    except KeyboardInterrupt:
        say("\nStopped.")
        return 130


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
