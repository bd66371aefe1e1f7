"""``wellset drills``: the drill book, drawn for a student."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from wellset.cli.talk import add_common, command, show

if TYPE_CHECKING:
    from wellset.cli.talk import Commands


def add(commands: Commands) -> None:
    """Add the command."""
    drills = command(commands, "drills", help_="show drills, drawn from a student's own target")
    drills.add_argument(
        "--for",
        dest="measure",
        metavar="MEASURE",
        help='only drills for this: a measure, such as "forward bend", or one side of it, such '
        'as "forward bend low"',
    )
    drills.add_argument("--drill", metavar="NAME", help="only this drill, by its title or id")
    drills.add_argument("--find", metavar="WORDS", default="", help="only drills with these words")
    drills.add_argument(
        "--careful-with",
        action="append",
        default=[],
        choices=("back", "hip", "knee", "shoulder", "balance"),
        help="only drills that spare this; may be given several times",
    )
    drills.add_argument(
        "--height", metavar="LENGTH", help='barefoot, such as "178 cm"; 175 cm without'
    )
    drills.add_argument("--student", metavar="FILE", help="student file (YAML)")
    drills.add_argument("--club", metavar="NAME", help="the club in the drawings; 7-iron without")
    drills.add_argument("--shot", metavar="NAME", help="kind of shot; follows from the club")
    drills.add_argument("--hand", choices=("right", "left"), help="right unless the file says")
    drills.add_argument("--standards", metavar="FILE", help="your own standards (YAML)")
    drills.add_argument("--drills", metavar="FILE", help="your own drills (YAML)")
    drills.add_argument("--paper", choices=("a4", "letter"), default="a4", help="paper of the PDF")
    add_common(drills)
    drills.set_defaults(run=_run)


def _run(options: argparse.Namespace) -> int:
    from wellset.bootstrap.drills import deliver_drills, drills_request

    asked = drills_request(
        height=options.height,
        student=options.student,
        club=options.club,
        measure=options.measure,
        drill=options.drill,
        text=options.find,
        careful_with=tuple(options.careful_with),
        drills=options.drills,
        hand=options.hand,
        shot=options.shot,
        standards=options.standards,
    )
    delivery = deliver_drills(
        asked,
        folder=options.out,
        json_path=None if options.json == "-" else options.json,
        units=options.units,
        paper=options.paper,
    )
    return show(delivery, options)
