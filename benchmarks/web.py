"""How fast the lesson book answers with 5,000 students and 50,000 lessons.

    python benchmarks/web.py [--students N] [--lessons N] [--rounds N] [--keep DIR]

The book is filled by direct inserts, every set-up with the whole documents of a real
assessment. Then `wellset serve` is started as a coach starts it, and asked over one kept
connection; times are medians as the caller sees them, beside those of a plain file that the
same server sends in the same run.
"""

from __future__ import annotations

import argparse
import http.client
import json
import os
import random
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from importlib import resources
from pathlib import Path
from statistics import median
from typing import Final
from urllib.parse import quote

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from attrs import define, frozen

from benchmarks.web_book import PASSWORD, Filled, fill

PORT: Final = 8497
PATIENCE_S: Final = 120.0
_COLD: Final = 2
"""Rounds that only warm up."""
_REFITS: Final = 15
GOALS: Final = {"page": 50.0, "refit": 150.0, "first page": 2000.0, "memory": 700.0}


@define
class Caller:
    """One kept connection of a signed-in device.

    Parameters
    ----------
    cookie : str
    """

    connection: http.client.HTTPConnection
    cookie: str = ""

    def ask(self, path: str, *, method: str = "GET", body: object = None) -> bytes:
        """One answer; anything but success is an error."""
        headers = {"cookie": self.cookie, "x-wellset-client": "benchmark"}
        data = body if isinstance(body, bytes) or body is None else json.dumps(body).encode()
        if data is not None and not isinstance(body, bytes):
            headers["content-type"] = "application/json"
        self.connection.request(method, path, body=data, headers=headers)
        answer = self.connection.getresponse()
        found = answer.read()
        if answer.status >= 300:
            raise RuntimeError(f"{method} {path}: {answer.status} {found[:300]!r}")
        return found

    def sign_in(self) -> None:
        """Get a session."""
        self.connection.request(
            "POST",
            "/sign-in",
            body=f"password={PASSWORD}",
            headers={
                "content-type": "application/x-www-form-urlencoded",
                "x-wellset-client": "benchmark",
            },
        )
        answer = self.connection.getresponse()
        answer.read()
        self.cookie = (answer.getheader("set-cookie") or "").split(";")[0]


