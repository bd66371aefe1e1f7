"""The command line: thin, no arithmetic. A module for each family of commands."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence

from wellset import __version__
from wellset import errors as e
from wellset.cli import assess, book, check, drills, floor, measures, plan, report, sheet
from wellset.cli.talk import CODES_TEXT, EXIT_CODES, say

__all__ = ["EXIT_CODES", "build_parser", "main"]


def build_parser() -> argparse.ArgumentParser:
    """The options of every command."""
    parser = argparse.ArgumentParser(
        prog="wellset",
        description="Measure how a student stands to a golf ball, and say what to change first.",
        epilog=CODES_TEXT,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"wellset {__version__}")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for family in (assess, check, sheet, book, measures, plan, report, floor, drills):
        family.add(commands)
    return parser


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code.

    Parameters
    ----------
    arguments : sequence of str, optional
        The command line; by default that of the process.
    """
    options = build_parser().parse_args(arguments)
    try:
        code: int = options.run(options)
        return code
    except e.WellsetError as error:
        if options.debug:
            raise
        say(error.sentence)
        return next(code for kind, code in EXIT_CODES.items() if isinstance(error, kind))
    except KeyboardInterrupt:
        say("stopped.")
        return 130
    except BrokenPipeError:
        # Whoever read standard output has closed it; the interpreter must not try again.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return EXIT_CODES[e.OutputError]
    except Exception as error:
        if options.debug:
            raise
        say(
            f"a fault in the program: {type(error).__name__}: {error} "
            "Run again with --debug and report what it prints."
        )
        return 1
