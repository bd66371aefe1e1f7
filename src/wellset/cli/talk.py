"""How every command talks: exit codes, shared options, what is printed where."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, TypeAlias

from wellset import errors as e

if TYPE_CHECKING:
    from wellset.bootstrap import Delivery

    Commands: TypeAlias = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001

EXIT_CODES = {
    e.InputError: 3,
    e.StandardsError: 3,
    e.EquipmentError: 3,
    e.PictureError: 4,
    e.SceneError: 5,
    e.EstimationError: 6,
    e.OutputError: 7,
    e.MissingError: 8,
    e.ConflictError: 8,
    e.StorageError: 8,
}
"""What a failed run returns; 0 is success, 2 a wrong option, 1 a fault of our own."""

_STAND_INS = {"−": "-", "–": "-", "±": "+/-", "×": "x", "’": "'", "°": " deg"}
"""What is printed for a character that standard output lacks."""

CODES_TEXT = """exit codes:
  0  done
  1  a fault in the program; run again with --debug and report what it prints
  2  an option is wrong or missing
  3  a value or file given is wrong (length, club, student, standards, landmarks)
  4  a picture cannot be read
  5  a picture is readable but shows no set-up that can be assessed
  6  the points could not be solved for
  7  a result could not be written
  8  the lesson book could not be read or changed
"""


def command(commands: Commands, name: str, *, help_: str) -> argparse.ArgumentParser:
    """One more command, with the exit codes under its help."""
    return commands.add_parser(
        name,
        help=help_,
        epilog=CODES_TEXT,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )


def add_common(command: argparse.ArgumentParser) -> None:
    """Add the options that every command with results has."""
    command.add_argument("--out", metavar="DIR", help="folder for the page, pictures and files")
    command.add_argument("--json", metavar="PATH", help="also write the result here; - prints it")
    command.add_argument("--units", choices=("cm", "in"), default="cm", help="units on the page")
    command.add_argument("--quiet", action="store_true", help="no progress on standard error")
    command.add_argument("--debug", action="store_true", help="show the traceback of an error")


def _fits(text: str, /) -> bool:
    """Whether standard output can hold the text: a redirected one may know few characters."""
    try:
        text.encode(sys.stdout.encoding or "utf-8")
    except UnicodeEncodeError:
        return False
    return True


def plain(text: str, /) -> str:
    """The report in the characters that standard output has; a minus stays a minus."""
    if _fits(text):
        return text
    return "".join(c if _fits(c) else _STAND_INS.get(c, "?") for c in text)


def escaped(document: str, /) -> str:
    """The JSON document, in plain ASCII where standard output asks for it."""
    if _fits(document):
        return document
    import json

    return json.dumps(json.loads(document), indent=1) + "\n"


def say(sentence: str, /) -> None:
    """Print one line on standard error, whatever names and values it quotes."""
    print(f"wellset: {' '.join(sentence.splitlines())}", file=sys.stderr)


def show(result: Delivery, options: argparse.Namespace) -> int:
    """Print what was asked for, and what could not be written."""
    printed = options.json == "-"
    text = escaped(result.json_text) if printed else plain(result.terminal_text)
    print(text, end="", flush=True)
    for failure in result.failures:
        say(failure.sentence)
    return EXIT_CODES[e.OutputError] if result.failures else 0


class _Printer:
    """Progress as lines on standard error, one for each step."""

    def __init__(self) -> None:
        self._last = ""

    def __call__(self, step: str, share: float) -> None:
        if step != self._last:
            self._last = step
            print(f"[{share:4.0%}] {step}", file=sys.stderr, flush=True)


def progress(*, quiet: bool) -> Callable[[str, float], None]:
    """Where steps are told: standard error, or nowhere."""
    if quiet:
        return lambda _step, _share: None
    return _Printer()
