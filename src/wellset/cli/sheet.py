"""``wellset sheet``: the marker sheet."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from wellset.cli.talk import command, plain

if TYPE_CHECKING:
    from wellset.cli.talk import Commands

SHEET_FILE = "wellset-sheet.pdf"
"""Where the marker sheet is written unless --out says otherwise."""


def add(commands: Commands) -> None:
    """Add the command."""
    sheet = command(
        commands, "sheet", help_="make the marker sheet to print and lay on the ground (PDF)"
    )
    sheet.add_argument("--paper", choices=("a4", "letter"), default="a4", help="paper to print on")
    sheet.add_argument("--out", metavar="FILE", default=SHEET_FILE, help="file to write")
    sheet.add_argument("--debug", action="store_true", help="show the traceback of an error")
    sheet.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from wellset.bootstrap.sheet import write_sheet

    print(plain(f"{write_sheet(options.out, paper=options.paper)}: print it at 100 %."))
    return 0
