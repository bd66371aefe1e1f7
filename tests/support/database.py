"""A PostgreSQL server of its own for the tests, where the machine has the programs."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

PATIENCE_S = 30.0


def _program(name: str) -> str | None:
    places = sorted(Path("/usr/lib/postgresql").glob(f"*/bin/{name}"), reverse=True)
    return shutil.which(name) or (str(places[0]) if places else None)


def why_no_postgresql() -> str:
    """Why the tests cannot start a server; empty when they can."""
    lacking = [name for name in ("initdb", "postgres") if _program(name) is None]
    return f"this machine has no {' and no '.join(lacking)}" if lacking else ""


def _owner() -> str | None:
    """The server refuses to run as root; its package brings a user for it."""
    return "postgres" if os.geteuid() == 0 else None


@contextmanager
def postgresql() -> Iterator[str]:
    """Start a server behind a socket in a folder; gives the address of its database."""
    initdb, postgres = _program("initdb"), _program("postgres")
    assert initdb is not None
    assert postgres is not None
    with tempfile.TemporaryDirectory(prefix="wellset-pg-") as folder:
        owner = _owner()
        if owner is not None:
            shutil.chown(folder, owner)
        data = str(Path(folder) / "data")
        subprocess.run(
            [initdb, "-D", data, "-A", "trust", "-U", "coach", "-E", "UTF8", "--locale=C"],
            check=True,
            capture_output=True,
            user=owner,
            cwd=folder,
        )
        options = ["-D", data, "-k", folder, "-h", "", "-F"]  # no network: a socket in the folder
        with subprocess.Popen(
            [postgres, *options],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            user=owner,
            cwd=folder,
        ) as server:
            try:
                _wait(Path(folder, ".s.PGSQL.5432"))
                yield f"postgresql://coach@/postgres?host={folder}"
            finally:
                server.terminate()
                server.wait(PATIENCE_S)


def _wait(door: Path) -> None:
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        try:
            with socket.socket(socket.AF_UNIX) as knock:
                knock.connect(str(door))
        except OSError:
            time.sleep(0.05)
        else:
            time.sleep(0.3)  # it listens a moment before it lets anyone in
            return
    raise TimeoutError("the PostgreSQL server did not start")
