"""``wellset check``: new pictures compared with the student's plan."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from wellset.cli.assess import add_sources, typed
from wellset.cli.talk import add_common, command, progress, show

if TYPE_CHECKING:
    from wellset.cli.talk import Commands


def add(commands: Commands) -> None:
    """Add the command."""
    check = command(commands, "check", help_="compare a student's new pictures with their plan")
    add_sources(check, club_needed=True)
    check.add_argument(
        "--plan", metavar="FILE", help="plan to compare with (JSON); worked out when left out"
    )
    add_common(check)
    check.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from wellset.bootstrap.check import check_request, deliver_check

    telling = progress(quiet=options.quiet)
    found = check_request(plan=options.plan, progress=telling, **typed(options))
    result = deliver_check(
        found,
        folder=options.out,
        json_path=None if options.json == "-" else options.json,
        units=options.units,
    )
    return show(result, options)