def _ms(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return 1e3 * (time.perf_counter() - start)


def processor_ms(process_id: int) -> float:
    """What a process has used of the processors so far (Linux): moves less with other load."""
    fields = Path(f"/proc/{process_id}/stat").read_text().rsplit(")", maxsplit=1)[1].split()
    return 1e3 * (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def serve(folder: Path) -> tuple[subprocess.Popen[bytes], float]:
    """Start the server; how long it took until the first page was there, in ms.

    Python may keep what it compiled, as it does for a coach.
    """
    keeping = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    command = [sys.executable, "-m", "wellset", "serve", "--no-open"]
    start = time.perf_counter()
    server = subprocess.Popen(
        [*command, "--data", str(folder), "--port", str(PORT)],
        stdout=subprocess.DEVNULL,
        env=keeping,
    )
    while time.perf_counter() - start < PATIENCE_S:
        try:
            Caller(http.client.HTTPConnection("127.0.0.1", PORT)).ask("/sign-in")
            return server, 1e3 * (time.perf_counter() - start)
        except OSError:
            time.sleep(0.01)
    raise TimeoutError("the server did not start")


def pages(filled: Filled, caller: Caller) -> dict[str, Callable[[], str]]:
    """Paths to ask, each time for something else."""
    pick = random.Random(7)  # noqa: S311 - repeatable, no secret
    style = re.search(rb"/static/css/site\.css\?v=\w+", caller.ask("/students"))
    assert style is not None  # noqa: S101
    plain = style.group().decode()
    return {
        "plain file (style sheet)": lambda: plain,
        "today": lambda: "/",
        "students": lambda: f"/students?page={pick.randint(1, filled.students // 50)}",
        "search for a name": lambda: f"/students?text={quote(pick.choice(filled.names))}",
        "student": lambda: f"/students/{pick.choice(filled.student_ids)}",
        "lesson": lambda: f"/lessons/{pick.choice(filled.lesson_ids)}",
        "set-up with its findings": lambda: f"/setups/{pick.choice(filled.setup_ids)}",
        "progress": lambda: f"/students/{pick.choice(filled.student_ids)}/progress",
        "work in progress (JSON)": lambda: f"/setups/{pick.choice(filled.setup_ids)}/progress",
        "standards": lambda: "/standards",
        "API: set-ups of a lesson": lambda: f"/api/lessons/{pick.choice(filled.lesson_ids)}/setups",
        "API: students found": lambda: f"/api/students?text={quote(pick.choice(filled.names))}",
    }


def assessed(filled: Filled, caller: Caller) -> str:
    """Take a set-up of the built-in demo and wait until the worker has assessed it."""
    folder = Path(str(resources.files("wellset").joinpath("demo")))
    pictures = {
        view: json.loads(
            caller.ask(
                f"/api/media?name={view}.jpg",
                method="PUT",
                body=(folder / f"{view}.jpg").read_bytes(),
            )
        )
        for view in ("face_on", "down_the_line")
    }
    path = f"/api/lessons/{filled.lesson_ids[0]}/setups"
    taken = json.loads(
        caller.ask(path, method="POST", body={"club": "7-iron", "pictures": pictures})
    )
    end = time.monotonic() + PATIENCE_S
    while time.monotonic() < end:
        if json.loads(caller.ask(f"/api/jobs/{taken['job']['id']}"))["state"] == "done":
            return str(taken["setup"]["id"])
        time.sleep(0.1)
    raise TimeoutError("the set-up was not assessed")


def refits(setup_id: str, caller: Caller, *, rounds: int) -> list[float]:
    """How long it takes from a moved point to the kept answer, in ms."""
    path = f"/api/setups/{setup_id}"
    version = json.loads(caller.ask(path))["version"]
    found = []
    for step in range(rounds + _COLD):
        landmarks = json.loads(caller.ask(f"{path}/landmarks"))
        points = landmarks["views"]["down_the_line"]["landmarks"]
        old = points["lead_knee"]
        x, y = old["x_px"] + (3 if step % 2 else -3), old["y_px"]
        points["lead_knee"] = {"x_px": x, "y_px": y, "placed_by": "coach"}
        body = {"version": version + step, "landmarks": landmarks}
        found.append(
            _ms(lambda body=body: caller.ask(f"{path}/landmarks", method="PUT", body=body))  # type: ignore[misc]
        )
    return found[_COLD:]


@frozen(kw_only=True)
class Memory:
    """Most memory of a process, in MB."""

    name: str
    peak_mb: float


def memory(process_id: int) -> list[Memory]:
    """Peak memory of a process and of all it started (Linux)."""
    found = []
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            status = dict(
                line.split(":", maxsplit=1) for line in (folder / "status").read_text().splitlines()
            )
            command = (folder / "cmdline").read_bytes().replace(b"\0", b" ").decode()
        except (OSError, ValueError):
            continue
        mine = int(folder.name) == process_id or int(status["PPid"]) == process_id
        if mine and "VmHWM" in status and "resource_tracker" not in command:
            name = "server" if int(folder.name) == process_id else "worker"
            found.append(Memory(name=name, peak_mb=int(status["VmHWM"].split()[0]) / 1024))
    return sorted(found, key=lambda each: each.name)


def report(filled: Filled, *, folder: Path, rounds: int) -> None:
    """Start the server, ask it, and print what was found."""
    once, first_ever_ms = serve(folder)
    once.terminate()
    once.wait(PATIENCE_S)
    server, first_ms = serve(folder)
    start_ms = processor_ms(server.pid)
    try:
        caller = Caller(http.client.HTTPConnection("127.0.0.1", PORT))
        caller.sign_in()
        asked = pages(filled, caller)
        times: dict[str, list[float]] = {name: [] for name in asked}
        for _ in range(rounds + _COLD):
            for name, path in asked.items():
                goal = path()
                times[name].append(_ms(lambda goal=goal: caller.ask(goal)))  # type: ignore[misc]
        plain = median(times["plain file (style sheet)"][_COLD:])
        print(f"{'median of ' + str(rounds):34}{'ms':>8}{'95 %':>8}{'ratio':>8}")
        for name, every in times.items():
            warm = sorted(every[_COLD:])
            middle, high = median(warm), warm[int(0.95 * (len(warm) - 1))]
            print(f"{name:34}{middle:8.1f}{high:8.1f}{middle / plain:8.1f}")
        setup_id = assessed(filled, caller)
        before = processor_ms(server.pid)
        moved = refits(setup_id, caller, rounds=_REFITS)
        each = (processor_ms(server.pid) - before) / (_REFITS + _COLD)
        print(f"{'refit after a moved point':34}{median(moved):8.0f}{max(moved):8.0f}")
        print(f"\nprocessor time of a refit: {each:.0f} ms")
        print(
            f"from `wellset serve` to the first page: {first_ms:.0f} ms, "
            f"processor time {start_ms:.0f} ms (the time before: {first_ever_ms:.0f} ms)"
        )
        print(f"load of the machine: {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores")
        parts = memory(server.pid)
        words = ", ".join(f"{each.name} {each.peak_mb:.0f} MB" for each in parts)
        print(f"peak memory: {sum(each.peak_mb for each in parts):.0f} MB ({words})")
        print(f"database: {(folder / 'book.db').stat().st_size / 1e6:.0f} MB")
        print(f"goals: {', '.join(f'{name} {goal:.0f}' for name, goal in GOALS.items())}")
    finally:
        server.terminate()
        server.wait(PATIENCE_S)


def main() -> None:
    """Fill a book, then report."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--students", type=int, default=5000)
    parser.add_argument("--lessons", type=int, default=50_000)
    parser.add_argument("--rounds", type=int, default=40)
    parser.add_argument("--keep", metavar="DIR", help="use this folder, and leave the book there")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory(prefix="wellset-bench-") as temporary:
        folder = Path(options.keep or temporary)
        filled = fill(folder, students=options.students, lessons=options.lessons)
        report(filled, folder=folder, rounds=options.rounds)


if __name__ == "__main__":
    main()
